#pragma once
#include <string>
#include <vector>

#include "patchwright/schedule/day.hpp"

namespace patchwright::test {

/// Every rule of docs/methods/schedule.md on a finished day of one crew, minute by minute from its tasks alone; shares
/// no code with the search. One sentence for each rule that is broken.
std::vector<std::string> broken_crew_day_rules(const schedule::DayWork& work, const schedule::Day& day);

}  // namespace patchwright::test
