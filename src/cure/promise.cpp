#include "patchwright/cure/promise.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "normal.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cure {
namespace {

constexpr std::size_t grid_cells = 160;  // over the whole range of a sum
constexpr double shared_reach = 4.5;     // of the shared cause, in standard deviations to either side: 7e-6 beyond
constexpr double min_own = 0.01;         // share of a task's variance that is always its own: keeps the rule smooth

struct Triangle {
    double low = 0.0, likely = 0.0, high = 0.0;  ///< s

    double cumulative(double t) const {
        if (t <= low) return 0.0;
        if (t >= high) return 1.0;
        if (t < likely) return (t - low) * (t - low) / ((high - low) * (likely - low));
        return 1.0 - (high - t) * (high - t) / ((high - low) * (high - likely));
    }
};

Triangle triangle_of(const job::Spread<Duration>& task) {
    const Triangle t{task.low.si(), task.likely.si(), task.high.si()};
    if (!(std::isfinite(t.high) && 0.0 <= t.low && t.low <= t.likely && t.likely <= t.high))
        throw RangeError("cure: a hands-on time needs 0 <= low <= likely <= high");
    return t;
}

/// Chance of each cell of width `step`, seen as standard normal quantiles of its upper edges.
std::vector<double> edge_quantiles(const Triangle& t, double step) {
    const auto cells = static_cast<std::size_t>(std::ceil((t.high - t.low) / step - 1e-9));
    std::vector<double> edges(std::max<std::size_t>(cells, 1));
    for (std::size_t k = 0; k + 1 < edges.size(); ++k)
        edges[k] = detail::normal_quantile(t.cumulative(t.low + static_cast<double>(k + 1) * step));
    edges.back() = std::numeric_limits<double>::infinity();
    return edges;
}

void convolve(std::vector<double>& sum, const std::vector<double>& task) {
    std::vector<double> wider(sum.size() + task.size() - 1, 0.0);
    for (std::size_t a = 0; a < sum.size(); ++a)
        for (std::size_t b = 0; b < task.size(); ++b) wider[a + b] += sum[a] * task[b];
    sum = std::move(wider);
}

}  // namespace

Duration UncertainTime::quantile(double p) const {
    if (!(p > 0.0 && p < 1.0)) throw RangeError("cure: a chance must lie between 0 and 1");
    return std::exp(log_sd * detail::normal_quantile(p)) * likely;
}

double UncertainTime::chance_before(Duration time) const {
    if (!(time.si() > 0.0)) return 0.0;
    const double away = std::log(time / likely);
    if (log_sd <= 0.0) return away > 0.0 ? 1.0 : 0.0;
    return detail::normal_cumulative(away / log_sd);
}

Hands::Hands(std::span<const job::Spread<Duration>> tasks, double shared) {
    if (!(shared >= 0.0 && shared <= 1.0)) throw RangeError("cure: the shared part of slow hands must be 0 to 100 %");
    std::vector<Triangle> spread;
    double low = 0.0;
    double range = 0.0;
    for (const auto& task : tasks) {
        const Triangle t = triangle_of(task);
        likely_ += task.likely;
        low += t.low;
        range += t.high - t.low;
        if (t.high > t.low) spread.push_back(t);
    }
    const double step = range > 0.0 ? range / static_cast<double>(grid_cells) : 1.0;
    std::vector<std::vector<double>> edges;
    std::size_t cells = 1;
    for (const Triangle& t : spread) {
        edges.push_back(edge_quantiles(t, step));
        cells += edges.back().size() - 1;
    }
    // Every cell stands for its middle; sums of middles are the middles of the sum's cells.
    step_ = Duration::from_si(step);
    first_ = Duration::from_si(low + 0.5 * static_cast<double>(spread.size()) * step);
    chance_.assign(cells, 0.0);

    const double own = std::sqrt(std::max(1.0 - shared, min_own));
    const double common = std::sqrt(1.0 - own * own);
    // The trapezoidal rule needs steps no wider than what each task's own share smooths.
    const int points = common > 0.0 ? static_cast<int>(std::ceil(shared_reach / std::min(0.75, own / common))) : 0;
    double weights = 0.0;
    for (int i = -points; i <= points; ++i) {
        const double x = points > 0 ? shared_reach / points * i : 0.0;
        const double weight = std::exp(-0.5 * x * x);
        std::vector<double> sum{1.0};
        for (const auto& task : edges) {
            std::vector<double> cell(task.size());
            double below = 0.0;
            for (std::size_t k = 0; k < task.size(); ++k) {
                const double upto = detail::normal_cumulative((task[k] - common * x) / own);
                cell[k] = upto - below;
                below = upto;
            }
            convolve(sum, cell);
        }
        for (std::size_t k = 0; k < cells; ++k) chance_[k] += weight * sum[k];
        weights += weight;
    }
    for (double& c : chance_) c /= weights;
}

double Hands::chance_beyond(Duration limit) const {
    double beyond = 0.0;
    for (std::size_t k = 0; k < chance_.size(); ++k) {
        // A cell reaches half a cell to either side of its middle; the part beyond the limit counts.
        const double part = (first_ + static_cast<double>(k) * step_ - limit) / step_ + 0.5;
        beyond += chance_[k] * std::clamp(part, 0.0, 1.0);
    }
    return std::clamp(beyond, 0.0, 1.0);
}

double Hands::chance_beyond(const UncertainTime& a, const UncertainTime& b) const {
    if (a.log_sd <= 0.0 && b.log_sd <= 0.0) return chance_beyond(std::min(a.likely, b.likely));
    double beyond = 0.0;
    for (std::size_t k = 0; k < chance_.size(); ++k) {
        const Duration hands = first_ + static_cast<double>(k) * step_;
        beyond += chance_[k] * std::max(a.chance_before(hands), b.chance_before(hands));
    }
    return std::clamp(beyond, 0.0, 1.0);
}

SleeveTasks sleeve_tasks(const job::Durations& d, Length sleeve, const job::Limits& limits) {
    const double metres = sleeve.in(unit::m);
    job::Spread<Duration> wet_out{d.wet_out.low + metres * d.wet_out_per_m.low,
                                  d.wet_out.likely + metres * d.wet_out_per_m.likely,
                                  d.wet_out.high + metres * d.wet_out_per_m.high};
    // The crease step has a least duration that the yard sets apart from the task.
    job::Spread<Duration> crease{std::max(d.crease.low, limits.crease_step),
                                 std::max(d.crease.likely, limits.crease_step),
                                 std::max(d.crease.high, limits.crease_step)};
    return {wet_out, d.load, d.position, d.inflate, crease};
}

Hands hands_in_mix(std::span<const SleeveTasks> sleeves, std::size_t which, const job::Limits& limits) {
    std::vector<job::Spread<Duration>> tasks;
    for (const SleeveTasks& s : sleeves) tasks.push_back(s.front());
    for (std::size_t i = 0; i <= which && i < sleeves.size(); ++i)
        tasks.insert(tasks.end(), sleeves[i].begin() + 1, sleeves[i].end());
    return {tasks, limits.hands_shared};
}

Hands hands_of(const SleeveTasks& sleeve, const job::Limits& limits) { return {sleeve, limits.hands_shared}; }

}  // namespace patchwright::cure
