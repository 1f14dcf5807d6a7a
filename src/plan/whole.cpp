#include "whole.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "felt_cutting.hpp"
#include "mixed_day.hpp"
#include "work.hpp"

namespace patchwright::plan {
namespace {

using schedule::Minute;

/// The number of a sleeve in its run, from the run's start.
std::map<const Patch*, std::string> names_of(const PlanContext& context, const std::vector<MixedDay>& days) {
    PatchList all;
    for (const MixedDay& day : days) {
        const auto today = set_today(day.work);
        all.insert(all.end(), today.begin(), today.end());
    }
    std::sort(all.begin(), all.end(), [](const Patch* a, const Patch* b) {
        return std::pair{a->run, a->start} < std::pair{b->run, b->start};
    });
    std::map<const Patch*, std::string> names;
    int number = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
        number = i > 0 && all[i - 1]->run == all[i]->run ? number + 1 : 1;
        names[all[i]] = fmt::format("{}-P{}", context.job.runs[static_cast<std::size_t>(all[i]->run)].id, number);
    }
    return names;
}

/// A crew's day on a date.
struct Shift {
    int date = 0, crew = 0;
};

/// Dates of the days, in their order: crews that share no run, packer, heater or air line work beside each other.
std::vector<Shift> shifts_of(const PlanContext& context, const std::vector<MixedDay>& days) {
    const auto& limits = context.yard.limits;
    std::vector<Shift> shifts;
    std::vector<const MixedDay*> on_date;
    const auto fits_beside = [&](const MixedDay& day) {
        if (on_date.empty() || static_cast<int>(on_date.size()) >= limits.crews) return false;
        std::map<std::string_view, std::pair<int, int>> packers;  // wanted, there are
        std::size_t lines = 0;
        PatchList all = day.work.patches;
        for (const MixedDay* other : on_date)
            all.insert(all.end(), other->work.patches.begin(), other->work.patches.end());
        for (const Patch* p : all) {
            auto& row = packers[packer_kind(context, p->option)];
            ++row.first;
            row.second = packer_count(context, p->option);
            ++lines;
        }
        std::map<int, int> heaters;
        const auto take_heaters = [&](const DayOfPatches& work) {
            std::set<int> kinds;
            for (const Patch* p : work.patches)
                if (p->heater >= 0) kinds.insert(p->heater);
            for (const int kind : kinds) heaters[kind] += work.heaters;
        };
        take_heaters(day.work);
        for (const MixedDay* other : on_date) take_heaters(other->work);
        if (std::any_of(heaters.begin(), heaters.end(), [&](const auto& wanted) {
                return wanted.second > context.yard.heaters[static_cast<std::size_t>(wanted.first)].count;
            }))
            return false;
        if (lines > static_cast<std::size_t>(std::max(0, limits.air_lines))) return false;
        if (std::any_of(packers.begin(), packers.end(), [](const auto& p) { return p.second.first > p.second.second; }))
            return false;
        for (const MixedDay* other : on_date) {
            for (const Patch* a : other->work.patches) {
                for (const Patch* b : day.work.patches) {
                    if (a->run == b->run) return false;
                }
            }
        }
        return true;
    };
    for (const MixedDay& day : days) {
        if (fits_beside(day)) {
            shifts.push_back({shifts.back().date, shifts.back().crew + 1});
        } else {
            on_date.clear();
            shifts.push_back({shifts.empty() ? 0 : shifts.back().date + 1, 0});
        }
        on_date.push_back(&day);
    }
    return shifts;
}

/// Gathers the days into one job: patches in order of work, tasks and times that name them by their place there.
class Gathering {
public:
    explicit Gathering(Whole& whole) : whole_{whole} {}

    void add(const MixedDay& day, const Shift& shift, const std::map<const Patch*, std::string>& names) {
        const auto places = place_patches(day, names);
        add_batches(day, places, shift.date);
        add_clock(day, places, shift);
    }

private:
    /// Places in the whole job of the day's patches.
    std::vector<int> place_patches(const MixedDay& day, const std::map<const Patch*, std::string>& names) {
        std::vector<int> places(day.work.patches.size(), -1);
        for (const int p : day.clock.order) {
            const auto i = static_cast<std::size_t>(p);
            if (day.work.lying[i]) continue;
            places[i] = static_cast<int>(whole_.patches.size());
            place_of_[day.work.patches[i]] = places[i];
            whole_.patches.push_back(*day.work.patches[i]);
            whole_.patches.back().id = names.at(day.work.patches[i]);
            whole_.schedule.order.push_back(places[i]);
        }
        for (std::size_t i = 0; i < places.size(); ++i) {
            if (day.work.lying[i]) places[i] = place_of_.at(day.work.patches[i]);
        }
        whole_.schedule.patches.resize(whole_.patches.size());
        return places;
    }
    void add_batches(const MixedDay& day, const std::vector<int>& places, int number) {
        const auto first = whole_.batches.size();
        for (const auto& mix : day.mixes.mixes) {
            Batch batch;
            batch.batch = mix.batch;
            batch.resin = mix.resin;
            batch.day = number;
            batch.mix_at = {day.clock.patches[static_cast<std::size_t>(mix.batch.patches.front())].mix};
            for (int& p : batch.batch.patches) p = places[static_cast<std::size_t>(p)];
            whole_.batches.push_back(std::move(batch));
        }
        std::stable_sort(whole_.batches.begin() + static_cast<std::ptrdiff_t>(first), whole_.batches.end(),
                         [](const Batch& a, const Batch& b) { return a.mix_at < b.mix_at; });
        for (std::size_t i = first; i < whole_.batches.size(); ++i) whole_.batches[i].id = fmt::format("M{}", i + 1);
        whole_.warnings.insert(whole_.warnings.end(), day.mixes.warnings.begin(), day.mixes.warnings.end());
    }
    void add_clock(const MixedDay& day, const std::vector<int>& places, const Shift& shift) {
        schedule::Day clock = day.clock;
        for (auto& task : clock.tasks) {
            task.crew = shift.crew;
            if (task.patch) task.patch = places[static_cast<std::size_t>(*task.patch)];
        }
        for (std::size_t i = 0; i < places.size(); ++i) {
            const auto& times = clock.patches[i];
            auto& kept = whole_.schedule.patches[static_cast<std::size_t>(places[i])];
            if (day.work.lying[i]) {  // its let-down is a day's length after the clock of the day it was set
                kept.let_down = times.let_down + minutes_a_day;
                kept.last_let_down = times.last_let_down + minutes_a_day;
                continue;
            }
            kept = times;
            kept.day = shift.date;
        }
        for (auto& blocked : clock.blocked) {
            blocked.day = shift.date;
            whole_.schedule.blocked.push_back(blocked);
        }
        auto& days = whole_.schedule.days;
        if (shift.crew == 0)
            days.push_back(std::move(clock));
        else
            beside(days.back(), std::move(clock));
    }
    /// Another crew's day on the same date.
    static void beside(schedule::Day& date, schedule::Day other) {
        date.tasks.insert(date.tasks.end(), other.tasks.begin(), other.tasks.end());
        std::stable_sort(date.tasks.begin(), date.tasks.end(), [](const schedule::Task& a, const schedule::Task& b) {
            return std::pair{a.start, a.crew} < std::pair{b.start, b.crew};
        });
        date.finish = std::max(date.finish, other.finish);
        date.bound = std::max(date.bound, other.bound);
        date.proven = date.proven && other.proven;
        date.yard_minutes += other.yard_minutes;
    }

    static constexpr Minute minutes_a_day = 1440;
    Whole& whole_;
    std::map<const Patch*, int> place_of_;
};

/// Kits and weights of the whole job: what is opened for one day is used up on the next.
Mixes mixes_of_job(PlanContext& context, const Whole& whole) {
    PatchList patches;
    std::vector<int> groups(whole.patches.size());
    for (const auto& patch : whole.patches) patches.push_back(&patch);
    for (std::size_t b = 0; b < whole.batches.size(); ++b) {
        for (const int p : whole.batches[b].batch.patches) groups[static_cast<std::size_t>(p)] = static_cast<int>(b);
    }
    return plan_mixes(context, patches, groups);
}

/// The whole job as the scheduler's rules see it: every patch, run and mix once.
schedule::DayWork as_one_day(const PlanContext& context, const Whole& whole) {
    DayOfPatches all;
    for (const auto& patch : whole.patches) all.patches.push_back(&patch);
    all.lying.assign(all.patches.size(), false);
    all.overnight = all.lying;
    for (const auto& batch : whole.batches) all.mixes.push_back(batch.batch.patches);
    return crew_day(context, all);
}

}  // namespace

price::PatchWorks works_of(PlanContext& context, const ChosenJob& job) {
    const auto days = mixed_days(context, job);
    std::vector<Minute> finishes;
    for (const MixedDay& day : days) finishes.push_back(schedule::earliest_finish(crew_day(context, day.work)).finish);
    return bill(context, days, finishes);
}

Whole compose(PlanContext& context, const ChosenJob& job) {
    Whole whole;
    auto days = mixed_days(context, job);
    const auto names = names_of(context, days);
    std::vector<Minute> finishes;
    Gathering gathering{whole};
    const auto shifts = shifts_of(context, days);
    for (std::size_t d = 0; d < days.size(); ++d) {
        MixedDay& day = days[d];
        auto work = crew_day(context, day.work);
        for (std::size_t i = 0; i < work.patches.size(); ++i) work.patches[i].id = names.at(day.work.patches[i]);
        name_mixes(context, day.mixes, work);
        day.clock = schedule::best_day(work);
        finishes.push_back(day.clock.finish);
        gathering.add(day, shifts[d], names);
    }
    auto& schedule = whole.schedule;
    schedule.bound = schedule.days.empty() ? 0 : schedule.days.back().bound;
    schedule.proven_optimal =
        std::all_of(schedule.days.begin(), schedule.days.end(), [](const schedule::Day& day) { return day.proven; });
    PatchList sorted;
    for (const auto& patch : whole.patches) sorted.push_back(&patch);
    whole.kits_to_buy = mixes_of_job(context, whole).kits_to_buy;
    whole.cutting = cut_felts(context, sorted);
    whole.works = bill(context, days, finishes);
    whole.work = as_one_day(context, whole);
    whole.flows = flow_plans(context, whole.patches, whole.schedule);
    return whole;
}

}  // namespace patchwright::plan
