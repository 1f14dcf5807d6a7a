#pragma once
#include <cstdint>
#include <set>
#include <vector>

#include "day_task.hpp"

namespace patchwright::plan {

/// What a day, or a combination of ways, takes besides the nodes of the clock's search.
inline constexpr std::int64_t look = 10;

/// Depth first over the ways of one sleeve after the other, the cheapest first; what cannot beat the best is cut off.
class DaySearch {
public:
    DaySearch(const PlanContext& context, const JobCost& cost, const DayTask& day, int extra_persons,
              const DayHeating& heating, UsefulWays& useful, std::int64_t& budget);

    /// What a day costs at least that is back then; infinite where it has no way.
    double least(schedule::Minute earliest) const {
        return rest_.front() < never ? rest_.front() + price(earliest) : never;
    }
    /// `earliest`: no way is back before that.
    void run(schedule::Minute earliest, DayChoice& best);
    /// Ways to begin with: a packer of its own for each sleeve as far as they go round, or all with packers of one
    /// kind; from the nearer mouth or by turns; the cheapest resin or the quickest.
    std::set<std::vector<int>> first_ways() const;
    /// A day that is back then, with the cheapest heater, may cost less than the best.
    bool worth(schedule::Minute earliest, const DayChoice& best) const;
    /// Those ways with the heater where it is to be: the same packers and mouths, and the same resin or the cheapest.
    void heat(const std::vector<int>& ways, DayChoice& best);
    /// The best, which is such a day, made better sleeve by sleeve.
    void polish(DayChoice& best);

private:
    struct Chosen {
        std::vector<int> options;
        PatchList patches;
    };

    static constexpr int any_kind = -1;
    /// One of those, sleeve after sleeve; where packers of that kind do not go round, whichever are left over.
    std::vector<int> spread(int kind, bool nearer, bool quickest) const;
    /// A good day early cuts off most of the rest: the best of the ways to begin with, one sleeve's way after the
    /// other changed as long as the day gets cheaper.
    void improve();
    /// One sleeve's way after the other changed for one that is better, until none is.
    template <class Better>
    void change_one_by_one(std::vector<int> ways, Better better) const;
    void climb(std::vector<int> ways);
    /// No day to begin with holds: the one that is back first is made earlier until the day holds. Empty: it never
    /// does.
    std::vector<int> hasten();
    /// When the crew is back with these ways, if that is before `sooner`; else no earlier than `sooner`.
    schedule::Minute back_with(const std::vector<int>& ways, schedule::Minute sooner);
    /// Empty: one of them has no such way.
    std::vector<int> heated(const std::vector<int>& ways, bool same_resin) const;
    Chosen chosen_of(const std::vector<int>& ways) const;
    schedule::DayWork work_of(const Chosen& chosen) const;
    void settle(const std::vector<int>& ways);

    const SleeveOption& option(std::size_t sleeve, int place) const;
    schedule::Minute start() const { return context_.job.site.start.minutes; }
    schedule::Minute latest_allowed() const;
    /// Of the day without its sleeves; infinite where it is not allowed to last so long.
    double price(schedule::Minute finish) const;
    /// `time`: what the day's length costs at least.
    void choose(Chosen& chosen, double cost, double time);
    /// The latest finish that is cheaper than the best so far; before the start where none is.
    schedule::Minute latest_worth(double cost) const;
    void settle(const Chosen& chosen, double cost);
    void take(std::int64_t nodes) { best_->complete = (budget_ -= look + nodes) > 0 && best_->complete; }

    const PlanContext& context_;
    const JobCost& cost_;
    const DayTask& day_;
    int extra_persons_;
    const DayHeating& heating_;
    std::vector<double> rest_;  ///< cheapest ways of the sleeves from there on
    std::vector<std::vector<int>> ways_;
    DayChoice* best_ = nullptr;
    std::int64_t& budget_;
};

}  // namespace patchwright::plan
