#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/plan/moved.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/week/drive.hpp"
#include "patchwright/week/kept.hpp"
#include "patchwright/week/rounds.hpp"

/// Several jobs, one yard, its crews and dates. Every stop is a day of a real plan: its rules and both promises hold.
/// docs/week.md.
namespace patchwright::week {

struct Input {
    std::vector<job::Job> jobs;  ///< of different references
    job::Yard yard;
    Date from{};
    int dates = 5;
    std::optional<int> crews;  ///< none: the yard's
    bool weekends = false;     ///< Saturdays and Sundays are worked too
    DriveTable drives;
    std::optional<Kept> kept;  ///< a week given out earlier
    bool tables = false;       ///< with the cure tables of the day sheets
    int threads = 1;
    std::int64_t budget = default_states;
};

/// One stop of a crew's day.
struct Visit {
    int job = 0;       ///< place in Week::jobs
    int part = 0;      ///< of the job's days, from 0
    Minute drive = 0;  ///< from the place before
    Minute arrive = 0, leave = 0;
    Minute wait = 0;       ///< before work may begin
    bool promised = true;  ///< the date stays when the week is planned anew
    int revision = 0;      ///< times that it was moved since it was first given out
};
struct CrewDay {
    Date date{};
    int crew = 1;
    Minute leave = 0, back = 0;  ///< the yard
    Minute drive = 0, overtime = 0;
    int helpers = 0;
    std::vector<Visit> stops;
};

/// What the patches of a job come to, with visits of its own and as the week has them.
struct Cost {
    Money alone{}, shared{};  ///< own price of the patches, net
    Money offered{};          ///< what the offer says, net
    Money saving() const { return alone - shared; }
};

/// A job of the week.
struct Address {
    job::Job job;                            ///< as given, but for the week's drive from the yard
    plan::Plan plan;                         ///< its days moved to their stops
    std::vector<job::Job> visits;            ///< the same with the hours of each stop, for the day sheets
    std::vector<plan::Visit> times;          ///< of each part; empty where it found no place
    std::vector<std::string> before, after;  ///< of each part: the place before and behind it
    std::string left_out;                    ///< why it has no place; empty: it has one, or it needs none
    bool done = false;                       ///< all of it before the week
    std::optional<Cost> cost;
};

/// What has to be in the yard, and since when.
struct Purchase {
    std::string item;      ///< "resin fast", "felt sheet-3"
    std::string quantity;  ///< "2 x 1.5 kg"
    Date needed{};
};
/// A stop that an earlier week had elsewhere, or not at all.
struct Move {
    std::string job;
    int part = 0;
    std::optional<KeptStop> was, now;
};

struct Week {
    std::vector<Date> dates;
    int crews = 1;
    std::vector<Address> jobs;  ///< as Input::jobs
    std::vector<CrewDay> days;  ///< by date and crew
    std::vector<plan::FeltCutting> cutting;
    std::vector<Purchase> purchases;
    std::vector<Move> moves;
    std::vector<KeptStop> earlier;  ///< of the week that is kept, before the first date
    std::vector<job::Assumption> assumptions;
    std::vector<std::string> warnings;
    Minute drive = 0, overtime = 0;
    bool proven_optimal = false;
    int bound_crew_days = 0;
    bool everything_placed = true;  ///< and everything patched
};

/// Pure: same input, same week. `jobs` and `yard` come from the readers. Throws InputError on two jobs of one
/// reference, on no job, and on numbers of dates or crews below one.
Week plan_week(const Input& input);

}  // namespace patchwright::week
