#include "run_plan.hpp"

namespace patchwright::plan {

RunPlan plan_run(PlanContext& context, std::size_t r, RunWorkspace& space) {
    const auto& job = context.job;
    const auto& limits = context.yard.limits;
    RunPlan run;
    run.id = job.runs[r].id;
    run.verdicts = verdicts_of(job.runs[r], limits, job.units);
    std::vector<survey::Assessment> assessments;
    for (const auto& verdict : run.verdicts) assessments.push_back(verdict.assessment);
    run.remarks = survey::run_remarks(job.runs[r], assessments, limits, job.units);
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

}  // namespace patchwright::plan
