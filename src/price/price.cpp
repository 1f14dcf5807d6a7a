#include "patchwright/price/price.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

#include <fmt/core.h>

#include "flips.hpp"
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
    const auto net = [&](Money c) {
        const Money price = price_of_cost(c, b.crew_days, rates);
        return price - share_of(price, rates.discount);
    };
    b.p10 = net(cost[0]);
    b.p50 = net(cost[1]);
    b.p80 = net(cost[2]);
    b.p90 = net(cost[3]);
}

Parts gather(const Input& input, bool dig_side, Working& working) {
    const job::Dig& dig = input.job->dig;
    const job::Yard& yard = *input.yard;
    Parts parts;
    parts.patch_lines = patch_lines(input.works, yard.rates, working);
    parts.unavoidable = cheapest_dig(input.unavoidable_places, dig, yard, working);
    parts.unavoidable_shape = dig_shape(parts.unavoidable, dig, yard);
    parts.places = input.unavoidable_places;
    if (!dig_side) return parts;
    parts.places.insert(parts.places.end(), input.dig_places.begin(), input.dig_places.end());
    parts.all = cheapest_dig(parts.places, dig, yard, working);
    parts.all_shape = dig_shape(parts.all, dig, yard);
    return parts;
}

/// The patch side: patching, then the digs that cannot be avoided; input tax, where borne, enters the model as fixed.
/// `lines` are those of patching.
void fill_patch_side(BuildUp& b, const Input& input, const Parts& parts, std::vector<Line> lines, Model& model,
                     Working& working) {
    Working off = Working::off();
    std::vector<Line> dug = dig_lines(parts.unavoidable, input.job->dig, *input.yard, off);
    lines.insert(lines.end(), std::make_move_iterator(dug.begin()), std::make_move_iterator(dug.end()));
    const Money before = sum(lines);
    b.lines = with_input_tax(std::move(lines), input.yard->rates);
    model.patch.fixed += static_cast<double>((sum(b.lines) - before).in_cents());
    b.crew_days = input.works.days + parts.unavoidable.mean_days;
    finish(b, model, true, mean_cost(model).patch, input.yard->rates, working);
}

void fill_dig_side(BuildUp& b, const Input& input, const Parts& parts, Model& model, Working& working) {
    std::vector<Line> lines = dig_lines(parts.all, input.job->dig, *input.yard, working);
    const Money before = sum(lines);
    b.lines = with_input_tax(std::move(lines), input.yard->rates);
    model.dig.fixed += static_cast<double>((sum(b.lines) - before).in_cents());
    b.crew_days = parts.all.mean_days;
    finish(b, model, false, mean_cost(model).dig, input.yard->rates, working);
}

/// The unavoidable dig as an offer of its own: nothing patched, no minimum charge shared with anybody.
BuildUp unavoidable_side(const Input& input, const Parts& parts) {
    if (input.unavoidable_places.empty()) return {};
    Working off = Working::off();
    Input alone = input;
    alone.works = {};
    alone.dig_places.clear();
    Parts only = parts;
    only.patch_lines.clear();
    Model model = patch_model(alone, only);
    BuildUp b;
    fill_patch_side(b, alone, only, {}, model, off);
    return b;
}

Outcome outcome_of(const DigWorks& works, int days_of_patching) {
    Outcome o{works.surface_broken, works.carted, days_of_patching + works.team_days + works.surface_days, {}};
    for (const excavation::Pit& pit : works.pits) o.new_pipe += pit.pipe_replaced;
    return o;
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
    if (!offer.bracket.bid) offer.warnings.push_back("price: " + offer.bracket.why_suggested);
    if (input.works.patches > 0 && !input.dig_places.empty() && offer.dig.net > Money{}) {
        const double ratio =
            static_cast<double>(offer.patch.net.in_cents()) / static_cast<double>(offer.dig.net.in_cents());
        if (ratio < 0.15 || ratio > 1.5) {
            offer.warnings.push_back(
                fmt::format("price: patching comes to {:.2f} of digging; 0.15 to 1.5 is what the trade sees, so check "
                            "the rates and the depth",
                            ratio));
        } else if (offer.bracket.bid && offer.patch.net > offer.dig.net) {
            offer.warnings.push_back(fmt::format("price: with our profit patching ({}) costs more than digging ({})",
                                                 format(offer.patch.net), format(offer.dig.net)));
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
    const job::Rates& rates = input.yard->rates;
    const Parts parts = gather(input, true, working);
    Model model = make_model(input, parts);

    Offer offer;
    fill_dig_side(offer.dig, input, parts, model, working);
    fill_patch_side(offer.patch, input, parts, parts.patch_lines, model, working);
    offer.unavoidable_dig = unavoidable_side(input, parts);
    offer.dig_works = parts.all;
    offer.unavoidable_works = parts.unavoidable;
    offer.pits = parts.all.pits;
    offer.patch_outcome = outcome_of(parts.unavoidable, std::max(0, input.works.patches > 0 ? input.works.days : 0));
    offer.dig_outcome = outcome_of(parts.all, 0);
    offer.dig_also_mends = also_mended(input);

    if (input.trials != 0) {
        offer.risk = simulate(model, {&rates, offer.patch.crew_days, offer.dig.crew_days}, input.seed, input.trials,
                              input.threads);
        set_quantiles(offer.patch, offer.risk.patch_quantiles, rates);
        set_quantiles(offer.dig, offer.risk.dig_quantiles, rates);
    }
    offer.bracket = bracket(offer.patch, offer.dig, input.works.patches, rates, working);

    const Band band = band_of(input.job->certainty);
    offer.estimate_only = input.job->certainty != job::Certainty::survey;
    offer.band_low = band.low;
    offer.band_high = band.high;
    offer.band_from = scaled(offer.bracket.suggested, 1.0 + band.low);
    offer.band_to = scaled(offer.bracket.suggested, 1.0 + band.high);
    offer.survey_price = rates.survey_price;
    if (input.break_even) offer.break_even = break_even_tables(input, parts, model);
    add_warnings(offer, input);
    return offer;
}

BuildUp patch_build_up(const Input& input, Working& working) {
    need_input(input);
    Parts parts = gather(input, false, working);
    Model model = patch_model(input, parts);
    BuildUp b;
    fill_patch_side(b, input, parts, std::move(parts.patch_lines), model, working);
    return b;
}

}  // namespace patchwright::price
