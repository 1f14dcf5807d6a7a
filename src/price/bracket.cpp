#include "patchwright/price/bracket.hpp"

#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::price {
namespace {

constexpr std::array suggested_symbols{
    Symbol{"F", "floor: direct + risk + overhead of patching", Show::money},
    Symbol{"P", "own price: with our profit, minimum charge and step", Show::money},
    Symbol{"G", "ceiling: what the market asks for digging", Show::money},
    Symbol{"v", "the customer's least advantage, share of the ceiling", Show::percent},
    Symbol{"a", "share of the way from floor to ceiling", Show::percent},
    Symbol{"s", "price step", Show::money},
    Symbol{"m", "minimum charge", Show::money},
};
constexpr Formula suggested_formula{
    .id = "price.suggested",
    .result = {"S", "suggested price", Show::money},
    .text = "S = min(up_to_step(max(P, F + a (G - F)), s), G (1 - v)), not below F or m",
    .inputs = suggested_symbols,
    .source = "derived here, docs/methods/price.md",
    .page = "price"};
constexpr Formula own_formula{.id = "price.suggested.own",
                              .result = {"S", "suggested price", Show::money},
                              .text = "S = P: there is nothing to patch",
                              .inputs = suggested_symbols,
                              .source = "derived here, docs/methods/price.md",
                              .page = "price"};

Money rounded_down_to(Money amount, Money step) {
    if (step.is_zero()) return amount;
    const Money up = rounded_up_to(amount, step);
    return up == amount ? up : up - step;
}
/// Up to the step; where that would pass the limit, down from it; where that would pass the least, the limit.
Money rounded_between(Money raw, Money step, Money least, Money limit) {
    const Money up = step.is_zero() ? raw : rounded_up_to(raw, step);
    if (up <= limit) return up;
    const Money down = rounded_down_to(limit, step);
    return down >= least ? down : limit;
}
std::string percent(Share s) { return format(Show::percent, s.as_double(), UnitSystem::metric); }

void say_why(Bracket& b, Money least, const job::Rates& rates, Share least_advantage) {
    b.why_floor = "what the work costs us: direct, risk and overhead, no profit; below it every job loses money";
    b.why_own = "floor with our profit, minimum charge and step in force";
    b.why_ceiling = "what the market asks, net, for digging up and replacing the same places";
    if (!b.bid && b.floor <= b.limit) {
        b.why_suggested = fmt::format(
            "no bid: our minimum charge, {}, lies above {}, the most that still leaves the customer {} of the price of "
            "digging; do not bid",
            format(least), format(b.limit), percent(least_advantage));
    } else if (!b.bid) {
        b.why_suggested = fmt::format(
            "no bid: our cost lies {} above the most that still leaves the customer {} of the price of "
            "digging; dig it, or do not bid",
            format(b.floor - b.limit), percent(least_advantage));
    } else if (b.own_above_limit) {
        b.why_suggested =
            fmt::format("at our profit digging is cheaper: bid at most {}, or do not bid", format(b.suggested));
    } else if (b.suggested == b.own) {
        b.why_suggested = "own price";
    } else {
        b.why_suggested = fmt::format(
            "the larger of own price and floor plus {} of the way to the ceiling, rounded, at most the "
            "ceiling less {}",
            percent(rates.suggested_share), percent(least_advantage));
    }
    if (b.own == rates.minimum_charge && !b.own.is_zero()) b.why_own = "our minimum charge";
}

}  // namespace

Bracket bracket(const BuildUp& patch, const BuildUp& dig, int patches, const job::Rates& rates, Share least_advantage,
                Working& working) {
    const Share whole = Share::millionths(1'000'000);
    if (rates.suggested_share < Share{} || rates.suggested_share > whole) {
        throw RangeError("rates: the suggested share of the way from floor to ceiling lies between 0 % and 100 %");
    }
    if (least_advantage < Share{} || least_advantage > whole) {
        throw RangeError("dig market: the customer's least advantage lies between 0 % and 100 % of the ceiling");
    }
    Bracket b;
    b.floor = patch.cost();
    b.own = patch.net;
    b.ceiling = dig.net;
    b.limit = b.ceiling - share_of(b.ceiling, least_advantage);
    const Money least = std::max(b.floor, rates.minimum_charge);
    if (patches == 0) {
        b.limit = b.ceiling;
        b.suggested = b.own;
        b.why_floor = "what the digging costs us: direct, risk and overhead, no profit";
        b.why_own = "floor with our profit, minimum charge and step in force";
        b.why_ceiling = "what the market asks for the same digging: there is nothing to patch";
        b.why_suggested = "own price: there is nothing to patch";
    } else {
        b.bid = least <= b.limit;
        b.own_above_limit = b.own > b.limit;
        const Money raw = std::max(b.own, b.floor + share_of(b.ceiling - b.floor, rates.suggested_share));
        b.suggested =
            b.bid ? rounded_between(raw, rates.round_to, least, b.limit) : rounded_down_to(b.limit, rates.round_to);
        say_why(b, rates.minimum_charge, rates, least_advantage);
    }
    b.saving = std::max(Money{}, b.ceiling - b.suggested);
    working.add(patches == 0 ? own_formula : suggested_formula,
                {b.floor,
                 b.own,
                 b.ceiling,
                 {least_advantage.as_double(), Origin::yard},
                 {rates.suggested_share.as_double(), Origin::yard},
                 {rates.round_to, Origin::yard},
                 {rates.minimum_charge, Origin::yard}},
                b.suggested);
    return b;
}

}  // namespace patchwright::price
