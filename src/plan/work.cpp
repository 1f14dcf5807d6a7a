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

schedule::Labour labour(const job::TaskTime& task, Duration time) { return {minutes_up(time), task.persons}; }
schedule::Labour labour(const job::TaskTime& task) { return labour(task, task.likely); }

/// Numbers for the accesses of the job, by their names.
class Accesses {
public:
    int number(const std::string& node) {
        return numbers_.try_emplace(node, static_cast<int>(numbers_.size())).first->second;
    }

private:
    std::map<std::string, int> numbers_;
};

schedule::RunWork run_work(const Setting& setting, int place, Accesses& accesses, bool flow_through) {
    const auto& d = setting.yard.durations;
    const auto& run = setting.job.runs[static_cast<std::size_t>(place)];
    schedule::RunWork work;
    work.place = job::run_place(place);
    work.id = run.id;
    if (run.access_at_from()) work.access_from = accesses.number(run.from);
    if (run.access_at_to()) work.access_to = accesses.number(run.to);
    work.ends_in_sight = run.length <= setting.yard.limits.sight;
    work.set_up = labour(d.set_up);
    work.open_access = labour(d.open_access);
    const auto cleaning = cleaning_times(d, run);
    work.clean = labour(d.clean_per_10_m, cleaning.jetting);
    work.roots = labour(d.clean_roots_per_10_m, cleaning.roots);
    work.survey = labour(d.survey);
    work.flush = labour(d.flush);
    work.flow_control = labour(d.flow_control);
    work.dry = minutes_up(d.dry.likely);
    if (run.flow && !flow_through && run.flow->inflow > VolumeFlow{}) {
        work.storage = minutes_down(run.flow->storage / run.flow->inflow);
    }
    return work;
}

schedule::PatchWork patch_work(const Setting& setting, const Patch& p) {
    const auto& d = setting.yard.durations;
    const auto& run = setting.job.runs[static_cast<std::size_t>(p.run)];
    schedule::PatchWork work;
    work.id = p.id;
    work.run = job::run_place(p.run);
    work.cut = labour(d.cut);
    work.bench_test = labour(d.bench_test, (p.option.to_build ? d.build.likely : Duration{}) +
                                               std::max(d.bench_test.likely, setting.yard.limits.bench_hold));
    work.wet_out = labour(d.wet_out, p.conditions.wet_out);
    work.load = labour(d.load);
    work.position = labour(d.position);
    work.inflate = labour(d.inflate);
    work.crease = labour(d.crease, std::max(d.crease.likely, setting.yard.limits.crease_step));
    work.let_down = labour(d.let_down);
    work.re_survey = labour(d.re_survey);
    work.reopen = labour(d.reopen, static_cast<double>(p.reopened.size()) * d.reopen.likely);
    work.pour = minutes_up(poured_share * p.conditions.wet_out);
    work.inflate_by = minutes_down(p.cure.sheet.inflate_by);
    work.crease_by = minutes_down(p.cure.sheet.crease_by);
    work.mix_to_let_down = minutes_up(p.cure.sheet.let_down);
    const Length tail = packer::tail(p.option, p.length());
    work.at_start = p.start - tail;
    work.at_end = p.end + tail;
    work.from_far_end = p.rigging.from == run.to;
    work.flow_through = p.option.packer.flow_through;
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
    schedule::Problem problem;
    problem.crews = limits.crews;
    problem.overnight = limits.overnight_cure;
    auto& work = problem.work;
    work.start = site.start.minutes;
    work.finish = site.finish.minutes;
    work.travel = minutes_up(site.travel.value_or(d.travel.likely));
    work.pack_up = labour(d.pack_up);
    work.air_lines = limits.air_lines;
    work.alarm_gauge = limits.alarm_gauge;
    work.while_watching =
        limits.watcher_may_work ? schedule::WhileWatching::jobs_there : schedule::WhileWatching::nothing;
    work.ready_in_yard = limits.prepare_in_yard;
    work.persons = std::clamp(setting.yard.rates.crew_size, 1, 4);
    work.patches.reserve(patches.size());
    work.mixes.reserve(mixes.mixes.size());
    Accesses accesses;
    for (const Patch* patch : patches) {
        const Patch& p = *patch;
        auto& item = work.patches.emplace_back(patch_work(setting, p));
        const bool new_run = std::none_of(work.runs.begin(), work.runs.end(),
                                          [&](const schedule::RunWork& run) { return run.place == item.run; });
        if (new_run) work.runs.push_back(run_work(setting, p.run, accesses, p.option.packer.flow_through));
        const auto& kind = packer_kind(setting, p.option);
        const auto known = std::find_if(work.packers.begin(), work.packers.end(),
                                        [&](const schedule::Packers& other) { return other.id == kind; });
        item.packer = static_cast<int>(known - work.packers.begin());
        if (known == work.packers.end()) work.packers.push_back({kind, packer_count(setting, p.option)});
    }
    for (std::size_t i = 0; i < patches.size(); ++i) work.patches[i].after = waits_for(setting, patches, i);
    for (const auto& mix : mixes.mixes)
        work.mixes.push_back({mix.batch.patches, minutes_down(mix.batch.pour_by), {}, {}});
    return problem;
}

void name_mixes(const Setting& setting, const PatchList& patches, const Mixes& mixes, schedule::Problem& work) {
    for (std::size_t i = 0; i < mixes.mixes.size(); ++i) {
        const auto& mix = mixes.mixes[i];
        auto& item = work.work.mixes[i];
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
                                 const schedule::Schedule& schedule) {
    std::map<int, Minute> blocked;  // longest on any day, by run of the job
    for (const auto& shut : schedule.blocked) {
        for (std::size_t i = 0; i < patches.size(); ++i) {
            const bool there = job::run_place(patches[i].run) == shut.run && schedule.patches[i].day == shut.day;
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
