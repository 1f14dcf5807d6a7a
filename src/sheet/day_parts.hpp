#pragma once
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "patchwright/sheet/sheets.hpp"

/// The parts of a day sheet, one function each; `patches` are those of the day.
namespace patchwright::sheet {

using Patches = std::vector<std::size_t>;

/// Places of the runs that those patches lie in.
std::set<int> runs_of(const Context& context, const Patches& patches);
/// How long a run is blocked at most on the days of those patches.
Duration blocked_with(const Context& context, const plan::FlowPlan& flow, const Patches& patches);
/// On one of those days more water comes than the room upstream holds.
bool wants_pump(const Context& context, const plan::FlowPlan& flow, const Patches& patches);
/// Who, where, when; what must be telephoned; what the job's own notes say.
void add_header(const Context& context, int day, Sheet& sheet);
/// What lies in the pipe since the day before, with its time; nothing where nothing does.
void add_since_yesterday(const Context& context, int day, Sheet& sheet);
/// The six numbers of each patch as one table.
void add_numbers(const Context& context, const Patches& patches, Sheet& sheet);
/// The tasks with who of which crew does them.
void add_order(const Context& context, int day, const Patches& patches, Sheet& sheet);
/// Water and flow, and the mixes beside them.
void add_water_and_mixes(const Context& context, int day, const Patches& patches, Sheet& sheet);
/// The day's own dangers with the job's numbers.
void add_dangers(const Context& context, int day, const Patches& patches, Sheet& sheet);
/// What to do when something goes wrong: one rule, by the gel of each sleeve.
void add_emergency(const Context& context, const Patches& patches, Sheet& sheet);
/// What is not patched, what is doubtful, what was assumed.
void add_remarks(const Context& context, int day, const Patches& patches, Sheet& sheet);

}  // namespace patchwright::sheet
