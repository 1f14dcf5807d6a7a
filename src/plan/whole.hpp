#pragma once
#include <string>
#include <vector>

#include "context.hpp"
#include "job_search.hpp"
#include "patchwright/plan/plan.hpp"

namespace patchwright::plan {

/// The chosen job with everything that the crew and the bill need.
struct Whole {
    std::vector<Patch> patches;  ///< in order of work
    std::vector<Batch> batches;
    std::vector<KitsToBuy> kits_to_buy;
    std::vector<FeltCutting> cutting;
    schedule::DayWork work;  ///< of all days as if they were one: no patch overnight or lying
    schedule::Schedule schedule;
    std::vector<FlowPlan> flows;
    price::PatchWorks works;
    std::vector<std::string> warnings;
};

/// Mixes, clock times, cutting and the bill of a chosen job. A day's sleeves from one mouth share a mix where that
/// makes the day cheaper and still keeps every promise.
Whole compose(PlanContext& context, const ChosenJob& job);

/// What patching takes, as amounts alone: for comparing whole jobs.
price::PatchWorks works_of(PlanContext& context, const ChosenJob& job);

}  // namespace patchwright::plan
