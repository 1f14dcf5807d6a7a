#include "job_search.hpp"

#include <algorithm>
#include <bit>
#include <iterator>
#include <limits>
#include <map>
#include <set>
#include <utility>

#include "assignment.hpp"
#include "combine.hpp"
#include "least_work.hpp"

namespace patchwright::plan {
namespace {

constexpr int max_mixes_a_day = 6;
constexpr int max_priced = 4000;       ///< days priced for one way to cover the defects
constexpr int max_combinations = 512;  ///< ways to cover the defects of all runs
/// A job of more than `max_proven` sleeves is searched for so long, in nodes of the clock's search, half of what is
/// left for each way to cover the defects: the best is found early, and its proof would take the rest.
constexpr std::int64_t nodes_a_job = 2'500'000;
/// Up to so many sleeves heaters are in the search for the days; up to `max_proven` they are where they may save a day.
/// The days found are heated where it pays.
constexpr std::size_t max_heated = 4;
constexpr std::size_t window = 6;  ///< sleeves planned at a time in a job of more than `max_in_one`
constexpr std::int64_t nodes_a_window = 50'000;

bool bit(SleeveSet set, std::size_t i) { return (set >> i & 1U) != 0; }

class JobSearch {
public:
    JobSearch(PlanContext& context, const std::vector<RunPlan>& runs, Spaces& spaces)
        : context_{context},
          runs_{runs},
          cost_{context.yard},
          sleeves_{context, runs, spaces, cost_},
          plain_{context, cost_},
          heated_{context, cost_} {
        heated_.with_heaters();
    }

    SearchResult search() {
        std::vector<std::vector<Covering>> ways;
        for (const auto& run : runs_) ways.push_back(coverings(run.problem, run.solution));
        const auto combinations = cheapest_combinations(ways);
        bool all_looked_at = combinations.size() < static_cast<std::size_t>(max_combinations);
        for (const auto& combination : combinations) {
            const auto list = sleeves_of(ways, combination);
            if (result_.compared == 0 && list.size() <= max_heated) book_ = &heated_;
            if (list.size() > max_in_one) {
                consider_large(list);
                all_looked_at = false;
                break;
            }
            if (list.size() > max_proven && nodes_left() < nodes_a_job / 64 && !leaves_fewer(list))
                bound_ = std::min(bound_, least_cost(context_, cost_, least_work(list)));
            else
                consider(list);
        }
        if (book_ == &plain_ && !context_.yard.heaters.empty()) {
            book_ = &heated_;
            const std::size_t fewer = result_.best.days.size() - std::min<std::size_t>(1, result_.best.days.size());
            for (const auto& combination : combinations) in_fewer_days(sleeves_of(ways, combination), fewer);
        }
        if (!all_looked_at) bound_ = std::min(bound_, least_cost(context_, cost_, least_work(ways)));
        SearchResult& result = result_;
        result.bound = std::min(bound_, result.best.cost);
        result.proven = result.best.cost <= result.bound + 0.5;
        for (auto& [count, job] : by_count_) result.by_count.push_back(job);
        return std::move(result_);
    }

private:
    std::vector<Combination> cheapest_combinations(std::vector<std::vector<Covering>>& ways) {
        std::vector<std::vector<std::int64_t>> costs;
        for (std::size_t r = 0; r < ways.size(); ++r) {
            auto& list = costs.emplace_back();
            for (const auto& covering : ways[r]) {
                double sum = 0.0;
                for (const Sleeve* sleeve : sleeves_of(static_cast<int>(r), covering))
                    sum += sleeve->options.front().cost;
                list.push_back(static_cast<std::int64_t>(sum));
            }
        }
        std::size_t sleeves = 0;
        for (const auto& way : ways) sleeves += way.empty() ? 0 : way.front().sleeves.size();
        return cheapest_sums(costs, sleeves > max_in_one ? 1 : max_combinations);
    }
    SleeveList sleeves_of(int run, const Covering& covering) {
        SleeveList list;
        for (const auto& candidate : covering.sleeves) list.push_back(&sleeves_.of(run, candidate));
        return list;
    }
    SleeveList sleeves_of(const std::vector<std::vector<Covering>>& ways, const Combination& combination) {
        SleeveList list;
        for (std::size_t r = 0; r < ways.size(); ++r) {
            if (combination.choice[r] < 0) continue;
            const auto& covering = ways[r][static_cast<std::size_t>(combination.choice[r])];
            for (const Sleeve* sleeve : sleeves_of(static_cast<int>(r), covering)) list.push_back(sleeve);
        }
        return list;
    }

    /// The sleeve set on one day and let down on the next, where the yard allows it and both days hold it.
    const Sleeve* overnight(const Sleeve& sleeve) {
        if (!context_.yard.limits.overnight_cure) return nullptr;
        const Sleeve* lying = sleeves_.overnight(sleeve);
        const bool fits = lying != nullptr && book_->choice({{lying}, {}, {}}).cost < never &&
                          book_->choice({{}, {lying}, {}}).cost < never;
        return fits ? lying : nullptr;
    }
    /// The sleeve as a day holds it by itself, or overnight; null where none does.
    const Sleeve* as_it_fits(const Sleeve& sleeve) {
        return book_->choice({{&sleeve}, {}, {}}).cost < never ? &sleeve : overnight(sleeve);
    }
    /// Those that fit; the others are noted as not planned.
    SleeveList that_fit(const SleeveList& list, std::vector<NotPlanned>& without_day) {
        SleeveList kept;
        for (const Sleeve* sleeve : list) {
            if (const Sleeve* fits = as_it_fits(*sleeve))
                kept.push_back(fits);
            else
                without_day.push_back(shortest_day(*sleeve));
        }
        return kept;
    }
    bool leaves_fewer(const SleeveList& list) {
        const auto left =
            std::count_if(list.begin(), list.end(), [&](const Sleeve* s) { return as_it_fits(*s) == nullptr; });
        return static_cast<std::size_t>(left) < result_.not_planned.size();
    }
    /// Of the sleeves that fit.
    LeastWork least_work(const SleeveList& list) {
        LeastWork sum;
        for (const Sleeve* sleeve : list)
            if (const Sleeve* fits = as_it_fits(*sleeve)) sum.add(*fits);
        return sum;
    }
    /// However the defects of each run are covered.
    LeastWork least_work(const std::vector<std::vector<Covering>>& ways) {
        LeastWork sum;
        for (std::size_t r = 0; r < ways.size(); ++r) {
            std::optional<LeastWork> of_run;
            for (const auto& covering : ways[r]) {
                const auto work = least_work(sleeves_of(static_cast<int>(r), covering));
                of_run = of_run ? least(*of_run, work) : work;
            }
            if (of_run) sum += *of_run;
        }
        return sum;
    }
    NotPlanned shortest_day(const Sleeve& sleeve) const {
        NotPlanned best;
        for (const auto& option : sleeve.options) {
            DayOfPatches day;
            day.patches = {option.patch};
            day.lying = day.overnight = {false};
            const auto work = crew_day(context_, day);
            const auto finish = schedule::earliest_finish(work).finish;
            const auto over = finish - work.finish - work.overtime;
            if (best.patch != nullptr && over >= best.short_by) continue;
            best = {option.pick, option.patch, over, option.cost + cost_.day(finish - work.start, 0, 0, false)};
        }
        return best;
    }

    /// Sleeves that wait for each other, by their bases: what lies deeper is set first where the way narrows.
    AssignmentProblem assignment(const SleeveList& list) {
        AssignmentProblem problem;
        const auto runs = runs_of(list);
        for (const Sleeve* sleeve : list)
            problem.run.push_back(static_cast<int>(std::find(runs.begin(), runs.end(), sleeve->run) - runs.begin()));
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (list[i]->overnight) problem.overnight |= SleeveSet{1} << i;
        }
        problem.max_a_day = max_mixes_a_day;
        const auto task = [list, runs](const DayKey& key) { return day_of(list, runs, key); };
        problem.quick_bound = [this, task](const DayKey& key) { return book_->quick_bound(task(key)); };
        problem.bound = [this, task](const DayKey& key) { return book_->bound(task(key)); };
        problem.cost = [this, task](const DayKey& key) {
            const auto& choice = book_->choice(task(key));
            return DayCost{choice.complete ? choice.cost : 0.0, choice.cost};
        };
        if (list.size() > max_proven)
            problem.enough = [this, until = book_->spent() + nodes_left() / 2] { return book_->spent() > until; };
        return problem;
    }
    std::int64_t nodes_left() const { return std::max(std::int64_t{0}, nodes_a_job - book_->spent()); }
    static DayTask day_of(const SleeveList& list, const std::vector<int>& runs, const DayKey& key) {
        DayTask day;
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (bit(key.sleeves, i)) day.sleeves.push_back(list[i]);
            if (bit(key.lying, i)) day.lying.push_back(list[i]);
        }
        for (std::size_t r = 0; r < runs.size(); ++r) {
            if (bit(key.prepared, r)) day.prepared.push_back(runs[r]);
        }
        return day;
    }
    void consider(const SleeveList& list) {
        std::vector<NotPlanned> without_day;
        const auto fitting = that_fit(list, without_day);
        ++result_.compared;
        ChosenJob job;
        double bound = 0.0;
        if (!fitting.empty()) {
            const bool fewer_left = best_known_ && without_day.size() < result_.not_planned.size();
            const double cut = best_known_ && !fewer_left ? second_cost() : never;
            const auto found = cheapest_days(assignment(fitting), cut, max_priced);
            bound = found.bound;
            if (found.days.empty()) {
                bound_ = std::min(bound_, bound);
                return;
            }
            job = job_of(fitting, found);
        }
        rank(std::move(job), bound, std::move(without_day));
    }
    /// With heaters, and no more days than that: what a day costs is raised by so much that one more is too dear.
    void in_fewer_days(const SleeveList& list, std::size_t days) {
        if (list.size() > max_proven || days == 0) return;
        std::vector<NotPlanned> without_day;
        const auto fitting = that_fit(list, without_day);
        if (fitting.empty() || without_day.size() > result_.not_planned.size()) return;
        const double raised = result_.best.cost;
        auto problem = assignment(fitting);
        for (auto* least : {&problem.quick_bound, &problem.bound})
            *least = [raised, bound = std::move(*least)](const DayKey& key) { return raised + bound(key); };
        problem.cost = [raised, cost = std::move(problem.cost)](const DayKey& key) {
            const auto day = cost(key);
            return DayCost{raised + day.lower, raised + day.upper};
        };
        const auto found = cheapest_days(problem, raised * static_cast<double>(days) + result_.best.cost, max_priced);
        if (!found.days.empty()) rank(job_of(fitting, found), bound_, std::move(without_day));
    }
    /// Jobs of another number of sleeves are offered too when they cost little more, and the runner-up is told.
    double second_cost() const { return result_.best.cost * 1.15; }

    ChosenJob job_of(const SleeveList& list, const Assignment& found) {
        const auto runs = runs_of(list);
        ChosenJob job;
        for (const DayKey& key : found.days) {
            const auto task = day_of(list, runs, key);
            const auto choice = book_->heated(task);
            job.days.push_back(chosen_day(task, choice));
            job.cost += choice.cost;
        }
        return job;
    }
    static ChosenDay chosen_day(const DayTask& task, const DayChoice& choice) {
        ChosenDay day;
        for (std::size_t i = 0; i < task.sleeves.size(); ++i) {
            const auto& option = task.sleeves[i]->options[static_cast<std::size_t>(choice.options[i])];
            day.picks.push_back(option.pick);
            day.patches.push_back(option.patch);
            day.overnight.push_back(task.sleeves[i]->overnight);
        }
        for (const Sleeve* sleeve : task.lying) day.lying.push_back(sleeve->options.front().patch);
        day.prepared = task.prepared;
        day.extra_persons = choice.extra_persons;
        day.heater = choice.heater;
        return day;
    }

    /// Fewest sleeves left without a day first, then the cost.
    void rank(ChosenJob job, double bound, std::vector<NotPlanned> without_day) {
        const auto left = without_day.size();
        const auto left_best = result_.not_planned.size();
        if (best_known_ && left > left_best) return;
        if (best_known_ && left < left_best) {
            by_count_.clear();
            result_.second.reset();
            bound_ = never;
        }
        bound_ = std::min(bound_, bound);
        const auto count = job.sleeves();
        const auto [place, fresh] = by_count_.emplace(count, job);
        if (!fresh && job.cost < place->second.cost) place->second = job;
        const bool tie = best_known_ && left == left_best && job.cost == result_.best.cost;
        const bool better =
            !best_known_ || left < left_best || job.cost < result_.best.cost || (tie && safer(job, result_.best));
        if (better) {
            if (best_known_ && left == left_best) result_.second = std::move(result_.best);
            result_.best = std::move(job);
            result_.not_planned = std::move(without_day);
        } else if (!result_.second || job.cost < result_.second->cost) {
            result_.second = std::move(job);
        }
        best_known_ = true;
    }

    /// How many runs side by side come cheapest, by the sleeves of the first few runs: one after the other where both
    /// mouths are open, several where only one sleeve of a run can cure at a time.
    SleeveList large_order(const SleeveList& list) {
        constexpr std::size_t enough = 24, max_at_once = 4;
        const auto runs = runs_of(list);
        SleeveList first;
        for (std::size_t r = 0; r < runs.size() && (first.empty() || first.size() < enough); ++r)
            std::copy_if(list.begin(), list.end(), std::back_inserter(first),
                         [&](const Sleeve* sleeve) { return sleeve->run == runs[r]; });
        std::size_t best = 1;
        double cost = in_windows(side_by_side(first, 1)).cost;
        for (std::size_t at_once = 2; at_once <= max_at_once; ++at_once) {
            const auto order = side_by_side(first, at_once);
            if (order == side_by_side(first, best)) continue;
            const double other = in_windows(order).cost;
            if (other < cost) {
                cost = other;
                best = at_once;
            }
        }
        return side_by_side(list, best);
    }
    void consider_large(const SleeveList& list) {
        std::vector<NotPlanned> without_day;
        const auto fitting = that_fit(list, without_day);
        result_.compared = 1;
        auto job = fitting.empty() ? ChosenJob{} : in_windows(large_order(fitting));
        rank(std::move(job), least_cost(context_, cost_, least_work(list)), std::move(without_day));
    }
    /// A few sleeves at a time, in the order given; the last day of each few is opened again with the next.
    ChosenJob in_windows(const SleeveList& fitting) {
        ChosenJob job;
        std::set<int> worked;
        SleeveList open;
        for (std::size_t next = 0; next < fitting.size() || !open.empty();) {
            while (open.size() < window && next < fitting.size()) open.push_back(fitting[next++]);
            auto problem = assignment(open);
            problem.enough = [this, until = book_->spent() + nodes_a_window] { return book_->spent() > until; };
            const auto found = cheapest_days(problem, never, max_priced);
            if (found.days.empty()) break;
            const bool last = next == fitting.size();
            const auto runs = runs_of(open);
            SleeveSet done = 0;
            for (std::size_t d = 0; d < found.days.size() && (last || d + 1 < found.days.size() || d == 0); ++d) {
                auto task = day_of(open, runs, found.days[d]);
                for (const Sleeve* sleeve : task.sleeves) {
                    if (worked.count(sleeve->run) != 0) task.prepared.push_back(sleeve->run);
                }
                std::sort(task.prepared.begin(), task.prepared.end());
                task.prepared.erase(std::unique(task.prepared.begin(), task.prepared.end()), task.prepared.end());
                const auto choice = book_->heated(task);
                job.days.push_back(chosen_day(task, choice));
                job.cost += choice.cost;
                done |= found.days[d].sleeves;
            }
            SleeveList rest;
            for (std::size_t i = 0; i < open.size(); ++i) {
                if (!bit(done, i))
                    rest.push_back(open[i]);
                else
                    worked.insert(open[i]->run);
            }
            open = std::move(rest);
        }
        return job;
    }
    PlanContext& context_;
    const std::vector<RunPlan>& runs_;
    JobCost cost_;
    Sleeves sleeves_;
    DayBook plain_, heated_;  ///< without and with heaters in the search
    DayBook* book_ = &plain_;
    SearchResult result_;
    bool best_known_ = false;
    double bound_ = never;
    std::map<std::size_t, ChosenJob> by_count_;
};

}  // namespace

SearchResult best_job(PlanContext& context, const std::vector<RunPlan>& runs, Spaces& spaces) {
    return JobSearch{context, runs, spaces}.search();
}

}  // namespace patchwright::plan
