#include "conditions.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "remedies.hpp"
#include "run_plan.hpp"

namespace patchwright::plan {
namespace {

using schedule::Minute;

constexpr Minute midnight = 24 * 60;
/// Each is a few whole plans of its own; of a job with more of them the others are told without a price.
constexpr std::size_t max_conditions_priced = 8;

/// Places, in the run, of its defects that no sleeve covers because no design held.
std::vector<int> no_design(const RunPlan& run) {
    std::vector<int> list;
    for (const auto& obstacle : run.solution.obstacles) {
        const bool design = !obstacle.rules.empty() && obstacle.rules.front() == layout::Rule::price;
        if (design) list.push_back(run.target_defects[static_cast<std::size_t>(obstacle.target)]);
    }
    return list;
}

/// One run of the job with some of its defects, planned with one thing changed.
class Changed {
public:
    Changed(const PlanContext& context, int run, const std::vector<int>& defects, const Remedy& remedy)
        : job_{context.job}, yard_{context.yard}, options_{context.options}, run_{run}, defects_{defects} {
        apply(remedy, job_, yard_);
        auto& list = job_.runs[static_cast<std::size_t>(run)].defects;
        std::vector<job::Defect> kept;
        for (const int d : defects) kept.push_back(list[static_cast<std::size_t>(d)]);
        list = std::move(kept);
        options_.working = false;
        context_.emplace(job_, yard_, options_);
        space_.emplace(*context_, run);
        plan_ = plan_run(*context_, static_cast<std::size_t>(run), *space_);
    }

    /// The patches of the cheapest layout, their defects by their places in the run as it is.
    std::vector<Patch> patches() {
        std::vector<Patch> list;
        if (plan_.solution.best.empty()) return list;
        for (const int c : plan_.solution.best.front().chosen) {
            const Pick pick{run_, plan_.solution.candidates[static_cast<std::size_t>(c)], 0, {}};
            list.push_back(placed(*context_, plan_, *space_, pick));
            for (int& d : list.back().defects) d = defects_[static_cast<std::size_t>(d)];
        }
        return list;
    }

private:
    job::Job job_;
    job::Yard yard_;
    Options options_;
    int run_;
    std::vector<int> defects_;
    std::optional<PlanContext> context_;
    std::optional<RunWorkspace> space_;
    RunPlan plan_;
};

std::size_t defects_in(const std::vector<Patch>& patches) {
    std::size_t count = 0;
    for (const auto& patch : patches) count += patch.defects.size();
    return count;
}

}  // namespace

std::vector<UnplannedPatch> without_design(const PlanContext& context, std::vector<RunPlan>& runs) {
    std::vector<UnplannedPatch> list;
    for (int r = 0; r < static_cast<int>(runs.size()); ++r) {
        auto& run = runs[static_cast<std::size_t>(r)];
        const auto open = no_design(run);
        if (open.empty()) continue;
        std::vector<Patch> best;
        std::optional<Remedy> by;
        for (const auto& remedy : remedies_of_resin(context.job, context.yard, r)) {
            auto patches = Changed{context, r, open, remedy}.patches();
            if (defects_in(patches) <= defects_in(best)) continue;
            best = std::move(patches);
            by = remedy;
            if (defects_in(best) == open.size()) break;
        }
        for (auto& patch : best) {
            run.waiting.insert(run.waiting.end(), patch.defects.begin(), patch.defects.end());
            list.push_back({std::move(patch), 0, {}, {}, by});
        }
    }
    return list;
}

namespace {

std::string defects_text(const job::Run& run, const std::vector<int>& defects) {
    std::vector<std::string_view> ids;
    for (const int d : defects) ids.push_back(run.defects[static_cast<std::size_t>(d)].id);
    return fmt::format("{}", fmt::join(ids, ", "));
}

std::string longer_day_text(const job::Site& site, Minute short_by) {
    const Minute earlier = site.start.minutes - short_by, later = site.finish.minutes + short_by;
    std::vector<std::string> ways;
    if (earlier >= 0) ways.push_back("leave the yard at " + format(ClockTime{earlier}));
    if (later < midnight) ways.push_back("be back at " + format(ClockTime{later}));
    if (ways.empty())
        return fmt::format("no day is long enough for it: it takes {} min from yard to yard",
                           site.finish.minutes - site.start.minutes + short_by);
    return fmt::format("the day is {} min too short for it: {}", short_by, fmt::join(ways, ", or "));
}

/// A remedy's change as `whatif --try` takes it: its first key is of one file only, its texts are quantities.
std::string typed(const job::Change& change) {
    std::string text;
    for (const auto& key : change.path) {
        const bool plain = !key.empty() && key.find_first_of(".=:\"\\") == std::string::npos;
        text += (text.empty() ? "" : ".") + (plain ? key : job::set_text(change.file, {}, key).value);
    }
    std::string_view value = change.value;
    if (value.starts_with('"')) value = value.substr(1, value.size() - 2);
    return fmt::format("{}={}", text, value);
}

std::string changes_text(const Remedy& remedy) {
    std::vector<std::string> list;
    for (const auto& change : remedy.changes) list.push_back(typed(change));
    return fmt::format("{}", fmt::join(list, ", "));
}

/// The job planned anew with what would make room for its patches.
class Conditions {
public:
    Conditions(const job::Job& job, const job::Yard& yard, const Options& options, const Planner& planner,
               const Plan& plan)
        : job_{job}, yard_{yard}, options_{options}, planner_{planner}, plan_{plan} {}

    void price(UnplannedPatch& left) {
        if (left.minutes > 0) {
            if (job_.site.finish.minutes + left.minutes < midnight) left.extra_net = longer_day(left.minutes);
            for (auto& remedy : remedies_of_day(job_, yard_, left.patch.run, left.minutes)) keep_cheaper(left, remedy);
        } else if (left.otherwise) {
            auto remedy = *std::exchange(left.otherwise, {});
            keep_cheaper(left, remedy);
            if (left.otherwise) left.extra_net = left.otherwise->extra_net;
        }
    }

private:
    Money more(const Plan& changed) const { return changed.offer.patch.net - plan_.offer.patch.net; }
    Money longer_day(Minute minutes) {
        auto known = longer_.find(minutes);
        if (known == longer_.end()) {
            job::Job longer = job_;
            longer.site.finish = ClockTime{job_.site.finish.minutes + minutes};
            known = longer_.emplace(minutes, more(planner_(longer, yard_, options_))).first;
        }
        return known->second;
    }
    /// Takes the remedy if the patch is then planned, with all that is planned as it is, and none that was cheaper did.
    void keep_cheaper(UnplannedPatch& left, Remedy& remedy) {
        auto known = tried_.find(changes_text(remedy));
        if (known == tried_.end()) {
            job::Job job = job_;
            job::Yard yard = yard_;
            apply(remedy, job, yard);
            known = tried_.emplace(changes_text(remedy), planner_(job, yard, options_)).first;
        }
        const Plan& then = known->second;
        if (waiting(then) >= waiting(plan_) || !mends(then, left.patch)) return;
        remedy.extra_net = more(then);
        if (!left.otherwise || *remedy.extra_net < *left.otherwise->extra_net) left.otherwise = remedy;
    }
    static std::size_t waiting(const Plan& plan) {
        std::size_t count = 0;
        for (const auto& run : plan.runs) count += run.waiting.size();
        return count;
    }
    static bool mends(const Plan& plan, const Patch& patch) {
        return std::all_of(patch.defects.begin(), patch.defects.end(), [&](int defect) {
            return std::any_of(plan.patches.begin(), plan.patches.end(), [&](const Patch& p) {
                return p.run == patch.run && std::find(p.defects.begin(), p.defects.end(), defect) != p.defects.end();
            });
        });
    }

    const job::Job& job_;
    const job::Yard& yard_;
    const Options& options_;
    const Planner& planner_;
    const Plan& plan_;
    std::map<Minute, Money> longer_;
    std::map<std::string, Plan> tried_;
};

std::string otherwise_text(const UnplannedPatch& left) {
    if (!left.otherwise || left.minutes == 0) return {};
    return fmt::format(" Or: {} ({}){}.", left.otherwise->words, changes_text(*left.otherwise),
                       left.otherwise->extra_net ? ", " + format(*left.otherwise->extra_net) + " net" : "");
}

}  // namespace

void price_conditions(const job::Job& job, const job::Yard& yard, Options options, const Planner& planner, Plan& plan) {
    const bool prices = options.price && options.conditions;
    options.trials = 0;
    options.tables = options.working = false;
    Conditions conditions{job, yard, options, planner, plan};
    std::size_t priced = 0;
    for (auto& left : plan.not_planned) {
        const auto& run = job.runs[static_cast<std::size_t>(left.patch.run)];
        const auto first = left.otherwise;
        if (prices && priced++ < max_conditions_priced) conditions.price(left);
        if (left.minutes > 0)
            left.condition = longer_day_text(job.site, left.minutes);
        else if (left.otherwise)
            left.condition = fmt::format("as it is no resin holds; it takes {} ({})", left.otherwise->words,
                                         changes_text(*left.otherwise));
        else
            left.condition = fmt::format("as it is no resin holds; with {} ({}) one does, but no day holds it",
                                         first->words, changes_text(*first));
        plan.warnings.push_back(fmt::format("Not planned: the patch for {} in run {}: {}.{}{}",
                                            defects_text(run, left.patch.defects), run.id, left.condition,
                                            left.extra_net ? " It adds " + format(*left.extra_net) + " net." : "",
                                            otherwise_text(left)));
    }
}

}  // namespace patchwright::plan
