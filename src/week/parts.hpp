#pragma once
#include "patchwright/week/week.hpp"

/// The steps of a week. Internal.
namespace patchwright::week {

/// Places in lists are ints, with -1 for none.
inline std::size_t at(int place) { return static_cast<std::size_t>(place); }

/// The drives between all places, as Problem::drive, none longer than by another place; what had to be assumed.
std::vector<std::vector<Minute>> drives_of(const Input& input, std::vector<job::Assumption>& assumptions);

/// Each job planned for itself with its own hours, the yard's drive and one crew; nothing cures over night.
void plan_jobs(const Input& input, const std::vector<std::vector<Minute>>& drive, Week& week);

/// The problem of the rounds. `part_of`: of each stop, the day of its job's plan.
struct Task {
    Problem problem;
    std::vector<int> part_of;
    std::vector<std::string> hindered;  ///< of each job: why it can have no place, whatever the others do
};
Task task_of(const Input& input, const Week& week, std::vector<std::vector<Minute>> drive);

/// Crews, times and moves of the rota; the plans' days go to their stops.
void write_days(const Input& input, const Task& task, const Rota& rota, Week& week);

/// What the jobs cost with their visits shared.
void add_costs(const job::Yard& yard, Week& week);
/// One cutting of all felt; what to buy by when.
void add_stock(const job::Yard& yard, Week& week);

}  // namespace patchwright::week
