#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include <fmt/core.h>

#include "patchwright/price/build_up.hpp"
#include "patchwright/price/random.hpp"
#include "patchwright/price/risk.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/threads.hpp"
#include "trial.hpp"

namespace patchwright::price {
namespace {

/// Trials whose sums are taken together, in their order: so the whole is the same on any number of threads.
constexpr std::size_t chunk_size = 256;

struct ChunkResult {
    Sums patch, dig;
    std::size_t cheaper = 0;
};

/// What the drivers add to one method's cost in one trial.
struct Side {
    explicit Side(std::size_t drivers) : share(drivers) {}
    std::vector<double> share;
    double total = 0.0;  ///< less its mean
};

class Simulator {
public:
    Simulator(const Model& model, const Compare& compare, std::uint64_t seed)
        : model_{model}, compare_{compare}, seed_{seed}, scope_{model.scope} {
        for (const Variable& v : model.variables) inverse_.emplace_back(v.spread);
        for (const Event& e : model.events) event_cost_.emplace_back(e.cost);
        take_common_ = std::sqrt(model.correlation);
        centres_ = mean_cost(model);
        patch_start_.assign(drivers(), 0.0);
        dig_start_.assign(drivers(), 0.0);
        for (const Event& e : model.events) {
            if (e.of_patch) patch_start_[driver_of(e)] -= e.mean();
            if (e.of_dig) dig_start_[driver_of(e)] -= e.mean();
        }
    }
    /// Drivers: the variables, the discrete risks, the scope.
    std::size_t drivers() const { return model_.variables.size() + model_.risks.size() + 1; }

    /// Trials first .. first + count - 1; costs in cents go to the two arrays.
    ChunkResult chunk(std::size_t first, std::size_t count, double* patch_cost, double* dig_cost) const {
        ChunkResult result{Sums{drivers()}, Sums{drivers()}, 0};
        Side patch{drivers()}, dig{drivers()};
        std::vector<double> value(model_.variables.size());
        for (std::size_t t = 0; t < count; ++t) {
            patch_cost[t] = dig_cost[t] = 0.0;
            trial(first + t, value, patch, dig, patch_cost[t], dig_cost[t]);
            add(patch, result.patch);
            add(dig, result.dig);
            if (compare_.patch_rates == nullptr || compare_.dig_rates == nullptr) continue;
            const double patch_price = price_of_cost(patch_cost[t], compare_.patch_days, *compare_.patch_rates);
            const double dig_price = price_of_cost(dig_cost[t], compare_.dig_days, *compare_.dig_rates);
            result.cheaper += patch_price < dig_price ? 1U : 0U;
        }
        return result;
    }

private:
    using Commons = std::array<double, causes>;

    // Places of the draws in a trial's stream. A word gives two numbers: its upper half and its lower half.
    std::uint64_t place_of_variable(std::size_t v) const { return causes + 1 + v; }
    std::uint64_t place_of_event(std::size_t e) const { return place_of_variable(model_.variables.size()) + 2 * e; }
    std::size_t driver_of(const Event& e) const { return inverse_.size() + static_cast<std::size_t>(e.driver); }

    void trial(std::size_t number, std::vector<double>& value, Side& patch, Side& dig, double& patch_cost,
               double& dig_cost) const {
        const Stream draws{Stream{seed_}.at(number)};
        Commons common{};
        for (std::size_t c = 0; c < causes; ++c) common[c] = upper_half(draws.at(c));
        const double scope = scope_(uniform(draws, common, Cause::own, causes));
        for (std::size_t v = 0; v < value.size(); ++v)
            value[v] = inverse_[v](uniform(draws, common, model_.variables[v].cause, place_of_variable(v)));
        patch.share = patch_start_;
        dig.share = dig_start_;
        add_terms(model_.patch, value, patch);
        add_terms(model_.dig, value, dig);
        add_events(draws, common, patch, dig);
        patch_cost = finish(scope, centres_.patch, patch);
        dig_cost = finish(scope, centres_.dig, dig);
    }

    /// Of its own, or the one that its cause shares.
    double uniform(const Stream& draws, const Commons& common, Cause cause, std::uint64_t place) const {
        const std::uint64_t word = draws.at(place);
        const bool shared = cause != Cause::own && take_common_ > 0.0 && lower_half(word) < take_common_;
        return shared ? common[static_cast<std::size_t>(cause)] : upper_half(word);
    }

    /// c x y = c mx my + c my (x - mx) + c mx (y - my) + c (x - mx)(y - my), the last shared half and half.
    void add_terms(const MethodModel& method, const std::vector<double>& value, Side& side) const {
        for (const Term& term : method.terms) {
            const auto i = static_cast<std::size_t>(term.first);
            const double mx = inverse_[i].mean, dx = value[i] - mx;
            if (term.second < 0) {
                side.share[i] += term.cents * dx;
                continue;
            }
            const auto j = static_cast<std::size_t>(term.second);
            const double my = inverse_[j].mean, dy = value[j] - my;
            side.share[i] += term.cents * dx * (my + 0.5 * dy);
            side.share[j] += term.cents * dy * (mx + 0.5 * dx);
        }
    }

    /// The mean of all events is taken off beforehand.
    void add_events(const Stream& draws, const Commons& common, Side& patch, Side& dig) const {
        for (std::size_t e = 0; e < model_.events.size(); ++e) {
            const Event& event = model_.events[e];
            // The upper tail: what makes tasks slow and dear also makes mishaps.
            if (uniform(draws, common, event.cause, place_of_event(e)) <= 1.0 - event.probability) continue;
            const std::uint64_t word = draws.at(place_of_event(e) + 1);
            const double cost =
                event_cost_[e](upper_half(word)) + (lower_half(word) < event.q ? event.then_second : event.then_first);
            if (event.of_patch) patch.share[driver_of(event)] += cost;
            if (event.of_dig) dig.share[driver_of(event)] += cost;
        }
    }

    /// The scope multiplies all the rest. Returns the cost.
    double finish(double scope, double mean, Side& side) const {
        const double before_scope = mean / scope_.mean;
        double rest = 0.0;
        for (std::size_t d = 0; d + 1 < side.share.size(); ++d) {
            rest += side.share[d];
            side.share[d] *= scope_.mean;
        }
        side.share.back() = (scope - scope_.mean) * (before_scope + rest);
        side.total = scope_.mean * rest + side.share.back();
        return mean + side.total;
    }

    static void add(const Side& side, Sums& sums) {
        sums.total += side.total;
        sums.square += side.total * side.total;
        for (std::size_t d = 0; d < side.share.size(); ++d) {
            sums.driver[d] += side.share[d];
            sums.driver_total[d] += side.share[d] * side.total;
        }
    }

    const Model& model_;
    const Compare& compare_;
    std::uint64_t seed_;
    Inverse scope_;
    std::vector<Inverse> inverse_, event_cost_;
    std::vector<double> patch_start_, dig_start_;  ///< less the mean of its events, by driver
    double take_common_ = 0.0;
    Means centres_;
};

Money to_money(double cents, Currency currency) { return Money::cents(std::llround(cents), currency); }

std::array<Money, 4> quantiles(std::vector<double> costs, Currency currency) {
    constexpr std::array<std::size_t, 4> percent{10, 50, 80, 90};
    std::array<Money, 4> out{};
    auto from = costs.begin();  // what lies before is smaller: each search starts where the last one ended
    for (std::size_t k = 0; k < percent.size(); ++k) {
        const std::size_t rank = (percent[k] * costs.size() + 99) / 100;  // ceil(p n)
        const auto place = costs.begin() + static_cast<std::ptrdiff_t>(std::max<std::size_t>(rank, 1) - 1);
        std::nth_element(from, place, costs.end());
        out[k] = to_money(*place, currency);
        from = place;
    }
    return out;
}

/// What one driver costs alone, low and high, the rest at its mean.
std::pair<double, double> range_of(const Model& model, const MethodModel& method, bool patch, std::size_t d) {
    const double scope = triangular(model.scope).mean;
    double low = 0.0;
    double high = 0.0;
    if (d < model.variables.size()) {
        double per_unit = 0.0;
        for (const Term& t : method.terms) {
            const bool first = t.first == static_cast<int>(d);
            if (!first && t.second != static_cast<int>(d)) continue;
            const int other = first ? t.second : t.first;
            per_unit +=
                t.cents * (other < 0 ? 1.0 : triangular(model.variables[static_cast<std::size_t>(other)].spread).mean);
        }
        const job::Spread<double>& spread = model.variables[d].spread;
        low = per_unit * triangular_inverse(spread, 0.1);
        high = per_unit * triangular_inverse(spread, 0.9);
    } else if (d < model.variables.size() + model.risks.size()) {
        for (const Event& e : model.events) {
            if (e.driver != static_cast<int>(d - model.variables.size()) || !(patch ? e.of_patch : e.of_dig)) continue;
            if (e.probability > 0.0) high = std::max(high, e.mean() / e.probability);
        }
    } else {
        const Means means = mean_cost(model);
        const double before = (patch ? means.patch : means.dig) / scope;
        return {before * triangular_inverse(model.scope, 0.1), before * triangular_inverse(model.scope, 0.9)};
    }
    return {scope * low, scope * high};
}

std::vector<Driver> drivers_of(const Model& model, const MethodModel& method, bool patch, const Sums& sums,
                               std::size_t trials, Currency currency) {
    const double n = static_cast<double>(trials);
    const double variance = sums.square / n - (sums.total / n) * (sums.total / n);
    std::vector<Driver> out;
    for (std::size_t d = 0; d < sums.driver.size(); ++d) {
        const double covariance = sums.driver_total[d] / n - (sums.driver[d] / n) * (sums.total / n);
        if (sums.driver[d] == 0.0 && sums.driver_total[d] == 0.0) continue;  // no part in this method
        const auto [low, high] = range_of(model, method, patch, d);
        Driver driver;
        driver.words = d < model.variables.size()                        ? model.variables[d].words
                       : d < model.variables.size() + model.risks.size() ? model.risks[d - model.variables.size()]
                                                                         : std::string{"Scope not yet surveyed"};
        driver.low = to_money(low, currency);
        driver.high = to_money(high, currency);
        driver.share = variance > 0.0 ? covariance / variance : 0.0;
        out.push_back(std::move(driver));
    }
    std::stable_sort(out.begin(), out.end(), [](const Driver& a, const Driver& b) { return a.share > b.share; });
    return out;
}

void check(const Model& model, int trials, int threads) {
    if (trials < 1 || trials > 10'000'000) {
        throw RangeError(fmt::format("trials: 1 to 10 million, got {}", trials));
    }
    if (threads < 1) throw RangeError(fmt::format("trials: at least one thread, got {}", threads));
    if (!(model.correlation >= 0.0 && model.correlation <= 1.0)) {
        throw RangeError(fmt::format("shared causes: a correlation between 0 and 1, got {}", model.correlation));
    }
    const auto known = [&model](int v) { return v < static_cast<int>(model.variables.size()); };
    for (const MethodModel* method : {&model.patch, &model.dig}) {
        for (const Term& t : method->terms) {
            if (t.first < 0 || !known(t.first) || !known(t.second)) throw RangeError("trials: a term without a value");
            if (t.second < 0) continue;
            const Cause a = model.variables[static_cast<std::size_t>(t.first)].cause;
            const Cause b = model.variables[static_cast<std::size_t>(t.second)].cause;
            if (t.first == t.second || (a == b && a != Cause::own)) {
                throw RangeError("trials: the two values of a product must not share a cause");
            }
        }
    }
    for (const Event& e : model.events) {
        if (e.driver < 0 || e.driver >= static_cast<int>(model.risks.size())) {
            throw RangeError("trials: an event without its risk");
        }
        static_cast<void>(e.mean());  // refuses probabilities and costs that are none
    }
}

}  // namespace

RiskRun simulate(const Model& model, const Compare& compare, std::uint64_t seed, int trials, int threads) {
    check(model, trials, threads);
    const Simulator simulator{model, compare, seed};
    const auto n = static_cast<std::size_t>(trials);
    const std::size_t chunks = (n + chunk_size - 1) / chunk_size;
    std::vector<double> patch(n);
    std::vector<double> dig(n);
    std::vector<ChunkResult> results(chunks, {Sums{0}, Sums{0}, 0});
    in_parallel(threads, chunks, [&](std::size_t c) {
        const std::size_t first = c * chunk_size;
        results[c] = simulator.chunk(first, std::min(chunk_size, n - first), &patch[first], &dig[first]);
    });
    Sums patch_sums{simulator.drivers()};
    Sums dig_sums{simulator.drivers()};
    std::size_t cheaper = 0;
    for (const ChunkResult& r : results) {
        patch_sums += r.patch;
        dig_sums += r.dig;
        cheaper += r.cheaper;
    }
    const Currency currency = compare.patch_rates != nullptr ? compare.patch_rates->currency : Currency{};
    const Means exact = mean_cost(model);
    RiskRun run;
    run.trials = trials;
    run.patch_quantiles = quantiles(std::move(patch), currency);
    run.dig_quantiles = quantiles(std::move(dig), currency);
    run.patch_mean_exact = to_money(exact.patch, currency);
    run.dig_mean_exact = to_money(exact.dig, currency);
    run.patch_mean = to_money(exact.patch + patch_sums.total / trials, currency);
    run.dig_mean = to_money(exact.dig + dig_sums.total / trials, currency);
    run.patch_cheaper = static_cast<double>(cheaper) / trials;
    run.patch_drivers = drivers_of(model, model.patch, true, patch_sums, n, currency);
    run.dig_drivers = drivers_of(model, model.dig, false, dig_sums, n, currency);
    return run;
}

}  // namespace patchwright::price
