// From rounds of stops to crews' days with their times, and what has moved.
#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "parts.hpp"

namespace patchwright::week {
namespace {

class Writer {
public:
    Writer(const Input& input, const Task& task, const Rota& rota, Week& week)
        : input_{input}, task_{task}, rota_{rota}, week_{week} {}

    void write() {
        for (Address& address : week_.jobs) {
            const auto parts = address.plan.schedule.days.size();
            address.times.resize(parts);
            address.visits.resize(parts);
            address.before.resize(parts);
            address.after.resize(parts);
        }
        for (std::size_t r = 0; r < rota_.rounds.size(); ++r) write_round(rota_.rounds[r], crew_of(r));
        std::sort(week_.days.begin(), week_.days.end(), [](const CrewDay& a, const CrewDay& b) {
            return std::tuple{a.date, a.crew} < std::tuple{b.date, b.crew};
        });
        note_moves();
    }

private:
    const Stop& stop(int s) const { return task_.problem.stops[at(s)]; }
    const KeptStop* kept(int s) const {
        if (!input_.kept) return nullptr;
        return input_.kept->find(week_.jobs[at(stop(s).job)].job.reference, task_.part_of[at(s)]);
    }

    /// The crew that an earlier week told most of its stops, as far as that one is free; else the first that is.
    int crew_of(std::size_t r) {
        const Round& round = rota_.rounds[r];
        std::set<int>& taken = crews_[round.date];
        int best = 0;
        std::ptrdiff_t most = 0;
        for (int crew = 1; crew <= week_.crews; ++crew) {
            if (taken.contains(crew)) continue;
            const auto same = std::count_if(round.stops.begin(), round.stops.end(), [&](int s) {
                const auto* earlier = kept(s);
                return earlier != nullptr && earlier->crew == crew && earlier->date == week_.dates[at(round.date)];
            });
            if (best != 0 && same <= most) continue;
            best = crew;
            most = same;
        }
        taken.insert(best);
        return best;
    }

    void write_round(const Round& round, int crew) {
        const auto& problem = task_.problem;
        CrewDay day{week_.dates[at(round.date)], crew, round.leave, round.back, round.drive, round.overtime, 0, {}};
        const auto place = [&](std::size_t k) { return k < round.stops.size() ? stop(round.stops[k]).job + 1 : 0; };
        // How late each stop may be left: from the end of the day backwards.
        std::vector<Minute> leave_by(round.stops.size());
        Minute arrive_by = std::max(day.back, finish_of(round));
        for (std::size_t k = round.stops.size(); k-- > 0;) {
            const int s = round.stops[k];
            leave_by[k] = std::min(problem.jobs[at(stop(s).job)].window_to,
                                   arrive_by - problem.drive[at(place(k))][at(place(k + 1))]);
            arrive_by = leave_by[k] - stop(s).length;
        }
        Minute now = round.leave;
        int from = 0;
        for (std::size_t k = 0; k < round.stops.size(); ++k) {
            const int s = round.stops[k];
            Visit visit;
            visit.job = stop(s).job;
            visit.part = task_.part_of[at(s)];
            visit.drive = problem.drive[at(from)][at(place(k))];
            visit.arrive = round.arrive[k];
            visit.wait = visit.arrive - now - visit.drive;
            visit.leave = visit.arrive + stop(s).length;
            if (const auto* earlier = kept(s)) {
                const bool moved = earlier->date != day.date || earlier->arrive != visit.arrive;
                visit.promised = earlier->promised;
                visit.revision = earlier->revision + (moved ? 1 : 0);
            }
            const Minute on = problem.drive[at(place(k))][at(place(k + 1))];
            move(visit, {day.date, visit.arrive, visit.drive, on, leave_by[k]}, from == 0 ? -1 : from - 1,
                 place(k + 1) - 1);
            day.helpers = std::max(day.helpers, plan::persons(week_.jobs[at(visit.job)].plan, visit.part) -
                                                    std::max(1, input_.yard.rates.crew_size));
            now = visit.leave;
            from = place(k);
            day.stops.push_back(visit);
        }
        week_.days.push_back(std::move(day));
    }

    /// The earliest finish of the jobs on a round.
    Minute finish_of(const Round& round) const {
        Minute finish = task_.problem.jobs[at(stop(round.stops.front()).job)].finish;
        for (const int s : round.stops) finish = std::min(finish, task_.problem.jobs[at(stop(s).job)].finish);
        return finish;
    }

    void move(const Visit& visit, const plan::Visit& times, int before, int after) {
        Address& address = week_.jobs[at(visit.job)];
        const auto part = at(visit.part);
        const auto name = [&](int job) { return job < 0 ? std::string{yard_name} : week_.jobs[at(job)].job.reference; };
        plan::move_day(visit.part, times, address.plan);
        address.times[part] = times;
        address.before[part] = name(before);
        address.after[part] = name(after);
        job::Job& there = address.visits[part];
        there = address.job;
        there.date = times.date;
        there.site.start = {times.arrive - times.drive_in};
        there.site.finish = {times.leave_by + times.drive_out};
        there.site.travel = static_cast<double>(times.drive_in) * unit::minute;
    }

    std::optional<KeptStop> now_at(const std::string& reference, int part) const {
        for (const CrewDay& day : week_.days)
            for (const Visit& visit : day.stops)
                if (visit.part == part && week_.jobs[at(visit.job)].job.reference == reference)
                    return KeptStop{reference,    part,        day.date,       day.crew,
                                    visit.arrive, visit.leave, visit.promised, visit.revision};
        return std::nullopt;
    }

    void note_moves() {
        if (!input_.kept) return;
        for (const KeptStop& was : input_.kept->stops) {
            if (was.date < input_.from) {
                week_.earlier.push_back(was);
                continue;
            }
            auto now = now_at(was.job, was.part);
            if (now && now->date == was.date && now->crew == was.crew && now->arrive == was.arrive) continue;
            week_.moves.push_back({was.job, was.part, was, std::move(now)});
        }
        for (const CrewDay& day : week_.days)
            for (const Visit& visit : day.stops) {
                const auto& reference = week_.jobs[at(visit.job)].job.reference;
                if (input_.kept->find(reference, visit.part) == nullptr)
                    week_.moves.push_back({reference, visit.part, std::nullopt, now_at(reference, visit.part)});
            }
    }

    const Input& input_;
    const Task& task_;
    const Rota& rota_;
    Week& week_;
    std::map<int, std::set<int>> crews_;  ///< taken on each date
};

}  // namespace

void write_days(const Input& input, const Task& task, const Rota& rota, Week& week) {
    Writer{input, task, rota, week}.write();
}

}  // namespace patchwright::week
