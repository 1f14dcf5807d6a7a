// A patch on another packer than the planned one.
#include "patchwright/plan/again.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "picks.hpp"

namespace patchwright::plan {
namespace {

layout::Centimetre centimetres(Length l) { return static_cast<layout::Centimetre>(std::lround(l.in(unit::cm))); }

/// The run's rules with the patch's own targets alone: what else there is to cover is another patch's.
layout::Problem with_targets(layout::Problem problem, int first, int last) {
    problem.targets = {problem.targets.begin() + first, problem.targets.begin() + last + 1};
    return problem;
}

}  // namespace

Redesign design_again(const job::Job& job, const job::Yard& left, const Patch& planned) {
    Options options;
    options.working = false;
    PlanContext context{job, left, options};
    const auto& job_run = job.runs[static_cast<std::size_t>(planned.run)];
    RunWorkspace space{context, planned.run};
    RunPlan run;
    run.id = job_run.id;
    run.verdicts = verdicts_of(job_run, left.limits, job.units);
    space.rules = run_rules(context, space.designer, run.verdicts);
    run.problem = space.rules.problem;
    run.target_defects = space.rules.target_defects;

    layout::Candidate place{centimetres(planned.start), centimetres(planned.end), 0, -1, -1, 0};
    for (std::size_t t = 0; t < run.target_defects.size(); ++t) {
        if (std::find(planned.defects.begin(), planned.defects.end(), run.target_defects[t]) == planned.defects.end())
            continue;
        if (place.first_target < 0) place.first_target = static_cast<int>(t);
        place.last_target = static_cast<int>(t);
    }
    const auto none = [&] {
        return Redesign{std::nullopt, fmt::format("no other packer of the yard serves {}", planned.id)};
    };
    if (place.first_target < 0) return none();
    const auto alone = with_targets(run.problem, place.first_target, place.last_target);

    std::optional<Pick> best;
    for (place.carrier = 0; place.carrier < static_cast<int>(run.problem.carriers.size()); ++place.carrier) {
        layout::Candidate own = place;
        own.first_target = 0;
        own.last_target = place.last_target - place.first_target;
        if (!layout::violations(alone, {&own, 1}).empty()) continue;
        const auto price = price_at(context, run, space, place, {planned.resin});
        if (!price || (best && best->candidate.cost <= *price)) continue;
        best = Pick{planned.run, place, 0, {planned.resin}};
        best->candidate.cost = *price;
    }
    if (!best) return none();
    Redesign found{placed(context, run, space, *best), {}};
    best->way = 1;
    const Patch& other_way = placed(context, run, space, *best);
    if (found.patch->rigging.from != planned.rigging.from && other_way.rigging.from == planned.rigging.from)
        found.patch = other_way;
    found.patch->id = planned.id;
    return found;
}

}  // namespace patchwright::plan
