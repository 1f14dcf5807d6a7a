#include "patchwright/site/now.hpp"

#include <algorithm>
#include <utility>

#include "parts.hpp"

namespace patchwright::site {
namespace {

/// A crew's rest in the places of the plan; what is behind it and takes no time is left out.
void add_tasks(const Now& now, const Now::Crew& crew, schedule::Day& day) {
    for (schedule::Task task : crew.day.tasks) {
        if (task.patch) {
            const Sleeve& s = now.sleeves[crew.sleeves[static_cast<std::size_t>(*task.patch)]];
            const bool begun = s.state != State::to_do && s.state != State::lost;
            if (begun && task.start == task.finish) continue;
            task.patch = static_cast<int>(s.patch);
        }
        task.crew = crew.crew;
        day.tasks.push_back(std::move(task));
    }
    day.finish = std::max(day.finish, crew.day.finish);
    day.bound = std::max(day.bound, crew.day.bound);
    day.proven = day.proven && crew.day.proven;
    day.blocked.insert(day.blocked.end(), crew.day.blocked.begin(), crew.day.blocked.end());
}

/// The times of a sleeve by the clock: those of the rest, with its own mixing where that is behind it.
void add_times(Now& now, const Now::Crew& crew, std::size_t k) {
    Sleeve& s = now.sleeves[crew.sleeves[k]];
    const auto& work = crew.work.patches[k];
    schedule::PatchTimes times = crew.day.patches[k];
    times.day = now.day;
    const bool fresh = !work.lying && !std::any_of(crew.work.mixes.begin(), crew.work.mixes.end(), [&](const auto& m) {
        return m.in_hand && std::find(m.patches.begin(), m.patches.end(), static_cast<int>(k)) != m.patches.end();
    });
    if (fresh) {
        s.mix_at = times.mix;
        if (s.state == State::to_do || s.state == State::lost) {
            s.inflate_by = times.inflate_by;
            s.let_down = times.let_down;
            s.verdict = times.mix <= now.at ? Verdict::go : Verdict::wait;
        }
    } else if (s.mixed) {
        times.pour += *s.mixed - times.mix;
        times.mix = *s.mixed;
        times.latest_mix = times.mix;
        times.inflate = s.inflated.value_or(times.inflate);
        times.pour_by = times.mix + whole_minutes(s.limits.pour_by);
        times.inflate_by = times.mix + whole_minutes(s.limits.inflate_by);
        times.crease_by = times.mix + whole_minutes(s.limits.crease_by);
        times.if_missed.clear();
        if (s.deflated) times.let_down = *s.deflated;
    }
    now.schedule.patches[s.patch] = std::move(times);
}

void gather(const Site& site, Now& now) {
    auto& schedule = now.schedule;
    schedule.days.resize(static_cast<std::size_t>(now.day) + 1);
    schedule.patches.resize(site.plan.patches.size());
    auto& day = schedule.days.back();
    for (const auto& crew : now.crews) {
        add_tasks(now, crew, day);
        for (std::size_t k = 0; k < crew.sleeves.size(); ++k) add_times(now, crew, k);
    }
    std::stable_sort(day.tasks.begin(), day.tasks.end(), [](const schedule::Task& a, const schedule::Task& b) {
        return std::pair{a.start, a.crew} < std::pair{b.start, b.crew};
    });
    for (auto& blocked : day.blocked) blocked.day = now.day;
    schedule.blocked = day.blocked;
    schedule.bound = day.bound;
    schedule.proven_optimal = day.proven;
    now.finish = day.finish;
}

}  // namespace

Now now(const plan::Plan& plan, const Facts& facts) {
    const Site site{*plan.job, *plan.yard, plan, facts};
    LimitBook limits{site};
    Now result;
    result.at = facts.at;
    result.day = facts.day;
    result.taken = facts.taken;
    result.closes = plan.job->site.finish.minutes;
    result.overtime = plan.work.overtime;
    result.sleeves = sleeves_of(site, limits);
    make_again(site, limits, result.sleeves);
    plan_rest(site, limits, result);
    result.persons = result.crews.empty() ? 0 : result.crews.front().work.persons;
    gather(site, result);
    for (Sleeve& s : result.sleeves)
        if (s.state == State::to_do && !s.mix_at) s.verdict = Verdict::wait;
    return result;
}

}  // namespace patchwright::site
