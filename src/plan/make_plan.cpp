#include <algorithm>
#include <memory>
#include <utility>

#include <fmt/format.h>

#include "conditions.hpp"
#include "finish.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/threads.hpp"
#include "run_plan.hpp"
#include "whole_jobs.hpp"

namespace patchwright::plan {
namespace {

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
                context.cures().model(resins[i]);
            } catch (const InputError&) {
            }
        } else {
            const std::size_t r = i - resins.size();
            runs[r] = plan_run(context, r, *spaces[r]);
        }
    });
}

Plan plan_once(const job::Job& job, const job::Yard& yard, const Options& options,
               const std::shared_ptr<KnownCures>& known) {
    PlanContext context{job, yard, options, known};
    Plan plan;
    plan.job = std::make_shared<job::Job>(job);
    plan.yard = std::make_shared<job::Yard>(yard);
    Spaces spaces;
    for (std::size_t r = 0; r < job.runs.size(); ++r)
        spaces.push_back(std::make_unique<RunWorkspace>(context, static_cast<int>(r)));
    plan_runs(context, spaces, plan.runs);
    CureTables tables{context};
    auto waiting = without_design(context, plan.runs);
    Whole whole = best_whole(context, plan, spaces);
    for (auto& left : waiting) {
        left.patch.id =
            fmt::format("{}-if{}", job.runs[static_cast<std::size_t>(left.patch.run)].id, plan.not_planned.size() + 1);
        plan.not_planned.push_back(std::move(left));
    }
    finish(context, std::move(whole), tables, plan);
    return plan;
}

}  // namespace

const job::Resin& Plan::resin_of(const Patch& patch) const {
    return yard->resins[static_cast<std::size_t>(patch.resin)];
}
const job::Resin& Plan::resin_of(const Batch& batch) const {
    return yard->resins[static_cast<std::size_t>(batch.resin)];
}

Plan make_plan(const job::Job& job, const job::Yard& yard, const Options& options,
               const std::shared_ptr<KnownCures>& known) {
    Plan plan = plan_once(job, yard, options, known);
    const auto other_yards = [](const job::Job& j, const job::Yard& y, const Options& o) {
        return plan_once(j, y, o, nullptr);
    };
    price_conditions(job, yard, options, other_yards, plan);
    return plan;
}

Plan make_plan(const job::Job& job, const job::Yard& yard, const Options& options) {
    return make_plan(job, yard, options, nullptr);
}

}  // namespace patchwright::plan
