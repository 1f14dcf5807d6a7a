#pragma once
#include <array>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/run_place.hpp"
#include "patchwright/units/quantity.hpp"

/// One crew's day at one address: who does what when. Whole minutes. The rules in full: docs/methods/schedule.md.
/// Which patches go on which day, with which resin and packer, is the caller's to decide.
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

/// What the crew has few of besides packers; work that needs one waits until it is free.
enum class Machine : std::uint8_t {
    jetter,  ///< cleaning, root cutting, flushing; stands at the access from its opening on
    camera,  ///< survey, re-survey, the look after a flush
    cutter,  ///< reopening
};
inline constexpr std::size_t machine_kinds = 3;
std::string_view word(Machine m);
std::optional<Machine> machine_for(What what);

/// What a task takes. More persons than the crew has are clipped to the crew: one person does everything alone.
struct Labour {
    Minute minutes = 0;
    int persons = 1;
};

/// One sleeve: the labour of each step, likely times, and what binds it.
struct PatchWork {
    std::string id;
    job::RunPlace run{};
    int packer = 0;   ///< place in DayWork::packers
    int heater = -1;  ///< place in DayWork::heaters, kept for it from mixing to let-down; -1: not heated
    Labour cut, bench_test, wet_out, load, position, inflate, crease, let_down;
    Labour re_survey;  ///< of its run, in one go with those of the run's other patches of the day: the longest counts
    Labour reopen;
    Minute pour = 0;                       ///< from the start of its own wet-out until its resin has left the bucket
    Minute inflate_by = 0, crease_by = 0;  ///< from mixing
    Minute mix_to_let_down = 0;            ///< earliest, from mixing
    Length at_start{}, at_end{};           ///< along the run, packer with its projections: what can pass what
    bool from_far_end = false;             ///< comes in from the run's `to`
    /// Not decided from which end: it passes every other, but no more lie in its run than the run has accesses. For
    /// `earliest_finish` as a bound on the days that may be made of it; `best_day` refuses it.
    bool from_any_end = false;
    bool flow_through = false;   ///< its packer does not shut the run's water
    std::vector<int> after;      ///< patches that must be let down before this one is wet out
    bool overnight = false;      ///< is not let down today
    bool ready_on_site = false;  ///< cut and tested on site, whatever `ready_in_yard` says of the others
    /// In the pipe since before the start: may be let down from then on (clock); in no mix.
    std::optional<Minute> lying;
    bool watched = false;  ///< of one that lies: it was set today, and its cure is watched like any other
};

/// A run that is worked today, or that may be prepared for a later day.
struct RunWork {
    job::RunPlace place{};
    std::string id;
    bool prepared = false;          ///< cleaned and surveyed on an earlier day: a flush and a look are enough
    int access_from = -1;           ///< any number that tells accesses apart; -1: no access at that end
    int access_to = -1;             ///< runs that meet in one access give it the same number
    bool ends_in_sight = false;     ///< one person sees both accesses
    Labour set_up;                  ///< with the day's first access
    Labour open_access;             ///< each further access that is not open yet
    Labour clean, roots, survey;    ///< in full
    Labour flush;                   ///< flush and look, in place of the three
    Labour flow_control;            ///< only of runs with patches of today
    Minute dry = 0;                 ///< from the end of cleaning or flushing to the first positioning
    std::optional<Minute> storage;  ///< until the storage upstream is full
    /// Open at the ends that are in use, clean, looked at and shut; positioned in from then on (clock). Nothing is left
    /// to do before mixing but to open a further access.
    std::optional<Minute> ready;
    bool from_open = false, to_open = false;  ///< accesses that stand open at the start
};

struct Mix {
    std::vector<int> patches;  ///< places in DayWork::patches; wet out one after the other from one mixing moment
    Minute pour_by = 0;        ///< from mixing; 0: not known, not checked
    std::string id;            ///< as shown: "the mix of A-P1"; may be empty
    std::string worth;         ///< what is lost with it, as shown ("1.35 kg, standard"); may be empty
    /// Begun before the day's start: it goes on at once in the order given, with the labour that is left of its sleeves
    /// and their limits from the start. Their runs are ready, their packers and air lines taken.
    bool in_hand = false;
};

struct Packers {
    std::string id;
    int count = 1;
};

struct Heaters {
    std::string id;
    int count = 1;  ///< taken along
};

/// What the person who watches curing packers may do meanwhile.
enum class WhileWatching : std::uint8_t {
    nothing,
    jobs_there,  ///< one-person jobs at that access that can be dropped at once: cut, test, survey, let down, re-survey
};

struct DayWork {
    std::vector<PatchWork> patches;
    std::vector<RunWork> runs;  ///< every run that a patch or `prepare_ahead` names, once each
    std::vector<Mix> mixes;     ///< every patch that is not lying is in one of them
    std::vector<Packers> packers;
    std::vector<Heaters> heaters;
    std::array<int, machine_kinds> machines{1, 1, 1};  ///< by Machine
    /// Runs without work today that are set up, cleaned and surveyed, first come first served, where the day gets no
    /// longer by it.
    std::vector<job::RunPlace> prepare_ahead;
    Minute start = 0, finish = 0;      ///< after midnight: leaving the yard, being back
    Minute overtime = 0;               ///< allowed past `finish`
    Minute travel = 0;                 ///< one way
    std::optional<Minute> travel_out;  ///< what is left of the way out, for a day that is under way: 0 on site
    /// Steps that go on at the start, before anything new is begun, where the hands are there. A job is not split.
    struct UnderWay {
        std::optional<int> patch;  ///< place in `patches`; else of a run
        job::RunPlace run{};
        What what = What::let_down;
    };
    std::vector<UnderWay> under_way;
    Labour pack_up;
    int persons = 2;  ///< 1 to 4
    int air_lines = 1;
    bool alarm_gauge = false;  ///< cures need nobody
    WhileWatching while_watching = WhileWatching::jobs_there;
    bool ready_in_yard = true;  ///< felt is cut and packers are tested before `start`
};

struct Task {
    std::optional<int> patch;  ///< place in DayWork::patches
    std::optional<job::RunPlace> run;
    What what = What::travel;
    Minute start = 0, finish = 0;  ///< after midnight; past 1440 overnight
    int persons = 0;               ///< that it binds; of a cure: 1 when it is watched, else 0
    std::vector<int> lanes;        ///< which of them: 1, 2, ...; empty for a cure
    int crew = 0;
    bool critical = false;  ///< a minute more here is a minute more on the day
};

/// The times of one patch on the clock.
struct PatchTimes {
    int day = -1;  ///< of a job of several days; -1: none holds it
    /// `mix`: A meets B. `pour`: its resin is out of the pot. `inflate`: inflated. `let_down`: the planned start of
    /// letting down. `latest_mix`, `last_let_down`: with the order kept, the latest that still closes the day.
    Minute mix = 0, latest_mix = 0, pour = 0, pour_by = 0, inflate = 0, inflate_by = 0, crease_by = 0, let_down = 0,
           last_let_down = 0;
    std::string if_missed;  ///< what is lost and whether the day still closes
};

/// While a run's water is shut: from flow control (or the first mixing) to the day's last let-down there.
struct Blocked {
    job::RunPlace run{};
    int day = 0;
    Minute from = 0, to = 0;
    bool holds = true;  ///< the storage upstream lasts
};

/// Why a mix can be done on no day, however long.
enum class Hindrance : std::uint8_t {
    none,
    slow_hands,  ///< no order of its sleeves keeps every limit; `Verdict::minutes` too slow
    packers,     ///< its sleeves need more packers of a kind than there are, or there is none
    heaters,     ///< the same of heaters
    air_lines,
    pipe,   ///< two of its sleeves would have to pass each other
    order,  ///< `after` goes in a circle, or leads back into the mix
};
struct Verdict {
    Hindrance hindrance = Hindrance::none;
    int mix = -1;        ///< place in DayWork::mixes
    Minute minutes = 0;  ///< of slow hands
};

struct Finish {
    Minute finish = 0;         ///< being back in the yard; may lie beyond `DayWork::finish` and the overtime
    Minute bound = 0;          ///< no order is back earlier
    bool proven = true;        ///< finish == bound
    std::int64_t visited = 0;  ///< nodes of the search
    Verdict verdict;           ///< anything but `none`: there is no such day, and the times say nothing
    Minute short_by(const DayWork& work) const {
        const Minute most = work.finish + work.overtime;
        return finish > most ? finish - most : 0;
    }
};

struct Day : Finish {
    std::vector<Task> tasks;          ///< by start, then the order of work
    std::vector<PatchTimes> patches;  ///< as DayWork::patches
    std::vector<int> order;           ///< patches in order of wetting out
    std::vector<Blocked> blocked;     ///< by run
    std::vector<job::RunPlace> prepared_ahead;
    Minute yard_minutes = 0;  ///< person-minutes of cutting and testing before leaving; paid, off the day's clock
};

/// Both packers would lie in the pipe at once and one of them, or its hose, would have to pass the other.
bool must_pass(const PatchWork& a, const PatchWork& b);

/// Nodes that a search may visit; some 0.3 microseconds each.
inline constexpr std::int64_t default_budget = 500'000;

/// The earliest finish, without the tasks: what a search over days asks by the thousand. Preparing ahead is left out.
///
/// Proven as long as the budget lasts: in practice up to six mixes. The answer hangs on nothing but `work` and
/// `budget`. Throws InputError on a place outside its list, a negative or absurd duration, a patch in no mix or in two,
/// more than 24 patches, a day without length, or a patch without inflate-by, crease-by or let-down time.
/// With `latest` a search stops where no order is back by then: the finish then lies after it and says no more.
inline constexpr Minute no_latest = std::numeric_limits<Minute>::max();
Finish earliest_finish(const DayWork& work, std::int64_t budget = default_budget, Minute latest = no_latest);

/// Earliest finish, with everything that the crew reads. The order within a mix is the one with the least waiting of
/// mixed resin that keeps every limit. Errors as `earliest_finish`.
Day best_day(const DayWork& work, std::int64_t budget = default_budget);

/// The same for a day under way: the order of `sheet`, an earlier day's tasks by places in `work`, is kept where no
/// other order is back before it.
Day best_day_by(const std::vector<Task>& sheet, const DayWork& work, std::int64_t budget = default_budget);

}  // namespace patchwright::schedule
