#pragma once
#include <cstdint>
#include <vector>

namespace patchwright::plan {

/// One choice for each run: places in the runs' lists, -1 where a run has nothing to choose from.
struct Combination {
    std::vector<int> choice;
    std::int64_t cost = 0;
};
/// The `k` cheapest sums of one item from each ascending list, cheapest first; ties in lexical order of the choices.
std::vector<Combination> cheapest_sums(const std::vector<std::vector<std::int64_t>>& lists, int k);

}  // namespace patchwright::plan
