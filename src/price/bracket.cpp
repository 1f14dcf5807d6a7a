#include "patchwright/price/bracket.hpp"

#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::price {
namespace {

constexpr std::array suggested_symbols{
    Symbol{"F", "floor: direct + risk + overhead of patching", Show::money},
    Symbol{"G", "ceiling: net price of digging", Show::money},
    Symbol{"a", "share of the difference", Show::percent},
    Symbol{"s", "price step", Show::money},
};
constexpr Formula suggested_formula{.id = "price.suggested",
                                    .result = {"S", "suggested price", Show::money},
                                    .text = "S = min(up_to_step(F + a (G - F), s), G)",
                                    .inputs = suggested_symbols,
                                    .source = "derived here, docs/methods/price.md",
                                    .page = "price"};

/// Up to the step; where that would pass the ceiling, down to it; where that would pass the floor, the ceiling.
Money rounded_between(Money raw, Money step, Money floor, Money ceiling) {
    if (step.is_zero()) return std::min(raw, ceiling);
    const Money up = rounded_up_to(raw, step);
    if (up <= ceiling) return up;
    const Money down = up - step;
    return down >= floor ? std::min(down, ceiling) : ceiling;
}

}  // namespace

Bracket bracket(const BuildUp& patch, const BuildUp& dig, int patches, const job::Rates& rates, Working& working) {
    if (rates.suggested_share < Share{} || rates.suggested_share > Share::millionths(1'000'000)) {
        throw RangeError("rates: the suggested share of the way from floor to ceiling lies between 0 % and 100 %");
    }
    Bracket b;
    b.floor = patch.cost();
    b.ceiling = dig.net;
    b.why_floor = "what the work costs us: direct, risk and overhead, no profit; below it every job loses money";
    b.why_ceiling = "what digging up and replacing the same places would cost this customer, net";
    if (patches == 0) {
        b.why_floor = "what the digging costs us: direct, risk and overhead, no profit";
        b.why_ceiling = "the net price of the same digging: there is nothing to patch";
    }
    if (b.floor > b.ceiling) {
        b.bid = false;
        b.suggested = b.ceiling;
        b.why_suggested = fmt::format("no bid: our cost lies {} above the price of digging; dig it, or do not bid",
                                      format(b.floor - b.ceiling));
    } else {
        const Money raw = b.floor + share_of(b.ceiling - b.floor, rates.suggested_share);
        b.suggested = rounded_between(raw, rates.round_to, b.floor, b.ceiling);
        b.why_suggested = fmt::format("floor plus {} of the way to the ceiling, rounded, never above it",
                                      format(Show::percent, rates.suggested_share.as_double(), UnitSystem::metric));
    }
    b.saving = b.ceiling - b.suggested;
    working.add(suggested_formula,
                {b.floor, b.ceiling, {rates.suggested_share.as_double(), Origin::yard}, {rates.round_to, Origin::yard}},
                b.suggested);
    return b;
}

}  // namespace patchwright::price
