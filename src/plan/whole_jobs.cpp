#include "whole_jobs.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "finish.hpp"

namespace patchwright::plan {
namespace {

/// Another number of sleeves is worth a line on the offer up to so much over the best.
constexpr Share worth_offering = Share::millionths(150'000);

Money net_of(PlanContext& context, const ChosenJob& job) { return patch_net(context, works_of(context, job)); }

PatchList patches_of(const ChosenJob& job) {
    PatchList list;
    for (const auto& day : job.days) list.insert(list.end(), day.patches.begin(), day.patches.end());
    std::sort(list.begin(), list.end(), [](const Patch* a, const Patch* b) {
        return std::pair{a->run, a->start} < std::pair{b->run, b->start};
    });
    return list;
}

/// Where the chosen candidates stand in the runs' lists; one that only the whole job asked for is added to its list.
void note_chosen(std::vector<RunPlan>& runs, const ChosenJob& job) {
    std::vector<Pick> picks;
    for (const auto& day : job.days) picks.insert(picks.end(), day.picks.begin(), day.picks.end());
    std::sort(picks.begin(), picks.end(), [](const Pick& a, const Pick& b) {
        return std::pair{a.run, a.candidate.start} < std::pair{b.run, b.candidate.start};
    });
    for (const auto& pick : picks) {
        auto& run = runs[static_cast<std::size_t>(pick.run)];
        auto& list = run.solution.candidates;
        const auto& c = pick.candidate;
        auto place = std::find_if(list.begin(), list.end(), [&](const layout::Candidate& other) {
            return other.start == c.start && other.end == c.end && other.carrier == c.carrier && other.cost == c.cost;
        });
        if (place == list.end()) place = list.insert(list.end(), c);
        run.chosen.push_back(static_cast<int>(place - list.begin()));
    }
}

/// The sum of the patches' marginal costs, and whether no other set of candidates has a smaller one.
void note_layout(const PlanContext& context, const std::vector<RunPlan>& runs, const ChosenJob& job,
                 LayoutSummary& summary) {
    layout::Cost sum = 0, least = 0;
    bool proven = job.sleeves() > 0;
    for (const auto& day : job.days) {
        for (const auto& pick : day.picks) sum += pick.candidate.cost;
    }
    for (const auto& run : runs) {
        if (run.problem.targets.empty()) continue;
        proven = proven && run.solution.proven_optimal;
        if (!run.solution.best.empty()) least += run.solution.best.front().cost;
    }
    summary.cost = Money::cents(sum, context.yard.rates.currency);
    summary.proven_optimal = proven && sum == least;
}

void note_others(PlanContext& context, const SearchResult& found, Money net, LayoutSummary& summary) {
    for (const ChosenJob& job : found.by_count) {
        if (job.sleeves() == found.best.sleeves() || job.sleeves() == 0) continue;
        OtherWay way;
        way.patches = job.sleeves();
        way.days = static_cast<int>(job.days.size());
        for (const Patch* p : patches_of(job)) way.longest = std::max(way.longest, p->length());
        way.more = net_of(context, job) - net;
        if (way.more <= share_of(net, worth_offering)) summary.others.push_back(way);
    }
    if (!found.second) return;
    summary.second_more = net_of(context, *found.second) - net;
    summary.second_best = net + summary.second_more;
    summary.difference = fmt::format("Best of {} whole jobs. The next best costs {}: {}.", found.compared,
                                     summary.second_more.is_zero() ? "the same" : format(summary.second_more) + " more",
                                     spans_text(context, patches_of(*found.second)));
}

void note_not_planned(const PlanContext& context, const SearchResult& found, Plan& plan) {
    for (const auto& left : found.not_planned) {
        auto& unplanned = plan.not_planned.emplace_back();
        unplanned.patch = *left.patch;
        const auto& run = context.job.runs[static_cast<std::size_t>(left.patch->run)];
        unplanned.patch.id = fmt::format("{}-if{}", run.id, plan.not_planned.size());
        unplanned.minutes = left.short_by;
        auto& planned = plan.runs[static_cast<std::size_t>(left.patch->run)];
        planned.no_day = true;
        for (const int defect : left.patch->defects) planned.waiting.push_back(defect);
    }
}

/// What this job leaves room for and the search tries without proof.
std::vector<std::string> tried_only(const PlanContext& context, const ChosenJob& job) {
    std::vector<std::string> list;
    if (!context.yard.heaters.empty()) list.emplace_back("heaters");
    if (job.sleeves() > 1 && context.yard.limits.air_lines > 1) list.emplace_back("shared mixes");
    if (job.days.size() > 1 && context.job.runs.size() > 1) list.emplace_back("runs prepared ahead");
    return list;
}

}  // namespace

Whole best_whole(PlanContext& context, Plan& plan, Spaces& spaces) {
    const auto found = best_job(context, plan.runs, spaces);
    note_layout(context, plan.runs, found.best, plan.layout);
    plan.layout.repriced = plan.whole.compared = found.compared;
    plan.whole.proven_optimal = found.proven && found.best.sleeves() > 0;
    plan.whole.tried_only = tried_only(context, found.best);
    plan.whole.bound_share = found.best.cost > 0.0 ? found.bound / found.best.cost : 1.0;
    if (context.options.price && found.best.sleeves() > 0)
        note_others(context, found, net_of(context, found.best), plan.layout);
    note_not_planned(context, found, plan);
    note_chosen(plan.runs, found.best);
    return compose(context, found.best);
}

}  // namespace patchwright::plan
