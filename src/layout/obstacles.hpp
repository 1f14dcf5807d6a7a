#pragma once
#include "ground.hpp"

namespace patchwright::layout {

/// For each target left out: which rules, each lifted alone, would let it be covered. `alone`: those that no candidate
/// covers; the others lack room beside their neighbours.
std::vector<Obstacle> find_obstacles(const Problem& problem, const Pricer& price, const std::vector<int>& alone,
                                     const std::vector<int>& uncovered);

}  // namespace patchwright::layout
