// A day's work for the scheduler, from patches that are designed and placed.
#include <algorithm>
#include <string_view>

#include "day_book.hpp"
#include "design.hpp"
#include "mixes.hpp"
#include "patchwright/packer/packer.hpp"
#include "work.hpp"

namespace patchwright::plan {
namespace {

using schedule::Labour;

constexpr int max_persons = 4;  ///< what the scheduler takes

bool contains(const std::vector<int>& list, int value) {
    return std::find(list.begin(), list.end(), value) != list.end();
}

/// Numbers for names, in the order in which they first come up.
class Numbering {
public:
    int of(std::string_view name) {
        const auto place = std::find(names_.begin(), names_.end(), name);
        const auto number = static_cast<int>(place - names_.begin());
        if (place == names_.end()) names_.push_back(name);
        return number;
    }

private:
    std::vector<std::string_view> names_;
};

Labour labour(const job::TaskTime& task, Duration time) { return {minutes_up(time), task.persons}; }
Labour labour(const job::TaskTime& task) { return labour(task, task.likely); }

schedule::RunWork run_work(const PlanContext& context, int place, bool prepared, Numbering& accesses,
                           bool flow_through) {
    const auto& d = context.yard.durations;
    const auto& run = context.job.runs[static_cast<std::size_t>(place)];
    schedule::RunWork work;
    work.place = job::run_place(place);
    work.id = run.id;
    work.prepared = prepared;
    if (run.access_at_from()) work.access_from = accesses.of(run.from);
    if (run.access_at_to()) work.access_to = accesses.of(run.to);
    work.ends_in_sight = run.length <= context.yard.limits.sight;
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

schedule::PatchWork patch_work(const PlanContext& context, const Patch& p) {
    const auto& d = context.yard.durations;
    const auto& run = context.job.runs[static_cast<std::size_t>(p.run)];
    schedule::PatchWork work;
    work.id = p.id;
    work.run = job::run_place(p.run);
    work.cut = labour(d.cut);
    work.bench_test = labour(d.bench_test, (p.option.to_build ? d.build.likely : Duration{}) +
                                               std::max(d.bench_test.likely, context.yard.limits.bench_hold));
    work.wet_out = labour(d.wet_out, p.conditions.wet_out);
    work.load = labour(d.load);
    work.position = labour(d.position);
    work.inflate = labour(d.inflate);
    work.crease = labour(d.crease, std::max(d.crease.likely, context.yard.limits.crease_step));
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

schedule::DayWork crew_day(const PlanContext& context, const DayOfPatches& day) {
    const auto& site = context.job.site;
    const auto& limits = context.yard.limits;
    const auto& d = context.yard.durations;
    schedule::DayWork work;
    work.start = site.start.minutes;
    work.finish = site.finish.minutes;
    work.overtime = minutes_down(limits.overtime);
    work.travel = minutes_up(site.travel.value_or(d.travel.likely));
    work.pack_up = labour(d.pack_up);
    work.persons = std::clamp(context.yard.rates.crew_size + day.extra_persons, 1, max_persons);
    work.air_lines = limits.air_lines;
    work.machines = {limits.jetters, limits.cameras, limits.cutters};
    work.alarm_gauge = limits.alarm_gauge;
    work.while_watching =
        limits.watcher_may_work ? schedule::WhileWatching::jobs_there : schedule::WhileWatching::nothing;
    work.ready_in_yard = limits.prepare_in_yard;
    work.patches.reserve(day.patches.size());
    work.mixes.reserve(day.patches.size());
    Numbering accesses, kinds, heaters;
    const auto add_run = [&](int run, bool flow_through) {
        const auto place = std::find_if(work.runs.begin(), work.runs.end(),
                                        [&](const auto& other) { return other.place == job::run_place(run); });
        if (place == work.runs.end())
            work.runs.push_back(run_work(context, run, contains(day.prepared, run), accesses, flow_through));
    };
    for (std::size_t i = 0; i < day.patches.size(); ++i) {
        const Patch& p = *day.patches[i];
        add_run(p.run, p.option.packer.flow_through);
        auto& item = work.patches.emplace_back(patch_work(context, p));
        item.overnight = day.overnight[i];
        // Mixed the day before, at the latest when that day ended.
        constexpr schedule::Minute a_day = 24 * 60;
        if (day.lying[i]) item.lying = std::max(work.start, work.finish + work.overtime - a_day + item.mix_to_let_down);
        item.packer = kinds.of(packer_kind(context, p.option));
        if (static_cast<std::size_t>(item.packer) == work.packers.size())
            work.packers.push_back({packer_kind(context, p.option), packer_count(context, p.option)});
        if (p.heater >= 0) {
            item.heater = heaters.of(context.yard.heaters[static_cast<std::size_t>(p.heater)].id);
            if (static_cast<std::size_t>(item.heater) == work.heaters.size())
                work.heaters.push_back({context.yard.heaters[static_cast<std::size_t>(p.heater)].id, day.heaters});
        }
        item.after = waits_for(context, day.patches, i);
    }
    for (const int run : day.prepare_ahead) {
        add_run(run, true);
        work.prepare_ahead.push_back(job::run_place(run));
    }
    const auto add_mix = [&](std::vector<int> patches) {
        schedule::Mix mix;
        if (patches.size() == 1)
            mix.pour_by = minutes_down(day.patches[static_cast<std::size_t>(patches.front())]->cure.sheet.pour_by);
        mix.patches = std::move(patches);
        work.mixes.push_back(std::move(mix));
    };
    for (const auto& mix : day.mixes) add_mix(mix);
    for (std::size_t i = 0; i < day.patches.size() && day.mixes.empty(); ++i) {
        if (!day.lying[i]) add_mix({static_cast<int>(i)});
    }
    return work;
}

}  // namespace patchwright::plan
