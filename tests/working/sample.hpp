#pragma once
#include <array>

#include "patchwright/working/working.hpp"

/// Two formulas that belong to nobody, for the tests of the working itself.
namespace sample {

using namespace patchwright;

inline constexpr std::array ring_inputs{Symbol{"D", "bore", Show::tape}, Symbol{"s", "seam overlap", Show::tape}};
inline constexpr Formula ring{"sample.ring", {"w", "cut width", Show::tape}, "w = pi D + s", ring_inputs, "geometry",
                              "liner"};

inline constexpr std::array cool_inputs{Symbol{"T", "pipe temperature", Show::temperature},
                                        Symbol{"q", "share kept", Show::percent}};
inline constexpr Formula cool{
    "sample.cool",
    {"p", "set pressure (gauge)", Show::gauge_pressure},
    "p = a formula that is long enough to need more than one line in a narrow terminal window",
    cool_inputs,
    "common practice, no source",
    ""};

inline Working both() {
    Working working;
    working.add(ring, {{100.0 * unit::mm, Origin::given}, {75.0 * unit::mm, Origin::yard}}, 389.16 * unit::mm);
    working.add(cool, {{Temperature::celsius(9.0), Origin::assumed}, {0.02, Origin::looked_up}}, 0.65 * unit::bar);
    return working;
}

}  // namespace sample
