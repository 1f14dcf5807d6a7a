#include "model.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "dig_items.hpp"

namespace patchwright::price {
namespace {

double cents_of(const std::vector<Money>& list, std::size_t i) {
    if (list.empty()) return 0.0;
    if (i < list.size()) return cents(list[i]);
    double sum = 0.0;
    for (const Money m : list) sum += cents(m);
    return sum / static_cast<double>(list.size());
}

// Places of the variables that every model has.
enum Fixed : int { team_time, material_prices, plant, dig_access, soil_volume, surface_team };

job::Spread<double> surface_factor(const job::Spread<double>& days) {
    if (days.likely <= 0.0) return {1.0, 1.0, 1.0};
    return {days.low / days.likely, 1.0, days.high / days.likely};
}

void add_fixed_variables(Model& m, const PatchWorks& works, const job::Yard& yard) {
    const job::Spread<double>& time = works.time_factor.likely > 0.0 ? works.time_factor : yard.rates.labour_spread;
    m.variables = {
        {"Team's time on site", factor_or_one(time), Cause::access},
        {"Prices of material", factor_or_one(yard.rates.material_spread), Cause::own},
        {"Plant", factor_or_one(yard.rates.plant_spread), Cause::own},
        {"Access for digging", factor_or_one(yard.dig_rates.access_spread), Cause::access},
        {"Volume of soil", factor_or_one(yard.dig_rates.ground_spread), Cause::ground},
        {"Days of the surface team", surface_factor(yard.dig_rates.surface_crew_days), Cause::own},
    };
}

void add_patch_lines(MethodModel& method, const std::vector<Line>& lines) {
    double by_time = 0.0;
    double by_material = 0.0;
    double by_plant = 0.0;
    for (const Line& line : lines) {
        const double amount = cents(line.amount);
        if (line.kind == LineKind::labour) {
            by_time += amount;
        } else if (line.kind == LineKind::material) {
            by_material += amount;
        } else if (line.kind == LineKind::plant) {
            by_plant += amount;
        } else {
            method.fixed += amount;
        }
    }
    method.terms.push_back({by_time, team_time, -1});
    method.terms.push_back({by_material, material_prices, -1});
    method.terms.push_back({by_plant, plant, -1});
}

bool same_hole(const excavation::Pit& a, const excavation::Pit& b) {
    return a.run == b.run && a.from == b.from && a.to == b.to && a.protection == b.protection;
}

/// Days of each hole: one value for a hole that stands on both sides.
class HoleDays {
public:
    explicit HoleDays(Model& model) : model_{model} {}
    int variable_for(const excavation::Pit& pit, const job::Spread<double>& days, UnitSystem units) {
        for (const auto& [known, variable] : known_) {
            if (same_hole(*known, pit)) return variable;
        }
        const int variable = static_cast<int>(model_.variables.size());
        model_.variables.push_back({fmt::format("Days of the hole at {}, run {}",
                                                format(Show::run_distance, 0.5 * (pit.from + pit.to), units), pit.run),
                                    days, Cause::ground});
        known_.emplace_back(&pit, variable);
        return variable;
    }

private:
    Model& model_;
    std::vector<std::pair<const excavation::Pit*, int>> known_;
};

void add_dig(MethodModel& method, const DigWorks& works, const DigShape& shape, HoleDays& days, UnitSystem units) {
    method.fixed += shape.fixed;
    for (std::size_t i = 0; i < shape.pits.size(); ++i) {
        const int variable = days.variable_for(works.pits[i], shape.pits[i].days, units);
        method.terms.push_back({shape.pits[i].per_day, variable, dig_access});
    }
    if (shape.by_volume > 0.0) method.terms.push_back({shape.by_volume, soil_volume, -1});
    if (shape.by_material > 0.0) method.terms.push_back({shape.by_material, material_prices, -1});
    if (shape.by_surface_team > 0.0) method.terms.push_back({shape.by_surface_team, surface_team, -1});
}

job::Spread<double> in_cents(const job::Spread<Money>& s) { return {cents(s.low), cents(s.likely), cents(s.high)}; }

void add_events(Model& model, const Input& input, std::size_t avoidable, std::size_t unavoidable, bool dig_side) {
    const std::vector<Money> digs = dig_costs(input);
    for (const job::Risk& risk : input.yard->risks) {
        const auto driver = static_cast<int>(model.risks.size());
        model.risks.push_back(risk.words);
        Event event;
        event.driver = driver;
        event.probability = risk.probability.as_double();
        event.cause = risk.cause;
        event.cost = in_cents(risk.cost);
        if (risk.of_dig) {
            for (std::size_t i = 0; i < unavoidable + (dig_side ? avoidable : 0); ++i) {
                event.of_patch = i < unavoidable;
                event.of_dig = dig_side;
                model.events.push_back(event);
            }
            continue;
        }
        event.of_patch = true;
        for (std::size_t i = 0; i < static_cast<std::size_t>(std::max(0, input.works.patches)); ++i) {
            event.then_first = event.then_second = event.q = 0.0;
            if (risk.consequence == job::Risk::Consequence::redo) {
                event.then_first = cents_of(input.works.redo_cost, i);
                event.then_second = cents_of(digs, i);
                event.q = risk.then_dig.as_double();
            } else if (risk.consequence == job::Risk::Consequence::dig) {
                event.then_first = event.then_second = cents_of(digs, i);
            }
            model.events.push_back(event);
        }
    }
}

/// What the certainty class leaves open beyond a survey: the rest of its band over the survey's band.
job::Spread<double> scope_of(job::Certainty certainty) {
    switch (certainty) {
        case job::Certainty::call:
            return {1.0 - (0.30 - 0.10), 1.0, 1.0 + (0.50 - 0.15)};
        case job::Certainty::photo:
            return {1.0 - (0.20 - 0.10), 1.0, 1.0 + (0.30 - 0.15)};
        case job::Certainty::survey:
            return {1.0, 1.0, 1.0};
    }
    return {1.0, 1.0, 1.0};
}

Model common_model(const Input& input) {
    Model model;
    add_fixed_variables(model, input.works, *input.yard);
    model.correlation = input.yard->rates.shared_causes.as_double();
    model.scope = scope_of(input.job->certainty);
    return model;
}

}  // namespace

std::vector<Money> dig_costs(const Input& input) {
    if (!input.works.dig_cost.empty() || input.works.patches <= 0) return input.works.dig_cost;
    std::vector<Money> costs;
    for (const excavation::Place& place : input.dig_places) {
        costs.push_back(dig_instead(place, input.job->dig, *input.yard));
    }
    return costs;
}

Model make_model(const Input& input, const Parts& parts) {
    Model model = common_model(input);
    add_patch_lines(model.patch, parts.patch_lines);
    HoleDays days{model};
    add_dig(model.dig, parts.all, parts.all_shape, days, input.job->units);
    add_dig(model.patch, parts.unavoidable, parts.unavoidable_shape, days, input.job->units);
    add_events(model, input, input.dig_places.size(), input.unavoidable_places.size(), true);
    return model;
}

Model patch_model(const Input& input, const Parts& parts) {
    Model model = common_model(input);
    add_patch_lines(model.patch, parts.patch_lines);
    HoleDays days{model};
    add_dig(model.patch, parts.unavoidable, parts.unavoidable_shape, days, input.job->units);
    add_events(model, input, 0, input.unavoidable_places.size(), false);
    return model;
}

std::vector<Line> risk_lines(const Model& model, bool patch, Currency currency) {
    std::vector<Line> lines;
    for (std::size_t r = 0; r < model.risks.size(); ++r) {
        double expected = 0.0;
        double count = 0.0;
        for (const Event& e : model.events) {
            if (e.driver != static_cast<int>(r) || !(patch ? e.of_patch : e.of_dig)) continue;
            expected += e.mean();
            count += e.probability;
        }
        const Money amount = Money::cents(std::llround(expected), currency);
        if (amount.is_zero()) continue;
        const Money each = Money::cents(std::llround(count > 0.0 ? expected / count : 0.0), currency);
        lines.push_back({LineKind::risk, model.risks[r], count, "expected", each, amount});
    }
    return lines;
}

}  // namespace patchwright::price
