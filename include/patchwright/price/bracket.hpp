#pragma once
#include <string>

#include "patchwright/job/rates.hpp"
#include "patchwright/price/build_up.hpp"

namespace patchwright::price {

/// Between what we must not go under and what the customer would pay for digging.
struct Bracket {
    Money floor{};      ///< direct + risk + overhead, no profit
    Money own{};        ///< with our profit, minimum charge and step
    Money ceiling{};    ///< what the market asks for digging the same places
    Money limit{};      ///< ceiling less the customer's least advantage: we never suggest more
    Money suggested{};  ///< the recommendation
    Money saving{};     ///< ceiling - suggested, never below zero
    bool bid = true;    ///< false: floor or minimum charge lie above the limit
    bool own_above_limit = false;
    std::string why_floor, why_own, why_ceiling, why_suggested;
};
/// floor = cost of the patch side; own = its net; ceiling = net of the dig side;
/// limit = ceiling (1 - least advantage);
/// suggested = max(own, floor + share (ceiling - floor)), rounded up to the yard's step, never above the limit, never
/// below the minimum charge. With the floor or the minimum charge above the limit: no bid, and `suggested` is what a
/// bid could be at most. `patches` = 0: nothing to compare, `suggested` = own.
/// Derived here, docs/methods/price.md. Throws RangeError when a share is outside 0..100 %.
Bracket bracket(const BuildUp& patch, const BuildUp& dig, int patches, const job::Rates& rates, Share least_advantage,
                Working& working);

}  // namespace patchwright::price
