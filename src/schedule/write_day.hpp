#pragma once
#include <vector>

#include "lanes.hpp"
#include "search.hpp"

namespace patchwright::schedule {

/// Latest start of each job that keeps the order.
struct Latest {
    std::vector<Minute> same_finish;  ///< ... and the day's finish
    std::vector<Minute> in_time;      ///< ... and being back by `DayWork::finish`, or by the finish when that is later
    /// Of a job without slack, minutes from its start: what it still does later may take a minute more.
    std::vector<Minute> tight_until;
};
Latest latest_starts(const Model& model, const std::vector<Partial::Start>& starts, const Crew& crew, Minute finish);

/// Tasks, lanes and times of a day from the order in which its jobs start.
void write_day(const Model& model, const std::vector<Partial::Start>& starts, Day& day);

}  // namespace patchwright::schedule
