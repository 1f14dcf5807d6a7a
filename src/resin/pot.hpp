#pragma once
#include "patchwright/resin/batch.hpp"
#include "patchwright/resin/resin.hpp"

namespace patchwright::resin {

/// The steps from a mixed mass to its two parts.
void record_parts(const job::Resin& resin, const Weights& weights, Working& working);
/// Volumes of the two parts of a pot and of the pot itself, into `pot` and the working.
void record_pot(const job::Resin& resin, Pot& pot, Working& working);

}  // namespace patchwright::resin
