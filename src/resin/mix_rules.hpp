#pragma once
#include <string>
#include <vector>

#include "patchwright/resin/batch.hpp"

/// Why portions may not share a mix, one rule each; empty when they may. Internal.
namespace patchwright::resin {

/// Pot mass, access and packers, and the hands' limits for their likely times: cheap, so asked first.
std::string why_not_by_hands(const job::Resin& resin, const std::vector<Portion>& portions, Mass total);
/// Pot life of what stands in one bucket.
std::string why_not_by_bucket(const std::vector<Portion>& portions, Mass bucket, const PourBy& pour_by);
/// Chance of being late, of each sleeve of a shared mix.
std::string why_not_by_chance(const std::vector<Portion>& portions, const Late& late, double most);

}  // namespace patchwright::resin
