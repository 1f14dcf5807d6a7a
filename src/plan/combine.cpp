#include "combine.hpp"

#include <algorithm>

namespace patchwright::plan {

std::vector<Combination> cheapest_sums(const std::vector<std::vector<std::int64_t>>& lists, int k) {
    // Folding in one list at a time and keeping the k best is exact: whatever is cut off already has k cheaper
    // companions with the same continuation.
    std::vector<Combination> best{{{}, 0}};
    for (const auto& list : lists) {
        std::vector<Combination> next;
        for (const auto& partial : best) {
            if (list.empty()) {
                auto same = partial;
                same.choice.push_back(-1);
                next.push_back(std::move(same));
                continue;
            }
            for (std::size_t i = 0; i < list.size(); ++i) {
                Combination longer{{}, partial.cost + list[i]};
                longer.choice.reserve(lists.size());
                longer.choice = partial.choice;
                longer.choice.push_back(static_cast<int>(i));
                next.push_back(std::move(longer));
            }
        }
        std::sort(next.begin(), next.end(), [](const Combination& a, const Combination& b) {
            return a.cost != b.cost ? a.cost < b.cost : a.choice < b.choice;
        });
        if (next.size() > static_cast<std::size_t>(k)) next.resize(static_cast<std::size_t>(k));
        best = std::move(next);
    }
    return best;
}

}  // namespace patchwright::plan
