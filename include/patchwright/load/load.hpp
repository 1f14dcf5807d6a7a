#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "patchwright/job/job.hpp"
#include "patchwright/load/soil.hpp"
#include "patchwright/load/wheel.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// What ground, water and wheels put on a pipe or its liner.
namespace patchwright::load {

/// Unit weight of water as ASTM F1216 has it, so that its published examples come out to their digits.
/// 0.04 % below rho g: the same choice everywhere in the liner's strength, and nowhere else.
inline constexpr UnitWeight f1216_water = 62.4 * unit::pcf;

/// Pressure of water of `depth` by `f1216_water`.
constexpr Pressure water_pressure(Length depth) { return f1216_water * depth; }

/// Under wheels, below this cover the spread of the load through soil is not by any formula here.
inline constexpr Length min_cover_under_wheels = 0.6 * unit::m;

struct SoilLoadInput {
    Sourced<Length> outside_diameter;  ///< of what carries the load
    Sourced<Length> cover;             ///< Hs: ground to crown
    Sourced<Length> water_over_crown;  ///< Hw: zero if none, at most `cover`
    Sourced<UnitWeight> soil_unit_weight;
    Sourced<Pressure> soil_modulus;  ///< E's
    Sourced<job::Traffic> traffic{job::Traffic::none};
};

struct SoilLoad {
    Pressure water{}, soil{}, traffic{}, total{};  ///< qt of F1216 X1.3
    double buoyancy = 1.0;                         ///< Rw
    double elastic_support = 0.0;                  ///< B'
    std::optional<std::string> outside_method;     ///< what is wrong and what to do; then `total` is not to be used
};

/// Load on a liner that no longer counts on its host:
///   qt = gamma_w Hw + w Hs Rw + Ws,  Rw = 1 - 0.33 Hw/Hs >= 0.67,  B' = 1 / (1 + 4 exp(-0.065 Hs)), Hs in feet.
/// The soil load is the prism over the liner; Ws is `wheel_load` when a highway passes over, else zero.
/// Source: ASTM F1216, Appendix X1, eq. X1.3 and its list of symbols.
/// Outside the method (said, not thrown): highway cover below 0.6 m, railway, aircraft, water over the ground, and a
/// crown above the ground (negative cover: all loads are then left at zero).
/// Throws RangeError for negative water or soil weight, a diameter that is not positive, or NaN.
SoilLoad soil_load(const SoilLoadInput& input, Working& working);

/// Rw, for 0 <= Hw <= Hs. Throws RangeError for negative or non-finite lengths.
double buoyancy_factor(Length water_over_crown, Length cover);
/// B'. Throws RangeError for negative or non-finite cover.
double elastic_support(Length cover);

}  // namespace patchwright::load
