#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "patchwright/schedule/day.hpp"

/// Which crew goes where on which date, in which order. Knows of stops, minutes and packers; nothing of drains.
namespace patchwright::week {

using schedule::Minute;

/// A day's work at one address.
struct Stop {
    int job = 0;                ///< place in Problem::jobs
    int part = 0;               ///< of the job's days, in their order from 0
    Minute length = 0;          ///< on site
    std::vector<int> packers;   ///< of each kind in use at one time; as Problem::packers
    std::vector<bool> allowed;  ///< by date
    int kept_date = -1;         ///< where an earlier week had it
};
/// What binds all stops of a job.
struct Bounds {
    Minute start = 0, finish = 0;  ///< leaving the yard, being back: of the whole day of a crew that comes there
    Minute window_from = 0, window_to = 0;  ///< on site
};
struct Problem {
    std::vector<Bounds> jobs;
    std::vector<Stop> stops;                 ///< by job, then part
    std::vector<std::vector<Minute>> drive;  ///< from place to place: 0 the yard, then the jobs
    int dates = 0, crews = 1;
    Minute overtime = 0;       ///< past the finish, at most
    std::vector<int> packers;  ///< how many of each kind there are
};

/// A crew's day.
struct Round {
    int date = 0;
    std::vector<int> stops;      ///< in order
    std::vector<Minute> arrive;  ///< when work begins: after waiting for the window, where the crew is early
    Minute leave = 0, back = 0;  ///< the yard
    Minute drive = 0, overtime = 0;
};

/// Never fewer crew-days than this, whatever the order.
int min_crew_days(const Problem& problem, const std::vector<int>& stops);

struct Rota {
    std::vector<Round> rounds;  ///< by date, then by their first stop
    std::vector<int> left_out;  ///< jobs that found no place, whole
    bool proven = false;        ///< no rota leaves out fewer, takes fewer crew-days, or less driving and overtime
    int bound_crew_days = 0;    ///< of what is placed
    Minute drive() const;
    Minute overtime() const;
};

/// What a rota is judged by, less is better, in this order.
struct Worth {
    std::int64_t left_out = 0, crew_days = 0, minutes = 0, moved = 0, dates = 0;
    auto operator<=>(const Worth&) const = default;
};
/// `minutes`: driving and overtime; `moved`: stops on another date than an earlier week's; `dates`: their sum, so that
/// what can be done early is.
Worth worth(const Problem& problem, const Rota& rota);

/// The rules: a crew's day lies between the latest start and the earliest finish (and the overtime) of the jobs on it;
/// work at a place lies in its window; the days of a job go on different dates, in order; a job is done whole or left
/// out; on a date there are no more rounds than crews, and no more packers of a kind in use than there are, where a
/// crew takes the packers of its fullest stop along for the whole day.
///
/// Exact up to `exact_jobs` jobs, as long as `budget` states last (with eight jobs of one day each they do); beyond
/// that insertion and improvement from many orders. With more crews or dates the answer is never worse. Same problem,
/// same rota.
inline constexpr int exact_jobs = 8;
inline constexpr std::int64_t default_states = 4'000'000;
Rota solve(const Problem& problem, std::int64_t budget = default_states);

/// The best order of those stops for one crew; no stops: there is none.
Round best_round(const Problem& problem, const std::vector<int>& stops);

}  // namespace patchwright::week
