#pragma once
#include "whole.hpp"

namespace patchwright::plan {

/// The cheapest whole job, worked out; the plan's summary of how it was found, and the patches that no day holds.
Whole best_whole(PlanContext& context, Plan& plan, Spaces& spaces);

}  // namespace patchwright::plan
