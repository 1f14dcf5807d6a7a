#include "work.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include <fmt/format.h>

#include "design.hpp"

namespace patchwright::plan {
namespace {

using schedule::Minute;

Minute minutes_up(Duration d) { return static_cast<Minute>(std::ceil(d.in(unit::minute)-1e-9)); }
Minute minutes_down(Duration d) { return static_cast<Minute>(std::floor(d.in(unit::minute) + 1e-9)); }

/// Packers that are interchangeable on the clock: the built ones by id, the ones to build by their end-fitting set.
const std::string& packer_kind(const Setting& setting, const packer::Option& option) {
    return option.to_build ? setting.yard.chassis[static_cast<std::size_t>(option.chassis)].id : option.packer.id;
}
int packer_count(const Setting& setting, const packer::Option& option) {
    return option.to_build ? setting.yard.chassis[static_cast<std::size_t>(option.chassis)].count : option.packer.count;
}

schedule::RunWork run_work(const Setting& setting, const job::Run& run, bool flow_through) {
    const auto& d = setting.yard.durations;
    schedule::RunWork work;
    work.id = run.id;
    work.set_up = minutes_up(d.set_up.likely);
    work.clean = minutes_up(cleaning(d, run));
    work.survey = minutes_up(d.survey.likely);
    work.flow_control = minutes_up(d.flow_control.likely);
    work.dry = minutes_up(d.dry.likely);
    if (run.flow && !flow_through && run.flow->inflow > VolumeFlow{}) {
        work.blocked_at_most = minutes_down(run.flow->storage / run.flow->inflow);
    }
    return work;
}

schedule::PatchWork patch_work(const Setting& setting, const Patch& p) {
    const auto& d = setting.yard.durations;
    const auto& run = setting.job.runs[static_cast<std::size_t>(p.run)];
    schedule::PatchWork work;
    work.id = p.id;
    work.cut = minutes_up(d.cut.likely);
    work.bench_test = minutes_up((p.option.to_build ? d.build.likely : Duration{}) +
                                 std::max(d.bench_test.likely, setting.yard.limits.bench_hold));
    work.wet_out = minutes_up(p.conditions.wet_out);
    work.load = minutes_up(d.load.likely);
    work.position = minutes_up(d.position.likely);
    work.inflate = minutes_up(d.inflate.likely);
    work.crease = minutes_up(std::max(d.crease.likely, setting.yard.limits.crease_step));
    work.let_down = minutes_up(d.let_down.likely);
    work.re_survey = minutes_up(d.re_survey.likely);
    work.reopen = minutes_up(static_cast<double>(p.reopened.size()) * d.reopen.likely);
    work.pour = minutes_up(poured_share * p.conditions.wet_out);
    work.inflate_by = minutes_down(p.cure.sheet.inflate_by);
    work.crease_by = minutes_down(p.cure.sheet.crease_by);
    work.mix_to_let_down = minutes_up(p.cure.sheet.let_down);
    const Length tail = packer::tail(p.option, p.length());
    work.at_start = (p.start - tail).in(unit::m);
    work.at_end = (p.end + tail).in(unit::m);
    work.from_far_end = p.rigging.from == run.to;
    return work;
}

}  // namespace

namespace {

/// Does the way of `p` to its place lead past `q` on the same run?
bool passes(const Setting& setting, const Patch& p, const Patch& q) {
    if (p.run != q.run) return false;
    const bool from_far_end = p.rigging.from == setting.job.runs[static_cast<std::size_t>(p.run)].to;
    return from_far_end ? q.start >= p.end : q.end <= p.start;
}

/// What must be let down before patch `i` is wet out: patches behind the narrower pipe that it leaves, and, where two
/// sleeves lap, the one further down the flow (from the run's `from` to its `to`), so that no ledge faces the water.
std::vector<int> waits_for(const Setting& setting, const PatchList& patches, std::size_t i) {
    const auto& q = *patches[i];
    std::vector<int> after;
    for (std::size_t k = 0; k < patches.size(); ++k) {
        const auto& p = *patches[k];
        if (k == i || p.run != q.run) continue;
        const Length left = q.bore - 2.0 * q.felt.installed;
        const bool blocks =
            passes(setting, p, q) && packer::least_bore(p.option.packer, p.felt.installed, setting.yard.limits) > left;
        const bool laps_downstream = q.start < p.start && p.start < q.end;
        if (blocks || laps_downstream) after.push_back(static_cast<int>(k));
    }
    return after;
}

}  // namespace

schedule::Problem day_work(const Setting& setting, const PatchList& patches, const Mixes& mixes) {
    const auto& site = setting.job.site;
    const auto& limits = setting.yard.limits;
    const auto& d = setting.yard.durations;
    schedule::Problem work;
    work.start = site.start.minutes;
    work.finish = site.finish.minutes;
    work.travel = minutes_up(site.travel.value_or(d.travel.likely));
    work.pack_up = minutes_up(d.pack_up.likely);
    work.crews = limits.crews;
    work.air_lines = limits.air_lines;
    work.watch_cure = !limits.alarm_gauge;
    work.overnight = limits.overnight_cure;
    work.crew_size = setting.yard.rates.crew_size;
    work.patches.reserve(patches.size());
    work.batches.reserve(mixes.mixes.size());
    std::vector<int> runs;  // of the job, by place in the work
    for (const Patch* patch : patches) {
        const Patch& p = *patch;
        auto& item = work.patches.emplace_back(patch_work(setting, p));
        item.run = static_cast<int>(std::find(runs.begin(), runs.end(), p.run) - runs.begin());
        if (static_cast<std::size_t>(item.run) == runs.size()) {
            runs.push_back(p.run);
            work.runs.push_back(
                run_work(setting, setting.job.runs[static_cast<std::size_t>(p.run)], p.option.packer.flow_through));
        }
        const auto& kind = packer_kind(setting, p.option);
        const auto known = std::find_if(work.packers.begin(), work.packers.end(),
                                        [&](const schedule::Packers& other) { return other.id == kind; });
        item.packer = static_cast<int>(known - work.packers.begin());
        if (known == work.packers.end()) work.packers.push_back({kind, packer_count(setting, p.option)});
    }
    for (std::size_t i = 0; i < patches.size(); ++i) work.patches[i].after = waits_for(setting, patches, i);
    for (const auto& mix : mixes.mixes) {
        for (const int patch : mix.batch.patches) {
            work.patches[static_cast<std::size_t>(patch)].batch = static_cast<int>(work.batches.size());
        }
        schedule::Mix item;
        item.patches = mix.batch.patches;
        item.pour_by = minutes_down(mix.batch.pour_by);
        work.batches.push_back(std::move(item));
    }
    return work;
}

void name_mixes(const Setting& setting, const PatchList& patches, const Mixes& mixes, schedule::Problem& work) {
    for (std::size_t i = 0; i < mixes.mixes.size(); ++i) {
        const auto& mix = mixes.mixes[i];
        auto& item = work.batches[i];
        for (const int patch : mix.batch.patches) {
            item.id += (item.id.empty() ? "the mix of " : ", ") + patches[static_cast<std::size_t>(patch)]->id;
        }
        item.worth = fmt::format("{}, {}", format(Show::scale_mass, mix.batch.total, setting.job.units),
                                 setting.yard.resins[static_cast<std::size_t>(mix.resin)].id);
    }
}

bool wait_in_circle(const Setting& setting, const PatchList& patches) {
    // Patches whose waits are all done are taken away until none is left, or none can be taken.
    std::vector<std::vector<int>> waits;
    for (std::size_t i = 0; i < patches.size(); ++i) waits.push_back(waits_for(setting, patches, i));
    std::vector<bool> done(patches.size(), false);
    for (bool moved = true; moved;) {
        moved = false;
        for (std::size_t i = 0; i < patches.size(); ++i) {
            const bool ready =
                std::all_of(waits[i].begin(), waits[i].end(), [&](int k) { return done[static_cast<std::size_t>(k)]; });
            if (done[i] || !ready) continue;
            done[i] = true;
            moved = true;
        }
    }
    return !std::all_of(done.begin(), done.end(), [](bool d) { return d; });
}

std::vector<FlowPlan> flow_plans(const Setting& setting, const std::vector<Patch>& patches,
                                 const schedule::Problem& work, const schedule::Schedule& schedule) {
    std::map<int, Minute> blocked;  // longest on any day, by run of the job
    for (const auto& shut : schedule.blocked) {
        for (std::size_t i = 0; i < patches.size(); ++i) {
            const bool there = work.patches[i].run == shut.run && schedule.patches[i].day == shut.day;
            if (!there || patches[i].option.packer.flow_through) continue;
            auto& most = blocked[patches[i].run];
            most = std::max(most, shut.to - shut.from);
        }
    }
    std::vector<FlowPlan> flows;
    for (const auto& [run, minutes] : blocked) {
        FlowPlan plan;
        plan.run = run;
        plan.blocked = static_cast<double>(minutes) * unit::minute;
        if (const auto& flow = setting.job.runs[static_cast<std::size_t>(run)].flow) {
            plan.known = true;
            plan.working = setting.working();
            plan.verdict = schedule::flow_while_blocked(flow->inflow, flow->storage, plan.blocked, plan.working);
        }
        flows.push_back(std::move(plan));
    }
    return flows;
}

}  // namespace patchwright::plan
