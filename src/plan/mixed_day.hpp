#pragma once
#include <vector>

#include "day_book.hpp"
#include "job_search.hpp"
#include "mixes.hpp"
#include "patchwright/price/price.hpp"

namespace patchwright::plan {

/// One day of the chosen job with its mixes, in order of work.
struct MixedDay {
    DayOfPatches work;  ///< the sleeves of the day, then those that lie since the day before
    Mixes mixes;        ///< `patches`: places in the day's own list
    schedule::Day clock;
};

/// The days of a job, each with a mix for every sleeve, or with shared mixes where that is cheaper and every sleeve
/// still keeps its promise. Without clock times.
std::vector<MixedDay> mixed_days(PlanContext& context, const ChosenJob& job);
/// The sleeves that are set on that day.
PatchList set_today(const DayOfPatches& day);
/// What patching takes; `finishes` by day.
price::PatchWorks bill(const PlanContext& context, const std::vector<MixedDay>& days,
                       const std::vector<schedule::Minute>& finishes);

}  // namespace patchwright::plan
