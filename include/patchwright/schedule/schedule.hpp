#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/yard.hpp"
#include "patchwright/units/parse.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Days, order and clock times of the crew's work. Whole minutes.
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

/// Hands-on minutes of one patch, likely and high, and what binds it.
struct PatchWork {
    std::string id;
    int run = 0;     ///< place in Problem::runs
    int packer = 0;  ///< place in Problem::packers
    int batch = 0;   ///< place in Problem::batches
    Minute cut = 0, bench_test = 0, wet_out = 0, load = 0, position = 0, inflate = 0, crease = 0, let_down = 0,
           re_survey = 0, reopen = 0;
    Minute wet_out_high = 0, load_high = 0, position_high = 0, inflate_high = 0, crease_high = 0;
    Minute inflate_by = 0, crease_by = 0;  ///< from mixing
    Minute mix_to_let_down = 0;            ///< earliest, from mixing
    double at_start = 0, at_end = 0;       ///< metres along the run, for passing rules
    bool from_far_end = false;             ///< comes in from the run's `to`
};
struct RunWork {
    std::string id;
    Minute set_up = 0, clean = 0, survey = 0, flow_control = 0, dry = 0;
    std::optional<Minute> blocked_at_most;  ///< until the storage upstream is full
};
struct Mix {
    std::vector<int> patches;
    Minute pour_by = 0;
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
    Minute start = 0, finish = 0;  ///< of each day, after midnight
    Minute travel = 0, pack_up = 0;
    int crews = 1, air_lines = 1;
    bool watch_cure = true;  ///< one person is bound while a packer cures
    bool overnight = false;
    int crew_size = 2;
};

struct Task {
    std::optional<int> patch;  ///< place in Problem::patches
    std::optional<int> run;
    What what = What::travel;
    Minute start = 0, finish = 0;  ///< after midnight of its day; past 1440 overnight
    int crew = 0;
    bool critical = false;
};
/// The times of one patch on the clock.
struct PatchTimes {
    int day = 0;
    Minute mix = 0, latest_mix = 0, pour_by = 0, inflate = 0, inflate_by = 0, crease_by = 0, let_down = 0,
           last_let_down = 0;
    double late_probability = 0;  ///< that the high durations break inflate-by
    std::string if_missed;
};
struct Day {
    std::vector<Task> tasks;
    Minute finish = 0;
};
struct Schedule {
    std::vector<Day> days;
    std::vector<PatchTimes> patches;
    std::vector<int> order;  ///< patches in order of work
    bool proven_optimal = false;
    Minute bound = 0;             ///< of the last day's finish, when not proven
    std::vector<int> impossible;  ///< patches that no day can hold, and why
    std::vector<std::string> why_impossible, warnings;
};
/// Fewest days, then earliest finish of the last day, then least waiting with mixed resin.
Schedule plan_days(const Problem& problem);
std::vector<std::string> violations(const Problem& problem, const Schedule& schedule);

/// Water that arrives while the pipe is blocked.
struct FlowVerdict {
    Duration fills_in{};
    VolumeFlow pump{};
    bool holds = true;
};
FlowVerdict flow_while_blocked(VolumeFlow inflow, Volume storage, Duration blocked, Working& working);

}  // namespace patchwright::schedule
