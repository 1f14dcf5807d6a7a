#pragma once
#include <string>
#include <vector>

#include "patchwright/schedule/day.hpp"
#include "patchwright/units/parse.hpp"
#include "patchwright/working/working.hpp"

/// A job's days one after the other, and the water that arrives while a pipe is shut.
namespace patchwright::schedule {

struct Schedule {
    std::vector<Day> days;            ///< tasks by places in the whole job's work; their patch times stand below
    std::vector<PatchTimes> patches;  ///< a patch that is impossible keeps day = -1
    std::vector<int> order;           ///< patches in order of work
    bool proven_optimal = false;      ///< one day with its finish proven
    Minute bound = 0;                 ///< of the last day's finish
    std::vector<int> impossible;      ///< patches that no day can hold, and why
    std::vector<std::string> why_impossible, warnings;
    std::vector<Blocked> blocked;  ///< by day, then run; the occupier's notice follows from it
};

/// Water that arrives while the pipe is blocked.
struct FlowVerdict {
    Duration fills_in{};  ///< until the storage is full; a year stands for "never" without inflow
    VolumeFlow pump{};    ///< that must be pumped over so that the storage lasts
    bool holds = true;
};
/// fills_in = storage / inflow; pump = inflow - storage / blocked, not below zero.
/// Throws RangeError on figures that are negative or not finite.
FlowVerdict flow_while_blocked(VolumeFlow inflow, Volume storage, Duration blocked, Working& working);

/// Push of the water that stands behind a stopper: unit weight of water * head above the pipe's middle * bore area.
/// Throws RangeError on figures that are negative or not finite.
Force push_on_stopper(Length bore, Length head, Working& working);

}  // namespace patchwright::schedule
