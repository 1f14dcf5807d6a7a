// From planned jobs to stops with their bounds.
#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "parts.hpp"

namespace patchwright::week {
namespace {

constexpr Minute no_end = 4 * 1440;

/// Days of the plan on which somebody goes there.
int parts_of(const Address& address) { return static_cast<int>(address.plan.schedule.days.size()); }

/// The first parts of a job are done where an earlier week had them before the first date.
int parts_done(const Input& input, const Address& address) {
    int done = 0;
    for (; input.kept && done < parts_of(address); ++done) {
        const auto* kept = input.kept->find(address.job.reference, done);
        if (kept == nullptr || kept->date >= input.from) break;
    }
    return done;
}

class Tasks {
public:
    Tasks(const Input& input, const Week& week, std::vector<std::vector<Minute>> drive) : input_{input}, week_{week} {
        auto& problem = task_.problem;
        problem.drive = std::move(drive);
        problem.dates = static_cast<int>(week.dates.size());
        problem.crews = week.crews;
        problem.overtime = static_cast<Minute>(input.yard.limits.overtime.in(unit::minute) + 1e-9);
    }

    Task run() {
        for (const Address& address : week_.jobs) add(address);
        for (Stop& stop : task_.problem.stops) stop.packers.resize(task_.problem.packers.size(), 0);
        return std::move(task_);
    }

private:
    void add(const Address& address) {
        const auto& site = address.job.site;
        Bounds bounds{site.start.minutes, site.finish.minutes, 0, no_end};
        if (site.window) {
            bounds.window_from = site.window->from.minutes;
            bounds.window_to = site.window->to.minutes;
        }
        const int job = static_cast<int>(task_.problem.jobs.size());
        task_.problem.jobs.push_back(bounds);
        task_.hindered.push_back(address.left_out);
        const int done = parts_done(input_, address);
        for (int part = done; part < parts_of(address) && task_.hindered.back().empty(); ++part) {
            Stop stop;
            stop.job = job;
            stop.part = part - done;
            stop.length = plan::on_site(address.plan, part);
            use_packers(address, part, stop);
            allow(address, part, stop);
            if (const auto* kept = kept_stop(address, part)) {
                const auto place = std::find(week_.dates.begin(), week_.dates.end(), kept->date);
                if (place != week_.dates.end()) stop.kept_date = static_cast<int>(place - week_.dates.begin());
            }
            task_.problem.stops.push_back(std::move(stop));
            task_.part_of.push_back(part);
        }
        if (!task_.hindered.back().empty()) drop(job);
    }

    void drop(int job) {
        auto& stops = task_.problem.stops;
        while (!stops.empty() && stops.back().job == job) {
            stops.pop_back();
            task_.part_of.pop_back();
        }
    }

    const KeptStop* kept_stop(const Address& address, int part) const {
        return input_.kept ? input_.kept->find(address.job.reference, part) : nullptr;
    }

    void use_packers(const Address& address, int part, Stop& stop) {
        auto& counts = task_.problem.packers;
        for (const auto& use : plan::packer_use(address.plan, part)) {
            const auto [kind, fresh] = kinds_.try_emplace(use.kind, counts.size());
            if (fresh) counts.push_back(use.count);
            stop.packers.resize(counts.size(), 0);
            stop.packers[kind->second] = use.at_once;
        }
    }

    void allow(const Address& address, int part, Stop& stop) {
        const auto& job = address.job;
        const auto* kept = kept_stop(address, part);
        const bool promised = kept != nullptr && kept->promised;
        stop.allowed.assign(week_.dates.size(), false);
        bool any = false;
        for (std::size_t d = 0; d < week_.dates.size(); ++d) {
            const Date date = week_.dates[d];
            bool good =
                !(job.site.earliest && date < *job.site.earliest) && !(job.site.latest && date > *job.site.latest);
            if (part == 0 && job.date) good = good && date == *job.date;
            if (promised) good = good && date == kept->date;
            stop.allowed[d] = good;
            any = any || good;
        }
        if (any) return;
        auto& why = task_.hindered.back();
        if (promised)
            why = fmt::format("promised for {}, which is not among the days that are planned, or not allowed any more",
                              format(kept->date));
        else if (part == 0 && job.date)
            why = fmt::format("its date, {}, is not among the days that are planned", format(*job.date));
        else
            why = "none of the days that are planned lies between its earliest and its latest";
    }

    const Input& input_;
    const Week& week_;
    Task task_;
    std::map<std::string, std::size_t> kinds_;
};

}  // namespace

Task task_of(const Input& input, const Week& week, std::vector<std::vector<Minute>> drive) {
    return Tasks{input, week, std::move(drive)}.run();
}

}  // namespace patchwright::week
