#include "support/simulated_days.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <vector>

namespace patchwright::test {
namespace {

constexpr double one_in_ten = 1.2815515655446004;  ///< the normal distribution's 90 % point

/// From below zero to above, in standard deviations: times are followed at these, and taken between them.
constexpr std::array warmths{-4.0, -3.0, -2.0, -1.0, 0.0, 1.0, 2.0, 3.0, 4.0};

struct Times {
    double shaping = 0.0, gel = 0.0, hard = 0.0;  ///< ln s
};

cure::Answer answer_at(const cure::Model& model, const plan::Patch& patch, const job::Limits& limits, double warmth) {
    auto conditions = patch.conditions;
    const auto warmer = warmth * limits.temperature_doubt.si() / one_in_ten * unit::K;
    for (auto* t : {&conditions.pipe, &conditions.air, &conditions.van, &conditions.resin})
        t->value = t->value + warmer;
    for (auto& point : conditions.heating.points) point.temperature = point.temperature + warmer;
    Working off = Working::off();
    return model.answer_without_pot(patch.sleeve, patch.surroundings, conditions, limits, off);
}

/// Likely times by warmth. Where an answer is refused (it sets before the hands are through, say) the next one counts.
class ByWarmth {
public:
    ByWarmth(const cure::Model& model, const plan::Patch& patch, const job::Limits& limits) {
        for (std::size_t i = 0; i < warmths.size(); ++i) {
            const auto a = answer_at(model, patch, limits, warmths[i]);
            known_[i] = std::isfinite(a.hard.likely.si()) && a.hard.likely.si() > 0.0;
            if (known_[i])
                at_[i] = {std::log(a.shaping.likely.si()), std::log(a.gel.likely.si()), std::log(a.hard.likely.si())};
            if (warmths[i] == 0.0) likely_ = a;
        }
        warmth_of_shaping_ = at_[middle].shaping - at_[middle + 1].shaping;
    }
    /// Straight between the warmths that are known; the outermost carry on.
    Times at(double warmth) const {
        std::size_t low = 0, high = warmths.size() - 1;
        while (!known_[low]) ++low;
        while (!known_[high]) --high;
        std::size_t k = low;
        while (k + 2 <= high && warmths[k + 1] < warmth) ++k;
        const double share = (warmth - warmths[k]) / (warmths[k + 1] - warmths[k]);
        const auto between = [&](double a, double b) { return a + share * (b - a); };
        return {between(at_[k].shaping, at_[k + 1].shaping), between(at_[k].gel, at_[k + 1].gel),
                between(at_[k].hard, at_[k + 1].hard)};
    }
    /// Of ln t, the fit's own: for hard as the model says it, for shaping what its warmth leaves of the whole.
    double rate_sd() const { return likely_.rate_sd; }
    double rate_sd_of_shaping() const {
        const double all = likely_.shaping.log_sd;
        return std::sqrt(std::max(0.0, all * all - warmth_of_shaping_ * warmth_of_shaping_));
    }
    const cure::Answer& likely() const { return likely_; }

private:
    static constexpr std::size_t middle = warmths.size() / 2;
    std::array<Times, warmths.size()> at_{};
    std::array<bool, warmths.size()> known_{};
    double warmth_of_shaping_ = 0.0;
    cure::Answer likely_;
};

/// Hands from mixing to the sleeve's last: every wet-out of its mix, then sleeve after sleeve up to this one.
std::vector<job::Spread<Duration>> hands_of_mix(const plan::Plan& plan, std::size_t patch) {
    std::vector<job::Spread<Duration>> tasks;
    for (const auto& batch : plan.batches) {
        const auto& mixed = batch.batch.patches;
        if (std::find(mixed.begin(), mixed.end(), static_cast<int>(patch)) == mixed.end()) continue;
        // In the order of the day: by when they are filled.
        auto order = mixed;
        std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
            return plan.schedule.patches[static_cast<std::size_t>(a)].inflate <
                   plan.schedule.patches[static_cast<std::size_t>(b)].inflate;
        });
        for (const int p : order) tasks.push_back(plan.patches[static_cast<std::size_t>(p)].tasks.front());
        for (const int p : order) {
            const auto& own = plan.patches[static_cast<std::size_t>(p)].tasks;
            tasks.insert(tasks.end(), own.begin() + 1, own.end());
            if (p == static_cast<int>(patch)) break;
        }
        break;
    }
    return tasks;
}

/// A triangle's value at a standard normal number.
double drawn_task(const job::Spread<Duration>& task, double z) {
    const double low = task.low.si(), likely = task.likely.si(), high = task.high.si();
    if (high <= low) return likely;
    const double u = 0.5 * std::erfc(-z / std::sqrt(2.0));
    const double below = (likely - low) / (high - low);
    return u < below ? low + std::sqrt(u * (high - low) * (likely - low))
                     : high - std::sqrt((1.0 - u) * (high - low) * (high - likely));
}

}  // namespace

Days simulated_days(const job::Yard& yard, const plan::Plan& plan, std::size_t patch, int days, std::uint32_t seed) {
    const auto& sleeve = plan.patches[patch];
    // The pipe that turns out warmer than the resin is for: its times count all the same.
    auto resin = yard.resins[static_cast<std::size_t>(sleeve.resin)];
    resin.application_min = Temperature::celsius(-30.0);
    resin.application_max = Temperature::celsius(80.0);
    const cure::Model model{resin};
    const ByWarmth by_warmth{model, sleeve, yard.limits};
    const auto tasks = hands_of_mix(plan, patch);
    const double let_down = sleeve.cure.sheet.let_down.si(), shared = yard.limits.hands_shared;
    std::mt19937_64 engine{seed};
    std::normal_distribution<double> normal;
    int late = 0, soft = 0;
    for (int day = 0; day < days; ++day) {
        const double cold_hands = normal(engine), rate = normal(engine);
        const Times at = by_warmth.at(normal(engine));
        double hands = 0.0;
        for (const auto& task : tasks)
            hands += drawn_task(task, std::sqrt(shared) * cold_hands + std::sqrt(1.0 - shared) * normal(engine));
        const double shaping = std::exp(at.shaping + by_warmth.rate_sd_of_shaping() * rate);
        const double gel = std::exp(at.gel + by_warmth.rate_sd() * rate);
        late += hands > std::min(shaping, gel) ? 1 : 0;
        soft += std::exp(at.hard + by_warmth.rate_sd() * rate) > let_down ? 1 : 0;
    }
    return {days, static_cast<double>(late) / days, static_cast<double>(soft) / days};
}

}  // namespace patchwright::test
