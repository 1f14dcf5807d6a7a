#pragma once
#include <cstdint>
#include <map>
#include <vector>

#include "assignment.hpp"
#include "context.hpp"
#include "job_cost.hpp"
#include "patchwright/schedule/day.hpp"
#include "picks.hpp"

namespace patchwright::plan {

/// One way to make and place a sleeve: packer, mouth, resin and how it is brought to its work.
struct SleeveOption {
    const Patch* patch = nullptr;  ///< kept by the run's workspace
    Pick pick;
    double cost = 0.0;          ///< JobCost::sleeve, cents
    schedule::Minute cure = 0;  ///< from mixing to let-down
    int kind = 0;               ///< of packer: those of one kind stand in for each other
    int count = 1;              ///< packers of that kind
    int heater = -1;            ///< place in Yard::heaters; -1: not heated
    /// The other needs no heater, or the same one.
    bool needs_no_more_than(const SleeveOption& other) const { return heater < 0 || heater == other.heater; }
    /// Cheapest first; of two at the same cost the safer, so that it is the one found first.
    bool operator<(const SleeveOption& other) const;
};

/// A group of defects that one sleeve covers, with every way to make it that may be the best, cheapest first.
struct Sleeve {
    int id = 0;  ///< the same group of the same run has the same id in every covering
    int run = 0;
    bool overnight = false;  ///< no day holds its cure: let down the next day
    std::vector<SleeveOption> options;
};

/// A crew's day: these sleeves, in one of their ways each.
struct DayTask {
    std::vector<const Sleeve*> sleeves;
    std::vector<const Sleeve*> lying;  ///< set the day before in their cheapest way
    std::vector<int> prepared;         ///< runs of the job worked on an earlier day, in order
};
struct DayChoice {
    double cost = 0.0;         ///< cents; infinite when no way fits into the day
    std::vector<int> options;  ///< by sleeve: place in Sleeve::options
    int extra_persons = 0;     ///< helpers hired for the day
    DayHeater heater;
    schedule::Minute finish = 0;
    bool complete = true;  ///< every way that may be cheaper was gone through to the end
};

struct DayHeating;

/// Days priced once each, with the cheapest way to make their sleeves.
class DayBook {
public:
    DayBook(const PlanContext& context, const JobCost& cost) : context_{context}, cost_{cost} {}

    /// What the day costs at least: the sleeves' cheapest ways and the shortest conceivable day, at first glance or
    /// after a search for it.
    double quick_bound(const DayTask& day) { return bound(day, 1); }
    double bound(const DayTask& day);
    /// The cheapest way, by trying every combination that may be cheaper than the best so far.
    const DayChoice& choice(const DayTask& day);

    /// From now on every choice may take a heater along; to be said before the first is asked for.
    void with_heaters() { heaters_ = true; }
    /// The choice, or the same with a heater where that is cheaper.
    DayChoice heated(const DayTask& day);

    /// What all bounds and choices have taken so far, in nodes of the clock's search.
    std::int64_t spent() const { return spent_; }

private:
    using Key = std::vector<int>;
    static Key key_of(const DayTask& day);
    double bound(const DayTask& day, std::int64_t nodes);
    bool part_is_impossible(const DayTask& day) const;
    /// Being back with the sleeves' quickest ways; no way is back before that.
    schedule::Minute earliest(const DayTask& day, int helpers, const DayHeating* heating, std::int64_t nodes);
    DayChoice search(const DayTask& day);
    void heat(const DayTask& day, DayChoice& best);
    bool may_heat(const DayTask& day) const;

    const PlanContext& context_;
    const JobCost& cost_;
    std::map<Key, DayChoice> days_;
    std::int64_t spent_ = 0;
    bool heaters_ = false;
};

/// The crew's day for patches in the order given; `prepared` as in DayTask, the first `lying` patches lie in their
/// pipe since the day before. One mix for each sleeve, or the mixes given.
struct DayOfPatches {
    PatchList patches;
    std::vector<bool> lying, overnight;
    std::vector<int> prepared;
    std::vector<int> prepare_ahead;
    std::vector<std::vector<int>> mixes;  ///< places in `patches`; empty: one for each that is not lying
    int extra_persons = 0;
    int heaters = 1;  ///< taken along of each kind that a patch needs
};
schedule::DayWork crew_day(const PlanContext& context, const DayOfPatches& day);

}  // namespace patchwright::plan
