#pragma once
#include <string>
#include <vector>

#include "context.hpp"
#include "mixes.hpp"
#include "patchwright/schedule/schedule.hpp"

/// Between patches and the clock. Durations are rounded up to whole minutes, limits down.
namespace patchwright::plan {

schedule::Minute minutes_up(Duration d);
schedule::Minute minutes_down(Duration d);

/// Packers that are interchangeable on the clock: the built ones by id, the ones to build by their end-fitting set.
const std::string& packer_kind(const PlanContext& context, const packer::Option& option);
int packer_count(const PlanContext& context, const packer::Option& option);

/// What must be let down before patch `i` is wet out: patches behind the narrower pipe that it leaves, and, where two
/// sleeves lap, the one further down the flow (from the run's `from` to its `to`), so that no ledge faces the water.
std::vector<int> waits_for(const PlanContext& context, const PatchList& patches, std::size_t i);

/// Names the day's mixes and says what each is worth; the patches of `work` have their names.
void name_mixes(const PlanContext& context, const Mixes& mixes, schedule::DayWork& work);

/// How long each run stays blocked at most, and whether the room upstream holds that.
std::vector<FlowPlan> flow_plans(const PlanContext& context, const std::vector<Patch>& patches,
                                 const schedule::Schedule& schedule);

}  // namespace patchwright::plan
