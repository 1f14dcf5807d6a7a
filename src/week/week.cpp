#include "patchwright/week/week.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "parts.hpp"
#include "patchwright/units/calendar.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::week {
namespace {

void refuse(const Input& input) {
    if (input.jobs.empty()) throw InputError("week: no job is given");
    if (input.dates < 1) throw InputError("week: give one day at least");
    if (input.crews && *input.crews < 1) throw InputError("week: give one crew at least");
    std::set<std::string> references;
    for (const auto& job : input.jobs) {
        if (job.reference == yard_name)
            throw InputError(fmt::format("week: no job can be called \"{}\": the yard is", yard_name));
        if (!references.insert(job.reference).second)
            throw InputError(
                fmt::format("week: two jobs have the reference \"{}\"; each needs one of its own", job.reference));
    }
}

constexpr int saturday = 5;

std::vector<Date> dates_of(const Input& input) {
    std::vector<Date> dates;
    for (Date date = input.from; static_cast<int>(dates.size()) < input.dates; date = next_day(date))
        if (input.weekends || weekday(date) < saturday) dates.push_back(date);
    return dates;
}

/// Why a job found no place: what is known of it alone, else that the others took the room.
void note_left_out(const Task& task, const Rota& rota, Week& week) {
    for (std::size_t j = 0; j < week.jobs.size(); ++j)
        if (!task.hindered[j].empty()) week.jobs[j].left_out = task.hindered[j];
    for (const int j : rota.left_out) {
        Address& address = week.jobs[at(j)];
        const auto parts = static_cast<std::size_t>(std::count_if(task.problem.stops.begin(), task.problem.stops.end(),
                                                                  [&](const Stop& s) { return s.job == j; }));
        address.left_out = parts > week.dates.size()
                               ? fmt::format("it takes {} days, and {} are planned", parts, week.dates.size())
                               : "no crew has room for it, or not the packers, on the days that suit it";
    }
}

void note_plans(const Input& input, const Task& task, Week& week) {
    for (std::size_t j = 0; j < week.jobs.size(); ++j) {
        Address& address = week.jobs[j];
        const auto& reference = address.job.reference;
        const auto parts = address.plan.schedule.days.size();
        if (address.left_out.empty() && parts == 0) address.left_out = "nothing there is patched";
        address.done = parts > 0 && address.left_out.empty() &&
                       std::none_of(task.problem.stops.begin(), task.problem.stops.end(),
                                    [&](const Stop& s) { return s.job == static_cast<int>(j); });
        const auto waiting = address.plan.not_planned.size();
        if (waiting > 0)
            week.warnings.push_back(fmt::format("{}: {} {} for a longer day or another resin: see its own plan",
                                                reference, waiting, waiting == 1 ? "patch waits" : "patches wait"));
        if (!address.left_out.empty()) week.warnings.push_back(fmt::format("{}: {}", reference, address.left_out));
        week.everything_placed =
            week.everything_placed && address.left_out.empty() && waiting == 0 && address.plan.everything_patched;
    }
    std::set<std::string> known{std::string{yard_name}};
    for (const Address& address : week.jobs) known.insert(address.job.reference);
    for (const auto& name : input.drives.names())
        if (!known.contains(name))
            week.warnings.push_back(
                fmt::format("the table of drives names \"{}\", which is no job of this week", name));
    for (const auto& stop : input.kept ? input.kept->stops : std::vector<KeptStop>{})
        if (stop.date >= input.from && !known.contains(stop.job))
            week.warnings.push_back(
                fmt::format("\"{}\" stands in the week that is kept, but its job file is not given", stop.job));
}

}  // namespace

Week plan_week(const Input& input) {
    refuse(input);
    Week week;
    week.dates = dates_of(input);
    week.crews = input.crews.value_or(input.yard.limits.crews);
    const auto drive = drives_of(input, week.assumptions);
    plan_jobs(input, drive, week);
    const Task task = task_of(input, week, drive);
    const Rota rota = solve(task.problem, input.budget);
    note_left_out(task, rota, week);
    note_plans(input, task, week);
    write_days(input, task, rota, week);
    week.drive = rota.drive();
    week.overtime = rota.overtime();
    week.proven_optimal = rota.proven;
    week.bound_crew_days = rota.bound_crew_days;
    add_costs(input.yard, week);
    add_stock(input.yard, week);
    return week;
}

}  // namespace patchwright::week
