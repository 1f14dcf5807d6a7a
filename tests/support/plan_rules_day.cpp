// Days and tasks.
#include <algorithm>
#include <map>
#include <set>

#include "support/faults.hpp"
#include "support/plan_rules.hpp"

namespace patchwright::test {
namespace {

struct PatchDay {
    int day = -1;
    std::map<schedule::What, schedule::Task> tasks;
};

/// Tasks in order of start for each patch.
std::vector<PatchDay> days_of_patches(const plan::Plan& plan, Faults& faults) {
    std::vector<PatchDay> list(plan.patches.size());
    for (std::size_t d = 0; d < plan.schedule.days.size(); ++d) {
        for (const auto& task : plan.schedule.days[d].tasks) {
            if (!task.patch) continue;
            auto& patch = list[static_cast<std::size_t>(*task.patch)];
            const auto& id = plan.patches[static_cast<std::size_t>(*task.patch)].id;
            faults.unless(patch.day < 0 || patch.day == static_cast<int>(d), "{} on two days", id);
            patch.day = static_cast<int>(d);
            faults.unless(patch.tasks.emplace(task.what, task).second, "{}: {} twice", id, schedule::word(task.what));
        }
    }
    return list;
}

void check_patch_day(const plan::Patch& p, const PatchDay& day, schedule::Minute mix, Faults& faults) {
    using schedule::What;
    constexpr What order[] = {What::cut,     What::bench_test, What::wet_out, What::load,    What::position,
                              What::inflate, What::crease,     What::cure,    What::let_down};
    schedule::Minute now = 0;
    for (const What what : order) {
        const auto place = day.tasks.find(what);
        const bool must =
            what == What::wet_out || what == What::inflate || what == What::cure || what == What::let_down;
        if (place == day.tasks.end()) {
            faults.unless(!must, "{}: no {}", p.id, schedule::word(what));
            continue;
        }
        faults.unless(place->second.start >= now && place->second.finish >= place->second.start, "{}: {} out of turn",
                      p.id, schedule::word(what));
        now = place->second.finish;
    }
    const auto at = [&](What what) {
        const auto place = day.tasks.find(what);
        return place == day.tasks.end() ? schedule::Task{} : place->second;
    };
    const auto since = [&](schedule::Minute minute) { return static_cast<double>(minute - mix) * unit::minute; };
    constexpr Duration rounding = 1e-3 * unit::s;
    faults.unless(since(at(What::let_down).start) >= p.cure.sheet.let_down - rounding, "{}: let down too early", p.id);
    faults.unless(since(at(What::inflate).finish) <= p.cure.sheet.inflate_by + rounding, "{}: inflated too late", p.id);
    if (day.tasks.contains(What::crease)) {
        faults.unless(since(at(What::crease).finish) <= p.cure.sheet.crease_by + rounding, "{}: creased too late",
                      p.id);
    }
}

/// What is done to a run is done where sleeves are set that day, and what is done for a sleeve, in its own run.
void check_places(const job::Job& job, const job::Yard& yard, const plan::Plan& plan, std::size_t d, Faults& faults) {
    std::set<std::size_t> worked;
    const auto& tasks = plan.schedule.days[d].tasks;
    for (const auto& task : tasks)
        if (task.patch)
            worked.insert(static_cast<std::size_t>(plan.patches[static_cast<std::size_t>(*task.patch)].run));
    for (const auto& task : tasks) {
        if (!task.run) {
            faults.unless(task.what == schedule::What::travel || task.what == schedule::What::pack_up, "{} in no run",
                          schedule::word(task.what));
            continue;
        }
        const std::size_t run = job::index(*task.run);
        faults.unless(run < job.runs.size() && worked.contains(run), "day {}: {} in a run without a patch", d + 1,
                      schedule::word(task.what));
        if (task.patch) {
            const auto& patch = plan.patches[static_cast<std::size_t>(*task.patch)];
            faults.unless(static_cast<std::size_t>(patch.run) == run, "{}: {} in another run", patch.id,
                          schedule::word(task.what));
        }
    }
    for (const std::size_t run : worked) {
        const bool cleaned = std::any_of(tasks.begin(), tasks.end(), [&](const auto& task) {
            return task.what == schedule::What::clean && task.run && job::index(*task.run) == run;
        });
        const bool takes_time = yard.durations.clean_per_10_m.likely > Duration{};
        faults.unless(cleaned || !takes_time, "day {}: run {} is not cleaned", d + 1, job.runs[run].id);
    }
}

/// Travel first and last, nothing outside the working day, no more hands than the crew has.
void check_day(const job::Job& job, const job::Yard& yard, const schedule::Day& day, std::size_t number,
               Faults& faults) {
    std::map<int, std::vector<schedule::Task>> crews;
    for (const auto& task : day.tasks) {
        crews[task.crew].push_back(task);
        const bool overnight = yard.limits.overnight_cure && task.what == schedule::What::cure;
        faults.unless(task.start >= job.site.start.minutes && (task.finish <= job.site.finish.minutes || overnight),
                      "day {}: {} from {} to {} outside the working day", number, schedule::word(task.what), task.start,
                      task.finish);
    }
    for (auto& [crew, tasks] : crews) {
        std::stable_sort(tasks.begin(), tasks.end(), [](const auto& a, const auto& b) { return a.start < b.start; });
        const auto last = std::max_element(tasks.begin(), tasks.end(), [](const auto& a, const auto& b) {
            return std::pair{a.finish, a.start} < std::pair{b.finish, b.start};
        });
        faults.unless(tasks.front().what == schedule::What::travel && last->what == schedule::What::travel,
                      "day {}: crew {} does not travel first and last", number, crew);
        faults.unless(last->finish <= day.finish, "day {}: finish before its last task", number);
        std::map<schedule::Minute, int> change;  // of bound persons
        for (const auto& task : tasks) {
            if (task.what == schedule::What::cure) continue;
            change[task.start] += task.persons;
            change[task.finish] -= task.persons;
        }
        int persons = 0;
        for (const auto& [minute, more] : change) {
            persons += more;
            faults.unless(persons <= yard.rates.crew_size, "day {}: crew {} needs {} persons at {}", number, crew,
                          persons, minute);
        }
    }
}

}  // namespace

std::vector<std::string> broken_day_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan) {
    Faults faults;
    for (std::size_t d = 0; d < plan.schedule.days.size(); ++d) {
        check_day(job, yard, plan.schedule.days[d], d + 1, faults);
        check_places(job, yard, plan, d, faults);
    }
    const auto days = days_of_patches(plan, faults);
    for (const auto& batch : plan.batches) {
        for (const int p : batch.batch.patches) {
            const auto i = static_cast<std::size_t>(p);
            faults.unless(days[i].day == batch.day, "{} and its mix on different days", plan.patches[i].id);
            if (days[i].day >= 0) check_patch_day(plan.patches[i], days[i], batch.mix_at.minutes, faults);
        }
    }
    for (std::size_t i = 0; i < days.size(); ++i) {
        const auto& none = plan.schedule.impossible;
        const bool impossible = std::find(none.begin(), none.end(), static_cast<int>(i)) != none.end();
        faults.unless(days[i].day >= 0 || impossible, "{} has no day", plan.patches[i].id);
    }
    return faults.list;
}

}  // namespace patchwright::test
