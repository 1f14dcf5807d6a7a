#pragma once
#include <optional>
#include <vector>

#include "day_book.hpp"
#include "sleeves.hpp"

namespace patchwright::plan {

/// A day of the chosen job.
struct ChosenDay {
    std::vector<Pick> picks;      ///< in no order of work
    PatchList patches;            ///< one each
    std::vector<bool> overnight;  ///< one each
    std::vector<int> prepared;    ///< of its runs, those worked on an earlier day
    PatchList lying;              ///< set the day before, let down on this one
    int extra_persons = 0;
    DayHeater heater;
};

/// One way to do the whole job.
struct ChosenJob {
    std::vector<ChosenDay> days;
    double cost = 0.0;  ///< JobCost, cents
    std::size_t sleeves() const;
};

/// A sleeve that no day holds as the job and the yard are given.
struct NotPlanned {
    Pick pick;
    const Patch* patch = nullptr;
    schedule::Minute short_by = 0;  ///< so much longer would the day have to be
    double cost = 0.0;              ///< of a visit for it alone on such a day, JobCost, cents
};

/// Of jobs at the same cost: the lower chance of lateness, then less of stiff packer, then the lower pressures.
bool safer(const ChosenJob& a, const ChosenJob& b);

struct SearchResult {
    ChosenJob best;
    std::vector<NotPlanned> not_planned;
    double bound = 0.0;  ///< no whole job of what is planned costs less; equals the cost when proven
    bool proven = false;
    int compared = 0;                 ///< whole jobs that were worked out
    std::vector<ChosenJob> by_count;  ///< the cheapest of each number of sleeves, fewest first
    std::optional<ChosenJob> second;  ///< the cheapest that covers the defects in another way
};

/// The cheapest whole job: which defects share a sleeve, with which packer, mouth and resin each is made, on which
/// day. Up to `max_proven` sleeves the search goes on until it is proven, as far as its days are; up to `max_in_one` it
/// ends after a while; beyond that days are planned a few runs at a time. The bound says how far off the best may be.
/// docs/methods/whole-job.md.
inline constexpr std::size_t max_proven = 8, max_in_one = 12;
SearchResult best_job(PlanContext& context, const std::vector<RunPlan>& runs, Spaces& spaces);

}  // namespace patchwright::plan
