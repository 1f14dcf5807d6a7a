#include "flips.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>
#include <fmt/ranges.h>

namespace patchwright::price {
namespace {

struct Prices {
    double patch = 0.0, dig = 0.0;  ///< cents, before rounding
};

/// Both prices when the places lie otherwise: the same functions as the offer's, without words and rounding.
class WhatIf {
public:
    WhatIf(const Input& input, const Parts& parts, const Model& model, const job::Rates& rates,
           const job::Rates& market)
        : input_{input}, rates_{rates}, market_{market} {
        scope_ = triangular(model.scope).mean;
        Model bare = patch_model(input, parts);
        // The patch side by itself: its own lines with their spread, its mishaps less what their digs cost.
        bare.patch = {};
        for (const Line& line : parts.patch_lines) {
            const auto amount = static_cast<double>(line.amount.in_cents());
            bare.patch.fixed += amount * (line.kind == LineKind::labour     ? triangular(bare.variables[0].spread).mean
                                          : line.kind == LineKind::material ? triangular(bare.variables[1].spread).mean
                                          : line.kind == LineKind::plant    ? triangular(bare.variables[2].spread).mean
                                                                            : 1.0);
        }
        patching_ = bare.patch.fixed;
        for (const Event& e : model.events) {
            const double p = e.probability;
            if (e.of_patch && !e.of_dig) {
                const bool dig_anyway = e.q == 0.0 && e.then_first == e.then_second;
                const double dig = p * (dig_anyway ? e.then_first : e.q * e.then_second);
                mishap_digs_ += dig;
                mishaps_ += e.mean() - dig;
            } else if (e.of_patch) {
                unavoidable_risks_ += e.mean();
            } else {
                dig_risks_ += e.mean();
            }
        }
        dig_alone_ = average_alone(input.job->dig, std::nullopt);
        patches_ = std::max(0, input.works.patches);
        for (const Money m : input.works.redo_cost) one_more_ += static_cast<double>(m.in_cents());
        if (!input.works.redo_cost.empty()) one_more_ /= static_cast<double>(input.works.redo_cost.size());
    }

    Prices at(const job::Dig& dig, std::optional<Length> depth) const {
        const std::vector<excavation::Place> unavoidable = moved(input_.unavoidable_places, depth);
        std::vector<excavation::Place> all = unavoidable;
        for (excavation::Place& p : moved(input_.dig_places, depth)) all.push_back(std::move(p));
        const DigMean with = cheapest_dig_mean(all, dig, *input_.yard);
        const DigMean without = cheapest_dig_mean(unavoidable, dig, *input_.yard);
        const double dearer = dig_alone_ > 0.0 && mishap_digs_ > 0.0 ? average_alone(dig, depth) / dig_alone_ : 1.0;
        const double patch = patching_ + mishaps_ + mishap_digs_ * dearer + unavoidable_risks_ + without.cents();
        const double other = with.cents() + dig_risks_ + unavoidable_risks_;
        return {price_of_cost(scope_ * patch, input_.works.days + without.days, rates_),
                price_of_cost(scope_ * other, with.days, market_)};
    }

    /// n patches against n holes apart, each like the average of the job; what cannot be avoided left out.
    Prices with(int n) const {
        if (patches_ == 0 || input_.dig_places.empty()) return {};
        const double each = static_cast<double>(patches_);
        const double visit = std::max(0.0, patching_ - each * one_more_);
        const double patch = visit + n * (std::min(one_more_, patching_ / each) + (mishaps_ + mishap_digs_) / each);
        double hole = 0.0;
        double days = 0.0;
        for (const excavation::Place& place : input_.dig_places) {
            const DigMean alone = cheapest_dig_mean({place}, input_.job->dig, *input_.yard);
            hole += alone.pits;
            days += alone.days;
        }
        const auto places = static_cast<double>(input_.dig_places.size());
        const double all_days = n * days / places;
        const double dig = n * (hole + dig_risks_) / places + once_cents(all_days, input_.job->dig, *input_.yard);
        const double patch_days = std::max(1.0, input_.works.days * n / each);
        return {price_of_cost(scope_ * patch, patch_days, rates_), price_of_cost(scope_ * dig, all_days, market_)};
    }

private:
    static std::vector<excavation::Place> moved(const std::vector<excavation::Place>& places,
                                                std::optional<Length> depth) {
        std::vector<excavation::Place> out = places;
        for (excavation::Place& p : out) {
            if (depth) p.depth = depth;
        }
        return out;
    }
    double average_alone(const job::Dig& dig, std::optional<Length> depth) const {
        if (input_.dig_places.empty()) return 0.0;
        double sum = 0.0;
        for (const excavation::Place& place : moved(input_.dig_places, depth)) {
            sum += cheapest_dig_mean({place}, dig, *input_.yard).cents();
        }
        return sum / static_cast<double>(input_.dig_places.size());
    }

    const Input& input_;
    const job::Rates& rates_;   ///< ours
    const job::Rates& market_;  ///< of those who dig
    double scope_ = 1.0;
    double patching_ = 0.0, mishaps_ = 0.0, mishap_digs_ = 0.0, unavoidable_risks_ = 0.0, dig_risks_ = 0.0;
    double dig_alone_ = 0.0, one_more_ = 0.0;
    int patches_ = 0;
};

BreakEvenPoint point(double at, std::string label, const Prices& p, Currency currency) {
    return {at, std::move(label), Money::cents(std::llround(p.patch), currency),
            Money::cents(std::llround(p.dig), currency)};
}

BreakEven by_depth(const Input& input, const WhatIf& what_if) {
    constexpr double shallowest = 0.5;
    constexpr double deepest = 8.0;
    const UnitSystem units = input.job->units;
    const auto label = [units](double d) { return format(Show::run_distance, d * unit::m, units); };
    const auto prices = [&](double d) { return what_if.at(input.job->dig, d * unit::m); };
    BreakEven table{.what = "depth", .at = {}, .unit = "m", .words = {}, .points = {}};
    table.at = crossings(
        [&](double d) {
            const Prices p = prices(d);
            return p.dig - p.patch;
        },
        shallowest, deepest, 75, 0.005);
    for (const double d : {0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 8.0}) {
        table.points.push_back(point(d, label(d), prices(d), input.yard->rates.currency));
    }
    if (table.at.empty()) {
        const bool patch = table.points.front().patch < table.points.front().dig;
        table.words = fmt::format("{} is cheaper at every depth from {} to {}.", patch ? "Patching" : "Digging",
                                  label(shallowest), label(deepest));
    } else {
        std::vector<std::string> where;
        for (const double d : table.at) where.push_back(label(d));
        table.words =
            fmt::format("The cheaper method changes at {}; in the deepest ground it is {}.", fmt::join(where, ", "),
                        table.points.back().patch < table.points.back().dig ? "patching" : "digging");
    }
    return table;
}

BreakEven by_number(const Input& input, const WhatIf& what_if) {
    constexpr int most = 12;
    BreakEven table{.what = "number of patches", .at = {}, .unit = "patches", .words = {}, .points = {}};
    std::vector<std::string> where;
    for (int n = 1; n <= most; ++n) {
        table.points.push_back(point(n, fmt::format("{}", n), what_if.with(n), input.yard->rates.currency));
        if (n == 1) continue;
        const BreakEvenPoint& before = table.points[table.points.size() - 2];
        const BreakEvenPoint& here = table.points.back();
        if ((before.patch < before.dig) != (here.patch < here.dig)) {
            table.at.push_back(n);
            where.push_back(fmt::format("{} ({})", n, here.patch < here.dig ? "patching" : "digging"));
        }
    }
    const bool patch = table.points.front().patch < table.points.front().dig;
    table.words = table.at.empty()
                      ? fmt::format("{} is cheaper for any number from 1 to {}.", patch ? "Patching" : "Digging", most)
                      : fmt::format("For one place {} is cheaper; the answer changes from {} places on.",
                                    patch ? "patching" : "digging", fmt::join(where, ", "));
    return table;
}

BreakEven by_surface(const Input& input, const WhatIf& what_if) {
    BreakEven table{.what = "surface", .at = {}, .unit = {}, .words = {}, .points = {}};
    std::vector<std::string> patch;
    std::vector<std::string> dig;
    std::optional<bool> before;
    for (const job::SurfaceRate& row : input.yard->dig_rates.surfaces) {
        job::Dig ground = input.job->dig;
        ground.surface.value = row.surface;
        const auto at = static_cast<double>(table.points.size());
        const std::string label{job::word(row.surface)};
        table.points.push_back(point(at, label, what_if.at(ground, std::nullopt), input.yard->rates.currency));
        const bool patch_cheaper = table.points.back().patch < table.points.back().dig;
        (patch_cheaper ? patch : dig).push_back(label);
        if (before && *before != patch_cheaper) table.at.push_back(at);
        before = patch_cheaper;
    }
    if (dig.empty()) {
        table.words = std::string{"Patching is cheaper under every surface."};
    } else if (patch.empty()) {
        table.words = std::string{"Digging is cheaper under every surface."};
    } else {
        table.words = fmt::format("Under {} digging is cheaper, under {} patching.", fmt::join(dig, ", "),
                                  fmt::join(patch, ", "));
    }
    return table;
}

}  // namespace

std::vector<BreakEven> break_even_tables(const Input& input, const Parts& parts, const Model& model,
                                         const job::Rates& rates, const job::Rates& market) {
    if (input.works.patches <= 0 || input.dig_places.empty()) return {};
    const WhatIf what_if{input, parts, model, rates, market};
    return {by_depth(input, what_if), by_number(input, what_if), by_surface(input, what_if)};
}

}  // namespace patchwright::price
