#pragma once
#include <cstddef>
#include <vector>

#include "patchwright/layout/layout.hpp"

namespace patchwright::plan {

/// The cheapest set of just `count` of a solution's candidates that covers what the solution covers, by start; empty
/// when there is none, or when the candidates are more than an offer is worth waiting for. Neighbours keep gap or lap;
/// the other rules of a layout are the caller's to check with `layout::violations`.
std::vector<layout::Candidate> cheapest_of(const layout::Problem& problem, const layout::Solution& solution,
                                           std::size_t count);

}  // namespace patchwright::plan
