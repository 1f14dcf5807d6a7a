#include "patchwright/plan/moved.hpp"

#include <algorithm>
#include <limits>
#include <map>

#include <fmt/format.h>

#include "patchwright/job/yard.hpp"
#include "patchwright/schedule/if_missed.hpp"

namespace patchwright::plan {
namespace {

using schedule::Minute;
using schedule::What;

const schedule::Day& day_of(const Plan& plan, int day) { return plan.schedule.days[static_cast<std::size_t>(day)]; }

/// There and back.
struct Travel {
    const schedule::Task *there = nullptr, *back = nullptr;
};
Travel travel_of(const schedule::Day& day) {
    Travel travel;
    for (const auto& task : day.tasks) {
        if (task.what != What::travel) continue;
        if (travel.there == nullptr) travel.there = &task;
        travel.back = &task;
    }
    return travel;
}

/// The mix as the crew calls it: its sleeves, and what it is worth.
schedule::Mix named(const Plan& plan, const Batch& batch) {
    schedule::Mix mix;
    mix.patches = batch.batch.patches;
    for (const int p : batch.batch.patches)
        mix.id += (mix.id.empty() ? "the mix of " : ", ") + plan.patches[static_cast<std::size_t>(p)].id;
    mix.worth =
        fmt::format("{}, {}", format(Show::scale_mass, batch.batch.total, plan.job->units), plan.resin_of(batch).id);
    return mix;
}

}  // namespace

Minute on_site(const Plan& plan, int day) {
    const auto travel = travel_of(day_of(plan, day));
    return travel.there == nullptr ? 0 : travel.back->start - travel.there->finish;
}

int persons(const Plan& plan, int day) {
    int most = 0;
    for (const auto& task : day_of(plan, day).tasks)
        for (const int lane : task.lanes) most = std::max(most, lane);
    return most;
}

std::vector<PackerUse> packer_use(const Plan& plan, int day) {
    std::map<std::string, std::pair<int, std::vector<std::pair<Minute, Minute>>>> kinds;
    for (std::size_t p = 0; p < plan.patches.size(); ++p) {
        if (plan.schedule.patches[p].day != day) continue;
        Minute from = std::numeric_limits<Minute>::max(), to = 0;
        for (const auto& task : day_of(plan, day).tasks) {
            if (task.patch != static_cast<int>(p) || task.what < What::load || task.what > What::let_down) continue;
            from = std::min(from, task.start);
            to = std::max(to, task.finish);
        }
        const auto& option = plan.patches[p].option;
        const auto* chassis = option.to_build ? &plan.yard->chassis[static_cast<std::size_t>(option.chassis)] : nullptr;
        auto& kind = kinds[chassis != nullptr ? chassis->id : option.packer.id];
        kind.first = chassis != nullptr ? chassis->count : option.packer.count;
        kind.second.emplace_back(from, to);
        if (const int h = plan.patches[p].heater; h >= 0) {
            const auto& heater = plan.yard->heaters[static_cast<std::size_t>(h)];
            auto& heaters = kinds["heater " + heater.id];
            heaters.first = heater.count;
            heaters.second.emplace_back(plan.schedule.patches[p].mix, to);
        }
    }
    std::vector<PackerUse> list;
    for (const auto& [id, kind] : kinds) {
        PackerUse use{id, 0, kind.first};
        for (const auto& [from, to] : kind.second) {
            const auto then = std::count_if(kind.second.begin(), kind.second.end(), [at = from](const auto& span) {
                return span.first <= at && at < span.second;
            });
            use.at_once = std::max(use.at_once, static_cast<int>(then));
        }
        list.push_back(std::move(use));
    }
    return list;
}

void move_day(int number, const Visit& visit, Plan& plan) {
    auto& day = plan.schedule.days[static_cast<std::size_t>(number)];
    const auto travel = travel_of(day);
    if (travel.there == nullptr) return;
    const Minute shift = visit.arrive - travel.there->finish;
    // The latest times counted back from the end of the day alone; now they count from when the crew must go on.
    const Minute closing = std::max(day.finish, plan.work.finish) - (travel.back->finish - travel.back->start);
    const Minute latest = visit.leave_by - closing;
    const Minute leave = travel.back->start + shift;
    const auto *const first = travel.there, *const last = travel.back;
    for (auto& task : day.tasks) {
        if (&task == first) {
            task.finish = visit.arrive;
            task.start = task.finish - visit.drive_in;
        } else if (&task == last) {
            task.start = leave;
            task.finish = leave + visit.drive_out;
        } else {
            task.start += shift;
            task.finish += shift;
        }
    }
    day.finish = leave + visit.drive_out;
    day.bound = std::min(day.bound + shift, day.finish);
    for (auto* blocked : {&day.blocked, &plan.schedule.blocked}) {
        for (auto& shut : *blocked) {
            if (blocked == &plan.schedule.blocked && shut.day != number) continue;
            shut.from += shift;
            shut.to += shift;
        }
    }
    const auto shift_times = [&](schedule::PatchTimes& times) {
        for (auto* at : {&times.mix, &times.pour, &times.pour_by, &times.inflate, &times.inflate_by, &times.crease_by,
                         &times.let_down})
            *at += shift;
        times.latest_mix += latest;
        times.last_let_down += latest;
    };
    for (auto& times : day.patches) shift_times(times);
    for (auto& batch : plan.batches) {
        if (batch.day != number) continue;
        batch.mix_at.minutes += shift;
        const auto mix = named(plan, batch);
        for (const int p : batch.batch.patches) {
            auto& times = plan.schedule.patches[static_cast<std::size_t>(p)];
            shift_times(times);
            times.if_missed = schedule::if_missed(plan.work.patches[static_cast<std::size_t>(p)], mix, times);
        }
    }
    plan.dates.resize(plan.schedule.days.size(), visit.date);
    plan.dates[static_cast<std::size_t>(number)] = visit.date;
}

}  // namespace patchwright::plan
