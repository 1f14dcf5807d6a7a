#pragma once
#include <functional>
#include <utility>
#include <vector>

#include "patchwright/resin/resin.hpp"

namespace patchwright::resin {

/// Latest end of pouring for a mixed mass, from mixing.
using PourBy = std::function<Duration(Mass)>;

/// Groups portions into mixes. Cheapest purchase, then fewest mixes, then the order given.
/// Exact for up to 10 portions of one resin; beyond that a good answer (said in `warnings`).
/// No pot above the resin's safe mass; every portion poured by `pour_by(total)` and inflated within its own
/// limit when the portions of a mix are done one after the other in the order given.
BatchPlan plan_batches(const job::Resin& resin, std::vector<Portion> portions, const PourBy& pour_by,
                       const job::Limits& limits, Working& working);

}  // namespace patchwright::resin
