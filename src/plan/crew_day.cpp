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

bool has_access(const job::Run& run, const std::string& node) {
    return std::find(run.access.begin(), run.access.end(), node) != run.access.end();
}

schedule::RunWork run_work(const Setting& setting, int index, bool prepared, bool flow_through, Numbering& accesses) {
    const auto& d = setting.yard.durations;
    const auto& run = setting.job.runs[static_cast<std::size_t>(index)];
    schedule::RunWork work;
    work.place = job::RunPlace{index};
    work.id = run.id;
    work.prepared = prepared;
    if (has_access(run, run.from)) work.access_from = accesses.of(run.from);
    if (has_access(run, run.to)) work.access_to = accesses.of(run.to);
    work.set_up = {minutes_up(d.set_up.likely), 2};
    work.clean = {minutes_up(cleaning(d, run)), 2};
    work.survey = {minutes_up(d.survey.likely), 1};
    work.flow_control = {minutes_up(d.flow_control.likely), 1};
    work.dry = minutes_up(d.dry.likely);
    if (run.flow && !flow_through && run.flow->inflow > VolumeFlow{})
        work.storage = minutes_down(run.flow->storage / run.flow->inflow);
    return work;
}

schedule::PatchWork patch_work(const Setting& setting, const Patch& p) {
    const auto& d = setting.yard.durations;
    const auto& run = setting.job.runs[static_cast<std::size_t>(p.run)];
    schedule::PatchWork work;
    work.id = p.id;
    work.run = job::RunPlace{p.run};
    work.cut = {minutes_up(d.cut.likely), 1};
    work.bench_test = {minutes_up((p.option.to_build ? d.build.likely : Duration{}) +
                                  std::max(d.bench_test.likely, setting.yard.limits.bench_hold)),
                       1};
    work.wet_out = {minutes_up(p.conditions.wet_out), 2};
    work.load = {minutes_up(d.load.likely), 2};
    work.position = {minutes_up(d.position.likely), 2};
    work.inflate = {minutes_up(d.inflate.likely), 2};
    work.crease = {minutes_up(std::max(d.crease.likely, setting.yard.limits.crease_step)), 1};
    work.let_down = {minutes_up(d.let_down.likely), 1};
    work.re_survey = {minutes_up(d.re_survey.likely), 1};
    work.reopen = {minutes_up(static_cast<double>(p.reopened.size()) * d.reopen.likely), 2};
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

schedule::DayWork crew_day(const Setting& setting, const DayOfPatches& day) {
    const auto& site = setting.job.site;
    const auto& limits = setting.yard.limits;
    const auto& d = setting.yard.durations;
    schedule::DayWork work;
    work.start = site.start.minutes;
    work.finish = site.finish.minutes;
    work.overtime = minutes_down(limits.overtime);
    work.travel = minutes_up(site.travel.value_or(d.travel.likely));
    work.pack_up = {minutes_up(d.pack_up.likely), 2};
    work.persons = std::min(4, setting.yard.rates.crew_size + day.extra_persons);
    work.air_lines = limits.air_lines;
    work.alarm_gauge = limits.alarm_gauge;
    Numbering accesses, kinds;
    const auto add_run = [&](int run, bool flow_through) {
        const auto place = std::find_if(work.runs.begin(), work.runs.end(),
                                        [&](const auto& other) { return other.place == job::RunPlace{run}; });
        if (place == work.runs.end())
            work.runs.push_back(run_work(setting, run, contains(day.prepared, run), flow_through, accesses));
    };
    for (std::size_t i = 0; i < day.patches.size(); ++i) {
        const Patch& p = *day.patches[i];
        add_run(p.run, p.option.packer.flow_through);
        auto& item = work.patches.emplace_back(patch_work(setting, p));
        item.overnight = day.overnight[i];
        if (day.lying[i]) item.lying = work.start;
        item.packer = kinds.of(packer_kind(setting, p.option));
        if (static_cast<std::size_t>(item.packer) == work.packers.size())
            work.packers.push_back({packer_kind(setting, p.option), packer_count(setting, p.option)});
        item.after = waits_for(setting, day.patches, i);
    }
    for (const int run : day.prepare_ahead) {
        add_run(run, true);
        work.prepare_ahead.push_back(job::RunPlace{run});
    }
    const auto add_mix = [&](std::vector<int> patches) {
        schedule::Mix mix;
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
