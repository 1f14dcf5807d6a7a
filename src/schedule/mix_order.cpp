// The order of the sleeves of one mix.
#include <numeric>

#include "model.hpp"

namespace patchwright::schedule {
namespace {

constexpr std::size_t max_tried = 6;

const PatchWork& patch(const DayWork& work, int i) { return work.patches[static_cast<std::size_t>(i)]; }

MixOrder timed(const DayWork& work, const Mix& mix, const std::vector<int>& order) {
    MixOrder result;
    result.sleeves.reserve(order.size());
    Minute t = 0;
    for (const int i : order) {
        const PatchWork& p = patch(work, i);
        if (mix.pour_by > 0) result.too_slow = std::max(result.too_slow, t + p.pour - mix.pour_by);
        result.sleeves.push_back({i, t});
        t += p.wet_out.minutes;
    }
    for (auto& sleeve : result.sleeves) {
        const PatchWork& p = patch(work, sleeve.patch);
        sleeve.load = t;
        sleeve.position = t += p.load.minutes;
        sleeve.inflate = t += p.position.minutes;
        sleeve.crease = t += p.inflate.minutes;
        result.waiting += t - p.wet_out.minutes - p.load.minutes - p.position.minutes - p.inflate.minutes;
        sleeve.creased = t += p.crease.minutes;
        result.too_slow = std::max({result.too_slow, sleeve.crease - p.inflate_by, sleeve.creased - p.crease_by});
    }
    return result;
}

}  // namespace

MixOrder best_order(const DayWork& work, const Mix& mix) {
    if (mix.in_hand || mix.patches.size() == 1) return timed(work, mix, mix.patches);
    std::vector<int> order = mix.patches;
    std::sort(order.begin(), order.end());
    if (order.size() > max_tried) {
        std::stable_sort(order.begin(), order.end(),
                         [&](int a, int b) { return patch(work, a).inflate_by < patch(work, b).inflate_by; });
        return timed(work, mix, order);
    }
    MixOrder best = timed(work, mix, order);
    while (std::next_permutation(order.begin(), order.end())) {
        MixOrder other = timed(work, mix, order);
        if (std::pair{other.too_slow, other.waiting} < std::pair{best.too_slow, best.waiting}) best = std::move(other);
    }
    return best;
}

}  // namespace patchwright::schedule
