#pragma once
#include <functional>
#include <vector>

#include "picks.hpp"

/// "Patch, if ...": a clock, or a resin that does not suit the day, never makes a dig.
namespace patchwright::plan {

/// Sleeves of those runs that no resin of the job as given can be made of in time, though it could with one thing
/// changed: each with that change, not yet priced, and a patch as it would then be. Their defects wait.
std::vector<UnplannedPatch> without_design(const PlanContext& context, std::vector<RunPlan>& runs);

using Planner = std::function<Plan(const job::Job&, const job::Yard&, const Options&)>;
/// The condition of every patch that is not planned, in words and money, each tried as a whole plan made by `planner`.
void price_conditions(const job::Job& job, const job::Yard& yard, Options options, const Planner& planner, Plan& plan);

}  // namespace patchwright::plan
