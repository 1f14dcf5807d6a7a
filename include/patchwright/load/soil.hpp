#pragma once
#include <cstdint>
#include <optional>
#include <string_view>

#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// The soil: how stiff it is, and what it weighs on a pipe.
namespace patchwright::load {

enum class SoilClass : std::uint8_t {
    fine_plastic,       ///< liquid limit above 50
    fine_sandy,         ///< liquid limit below 50, under 25 % coarse
    coarse_with_fines,  ///< fine with over 25 % coarse, or coarse with over 12 % fines
    coarse_clean,       ///< under 12 % fines
    crushed_rock,
};
enum class Compaction : std::uint8_t {
    dumped,
    slight,    ///< below 85 % Proctor
    moderate,  ///< 85 to 95 %
    high,      ///< above 95 %
};
std::string_view word(SoilClass v);
std::string_view word(Compaction v);
std::optional<SoilClass> soil_class(std::string_view word);
std::optional<Compaction> compaction(std::string_view word);

/// Modulus of soil reaction E'. Fine plastic soil has no data and counts as zero: an engineer's case.
/// Source: A. Howard, Modulus of Soil Reaction (E') Values for Buried Flexible Pipe, USBR REC-ERC-77-01 (1977).
Pressure soil_modulus(SoilClass soil, Compaction compaction);

/// Weight of the column of soil above: p = w H.
/// Throws RangeError for a negative or non-finite weight or cover.
Pressure prism_load(UnitWeight w, Length cover);

/// Marston's coefficient for a ditch: Cd = (1 - exp(-2 K mu H/B)) / (2 K mu); H/B where K mu is zero.
/// Information on the host: a rigid pipe in a ditch. Never the liner's load.
/// Source: A. P. Moser, Buried Pipe Design, ch. 2. Throws RangeError for negative or non-finite values.
double marston_ditch_coefficient(double cover_over_width, double k_mu);

/// Force on a metre of pipe.
using LineLoad = Quantity<Dim{.mass = 1, .time = -2}>;
/// W = Cd w B^2 on a rigid pipe in a ditch of width B at the crown. Errors as above; B must be positive.
LineLoad marston_ditch_load(UnitWeight w, Length cover, Length ditch_width, double k_mu);

}  // namespace patchwright::load
