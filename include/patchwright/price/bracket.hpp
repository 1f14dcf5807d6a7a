#pragma once
#include <string>

#include "patchwright/job/rates.hpp"
#include "patchwright/price/build_up.hpp"

namespace patchwright::price {

/// Between what we must not go under and what the customer would pay for digging.
struct Bracket {
    Money floor{}, ceiling{}, suggested{}, saving{};
    bool bid = true;  ///< false: the floor lies above the ceiling
    std::string why_floor, why_ceiling, why_suggested;
};
/// floor = direct + risk + overhead of patching, no profit; ceiling = net price of digging, equal scope;
/// suggested = floor + share (ceiling - floor), rounded up to the yard's step, never above the ceiling;
/// saving = ceiling - suggested. With the floor above the ceiling: no bid, suggested = ceiling, saving nothing.
/// `patches` = 0: nothing to compare, the two sides are the same dig.
/// Derived here, docs/methods/price.md. Throws RangeError when the share is outside 0..100 %.
Bracket bracket(const BuildUp& patch, const BuildUp& dig, int patches, const job::Rates& rates, Working& working);

}  // namespace patchwright::price
