#include "work.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include <fmt/format.h>

#include "patchwright/packer/packer.hpp"

namespace patchwright::plan {

using schedule::Minute;

Minute minutes_up(Duration d) { return static_cast<Minute>(std::ceil(d.in(unit::minute)-1e-9)); }
Minute minutes_down(Duration d) { return static_cast<Minute>(std::floor(d.in(unit::minute) + 1e-9)); }

const std::string& packer_kind(const PlanContext& context, const packer::Option& option) {
    return option.to_build ? context.yard.chassis[static_cast<std::size_t>(option.chassis)].id : option.packer.id;
}
int packer_count(const PlanContext& context, const packer::Option& option) {
    return option.to_build ? context.yard.chassis[static_cast<std::size_t>(option.chassis)].count : option.packer.count;
}

namespace {

/// Does the way of `p` to its place lead past `q` on the same run?
bool passes(const PlanContext& context, const Patch& p, const Patch& q) {
    if (p.run != q.run) return false;
    const bool from_far_end = p.rigging.from == context.job.runs[static_cast<std::size_t>(p.run)].to;
    return from_far_end ? q.start >= p.end : q.end <= p.start;
}

}  // namespace

std::vector<int> waits_for(const PlanContext& context, const PatchList& patches, std::size_t i) {
    const auto& q = *patches[i];
    std::vector<int> after;
    for (std::size_t k = 0; k < patches.size(); ++k) {
        const auto& p = *patches[k];
        if (k == i || p.run != q.run) continue;
        const Length left = q.bore - 2.0 * q.felt.installed;
        const bool blocks =
            passes(context, p, q) && packer::min_bore(p.option.packer, p.felt.installed, context.yard.limits) > left;
        const bool laps_downstream = q.start < p.start && p.start < q.end;
        if (blocks || laps_downstream) after.push_back(static_cast<int>(k));
    }
    return after;
}

void name_mixes(const PlanContext& context, const Mixes& mixes, schedule::DayWork& work) {
    for (std::size_t i = 0; i < mixes.mixes.size(); ++i) {
        const auto& mix = mixes.mixes[i];
        auto& item = work.mixes[i];
        item.pour_by = minutes_down(mix.batch.pour_by);
        for (const int patch : mix.batch.patches) {
            item.id += (item.id.empty() ? "the mix of " : ", ") + work.patches[static_cast<std::size_t>(patch)].id;
        }
        item.worth = fmt::format("{}, {}", format(Show::scale_mass, mix.batch.total, context.job.units),
                                 context.yard.resins[static_cast<std::size_t>(mix.resin)].id);
    }
}

std::vector<FlowPlan> flow_plans(const PlanContext& context, const std::vector<Patch>& patches,
                                 const schedule::Schedule& schedule) {
    std::map<int, Minute> blocked;  // longest on any day, by run of the job
    for (const auto& shut : schedule.blocked) {
        const auto run = static_cast<int>(job::index(shut.run));
        for (std::size_t i = 0; i < patches.size(); ++i) {
            const bool there = patches[i].run == run && schedule.patches[i].day == shut.day;
            if (!there || patches[i].option.packer.flow_through) continue;
            auto& most = blocked[run];
            most = std::max(most, shut.to - shut.from);
        }
    }
    std::vector<FlowPlan> flows;
    for (const auto& [run, minutes] : blocked) {
        FlowPlan plan;
        plan.run = run;
        plan.blocked = static_cast<double>(minutes) * unit::minute;
        if (const auto& flow = context.job.runs[static_cast<std::size_t>(run)].flow) {
            plan.known = true;
            plan.working = context.working();
            plan.verdict = schedule::flow_while_blocked(flow->inflow, flow->storage, plan.blocked, plan.working);
        }
        flows.push_back(std::move(plan));
    }
    return flows;
}

}  // namespace patchwright::plan
