#include <algorithm>
#include <memory>
#include <utility>

#include "finish.hpp"
#include "in_parallel.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"
#include "whole_jobs.hpp"

namespace patchwright::plan {
namespace {

std::vector<Verdict> verdicts_of(const job::Run& run, const job::Limits& limits, UnitSystem units) {
    std::vector<Verdict> verdicts;
    for (const auto& defect : run.defects) verdicts.push_back({defect.id, survey::judge(run, defect, limits, units)});
    return verdicts;
}

/// Which defects of one run a patch mends, and the cheapest places for the patches.
RunPlan plan_run(Setting& setting, std::size_t r, RunWorkspace& space) {
    const auto& job = setting.job;
    const auto& limits = setting.yard.limits;
    RunPlan run;
    run.id = job.runs[r].id;
    run.verdicts = verdicts_of(job.runs[r], limits, job.units);
    std::vector<survey::Judgement> judgements;
    for (const auto& verdict : run.verdicts) judgements.push_back(verdict.judgement);
    run.remarks = survey::run_remarks(job.runs[r], judgements, limits, job.units);
    space.rules = run_rules(setting, space.designer, run.verdicts);
    run.remarks.insert(run.remarks.end(), space.rules.remarks.begin(), space.rules.remarks.end());
    run.problem = space.rules.problem;
    run.target_defects = space.rules.target_defects;
    for (const int option : space.rules.carrier_option) {
        run.carrier_packers.push_back(setting.packers[static_cast<std::size_t>(option)].packer.id);
    }
    layout::Options search;
    search.k_best = setting.options.k_best;
    // A longer sleeve takes more of everything and fits less often; the search checks it as it goes.
    search.law = layout::PriceLaw::rising;
    if (!run.problem.targets.empty()) run.solution = layout::solve(run.problem, pricer(setting, run, space), search);
    run.unanswered = obstacle_words(setting, space.designer, space.rules, run.solution.obstacles);
    return run;
}

/// The sleeves that are cheapest in each run by itself: most often the whole job's too.
std::vector<Pick> cheapest_picks(const std::vector<RunPlan>& runs) {
    Combination cheapest;
    for (const auto& run : runs) cheapest.choice.push_back(run.solution.best.empty() ? -1 : 0);
    return picks_of(runs, cheapest);
}

/// The models that some run may ask for are fitted side by side; one whose data no resin can have waits to be asked.
void fit_models(Setting& setting) {
    const auto may_be_used = [&](const job::Resin& resin) {
        return std::any_of(setting.job.runs.begin(), setting.job.runs.end(),
                           [&](const job::Run& run) { return !run.resin || *run.resin == resin.id; });
    };
    in_parallel(setting.options.threads, setting.yard.resins.size(), [&](std::size_t resin) {
        if (!may_be_used(setting.yard.resins[resin])) return;
        try {
            setting.model(static_cast<int>(resin));
        } catch (const InputError&) {
        }
    });
}

}  // namespace

Plan make_plan(const job::Job& job, const job::Yard& yard, const Options& options) {
    Setting setting{job, yard, options};
    Plan plan;
    Spaces spaces;
    for (std::size_t r = 0; r < job.runs.size(); ++r)
        spaces.push_back(std::make_unique<RunWorkspace>(setting, static_cast<int>(r)));
    plan.runs.resize(job.runs.size());
    if (options.threads > 1) fit_models(setting);
    in_parallel(options.threads, job.runs.size(),
                [&](std::size_t r) { plan.runs[r] = plan_run(setting, r, *spaces[r]); });
    CureTables tables{setting};
    tables.expect(setting, patches_of(setting, plan.runs, spaces, cheapest_picks(plan.runs)));
    finish(setting, best_whole(setting, plan, spaces), tables, plan);
    return plan;
}

}  // namespace patchwright::plan
