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
#include "trial_block.hpp"

namespace patchwright::price {
namespace {

struct BlockResult {
    Sums patch, dig;
    std::size_t cheaper = 0;
};

/// One method's workplace: what each driver adds in each trial of the block.
struct Side {
    explicit Side(std::size_t drivers) : share(drivers) {}
    std::vector<TrialBlock> share;
    TrialBlock total{};
    void clear(const std::vector<double>& start) {
        for (std::size_t d = 0; d < share.size(); ++d) share[d].fill(start[d]);
        total.fill(0.0);
    }
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
        patch_takes_part_.assign(drivers(), false);
        dig_takes_part_.assign(drivers(), false);
        for (const Event& e : model.events) {
            const std::size_t driver = inverse_.size() + static_cast<std::size_t>(e.driver);
            if (e.of_patch) patch_start_[driver] -= e.mean();
            if (e.of_dig) dig_start_[driver] -= e.mean();
            if (e.of_patch) patch_takes_part_[driver] = true;
            if (e.of_dig) dig_takes_part_[driver] = true;
        }
        mark_terms(model.patch, patch_takes_part_);
        mark_terms(model.dig, dig_takes_part_);
    }
    /// Drivers: the variables, the discrete risks, the scope.
    std::size_t drivers() const { return model_.variables.size() + model_.risks.size() + 1; }

    struct Workplace {
        explicit Workplace(const Simulator& s)
            : value(s.model_.variables.size()), patch{s.drivers()}, dig{s.drivers()} {}
        std::vector<TrialBlock> value;
        std::array<TrialBlock, causes> common{};
        TrialBlock scope{}, event{};
        std::array<std::uint64_t, block_size> seed{};  ///< of each trial's own stream
        Side patch, dig;
    };

    /// Trials first .. first + count - 1; costs in cents go to the two arrays.
    BlockResult block(std::size_t first, std::size_t count, Workplace& w, double* patch_cost, double* dig_cost) const {
        const Stream seed{seed_};
        for (std::size_t t = 0; t < count; ++t) w.seed[t] = seed.at(first + t);
        draw_values(count, w);
        w.patch.clear(patch_start_);
        w.dig.clear(dig_start_);
        add_terms(model_.patch, count, w, w.patch);
        add_terms(model_.dig, count, w, w.dig);
        add_events(count, w);
        BlockResult result{finish(w.patch, count, w, patch_cost), finish(w.dig, count, w, dig_cost), 0};
        if (compare_.patch_rates != nullptr && compare_.dig_rates != nullptr) {
            for (std::size_t t = 0; t < count; ++t) {
                const double patch = price_of_cost(patch_cost[t], compare_.patch_days, *compare_.patch_rates);
                const double dig = price_of_cost(dig_cost[t], compare_.dig_days, *compare_.dig_rates);
                result.cheaper += patch < dig ? 1U : 0U;
            }
        }
        return result;
    }

private:
    // Places of the draws in a trial's stream. A word gives two numbers: its upper half and its lower half.
    std::uint64_t place_of_variable(std::size_t v) const { return causes + 1 + v; }
    std::uint64_t place_of_event(std::size_t e) const { return place_of_variable(model_.variables.size()) + 2 * e; }

    void uniform(std::size_t count, const Workplace& w, Cause cause, std::uint64_t place, TrialBlock& out) const {
        const std::uint64_t offset = Stream::offset(place);
        if (cause == Cause::own || take_common_ <= 0.0) {
            for (std::size_t t = 0; t < count; ++t) out[t] = upper_half(mix64(w.seed[t] + offset));
            return;
        }
        const TrialBlock& common = w.common[static_cast<std::size_t>(cause)];
        for (std::size_t t = 0; t < count; ++t) {
            const std::uint64_t word = mix64(w.seed[t] + offset);
            // Picked by place in memory, not by a jump that the processor cannot foresee.
            const std::array<double, 2> either{upper_half(word), common[t]};
            out[t] = either[lower_half(word) < take_common_ ? 1 : 0];
        }
    }

    void draw_values(std::size_t count, Workplace& w) const {
        for (std::size_t c = 0; c < causes; ++c) {
            const std::uint64_t offset = Stream::offset(c);
            for (std::size_t t = 0; t < count; ++t) w.common[c][t] = upper_half(mix64(w.seed[t] + offset));
        }
        uniform(count, w, Cause::own, causes, w.scope);
        for (std::size_t t = 0; t < count; ++t) w.scope[t] = scope_(w.scope[t]);
        for (std::size_t v = 0; v < inverse_.size(); ++v) {
            uniform(count, w, model_.variables[v].cause, place_of_variable(v), w.value[v]);
            const Inverse inverse = inverse_[v];
            for (std::size_t t = 0; t < count; ++t) w.value[v][t] = inverse(w.value[v][t]);
        }
    }

    /// c x y = c mx my + c my (x - mx) + c mx (y - my) + c (x - mx)(y - my), the last shared half and half.
    void add_terms(const MethodModel& method, std::size_t count, const Workplace& w, Side& side) const {
        for (const Term& term : method.terms) {
            const auto i = static_cast<std::size_t>(term.first);
            const TrialBlock& x = w.value[i];
            const double mx = inverse_[i].mean;
            if (term.second < 0) {
                for (std::size_t t = 0; t < count; ++t) side.share[i][t] += term.cents * (x[t] - mx);
                continue;
            }
            const auto j = static_cast<std::size_t>(term.second);
            const TrialBlock& y = w.value[j];
            const double my = inverse_[j].mean;
            for (std::size_t t = 0; t < count; ++t) {
                const double dx = x[t] - mx;
                const double dy = y[t] - my;
                side.share[i][t] += term.cents * dx * (my + 0.5 * dy);
                side.share[j][t] += term.cents * dy * (mx + 0.5 * dx);
            }
        }
    }

    /// The mean of all events is taken off beforehand; only those that happen are touched.
    void add_events(std::size_t count, Workplace& w) const {
        for (std::size_t e = 0; e < model_.events.size(); ++e) {
            const Event& event = model_.events[e];
            const std::uint64_t place = place_of_event(e);
            uniform(count, w, event.cause, place, w.event);
            const std::size_t driver = inverse_.size() + static_cast<std::size_t>(event.driver);
            // The upper tail: what makes tasks slow and dear also makes mishaps.
            const double threshold = 1.0 - event.probability;
            for (std::size_t t = 0; t < count; ++t) {
                if (w.event[t] <= threshold) continue;
                const std::uint64_t word = mix64(w.seed[t] + Stream::offset(place + 1));
                const double cost = event_cost_[e](upper_half(word)) +
                                    (lower_half(word) < event.q ? event.then_second : event.then_first);
                if (event.of_patch) w.patch.share[driver][t] += cost;
                if (event.of_dig) w.dig.share[driver][t] += cost;
            }
        }
    }

    static void mark_terms(const MethodModel& method, std::vector<bool>& takes_part) {
        for (const Term& t : method.terms) {
            takes_part[static_cast<std::size_t>(t.first)] = true;
            if (t.second >= 0) takes_part[static_cast<std::size_t>(t.second)] = true;
        }
        takes_part.back() = true;  // scope
    }

    Sums finish(Side& side, std::size_t count, const Workplace& w, double* out) const {
        const bool patch = &side == &w.patch;
        const std::vector<bool>& takes_part = patch ? patch_takes_part_ : dig_takes_part_;
        const double scope_mean = scope_.mean;
        const double centre = (patch ? centres_.patch : centres_.dig) / scope_mean;
        const std::size_t scope_driver = drivers() - 1;
        for (std::size_t d = 0; d < scope_driver; ++d) {
            if (!takes_part[d]) continue;
            TrialBlock& share = side.share[d];
            for (std::size_t t = 0; t < count; ++t) {
                side.total[t] += share[t];
                share[t] *= scope_mean;
            }
        }
        for (std::size_t t = 0; t < count; ++t) {
            const double before = centre + side.total[t];
            side.share[scope_driver][t] = (w.scope[t] - scope_mean) * before;
            side.total[t] = scope_mean * side.total[t] + side.share[scope_driver][t];  // less the mean
            out[t] = scope_mean * centre + side.total[t];
        }
        Sums sums{drivers()};
        sums.total = sum_of(count, [&](std::size_t t) { return side.total[t]; });
        sums.square = sum_of(count, [&](std::size_t t) { return side.total[t] * side.total[t]; });
        for (std::size_t d = 0; d < drivers(); ++d) {
            if (!takes_part[d]) continue;
            const TrialBlock& share = side.share[d];
            sums.driver[d] = sum_of(count, [&](std::size_t t) { return share[t]; });
            sums.driver_total[d] = sum_of(count, [&](std::size_t t) { return share[t] * side.total[t]; });
        }
        return sums;
    }

    const Model& model_;
    const Compare& compare_;
    std::uint64_t seed_;
    Inverse scope_;
    std::vector<Inverse> inverse_, event_cost_;
    std::vector<double> patch_start_, dig_start_;          ///< less the mean of its events, by driver
    std::vector<bool> patch_takes_part_, dig_takes_part_;  ///< drivers that the method has at all
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
    const std::size_t blocks = (n + block_size - 1) / block_size;
    std::vector<double> patch(n);
    std::vector<double> dig(n);
    std::vector<BlockResult> results(blocks, {Sums{0}, Sums{0}, 0});
    const auto work = [&](std::size_t start, std::size_t stride) {
        Simulator::Workplace workplace{simulator};
        for (std::size_t b = start; b < blocks; b += stride) {
            const std::size_t first = b * block_size;
            results[b] = simulator.block(first, std::min(block_size, n - first), workplace, &patch[first], &dig[first]);
        }
    };
    const std::size_t stride = std::min(static_cast<std::size_t>(threads), blocks);
    in_parallel(threads, stride, [&](std::size_t start) { work(start, stride); });
    Sums patch_sums{simulator.drivers()};
    Sums dig_sums{simulator.drivers()};
    std::size_t cheaper = 0;
    for (const BlockResult& r : results) {
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
