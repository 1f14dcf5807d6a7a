#pragma once
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Where the soil of a trench goes.
namespace patchwright::excavation {

/// Volumes of one hole. Bank: as it lies in the ground; loose: on the heap; compacted: back in the trench.
struct SpoilInput {
    Volume soil{};       ///< hole below the surface build-up, over-break included, bank
    Volume pipe_zone{};  ///< of it filled with bed, pipe and surround
    double loose_factor = 1.25, compacted_factor = 0.90;  ///< loose / bank, compacted / bank
    Density bank_density{};
    bool reuse = true;  ///< the spoil goes back
};
struct SpoilBalance {
    Volume loose{};         ///< the whole of the soil on the heap
    Volume backfill{};      ///< compacted, above the pipe zone
    Volume reused_bank{};   ///< bank volume that goes back
    Volume imported{};      ///< compacted backfill that must be bought
    Volume surplus_bank{};  ///< bank volume to cart away
    Volume surplus_loose{};
    Mass dug{}, reused{}, carted{};  ///< dug = reused + carted
};
/// loose = bank * loose factor; bank needed = compacted / (compacted factor), at most what was dug; mass = bank volume
/// times bank density, so that mass is conserved. Common practice; derived here, docs/methods/excavation.md.
/// Throws RangeError on factors or a density that are not positive, or a pipe zone larger than the hole.
SpoilBalance balance(const SpoilInput& in, Working& working);

}  // namespace patchwright::excavation
