// One crew's day, and what whole rotas are judged by.
#include <algorithm>
#include <limits>
#include <numeric>
#include <tuple>

#include "rounds_parts.hpp"

namespace patchwright::week {
namespace {

/// Tries every order, cut off where the time or the driving so far already says no.
class Orders {
public:
    Orders(const Problem& problem, const std::vector<int>& stops, const DaySpan& span)
        : problem_{problem}, stops_{stops}, span_{span}, done_(stops.size(), false) {
        for (const int s : stops) left_ += problem.stops[at(s)].length;
    }

    Round run() {
        go_on(0, span_.start, 0);
        return std::move(best_);
    }

private:
    Minute drive(int from, int to) const { return problem_.drive[at(from)][at(to)]; }

    void go_on(int place, Minute now, Minute driven) {
        if (order_.size() == stops_.size()) return finish(place, now, driven);
        if (now + left_ > span_.end()) return;
        if (driven > best_minutes_) return;
        for (std::size_t k = 0; k < stops_.size(); ++k) {
            if (done_[k]) continue;
            const Stop& stop = problem_.stops[at(stops_[k])];
            const Bounds& job = problem_.jobs[at(stop.job)];
            const Minute on_road = drive(place, stop.job + 1);
            const Minute arrive = std::max(now + on_road, job.window_from);
            if (arrive + stop.length > job.window_to) continue;
            done_[k] = true;
            left_ -= stop.length;
            order_.push_back(stops_[k]);
            arrive_.push_back(arrive);
            go_on(stop.job + 1, arrive + stop.length, driven + on_road);
            arrive_.pop_back();
            order_.pop_back();
            left_ += stop.length;
            done_[k] = false;
        }
    }

    void finish(int place, Minute now, Minute driven) {
        const Minute back = now + drive(place, 0);
        if (back > span_.end()) return;
        driven += drive(place, 0);
        const Minute overtime = std::max(0, back - span_.finish);
        const std::tuple key{driven + overtime, back, order_};
        if (!best_.stops.empty() && key >= std::tuple{best_minutes_, best_.back, best_.stops}) return;
        best_minutes_ = driven + overtime;
        best_.stops = order_;
        best_.arrive = arrive_;
        best_.leave = arrive_.front() - drive(0, problem_.stops[at(order_.front())].job + 1);
        best_.back = back;
        best_.drive = driven;
        best_.overtime = overtime;
    }

    const Problem& problem_;
    const std::vector<int>& stops_;
    const DaySpan span_;
    std::vector<bool> done_;
    Minute left_ = 0;
    std::vector<int> order_;
    std::vector<Minute> arrive_;
    Round best_;
    Minute best_minutes_ = std::numeric_limits<Minute>::max();
};

}  // namespace

DaySpan day_span(const Problem& problem, const std::vector<int>& stops) {
    DaySpan span{0, std::numeric_limits<Minute>::max() / 2, problem.overtime};
    for (const int s : stops) {
        const Bounds& job = problem.jobs[at(problem.stops[at(s)].job)];
        span.start = std::max(span.start, job.start);
        span.finish = std::min(span.finish, job.finish);
    }
    return span;
}

Round best_round(const Problem& problem, const std::vector<int>& stops) {
    if (stops.empty() || stops.size() > max_stops) return {};
    std::vector<int> sorted = stops;
    std::sort(sorted.begin(), sorted.end());
    for (std::size_t k = 1; k < sorted.size(); ++k)
        if (problem.stops[at(sorted[k])].job == problem.stops[at(sorted[k - 1])].job) return {};
    return Orders{problem, sorted, day_span(problem, sorted)}.run();
}

const Round& RoundBook::of(const std::vector<int>& sorted) {
    auto known = rounds_.find(sorted);
    if (known == rounds_.end()) known = rounds_.emplace(sorted, best_round(problem_, sorted)).first;
    return known->second;
}

std::vector<int> packers_of(const Problem& problem, const std::vector<int>& stops) {
    std::vector<int> most(problem.packers.size(), 0);
    for (const int s : stops)
        for (std::size_t k = 0; k < most.size(); ++k) most[k] = std::max(most[k], problem.stops[at(s)].packers[k]);
    return most;
}

Minute Rota::drive() const {
    return std::accumulate(rounds.begin(), rounds.end(), 0, [](Minute sum, const Round& r) { return sum + r.drive; });
}
Minute Rota::overtime() const {
    return std::accumulate(rounds.begin(), rounds.end(), 0,
                           [](Minute sum, const Round& r) { return sum + r.overtime; });
}

Worth worth(const Problem& problem, const Rota& rota) {
    Worth sum;
    sum.left_out = static_cast<std::int64_t>(rota.left_out.size());
    sum.crew_days = static_cast<std::int64_t>(rota.rounds.size());
    sum.minutes = rota.drive() + rota.overtime();
    for (const Round& round : rota.rounds) {
        for (const int s : round.stops) {
            const int kept = problem.stops[at(s)].kept_date;
            sum.moved += kept >= 0 && kept != round.date ? 1 : 0;
            sum.dates += round.date;
        }
    }
    return sum;
}

void sort_rounds(Rota& rota) {
    std::sort(rota.rounds.begin(), rota.rounds.end(), [](const Round& a, const Round& b) {
        return std::tuple{a.date, a.leave, a.stops} < std::tuple{b.date, b.leave, b.stops};
    });
    std::sort(rota.left_out.begin(), rota.left_out.end());
}

namespace {

/// No fewer days of so many minutes hold them: each counts by its share of a day, or, where so many thirds, quarters
/// and so on do not go into one day twice over, by the greater share that this leaves it. Source: S. P. Fekete, J.
/// Schepers, New classes of fast lower bounds for bin packing problems, Mathematical Programming 91, 2001, p. 11-31,
/// the functions u(k); from memory.
int min_bins(const std::vector<Minute>& takes, Minute room) {
    constexpr std::int64_t finest = 12;
    std::int64_t best = 0;
    for (std::int64_t k = 1; k <= finest; ++k) {
        std::int64_t sum = 0;  // in parts of k rooms
        for (const Minute minutes : takes) {
            const std::int64_t parts = (k + 1) * minutes;
            sum += parts % room == 0 ? k * minutes : parts / room * room;
        }
        best = std::max(best, (sum + k * room - 1) / (k * room));
    }
    const std::int64_t all = std::accumulate(takes.begin(), takes.end(), std::int64_t{0});
    return static_cast<int>(std::max(best, (all + room - 1) / room));
}

}  // namespace

int min_crew_days(const Problem& problem, const std::vector<int>& stops) {
    if (stops.empty()) return 0;
    // Work and the drives to it, a way home a day, against the longest day.
    Minute longest = 0, home = std::numeric_limits<Minute>::max();
    std::vector<Minute> takes;
    for (const int s : stops) {
        const Stop& stop = problem.stops[at(s)];
        const Bounds& job = problem.jobs[at(stop.job)];
        longest = std::max(longest, job.finish + problem.overtime - job.start);
        home = std::min(home, problem.drive[at(stop.job + 1)][0]);
        Minute nearest = problem.drive[0][at(stop.job + 1)];
        for (const int other : stops)
            if (problem.stops[at(other)].job != stop.job)
                nearest = std::min(nearest, problem.drive[at(problem.stops[at(other)].job + 1)][at(stop.job + 1)]);
        takes.push_back(stop.length + nearest);
    }
    const int most = min_bins(takes, std::max(1, longest - home));
    // Stops of which no two can share a day: longest first.
    std::vector<int> order = stops, apart;
    std::stable_sort(order.begin(), order.end(),
                     [&](int a, int b) { return problem.stops[at(a)].length > problem.stops[at(b)].length; });
    for (const int s : order) {
        const bool from_all = std::all_of(apart.begin(), apart.end(), [&](int other) {
            if (best_round(problem, {s, other}).stops.size() != 2) return true;
            const auto &a = problem.stops[at(s)].allowed, &b = problem.stops[at(other)].allowed;
            for (int d = 0; d < problem.dates; ++d)
                if (a[at(d)] && b[at(d)]) return false;
            return true;
        });
        if (from_all) apart.push_back(s);
    }
    return std::max(most, static_cast<int>(apart.size()));
}

}  // namespace patchwright::week
