#pragma once
#include <cstdint>
#include <string_view>
#include <vector>

#include "patchwright/job/dig_rates.hpp"

/// How the sides of a trench are kept from falling in.
namespace patchwright::excavation {

enum class Protection : std::uint8_t { none, battered, sheeted, box, engineer };
std::string_view word(Protection p);

/// The protections that the yard's rules allow at that depth in that soil.
///
/// Shallower than `protect_from`: any, none among them. In stable rock the sides may stand at any depth down to
/// `engineer_from`. Otherwise battered at the soil's slope, sheeted or boxed. Deeper than `engineer_from`: only what
/// an engineer designs (sheeted is priced, with the design). The set never grows with depth.
/// Source: 29 CFR 1926.652 (5 ft, 20 ft) and Subpart P appendix B (slopes by soil) as one rule set; the depths are
/// the yard's. A drain lies in old backfill, which is never soil A.
/// Throws RangeError unless the depth is positive.
std::vector<Protection> allowed_protections(Length depth, job::Soil soil, const job::DigRates& rates);

/// The row of the yard for that soil or surface. Throws InputError when the yard has none.
const job::SoilRate& soil_rate(job::Soil soil, const job::DigRates& rates);
const job::SurfaceRate& surface_rate(job::Surface surface, const job::DigRates& rates);

}  // namespace patchwright::excavation
