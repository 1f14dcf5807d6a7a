#pragma once
#include "picks.hpp"

namespace patchwright::plan {

/// Which defects of one run a patch mends, and the cheapest places for the patches.
RunPlan plan_run(PlanContext& context, std::size_t r, RunWorkspace& space);

}  // namespace patchwright::plan
