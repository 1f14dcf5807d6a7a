#pragma once
#include "picks.hpp"
#include "whole.hpp"

namespace patchwright::plan {

/// The best whole job over the cheapest layouts of all runs; what it was compared with goes into `plan.layout`, the
/// chosen places into `plan.runs`.
Whole best_whole(Setting& setting, Plan& plan, Spaces& spaces);

}  // namespace patchwright::plan
