#include "mixed_day.hpp"

#include <algorithm>
#include <numeric>
#include <string_view>
#include <utility>

#include "job_cost.hpp"

namespace patchwright::plan {

PatchList set_today(const DayOfPatches& day) {
    PatchList list;
    for (std::size_t i = 0; i < day.patches.size(); ++i) {
        if (!day.lying[i]) list.push_back(day.patches[i]);
    }
    return list;
}

namespace {

DayOfPatches day_of(const ChosenDay& chosen) {
    DayOfPatches day;
    std::vector<std::size_t> order(chosen.patches.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const auto key = [&](std::size_t i) { return std::pair{chosen.patches[i]->run, chosen.patches[i]->start}; };
        return key(a) < key(b);
    });
    for (const std::size_t i : order) {
        day.patches.push_back(chosen.patches[i]);
        day.overnight.push_back(chosen.overnight[i]);
        day.lying.push_back(false);
    }
    for (const Patch* patch : chosen.lying) {
        day.patches.push_back(patch);
        day.overnight.push_back(false);
        day.lying.push_back(true);
    }
    day.prepared = chosen.prepared;
    day.extra_persons = chosen.extra_persons;
    day.heaters = chosen.heater.units;
    return day;
}

/// A group for each sleeve, or one for each mouth and warmth of the resin; a heated sleeve has a mix of its own, since
/// its let-down counts on being inflated and heated without waiting for another.
std::vector<int> mix_groups(const PatchList& patches, bool share) {
    std::vector<int> groups;
    std::vector<std::pair<std::string_view, Temperature>> known;
    for (std::size_t i = 0; i < patches.size(); ++i) {
        if (patches[i]->heater >= 0) {
            groups.push_back(static_cast<int>(patches.size() + i));
            continue;
        }
        const std::pair own{std::string_view{patches[i]->rigging.from}, *patches[i]->conditions.resin};
        const auto place = std::find(known.begin(), known.end(), own);
        groups.push_back(static_cast<int>(share ? place - known.begin() : static_cast<std::ptrdiff_t>(i)));
        if (share && place == known.end()) known.push_back(own);
    }
    return groups;
}

MixedDay with_mixes(PlanContext& context, DayOfPatches work, bool share) {
    MixedDay day;
    const auto today = set_today(work);
    day.mixes = plan_mixes(context, today, mix_groups(today, share));
    for (const auto& mix : day.mixes.mixes) work.mixes.push_back(mix.batch.patches);
    day.work = std::move(work);
    return day;
}

double cost_of(const JobCost& cost, const MixedDay& day, const schedule::Finish& finish,
               const schedule::DayWork& work) {
    double sum =
        cost.day(finish.finish - work.start, std::max(0, finish.finish - work.finish), day.work.extra_persons, false);
    for (const auto& mix : day.mixes.mixes) sum += cost.mix_loss(mix.resin);
    return sum;
}

/// The day with a mix for each sleeve, or with shared mixes where that is cheaper.
MixedDay cheapest_mixes(PlanContext& context, const ChosenDay& chosen) {
    MixedDay own = with_mixes(context, day_of(chosen), false);
    if (chosen.patches.size() < 2 || context.yard.limits.air_lines < 2) return own;
    MixedDay shared = with_mixes(context, day_of(chosen), true);
    if (shared.mixes.mixes.size() == own.mixes.mixes.size()) return own;
    const JobCost cost{context.yard};
    const auto priced = [&](const MixedDay& day) {
        const auto work = crew_day(context, day.work);
        const auto finish = schedule::earliest_finish(work);
        const bool possible = finish.verdict.hindrance == schedule::Hindrance::none && finish.short_by(work) == 0;
        return std::pair{!possible, cost_of(cost, day, finish, work)};
    };
    return priced(shared) < priced(own) ? shared : own;
}

}  // namespace

std::vector<MixedDay> mixed_days(PlanContext& context, const ChosenJob& job) {
    std::vector<MixedDay> days;
    for (const auto& chosen : job.days) days.push_back(cheapest_mixes(context, chosen));
    return days;
}

}  // namespace patchwright::plan
