#include "patchwright/price/price.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <tuple>
#include <utility>

#include <fmt/core.h>

#include "model.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::price {
namespace {

constexpr std::array risk_symbols{
    Symbol{"M", "mean cost, all spreads and risks", Show::money},
    Symbol{"C", "direct cost, likely values", Show::money},
    Symbol{"E", "expected cost of the discrete risks", Show::money},
};
constexpr Formula spread_formula{.id = "price.spread",
                                 .result = {"A", "allowance for spread", Show::money},
                                 .text = "A = max(M - C - E, 0)",
                                 .inputs = risk_symbols,
                                 .source = "derived here, docs/methods/risk.md",
                                 .page = "risk"};

struct Band {
    double low = 0.0, high = 0.0;
};
Band band_of(job::Certainty certainty) {
    switch (certainty) {
        case job::Certainty::call:
            return {-0.30, 0.50};
        case job::Certainty::photo:
            return {-0.20, 0.30};
        case job::Certainty::survey:
            return {-0.10, 0.15};
    }
    return {};
}

void need_input(const Input& input) {
    if (input.job == nullptr || input.yard == nullptr) throw InputError("price: needs a job and a yard");
}

/// Lines that are on both sides, then those of the method.
std::vector<Line> with_input_tax(std::vector<Line> lines, const job::Rates& rates) {
    add_input_tax(lines, rates);
    return lines;
}

void finish(BuildUp& b, const Model& model, bool patch, double mean, const job::Rates& rates, Working& working) {
    b.direct = sum(b.lines);
    b.risk_lines = risk_lines(model, patch, rates.currency);
    const Money discrete = sum(b.risk_lines);
    const Money expected = Money::cents(std::llround(mean), rates.currency);
    const Money allowance = std::max(Money{}, expected - b.direct - discrete);
    working.add(spread_formula, {expected, b.direct, discrete}, allowance);
    if (!allowance.is_zero()) {
        b.risk_lines.push_back(
            {LineKind::risk, "Spread of rates, days and ground: mean less likely", 1.0, "", allowance, allowance});
    }
    close(b, rates, working);
}

/// The quantiles of cost as prices: what the price would be had the cost been known.
void set_quantiles(BuildUp& b, const std::array<Money, 4>& cost, const job::Rates& rates) {
    const auto net = [&](Money c) { return price_of_cost(c, b.crew_days, rates); };
    b.p10 = net(cost[0]);
    b.p50 = net(cost[1]);
    b.p80 = net(cost[2]);
    b.p90 = net(cost[3]);
}

Parts gather(const Input& input, const job::Yard* market, Working& working) {
    const job::Dig& dig = input.job->dig;
    const job::Yard& yard = *input.yard;
    Parts parts;
    parts.patch_lines = patch_lines(input.works, yard.rates, working);
    parts.unavoidable = cheapest_dig(input.unavoidable_places, dig, yard, working);
    parts.unavoidable_shape = dig_shape(parts.unavoidable, dig, yard);
    parts.places = input.unavoidable_places;
    if (market == nullptr) return parts;
    parts.places.insert(parts.places.end(), input.dig_places.begin(), input.dig_places.end());
    parts.all = cheapest_dig(parts.places, dig, *market, working);
    parts.all_shape = dig_shape(parts.all, dig, *market);
    return parts;
}

/// Lines, the model's share of the input tax, then the layers.
void close_side(BuildUp& b, std::vector<Line> lines, Model& model, bool patch, const job::Rates& rates,
                Working& working) {
    const Money before = sum(lines);
    b.lines = with_input_tax(std::move(lines), rates);
    MethodModel& method = patch ? model.patch : model.dig;
    method.fixed += static_cast<double>((sum(b.lines) - before).in_cents());
    const Means means = mean_cost(model);
    finish(b, model, patch, patch ? means.patch : means.dig, rates, working);
}

/// The digs that cannot be avoided, by themselves.
BuildUp unavoidable_side(const Input& input, const Parts& parts, const job::Rates& rates) {
    BuildUp b;
    if (input.unavoidable_places.empty()) return b;
    Working off = Working::off();
    Input alone = input;
    alone.works = {};
    alone.dig_places.clear();
    Parts only = parts;
    only.patch_lines.clear();
    Model model = patch_model(alone, only);
    b.crew_days = parts.unavoidable.mean_days;
    job::Rates priced = rates;
    if (input.works.patches > 0) priced.minimum_charge = Money{};  // the patches of the job make it up
    close_side(b, dig_lines(parts.unavoidable, input.job->dig, *input.yard, off), model, true, priced, off);
    return b;
}

/// The patches by themselves. The minimum charge is of the job: what the digs do not reach the patches make up.
BuildUp patching_side(const Input& input, const Parts& parts, Money digs_net, const job::Rates& rates,
                      Working& working) {
    BuildUp b;
    Input alone = input;
    alone.unavoidable_places.clear();
    Parts only;
    only.patch_lines = parts.patch_lines;
    Model model = patch_model(alone, only);
    if (input.works.patches > 0) b.crew_days = input.works.days;
    job::Rates priced = rates;
    priced.minimum_charge = std::max(Money{}, rates.minimum_charge - digs_net);
    close_side(b, parts.patch_lines, model, true, priced, working);
    return b;
}

/// Two jobs as one, without quantiles.
BuildUp together(BuildUp a, const BuildUp& b) {
    a.lines.insert(a.lines.end(), b.lines.begin(), b.lines.end());
    a.risk_lines.insert(a.risk_lines.end(), b.risk_lines.begin(), b.risk_lines.end());
    a.direct += b.direct;
    a.risk += b.risk;
    a.overhead += b.overhead;
    a.profit += b.profit;
    a.net += b.net;
    a.tax += b.tax;
    a.gross += b.gross;
    a.crew_days += b.crew_days;
    return a;
}

/// What others ask for digging: our take-off and wages, their overhead and profit; no minimum charge.
job::Yard market_of(const job::Yard& yard) {
    job::Yard market;
    market.rates = yard.rates;
    market.rates.overhead = yard.dig_market.overhead;
    market.rates.overhead_per_crew_day = Money{};
    market.rates.profit = yard.dig_market.profit;
    market.rates.profit_is_margin = false;
    market.rates.minimum_charge = Money{};
    market.dig_rates = yard.dig_rates;
    market.risks = yard.risks;
    return market;
}

/// Our rates on this job: a profit of the job's own stands in for the yard's.
job::Rates own_rates(const Input& input) {
    job::Rates rates = input.yard->rates;
    if (input.job->price.profit) rates.profit = *input.job->price.profit;
    return rates;
}

Outcome outcome_of(const DigWorks& works, int days_of_patching) {
    Outcome o{works.surface_broken, works.carted, days_of_patching + works.team_days + works.surface_days, {}};
    for (const excavation::Pit& pit : works.pits) o.new_pipe += pit.pipe_replaced;
    return o;
}

/// The range of an estimate in round figures: outwards to the price step.
std::pair<Money, Money> round_range(Money from, Money to, Money step) {
    if (step.is_zero()) return {from, to};
    const Money up = rounded_up_to(from, step);
    return {up == from ? up : up - step, rounded_up_to(to, step)};
}

std::vector<std::string> also_mended(const Input& input) {
    std::vector<std::string> out;
    if (input.dig_places.empty()) return out;
    for (const excavation::Place& place : input.dig_places) {
        for (const job::Defect* d : place.defects) {
            if (d->kind == job::DefectKind::displaced_joint) {
                out.push_back(fmt::format("The step at {} is laid straight; a patch only rounds it off.", d->id));
            } else if (d->kind == job::DefectKind::deformation) {
                out.push_back(fmt::format("The pipe at {} is round again; a patch keeps the shape.", d->id));
            } else if (d->kind == job::DefectKind::root_intrusion) {
                out.push_back(fmt::format("The roots round {} are dug out; a patch shuts them out.", d->id));
            }
        }
    }
    out.emplace_back(
        "Each hole gets a length of new pipe with its full bore, and a sag in that length can be taken "
        "out; a patch follows the old pipe.");
    return out;
}

void add_warnings(Offer& offer, const Input& input) {
    const UnitSystem units = input.job->units;
    const bool doubtful = !offer.bracket.bid || offer.bracket.own_above_limit;
    if (doubtful) offer.warnings.push_back("price: " + offer.bracket.why_suggested);
    offer.warnings.insert(offer.warnings.end(), offer.offered.warnings.begin(), offer.offered.warnings.end());
    if (input.works.patches > 0 && !input.dig_places.empty() && offer.dig.net > Money{}) {
        const double ratio =
            static_cast<double>(offer.patch.net.in_cents()) / static_cast<double>(offer.dig.net.in_cents());
        if (ratio < 0.15 || ratio > 1.5) {
            offer.warnings.push_back(
                fmt::format("price: patching comes to {:.2f} of digging; 0.15 to 1.5 is what the trade sees, so check "
                            "the rates and the depth",
                            ratio));
        }
    }
    std::vector<const job::Run*> told;
    for (const auto* places : {&input.dig_places, &input.unavoidable_places}) {
        for (const excavation::Place& place : *places) {
            const Length bore = place.run->working_bore();
            if (excavation::replacement_listed(bore) || std::find(told.begin(), told.end(), place.run) != told.end())
                continue;
            told.push_back(place.run);
            offer.warnings.push_back(fmt::format(
                "dig: no replacement pipe is listed for the bore of {} on run {}; digging is priced with one of {} "
                "outside diameter, so take the price for a guess",
                format(Show::tape, bore, units), place.run->id,
                format(Show::tape, excavation::replacement_diameter(bore), units)));
        }
    }
    for (const excavation::Pit& pit : offer.pits) {
        if (pit.protection == excavation::Protection::engineer) {
            offer.warnings.push_back(
                fmt::format("dig: the hole on run {} would be {} deep; its price is a guess until "
                            "an engineer has designed the support",
                            pit.run, format(Show::run_distance, pit.trench.depth, units)));
        }
    }
}

}  // namespace

Offer make_offer(const Input& input, Working& working) {
    need_input(input);
    const job::Rates rates = own_rates(input);
    const job::Yard market = market_of(*input.yard);
    const Parts parts = gather(input, &market, working);
    Model model = make_model(input, parts);

    Offer offer;
    offer.dig.crew_days = parts.all.mean_days;
    close_side(offer.dig, dig_lines(parts.all, input.job->dig, market, working), model, false, market.rates, working);
    offer.unavoidable_dig = unavoidable_side(input, parts, rates);
    offer.patching = patching_side(input, parts, offer.unavoidable_dig.net, rates, working);
    offer.patch = together(offer.patching, offer.unavoidable_dig);
    // The trials know both together; the tax on what both buy was worked out side by side.
    for (const BuildUp* b : {&offer.patching, &offer.unavoidable_dig}) {
        for (const Line& line : b->lines) {
            if (line.words == input_tax_words) model.patch.fixed += static_cast<double>(line.amount.in_cents());
        }
    }
    offer.dig_works = parts.all;
    offer.unavoidable_works = parts.unavoidable;
    offer.pits = parts.all.pits;
    offer.patch_outcome = outcome_of(parts.unavoidable, std::max(0, input.works.patches > 0 ? input.works.days : 0));
    offer.dig_outcome = outcome_of(parts.all, 0);
    offer.dig_also_mends = also_mended(input);

    if (input.trials != 0) {
        offer.risk = simulate(model, {&rates, &market.rates, offer.patch.crew_days, offer.dig.crew_days}, input.seed,
                              input.trials, input.threads);
        if (input.works.patches <= 0) offer.risk.patch_cheaper = 0.0;  // nothing is compared
        set_quantiles(offer.patch, offer.risk.patch_quantiles, rates);
        set_quantiles(offer.dig, offer.risk.dig_quantiles, market.rates);
    }
    const int patches = std::max(0, input.works.patches);
    offer.bracket = bracket(offer.patch, offer.dig, patches, rates, input.yard->dig_market.least_advantage, working);
    const Part sleeves{patches, offer.patching.net, offer.patching.cost()};
    const Part holes{static_cast<int>(parts.unavoidable.pits.size()), offer.unavoidable_dig.net,
                     offer.unavoidable_dig.cost()};
    offer.offered = offered(sleeves, holes, offer.bracket, *input.job, *input.yard, working);
    if (patches > 0 && !offer.offered.lines.empty())
        offer.saving = std::max(Money{}, offer.bracket.ceiling - offer.offered.work);
    offer.listed =
        by_price_list(input.sleeves, input.works.visits, sleeves.floor, input.yard->price_list, input.job->units);

    const Band band = band_of(input.job->certainty);
    offer.estimate_only = input.job->certainty != job::Certainty::survey;
    offer.band_low = band.low;
    offer.band_high = band.high;
    std::tie(offer.band_from, offer.band_to) = round_range(
        scaled(offer.offered.total, 1.0 + band.low), scaled(offer.offered.total, 1.0 + band.high), rates.round_to);
    offer.survey_price = rates.survey_price;
    add_warnings(offer, input);
    return offer;
}

BuildUp patch_build_up(const Input& input, Working& working) {
    need_input(input);
    const job::Rates rates = own_rates(input);
    const Parts parts = gather(input, nullptr, working);
    const BuildUp digs = unavoidable_side(input, parts, rates);
    return together(patching_side(input, parts, digs.net, rates, working), digs);
}

}  // namespace patchwright::price
