#include "run_plan.hpp"

namespace patchwright::plan {

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
    search.monotonicity = layout::PriceMonotonicity::rising;
    if (!run.problem.targets.empty()) run.solution = layout::solve(run.problem, pricer(setting, run, space), search);
    run.unanswered = obstacle_words(setting, space.designer, space.rules, run.solution.obstacles);
    return run;
}

}  // namespace patchwright::plan
