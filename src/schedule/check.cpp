// Work that no caller may give.
#include <fmt/core.h>

#include "model.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::schedule {
namespace {

constexpr Minute greatest_minutes = 100'000;

template <class... Args>
[[noreturn]] void refuse(fmt::format_string<Args...> text, Args&&... args) {
    throw InputError("schedule: " + fmt::format(text, std::forward<Args>(args)...));
}

bool in_range(const Labour& labour) {
    return labour.minutes >= 0 && labour.minutes <= greatest_minutes && labour.persons >= 1 && labour.persons <= 100;
}

template <std::size_t n>
void check_labour(const std::string& who, const std::array<Labour, n>& list) {
    for (const Labour& labour : list)
        if (!in_range(labour)) refuse("{} has a duration below zero or above 100,000 min, or a task for nobody", who);
}

void check_patch(const DayWork& work, const PatchWork& p) {
    const std::string who = "patch " + p.id;
    if (p.packer < 0 || static_cast<std::size_t>(p.packer) >= work.packers.size())
        refuse("{} names packer {}, but there are {}", who, p.packer, work.packers.size());
    if (p.heater < -1 || p.heater >= static_cast<int>(work.heaters.size()))
        refuse("{} names heater {}, but there are {}", who, p.heater, work.heaters.size());
    for (const int a : p.after)
        if (a < 0 || static_cast<std::size_t>(a) >= work.patches.size())
            refuse("{} waits for patch {}, but there are {}", who, a, work.patches.size());
    const auto runs =
        std::count_if(work.runs.begin(), work.runs.end(), [&](const RunWork& r) { return r.place == p.run; });
    if (runs != 1) refuse("{} lies in a run that stands {} times among the day's runs", who, runs);
    check_labour(who, std::array{p.cut, p.bench_test, p.wet_out, p.load, p.position, p.inflate, p.crease, p.let_down,
                                 p.re_survey, p.reopen, Labour{p.pour, 1}});
    if (p.inflate_by <= 0 || p.crease_by <= 0 || p.mix_to_let_down <= 0 || p.mix_to_let_down > greatest_minutes)
        refuse("{} needs inflate-by, crease-by and let-down times after mixing", who);
    if (!(p.at_start <= p.at_end)) refuse("{} must start before it ends", who);  // also when one is not a number
    if (p.lying && (*p.lying < -greatest_minutes || *p.lying > greatest_minutes))
        refuse("{} may be deflated more than 100,000 min from now", who);
    if (p.watched && !p.lying) refuse("{} is watched before it is set", who);
    if (p.lying && p.overnight) refuse("{} lies in the pipe already and cannot stay another night", who);
}

void check_mixes(const DayWork& work) {
    std::vector<int> mixes(work.patches.size(), 0);
    for (std::size_t m = 0; m < work.mixes.size(); ++m) {
        const Mix& mix = work.mixes[m];
        if (mix.patches.empty()) refuse("mix {} holds no patch", m);
        if (mix.pour_by < 0) refuse("mix {} has a pour-by below zero", m);
        if (mix.in_hand && work.travel_out.value_or(1) != 0) refuse("mix {} is in hand, but nobody is on site", m);
        for (const int i : mix.patches) {
            if (i < 0 || static_cast<std::size_t>(i) >= work.patches.size())
                refuse("mix {} names patch {}, but there are {}", m, i, work.patches.size());
            ++mixes[static_cast<std::size_t>(i)];
            const job::RunPlace run = work.patches[static_cast<std::size_t>(i)].run;
            if (mix.in_hand && std::none_of(work.runs.begin(), work.runs.end(),
                                            [&](const RunWork& r) { return r.place == run && r.ready; }))
                refuse("mix {} is in hand, but its run is not ready", m);
        }
    }
    for (std::size_t i = 0; i < mixes.size(); ++i)
        if (mixes[i] != (work.patches[i].lying ? 0 : 1))
            refuse("patch {} is in {} mixes: one that lies in the pipe already belongs in none, any other in one",
                   work.patches[i].id, mixes[i]);
}

}  // namespace

void check_input(const DayWork& work) {
    const bool under_way = work.travel_out.has_value();  // it may be past its finish by then
    if (work.start < 0 || (work.finish <= work.start && !under_way) || std::max(work.start, work.finish) > 2880)
        refuse("the day must finish after it starts");
    if (work.travel < 0 || work.travel > greatest_minutes || work.travel_out.value_or(0) < 0 ||
        work.travel_out.value_or(0) > greatest_minutes || work.overtime < 0 || !in_range(work.pack_up))
        refuse("travel, pack up and overtime must lie between 0 and 100,000 min");
    if (work.persons < 1 || work.persons > max_persons) refuse("a crew has one to {} persons", max_persons);
    for (std::size_t k = 0; k < machine_kinds; ++k)
        if (work.machines[k] < 1) refuse("a crew has at least one {}", word(static_cast<Machine>(k)));
    if (work.air_lines < 0) refuse("air lines must not be below zero");
    for (const Heaters& kind : work.heaters)
        if (kind.count < 0) refuse("there are {} heaters {}", kind.count, kind.id);
    for (const Packers& kind : work.packers)
        if (kind.count < 0) refuse("there are {} packers {}", kind.count, kind.id);
    for (const RunWork& run : work.runs)
        check_labour("run " + run.id, std::array{run.set_up, run.open_access, run.clean, run.roots, run.survey,
                                                 run.flush, run.flow_control, Labour{run.dry, 1}});
    for (const PatchWork& p : work.patches) check_patch(work, p);
    check_mixes(work);
    for (const job::RunPlace ahead : work.prepare_ahead)
        if (std::none_of(work.runs.begin(), work.runs.end(), [&](const RunWork& run) { return run.place == ahead; }))
            refuse("a run that is to be prepared ahead is not among the day's runs");
}

void check_decided(const DayWork& work) {
    for (const PatchWork& p : work.patches)
        if (p.from_any_end) refuse("patch {} is to come in from an end that is decided", p.id);
}

void check_size(const DayWork& work) {
    if (work.patches.size() > max_patches || work.runs.size() > max_runs)
        refuse("a day holds at most {} patches in {} runs", max_patches, max_runs);
}

}  // namespace patchwright::schedule
