#include <algorithm>
#include <memory>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "finish.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/threads.hpp"
#include "whole_jobs.hpp"

namespace patchwright::plan {
namespace {

/// Which defects of one run a patch mends, and the cheapest places for the patches.
RunPlan plan_run(PlanContext& context, std::size_t r, RunWorkspace& space) {
    const auto& job = context.job;
    const auto& limits = context.yard.limits;
    RunPlan run;
    run.id = job.runs[r].id;
    run.verdicts = verdicts_of(job.runs[r], limits, job.units);
    std::vector<survey::Assessment> judgements;
    for (const auto& verdict : run.verdicts) judgements.push_back(verdict.judgement);
    run.remarks = survey::run_remarks(job.runs[r], judgements, limits, job.units);
    space.rules = run_rules(context, space.designer, run.verdicts);
    run.remarks.insert(run.remarks.end(), space.rules.remarks.begin(), space.rules.remarks.end());
    run.problem = space.rules.problem;
    run.target_defects = space.rules.target_defects;
    for (const int option : space.rules.carrier_option) {
        run.carrier_packers.push_back(context.packers[static_cast<std::size_t>(option)].packer.id);
    }
    layout::Options search;
    search.k_best = context.options.k_best;
    // A longer sleeve takes more of everything and fits less often; the search checks it as it goes.
    search.monotonicity = layout::PriceMonotonicity::rising;
    if (!run.problem.targets.empty()) run.solution = layout::solve(run.problem, pricer(context, run, space), search);
    run.unanswered = obstacle_words(context, space.designer, space.rules, run.solution.obstacles);
    return run;
}

/// Whether some run may ask how that resin cures.
bool may_be_asked(const job::Job& job, const job::Resin& resin) {
    return std::any_of(job.runs.begin(), job.runs.end(), [&](const job::Run& run) {
        return (!run.resin || *run.resin == resin.id) && *run.ground_temperature >= resin.application_min &&
               *run.ground_temperature <= resin.application_max;
    });
}

/// All runs, side by side. With threads to spare the cure models are fitted first, one beside the other, so that no run
/// waits for another's; one whose data no resin can have is left until it is asked for and can say so.
void plan_runs(PlanContext& context, Spaces& spaces, std::vector<RunPlan>& runs) {
    std::vector<int> resins;
    for (std::size_t i = 0; i < context.yard.resins.size() && context.options.threads > 1; ++i) {
        if (may_be_asked(context.job, context.yard.resins[i])) resins.push_back(static_cast<int>(i));
    }
    runs.resize(context.job.runs.size());
    in_parallel(context.options.threads, resins.size() + runs.size(), [&](std::size_t i) {
        if (i < resins.size()) {
            try {
                context.model(resins[i]);
            } catch (const InputError&) {
            }
        } else {
            const std::size_t r = i - resins.size();
            runs[r] = plan_run(context, r, *spaces[r]);
        }
    });
}

Plan plan_once(const job::Job& job, const job::Yard& yard, const Options& options) {
    PlanContext context{job, yard, options};
    Plan plan;
    plan.job = std::make_shared<job::Job>(job);
    plan.yard = std::make_shared<job::Yard>(yard);
    Spaces spaces;
    for (std::size_t r = 0; r < job.runs.size(); ++r)
        spaces.push_back(std::make_unique<RunWorkspace>(context, static_cast<int>(r)));
    plan_runs(context, spaces, plan.runs);
    CureTables tables{context};
    finish(context, best_whole(context, plan, spaces), tables, plan);
    return plan;
}

constexpr schedule::Minute midnight = 24 * 60;
/// Each is a whole plan of its own; of a job with more of them the others are told without a price.
constexpr std::size_t max_conditions_priced = 8;

std::string defects_text(const job::Run& run, const std::vector<int>& defects) {
    std::vector<std::string_view> ids;
    for (const int d : defects) ids.push_back(run.defects[static_cast<std::size_t>(d)].id);
    return fmt::format("{}", fmt::join(ids, ", "));
}

std::string condition_text(const job::Site& site, schedule::Minute short_by) {
    const schedule::Minute earlier = site.start.minutes - short_by, later = site.finish.minutes + short_by;
    std::vector<std::string> ways;
    if (earlier >= 0) ways.push_back("leave the yard at " + format(ClockTime{earlier}));
    if (later < midnight) ways.push_back("be back at " + format(ClockTime{later}));
    if (ways.empty())
        return fmt::format("no day is long enough for it: it takes {} min from yard to yard",
                           site.finish.minutes - site.start.minutes + short_by);
    return fmt::format("the day is {} min too short for it: {}", short_by, fmt::join(ways, ", or "));
}

/// What it takes to hold a patch that no day holds: the job planned anew with a day that is so much longer.
void price_conditions(const job::Job& job, const job::Yard& yard, Options options, Plan& plan) {
    options.trials = 0;
    options.tables = options.working = false;
    std::size_t priced = 0;
    for (auto& left : plan.not_planned) {
        left.condition = condition_text(job.site, left.minutes);
        const schedule::Minute finish = job.site.finish.minutes + left.minutes;
        if (options.price && finish < midnight && priced < max_conditions_priced) {
            ++priced;
            job::Job longer = job;
            longer.site.finish = ClockTime{finish};
            left.extra_net = plan_once(longer, yard, options).offer.patch.net - plan.offer.patch.net;
        }
        const auto& run = job.runs[static_cast<std::size_t>(left.patch.run)];
        plan.warnings.push_back(fmt::format("Not planned: the patch for {} in run {}: {}.{}",
                                            defects_text(run, left.patch.defects), run.id, left.condition,
                                            left.extra_net ? " It adds " + format(*left.extra_net) + " net." : ""));
    }
}

}  // namespace

const job::Resin& Plan::resin_of(const Patch& patch) const {
    return yard->resins[static_cast<std::size_t>(patch.resin)];
}
const job::Resin& Plan::resin_of(const Batch& batch) const {
    return yard->resins[static_cast<std::size_t>(batch.resin)];
}

Plan make_plan(const job::Job& job, const job::Yard& yard, const Options& options) {
    Plan plan = plan_once(job, yard, options);
    price_conditions(job, yard, options, plan);
    return plan;
}

}  // namespace patchwright::plan
