#pragma once
#include "patchwright/schedule/day.hpp"
#include "support/faults.hpp"

namespace patchwright::test {

/// The part of `broken_crew_day_rules` on jetters, cameras and cutters, and on the look along a run at the end.
void check_cameras(const schedule::DayWork& work, const schedule::Day& day, Faults& faults);

}  // namespace patchwright::test
