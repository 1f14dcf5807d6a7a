#pragma once
#include "patchwright/liner/f1216.hpp"

namespace patchwright::liner {

/// Drain of the trade: DN100, ovality 2 %, polyester felt in epoxy with the least properties of F1216 Table 1.
inline ThicknessInput drain() {
    ThicknessInput input;
    input.bore = {100.0 * unit::mm, Origin::given};
    input.head_over_invert = {1.0 * unit::m, Origin::given};
    input.wall.modulus = {250000.0 * unit::psi, Origin::yard};
    input.wall.flexural_strength = {4500.0 * unit::psi, Origin::yard};
    input.least = {3.0 * unit::mm, Origin::yard};
    return input;
}
inline load::SoilLoadInput garden() {
    return {{100.0 * unit::mm},  {1.2 * unit::m},     {0.9 * unit::m},
            {120.0 * unit::pcf}, {700.0 * unit::psi}, {job::Traffic::none}};
}
inline ThicknessInput broken_drain() {
    ThicknessInput input = drain();
    input.condition = job::Condition::fully_deteriorated;
    input.soil = garden();
    return input;
}

/// The pipe of the published examples A and B: 48 in, q 2 %, EL 125000 psi, sL 4500 psi, 12 ft of water on the invert.
/// The book puts sL = 4500 psi into X1.2 as it stands (its 432.7 is 4500/(5.2 * 2)).
inline ThicknessInput published_pipe() {
    ThicknessInput input;
    input.bore = {48.0 * unit::in, Origin::given};
    input.ovality = {0.02, Origin::given};
    input.head_over_invert = {12.0 * unit::ft, Origin::given};
    input.wall.modulus = {250000.0 * unit::psi, Origin::given};
    input.wall.flexural_strength = {9000.0 * unit::psi, Origin::given};
    return input;
}

inline ThicknessDesign designed(const ThicknessInput& input) {
    Working off = Working::off();
    return design_thickness(input, off);
}
inline Length needed(const ThicknessDesign& design, Check check) {
    return design.checks.at(static_cast<std::size_t>(check)).needed;
}
inline bool applies(const ThicknessDesign& design, Check check) {
    return design.checks.at(static_cast<std::size_t>(check)).applies;
}

}  // namespace patchwright::liner
