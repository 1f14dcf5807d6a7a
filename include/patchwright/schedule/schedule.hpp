#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/units/parse.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Days, order and clock times of the crew's work. Whole minutes. The rules in full: docs/methods/schedule.md.
namespace patchwright::schedule {

using Minute = std::int32_t;

enum class What : std::uint8_t {
    travel,
    set_up,
    clean,
    survey,
    flow_control,
    cut,
    bench_test,
    wet_out,
    load,
    position,
    inflate,
    crease,
    cure,
    let_down,
    re_survey,
    reopen,
    pack_up,
};
std::string_view word(What w);  ///< "set up", "flow control", "wet-out", ...
/// Persons that a task binds: two for travel, set up, clean, wet-out to crease and pack up; one for survey, flow
/// control, cut, bench test, let down, re-survey and reopen, and for a cure that is watched. A crew of one does all.
int hands(What w);

/// Hands-on minutes of one patch, likely and high, and what binds it.
struct PatchWork {
    std::string id;
    int run = 0;      ///< place in Problem::runs
    int packer = -1;  ///< place in Problem::packers; -1: the yard has none that fits
    int batch = 0;    ///< place in Problem::batches
    Minute cut = 0, bench_test = 0, wet_out = 0, load = 0, position = 0, inflate = 0, crease = 0, let_down = 0,
           re_survey = 0, reopen = 0;
    Minute pour = 0;                       ///< from the start of its own wet-out until its resin has left the bucket
    Minute inflate_by = 0, crease_by = 0;  ///< from mixing
    Minute mix_to_let_down = 0;            ///< earliest, from mixing
    double at_start = 0, at_end = 0;       ///< metres along the run, packer with its projections, for passing rules
    bool from_far_end = false;             ///< comes in from the run's `to`
    std::vector<int> after;  ///< patches that must be let down before this one is wet out (it would narrow their way)
};
struct RunWork {
    std::string id;
    Minute set_up = 0, clean = 0, survey = 0, flow_control = 0, dry = 0;
    std::optional<Minute> blocked_at_most;  ///< until the storage upstream is full
};
struct Mix {
    std::vector<int> patches;
    Minute pour_by = 0;  ///< from mixing; 0: not known, not checked
    std::string id;      ///< "M1"; empty: by number
    std::string worth;   ///< what is lost with it, as shown ("1.35 kg, 28.40 EUR"); may be empty
};
struct Packers {
    std::string id;
    int count = 1;
};

struct Problem {
    std::vector<PatchWork> patches;
    std::vector<RunWork> runs;
    std::vector<Mix> batches;  ///< patches of one mix are wet out one after the other from one mixing moment
    std::vector<Packers> packers;
    Minute start = 0, finish = 0;    ///< of each day, after midnight: leaving the yard, being back
    Minute travel = 0, pack_up = 0;  ///< travel is one way
    int crews = 1, air_lines = 1;
    bool watch_cure = true;  ///< one person is bound while a packer cures (no gauge with alarm)
    bool overnight = false;  ///< a cure that no day can hold may run on overnight
    int crew_size = 2;
};

struct Task {
    std::optional<int> patch;  ///< place in Problem::patches
    std::optional<int> run;
    What what = What::travel;
    Minute start = 0, finish = 0;  ///< after midnight of its day; past 1440 overnight
    int crew = 0;
    bool critical = false;  ///< a minute more here is a minute more on that crew's day
};
/// The times of one patch on the clock. A patch that is impossible keeps day = -1.
struct PatchTimes {
    int day = -1;
    /// `mix`: A meets B. `inflate`: inflated. `let_down`: the planned start of letting down. `latest_mix`,
    /// `last_let_down`: with the order kept, the latest that still closes the day. Past 1440: on the next day.
    Minute mix = 0, latest_mix = 0, pour_by = 0, inflate = 0, inflate_by = 0, crease_by = 0, let_down = 0,
           last_let_down = 0;
    double late_probability = 0;  ///< not in place and shaped in time; the caller's to fill in
    std::string if_missed;        ///< what is lost and whether the day still closes
};
struct Day {
    std::vector<Task> tasks;  ///< by start, then crew, then the order of work
    Minute finish = 0;
};
/// While a run is shut on a day: from flow control (or the first packer's positioning) to the last let-down.
struct Blocked {
    int run = 0, day = 0;
    Minute from = 0, to = 0;
    bool holds = true;  ///< the storage upstream lasts
};
struct Schedule {
    std::vector<Day> days;
    std::vector<PatchTimes> patches;
    std::vector<int> order;  ///< patches in order of work
    bool proven_optimal = false;
    Minute bound = 0;             ///< no schedule finishes the last day earlier; equals the finish when proven
    int fewest_days = 0;          ///< no schedule takes fewer days
    std::vector<int> impossible;  ///< patches that no day can hold, and why
    std::vector<std::string> why_impossible, warnings;
    std::vector<Blocked> blocked;  ///< by day, then run; the occupier's notice follows from it
};
/// Fewest days, then earliest finish of the last day, then least waiting with mixed resin.
///
/// Exact ("proven") for one crew up to 10 patches a day and 12 mixes in all, unless the search runs out of its budget
/// of steps; beyond that a good answer with its bound. Patches that no day can hold are left out and reported.
/// Throws InputError on a place outside its list, a negative duration, a patch in no mix or in two, a day without
/// length, or a patch without inflate-by, crease-by or let-down time.
/// `steps` bounds the search for one day: some 5 microseconds each. A day that needs more keeps its best order so far.
inline constexpr std::int64_t default_steps = 200000;
Schedule plan_days(const Problem& problem, std::int64_t steps = default_steps);

/// Days that were searched, kept from one problem to the next. What is found again is what a search would find, step
/// for step, so that answers do not depend on what was asked before. For one thread at a time.
class Memory {
public:
    class Store;
    Memory();
    ~Memory();
    Memory(Memory&&) noexcept;
    Memory& operator=(Memory&&) noexcept;
    Store& store() { return *store_; }

private:
    std::unique_ptr<Store> store_;
};
Schedule plan_days(const Problem& problem, std::int64_t steps, Memory& memory);

/// What a schedule comes to, without its clock times: enough to compare two problems. As `plan_days` would have it.
struct Outline {
    std::vector<Minute> finishes;  ///< of each day
    std::vector<int> impossible, order;
    bool proven_optimal = false;
};
Outline outline_days(const Problem& problem, std::int64_t steps, Memory& memory);

/// Every rule of docs/methods/schedule.md checked on a finished schedule, by a way of its own. Empty: all are kept.
std::vector<std::string> violations(const Problem& problem, const Schedule& schedule);

/// Mixes that no day can hold although each of their patches alone could be done: give those patches mixes of their
/// own.
std::vector<int> mixes_to_divide(const Problem& problem);

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
