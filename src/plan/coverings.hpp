#pragma once
#include <vector>

#include "patchwright/layout/layout.hpp"

namespace patchwright::plan {

/// One way to divide a run's defects among sleeves: which defects share a sleeve, and the cheapest places for that.
struct Covering {
    std::vector<layout::Candidate> sleeves;  ///< by start
    layout::Cost cost = 0;                   ///< sum of their marginal costs
};

/// Every way to divide the covered targets among sleeves, each at its cheapest places, cheapest first.
///
/// Two coverings differ in which targets share a sleeve; packers are chosen later, with the day in sight. Complete up
/// to `max_targets` covered targets; a run with more gives its cheapest layout and, for each other number of sleeves,
/// the cheapest with that number.
inline constexpr std::size_t max_targets = 10;
std::vector<Covering> coverings(const layout::Problem& problem, const layout::Solution& solution);

}  // namespace patchwright::plan
