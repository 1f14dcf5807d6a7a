#pragma once
#include "patchwright/liner/f1216.hpp"

/// What thickness and utilisation share.
namespace patchwright::liner {

/// Input that stood the tests, with what all checks need.
struct Prepared {
    f1216::Ring ring;
    Pressure water{};                    ///< at the invert
    std::optional<load::SoilLoad> soil;  ///< fully deteriorated only
    f1216::Ground ground;                ///< of `soil`
};

/// Throws RangeError or InputError, see `design_thickness`.
Prepared prepare(const ThicknessInput& input, Working& working);

/// Which checks apply, and why the others do not.
std::array<std::string_view, 5> why_not(const ThicknessInput& input, const Prepared& prepared);

constexpr std::size_t place(Check c) { return static_cast<std::size_t>(c); }

}  // namespace patchwright::liner
