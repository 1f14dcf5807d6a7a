// The chance that the hands-on times break inflate-by: triangular times, independent, summed by convolution.
#include <algorithm>
#include <cmath>

#include "model.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::schedule {
namespace {

constexpr int per_minute = 4;

struct Triangle {
    double low = 0, likely = 0, high = 0;
};

Triangle triangle(Minute low, Minute likely, Minute high) {
    const double mode = likely;
    return {low > 0 ? std::min<double>(low, mode) : mode, mode, std::max<double>(high, mode)};
}

double cumulative(const Triangle& t, double x) {
    if (x <= t.low) return x < t.low || t.high > t.low ? 0.0 : 1.0;
    if (x >= t.high) return 1.0;
    if (x < t.likely) return (x - t.low) * (x - t.low) / ((t.high - t.low) * (t.likely - t.low));
    return 1.0 - (t.high - x) * (t.high - x) / ((t.high - t.low) * (t.high - t.likely));
}

/// Probability of each quarter minute from `low`; cell k stands for its middle.
std::vector<double> cells(const Triangle& t) {
    const auto count = static_cast<std::size_t>(std::ceil((t.high - t.low) * per_minute));
    std::vector<double> out(std::max<std::size_t>(count, 1));
    for (std::size_t k = 0; k < out.size(); ++k)
        out[k] = cumulative(t, t.low + static_cast<double>(k + 1) / per_minute) -
                 cumulative(t, t.low + static_cast<double>(k) / per_minute);
    if (count == 0) out[0] = 1.0;
    return out;
}

}  // namespace

double late_probability(const DayWork& work, int patch, const std::vector<int>& order_in_mix) {
    std::vector<Triangle> times;
    const PatchWork& self = work.patches.at(static_cast<std::size_t>(patch));
    const auto add = [&](const PatchWork& p, std::size_t step, const Labour& labour) {
        times.push_back(triangle(p.low[step], labour.minutes, p.high[step]));
    };
    for (int i : order_in_mix) {
        const PatchWork& p = work.patches.at(static_cast<std::size_t>(i));
        add(p, 0, p.wet_out);
    }
    for (int i : order_in_mix) {
        const PatchWork& p = work.patches.at(static_cast<std::size_t>(i));
        add(p, 1, p.load);
        add(p, 2, p.position);
        add(p, 3, p.inflate);
        if (i == patch) break;
        add(p, 4, p.crease);
    }
    double low = 0, high = 0;
    for (const Triangle& t : times) {
        low += t.low;
        high += t.high;
    }
    if (high <= self.inflate_by) return 0.0;
    if (low > self.inflate_by) return 1.0;
    std::vector<double> sum{1.0};
    double spread = 0;  // number of times that are spread over cells: each adds half a cell to the middle of the sum
    for (const Triangle& t : times) {
        if (!(t.high > t.low)) continue;
        const std::vector<double> next = cells(t);
        std::vector<double> wider(sum.size() + next.size() - 1, 0.0);
        for (std::size_t a = 0; a < sum.size(); ++a)
            for (std::size_t b = 0; b < next.size(); ++b) wider[a + b] += sum[a] * next[b];
        sum = std::move(wider);
        spread += 0.5;
    }
    double late = 0;
    for (std::size_t k = 0; k < sum.size(); ++k) {
        // Each cell of the sum reaches half a cell to either side of its middle; the part beyond the limit counts.
        const double middle = low + (static_cast<double>(k) + spread) / per_minute;
        const double beyond = (middle - self.inflate_by) * per_minute + 0.5;
        late += sum[k] * std::clamp(beyond, 0.0, 1.0);
    }
    return std::clamp(late, 0.0, 1.0);
}

}  // namespace patchwright::schedule
