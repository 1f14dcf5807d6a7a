#include <utility>

#include "finish.hpp"
#include "patchwright/plan/plan.hpp"
#include "whole_jobs.hpp"

namespace patchwright::plan {
namespace {

std::vector<Verdict> verdicts_of(const job::Run& run, const job::Limits& limits, UnitSystem units) {
    std::vector<Verdict> verdicts;
    for (const auto& defect : run.defects) verdicts.push_back({defect.id, survey::judge(run, defect, limits, units)});
    return verdicts;
}

}  // namespace

Plan make_plan(const job::Job& job, const job::Yard& yard, const Options& options) {
    Setting setting{job, yard, options};
    Plan plan;
    Spaces spaces;
    for (std::size_t r = 0; r < job.runs.size(); ++r) {
        auto& space = *spaces.emplace_back(std::make_unique<RunWorkspace>(setting, static_cast<int>(r)));
        RunPlan run;
        run.id = job.runs[r].id;
        run.verdicts = verdicts_of(job.runs[r], yard.limits, job.units);
        std::vector<survey::Judgement> judgements;
        for (const auto& verdict : run.verdicts) judgements.push_back(verdict.judgement);
        run.remarks = survey::run_remarks(job.runs[r], judgements, yard.limits, job.units);
        space.rules = run_rules(setting, space.designer, run.verdicts);
        run.remarks.insert(run.remarks.end(), space.rules.remarks.begin(), space.rules.remarks.end());
        run.problem = space.rules.problem;
        run.target_defects = space.rules.target_defects;
        for (const int option : space.rules.carrier_option) {
            run.carrier_packers.push_back(setting.packers[static_cast<std::size_t>(option)].packer.id);
        }
        layout::Options search;
        search.k_best = options.k_best;
        // A longer sleeve takes more of everything and fits less often; the search checks it as it goes.
        search.law = layout::PriceLaw::rising;
        if (!run.problem.targets.empty())
            run.solution = layout::solve(run.problem, pricer(setting, run, space), search);
        run.unanswered = obstacle_words(setting, space.designer, space.rules, run.solution.obstacles);
        plan.runs.push_back(std::move(run));
    }
    finish(setting, best_whole(setting, plan, spaces), plan);
    return plan;
}

}  // namespace patchwright::plan
