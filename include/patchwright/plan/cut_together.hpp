#pragma once
#include <string>
#include <utility>
#include <vector>

#include "patchwright/plan/plan.hpp"

namespace patchwright::plan {

/// One cutting of the felt of several jobs, one plan for each felt, in the yard's order of felts. The pieces bear the
/// name that stands before theirs: "Q-0412 A-P1".
std::vector<FeltCutting> cut_together(const job::Yard& yard,
                                      const std::vector<std::pair<std::string, const Patch*>>& patches);

}  // namespace patchwright::plan
