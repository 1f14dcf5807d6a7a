#pragma once
#include "mixes.hpp"
#include "patchwright/schedule/schedule.hpp"
#include "setting.hpp"

namespace patchwright::plan {

/// The scheduler's problem for these patches and mixes. Durations are rounded up to whole minutes, limits down.
schedule::Problem day_work(const Setting& setting, const PatchList& patches, const Mixes& mixes);
/// Names its mixes and says what each is worth, for schedules that are read.
void name_mixes(const Setting& setting, const PatchList& patches, const Mixes& mixes, schedule::Problem& work);

/// True when patches wait for each other in a circle, so that no order of work exists for their ways in.
bool wait_in_circle(const Setting& setting, const PatchList& patches);

/// How long each run stays blocked, and whether the room upstream holds that.
std::vector<FlowPlan> flow_plans(const Setting& setting, const std::vector<Patch>& patches,
                                 const schedule::Schedule& schedule);

}  // namespace patchwright::plan
