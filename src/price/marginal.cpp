#include "patchwright/price/marginal.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "dig_items.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/price/build_up.hpp"
#include "patchwright/price/risk.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::price {
namespace {

constexpr std::array sleeve_symbols{
    Symbol{"F", "felt with its waste", Show::money},
    Symbol{"M", "resin and its conditioning, film, consumables", Show::money},
    Symbol{"W", "wear of the packer", Show::money},
    Symbol{"t", "team time", Show::span},
    Symbol{"k", "cost of a team hour", Show::money},
    Symbol{"O", "reopening", Show::money},
};
constexpr Formula sleeve_formula{.id = "price.sleeve",
                                 .result = {"R", "cost of one sleeve", Show::money},
                                 .text = "R = F + M + W + t k + O, t in hours",
                                 .inputs = sleeve_symbols,
                                 .source = "common practice, no source",
                                 .page = "price"};
constexpr std::array failure_symbols{
    Symbol{"p", "probability", Show::percent},
    Symbol{"c", "cost of the failure itself, mean", Show::money},
    Symbol{"q", "share that ends in a dig", Show::percent},
    Symbol{"R", "the sleeve once more", Show::money},
    Symbol{"G", "digging that place", Show::money},
};
constexpr Formula failure_formula{.id = "price.failure",
                                  .result = {"E", "expected cost of failure", Show::money},
                                  .text = "E = p [c + (1 - q) R + q G]",
                                  .inputs = failure_symbols,
                                  .source = "common practice, no source",
                                  .page = "risk"};

constexpr std::array total_symbols{
    Symbol{"R", "one sleeve", Show::money},
    Symbol{"E", "expected cost of all its failures", Show::money},
};
constexpr Formula total_formula{.id = "price.marginal",
                                .result = {"K", "marginal cost of the sleeve", Show::money},
                                .text = "K = R + E",
                                .inputs = total_symbols,
                                .source = "common practice, no source",
                                .page = "price"};

}  // namespace

Money sleeve_cost(const Marginal& m, const job::Yard& yard, Working& working) {
    if (!is_finite(m.crew_time) || m.crew_time.si() < 0.0) throw RangeError("price: a sleeve's team time is negative");
    const job::Rates& rates = yard.rates;
    Working off = Working::off();
    const MoneyPer<Duration> hour = crew_hour(rates, off);
    const Money materials = m.resin_money + m.conditioning + m.film_money + rates.consumables_per_patch;
    const Money sleeve = m.felt_money + materials + m.wear + cost(hour, m.crew_time) + m.reopening;
    working.add(sleeve_formula, {m.felt_money, materials, m.wear, m.crew_time, hour.amount, m.reopening}, sleeve);
    return sleeve;
}

Money marginal_cost(const Marginal& m, const job::Yard& yard, Working& working) {
    return marginal_cost(m, sleeve_cost(m, yard, working), yard, working);
}

Money marginal_cost(const Marginal& m, Money sleeve, const job::Yard& yard, Working& working) {
    const job::Rates& rates = yard.rates;
    Money total = sleeve;
    for (const job::Risk& risk : yard.risks) {
        if (risk.of_dig) continue;
        const double own = (cents(risk.cost.low) + cents(risk.cost.likely) + cents(risk.cost.high)) / 3.0;
        const double p = risk.probability.as_double();
        double redo = 0.0, dig = 0.0, q = 0.0;
        if (risk.consequence == job::Risk::Consequence::redo) {
            redo = cents(sleeve);
            dig = cents(m.dig_instead);
            q = risk.then_dig.as_double();
        } else if (risk.consequence == job::Risk::Consequence::dig) {
            dig = cents(m.dig_instead);
            q = 1.0;
        }
        const double expected = expected_failure(p, q, own, redo, dig);
        total += Money::cents(std::llround(expected), rates.currency);
        working.add(failure_formula, {{p, Origin::yard}, {own, Origin::yard}, {q, Origin::yard}, redo, dig}, expected);
    }
    total = std::max(total, Money::cents(1, rates.currency));
    working.add(total_formula, {sleeve, total - sleeve}, total);
    return total;
}

}  // namespace patchwright::price
