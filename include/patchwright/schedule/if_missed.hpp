#pragma once
#include <string>

#include "patchwright/schedule/day.hpp"

namespace patchwright::schedule {

/// What is lost when a sleeve is not inflated in time, and whether the day still closes with a second mix: it comes
/// out, another is cut and mixed. `mix` by its name and worth alone.
std::string if_missed(const PatchWork& patch, const Mix& mix, const PatchTimes& times);

}  // namespace patchwright::schedule
