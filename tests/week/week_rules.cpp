#include "week_rules.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "support/faults.hpp"
#include "support/plan_rules.hpp"

namespace patchwright::test {
namespace {

using schedule::Minute;
using schedule::What;

/// Minutes between two places by what was given, at most: the week may know a shorter way by another place.
Minute at_most(const week::Input& input, const job::Job* from, const job::Job* to) {
    const std::string a = from != nullptr ? from->reference : "yard", b = to != nullptr ? to->reference : "yard";
    if (const auto row = input.drives.between(a, b)) return *row;
    const job::Job* away = from != nullptr ? from : to;
    if ((from == nullptr || to == nullptr) && away->site.travel)
        return static_cast<Minute>(std::ceil(away->site.travel->in(unit::minute)-1e-9));
    const auto place = [&](const job::Job* job) {
        return job != nullptr ? job->site.coordinates : input.yard.drive.from;
    };
    const auto p = place(from), q = place(to);
    if (p && q) {
        // By the angle between two directions, not by the haversine.
        const auto dot = sin(p->latitude) * sin(q->latitude) +
                         cos(p->latitude) * cos(q->latitude) * cos(p->longitude - q->longitude);
        const double km = 6371.0088 * std::acos(std::clamp(dot, -1.0, 1.0)) * input.yard.drive.detour;
        return static_cast<Minute>(std::ceil(60.0 * km / input.yard.drive.in_an_hour.in(unit::km)-1e-6));
    }
    const auto likely = static_cast<Minute>(std::ceil(input.yard.durations.travel.likely.in(unit::minute)-1e-9));
    return from == nullptr || to == nullptr ? likely : at_most(input, from, nullptr) + at_most(input, nullptr, to);
}

class WeekChecker {
public:
    WeekChecker(const week::Input& input, const week::Week& week) : input_{input}, week_{week} {}

    std::vector<std::string> run() {
        for (const auto& day : week_.days) check_day(day);
        check_dates();
        check_parts();
        for (std::size_t j = 0; j < week_.jobs.size(); ++j) check_plan(j);
        Minute drive = 0, overtime = 0;
        for (const auto& day : week_.days) {
            drive += day.drive;
            overtime += day.overtime;
        }
        faults_.unless(drive == week_.drive && overtime == week_.overtime, "the sums are not those of the days");
        return std::move(faults_.list);
    }

private:
    const week::Address& address(const week::Visit& visit) const {
        return week_.jobs[static_cast<std::size_t>(visit.job)];
    }
    const job::Job& given(const week::Visit& visit) const { return input_.jobs[static_cast<std::size_t>(visit.job)]; }

    void check_day(const week::CrewDay& day) {
        const auto name = format(day.date);
        const int weekday = static_cast<int>((day_number(day.date) + 2) % 7);  // 1 March 2000 was a Wednesday
        faults_.unless(input_.weekends || weekday < 5, "{} is at a weekend", name);
        faults_.unless(day.date >= input_.from, "{} is before the first day", name);
        Minute now = day.leave, drive = 0;
        int finish = 1 << 20;
        const job::Job* from = nullptr;
        for (const auto& visit : day.stops) {
            const auto& job = given(visit);
            faults_.unless(visit.drive <= at_most(input_, from, &job), "{}: {} min of driving to {}", name, visit.drive,
                           job.reference);
            faults_.unless(visit.arrive == now + visit.drive + visit.wait && visit.wait >= 0, "{}: times to {}", name,
                           job.reference);
            faults_.unless(day.leave >= job.site.start.minutes, "{}: too early for {}", name, job.reference);
            finish = std::min(finish, job.site.finish.minutes);
            if (job.site.window)
                faults_.unless(
                    visit.arrive >= job.site.window->from.minutes && visit.leave <= job.site.window->to.minutes,
                    "{}: {} outside its window", name, job.reference);
            faults_.unless(!job.site.earliest || day.date >= *job.site.earliest, "{}: {} too soon", name,
                           job.reference);
            faults_.unless(!job.site.latest || day.date <= *job.site.latest, "{}: {} too late", name, job.reference);
            faults_.unless(visit.part > 0 || !job.date || day.date == *job.date, "{}: {} has another date", name,
                           job.reference);
            now = visit.leave;
            drive += visit.drive;
            from = &job;
        }
        const Minute home = day.back - now;
        faults_.unless(home >= 0 && home <= at_most(input_, from, nullptr), "{}: {} min home", name, home);
        faults_.unless(day.drive == drive + home, "{}: driving is not {}", name, day.drive);
        faults_.unless(day.overtime == std::max(0, day.back - finish), "{}: overtime is not {}", name, day.overtime);
        faults_.unless(day.overtime <= input_.yard.limits.overtime.in(unit::minute), "{}: too much overtime", name);
    }

    static long day_number(Date d) {  // days since 1 March 2000, common formula for the Gregorian calendar
        const int m = (d.month + 9) % 12, y = d.year - (d.month < 3 ? 1 : 0);
        return 365L * y + y / 4 - y / 100 + y / 400 + (m * 306 + 5) / 10 + d.day - 1 - 730485L;
    }

    /// Packers of one kind in the pipe at one time in a stop, minute by minute.
    std::map<std::string, int> packers(const week::Visit& visit) const {
        std::map<std::string, int> most;
        const auto& plan = address(visit).plan;
        const auto& tasks = plan.schedule.days[static_cast<std::size_t>(visit.part)].tasks;
        for (Minute minute = visit.arrive; minute < visit.leave; ++minute) {
            std::map<std::string, int> now;
            for (std::size_t p = 0; p < plan.patches.size(); ++p) {
                Minute from = 1 << 20, to = 0;
                for (const auto& task : tasks) {
                    if (task.patch != static_cast<int>(p)) continue;
                    if (task.what == What::load) from = task.start;
                    if (task.what == What::let_down) to = task.finish;
                }
                const auto& option = plan.patches[p].option;
                if (from <= minute && minute < to)
                    ++now[option.to_build ? input_.yard.chassis[static_cast<std::size_t>(option.chassis)].id
                                          : option.packer.id];
            }
            for (const auto& [kind, count] : now) most[kind] = std::max(most[kind], count);
        }
        return most;
    }

    int in_yard(const std::string& kind) const {
        for (const auto& packer : input_.yard.packers)
            if (packer.id == kind) return packer.count;
        for (const auto& chassis : input_.yard.chassis)
            if (chassis.id == kind) return chassis.count;
        return 0;
    }

    void check_dates() {
        std::map<Date, std::set<int>> crews;
        std::map<std::pair<Date, std::string>, int> used;
        for (const auto& day : week_.days) {
            faults_.unless(crews[day.date].insert(day.crew).second, "{}: crew {} twice", format(day.date), day.crew);
            faults_.unless(day.crew >= 1 && day.crew <= week_.crews, "{}: crew {}", format(day.date), day.crew);
            std::map<std::string, int> taken;
            for (const auto& visit : day.stops)
                for (const auto& [kind, count] : packers(visit)) taken[kind] = std::max(taken[kind], count);
            for (const auto& [kind, count] : taken) used[{day.date, kind}] += count;
        }
        for (const auto& [where, count] : used)
            faults_.unless(count <= in_yard(where.second), "{}: {} packers {}", format(where.first), count,
                           where.second);
    }

    void check_parts() {
        std::map<std::pair<int, int>, Date> dates;
        for (const auto& day : week_.days)
            for (const auto& visit : day.stops)
                faults_.unless(dates.emplace(std::pair{visit.job, visit.part}, day.date).second, "{} twice",
                               given(visit).reference);
        for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
            const auto& it = week_.jobs[j];
            const auto parts = static_cast<int>(it.plan.schedule.days.size());
            for (int part = 0; part < parts; ++part) {
                const auto place = dates.find({static_cast<int>(j), part});
                const bool kept_before = input_.kept && input_.kept->find(it.job.reference, part) != nullptr &&
                                         input_.kept->find(it.job.reference, part)->date < input_.from;
                const bool wanted = it.left_out.empty() && !kept_before;
                faults_.unless((place != dates.end()) == wanted, "{}: day {} has {} place", it.job.reference, part + 1,
                               place != dates.end() ? "a" : "no");
                const auto before = dates.find({static_cast<int>(j), part - 1});
                if (place != dates.end() && before != dates.end())
                    faults_.unless(before->second < place->second, "{}: day {} is not after day {}", it.job.reference,
                                   part + 1, part);
            }
        }
    }

    /// The moved plan is a plan still, by the rules of every day.
    void check_plan(std::size_t j) {
        const auto& it = week_.jobs[j];
        job::Job hours = it.job;
        int placed = 0;
        for (std::size_t part = 0; part < it.times.size(); ++part) {
            if (it.times[part].arrive == 0) continue;
            ++placed;
            const auto& there = it.visits[part].site;
            hours.site.start = placed == 1 ? there.start : std::min(hours.site.start, there.start);
            hours.site.finish = placed == 1 ? there.finish : std::max(hours.site.finish, there.finish);
            const auto& tasks = it.plan.schedule.days[part].tasks;
            faults_.unless(tasks.front().what == What::travel && tasks.front().finish == it.times[part].arrive,
                           "{}: does not arrive when the week says", it.job.reference);
            for (const auto& task : tasks)
                faults_.unless(task.what == What::travel || task.start >= it.times[part].arrive,
                               "{}: {} before arriving", it.job.reference, schedule::word(task.what));
            for (std::size_t p = 0; p < it.plan.patches.size(); ++p) {
                const auto& times = it.plan.schedule.patches[p];
                if (times.day != static_cast<int>(part)) continue;
                faults_.unless(times.inflate <= times.inflate_by && times.mix <= times.latest_mix &&
                                   times.let_down <= times.last_let_down &&
                                   times.last_let_down <= it.times[part].leave_by,
                               "{}: limits of {}", it.job.reference, it.plan.patches[p].id);
            }
        }
        if (placed == 0 || placed != static_cast<int>(it.times.size())) return;
        for (const auto& fault : broken_day_rules(hours, input_.yard, it.plan))
            faults_.unless(false, "{}: {}", it.job.reference, fault);
    }

    const week::Input& input_;
    const week::Week& week_;
    Faults faults_;
};

}  // namespace

std::vector<std::string> broken_week_rules(const week::Input& input, const week::Week& week) {
    return WeekChecker{input, week}.run();
}

}  // namespace patchwright::test
