#pragma once
#include <optional>
#include <string>

#include "patchwright/job/job.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// What ground, water and wheels put on a pipe or its liner.
namespace patchwright::load {

struct SoilLoadInput {
    Sourced<Length> outside_diameter;  ///< of what carries the load
    Sourced<Length> cover;             ///< ground to crown
    Sourced<Length> water_over_crown;  ///< Hw of F1216, zero if none, at most `cover`
    Sourced<UnitWeight> soil_unit_weight;
    Sourced<Pressure> soil_modulus;  ///< E's
    Sourced<job::Traffic> traffic{job::Traffic::none};
};

struct SoilLoad {
    Pressure water{}, soil{}, traffic{}, total{};  ///< qt of F1216 X1.3
    double buoyancy = 1.0;                         ///< Rw
    double elastic_support = 0.0;                  ///< B'
    std::optional<std::string> outside_method;     ///< cover below 0.6 m under traffic, railway, aircraft
};
/// qt = gamma_w Hw + w Hs Rw + Ws, F1216 X1.3; Ws by Newmark under the H-20 footprint with impact by cover.
SoilLoad soil_load(const SoilLoadInput& input, Working& working);

/// Soil modulus E' by Howard, USBR REC-ERC-77-01 (1977).
enum class SoilClass : std::uint8_t { fine_plastic, fine_sandy, coarse_with_fines, coarse_clean, crushed_rock };
enum class Compaction : std::uint8_t { dumped, slight, moderate, high };
Pressure soil_modulus(SoilClass soil, Compaction compaction);

/// Newmark: share of a uniform load on a rectangle seen under its corner, m = a/z, n = b/z.
double newmark_corner(double m, double n);
/// Vertical stress of the AASHTO H-20 wheel at `cover` on a strip of `width`, impact included; second wheel 72 in away.
Pressure wheel_load(Length cover, Length width, Working& working);
double impact_factor(Length cover);
/// Marston ditch coefficient Cd = (1 - exp(-2 K mu H/B)) / (2 K mu). Information on the host, never the liner's load.
double marston_ditch_coefficient(double cover_over_width, double k_mu);
Pressure prism_load(UnitWeight w, Length cover);

}  // namespace patchwright::load
