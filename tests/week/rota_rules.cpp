#include "rota_rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>

namespace patchwright::test {
namespace {

using week::Minute;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

class Checker {
public:
    Checker(const week::Problem& problem, const week::Rota& rota) : problem_{problem}, rota_{rota} {}

    std::vector<std::string> run() {
        for (const auto& round : rota_.rounds) check_round(round);
        check_dates();
        check_jobs();
        return std::move(broken_);
    }

private:
    template <class... Args>
    void require(bool holds, fmt::format_string<Args...> words, Args&&... args) {
        if (!holds) broken_.push_back(fmt::format(words, std::forward<Args>(args)...));
    }

    void check_round(const week::Round& round) {
        require(!round.stops.empty(), "a round without stops");
        require(round.arrive.size() == round.stops.size(), "a round with other times than stops");
        if (round.stops.empty() || round.arrive.size() != round.stops.size()) return;
        Minute now = round.leave, driven = 0, finish = 1 << 20;
        int place = 0;
        for (std::size_t k = 0; k < round.stops.size(); ++k) {
            const auto& stop = problem_.stops[at(round.stops[k])];
            const auto& job = problem_.jobs[at(stop.job)];
            const Minute drive = problem_.drive[at(place)][at(stop.job + 1)];
            require(round.leave >= job.start, "stop {}: the crew leaves at {}, before {}", round.stops[k], round.leave,
                    job.start);
            require(round.back <= job.finish + problem_.overtime, "stop {}: the crew is back at {}, past {}",
                    round.stops[k], round.back, job.finish + problem_.overtime);
            require(round.arrive[k] >= now + drive, "stop {}: work begins before the crew is there", round.stops[k]);
            require(round.arrive[k] >= job.window_from, "stop {}: before its window", round.stops[k]);
            require(round.arrive[k] + stop.length <= job.window_to, "stop {}: past its window", round.stops[k]);
            require(stop.allowed[at(round.date)], "stop {}: not allowed on date {}", round.stops[k], round.date);
            now = round.arrive[k] + stop.length;
            driven += drive;
            place = stop.job + 1;
            finish = std::min(finish, job.finish);
        }
        driven += problem_.drive[at(place)][0];
        require(round.back == now + problem_.drive[at(place)][0], "the crew is not back when it says");
        require(round.drive == driven, "{} driven, not {}", driven, round.drive);
        require(round.overtime == std::max(0, round.back - finish), "overtime is not {}", round.overtime);
    }

    void check_dates() {
        for (int date = 0; date < problem_.dates; ++date) {
            int crews = 0;
            std::vector<int> used(problem_.packers.size(), 0);
            for (const auto& round : rota_.rounds) {
                if (round.date != date) continue;
                ++crews;
                for (std::size_t k = 0; k < used.size(); ++k) {
                    int most = 0;
                    for (const int s : round.stops) most = std::max(most, problem_.stops[at(s)].packers[k]);
                    used[k] += most;
                }
            }
            require(crews <= problem_.crews, "{} crews on date {}", crews, date);
            for (std::size_t k = 0; k < used.size(); ++k)
                require(used[k] <= problem_.packers[k], "{} packers of kind {} on date {}", used[k], k, date);
        }
    }

    void check_jobs() {
        std::map<int, std::vector<int>> dates;  // of each stop
        for (const auto& round : rota_.rounds)
            for (const int s : round.stops) dates[s].push_back(round.date);
        const std::set<int> out(rota_.left_out.begin(), rota_.left_out.end());
        for (std::size_t s = 0; s < problem_.stops.size(); ++s) {
            const auto& stop = problem_.stops[s];
            const auto times = dates[static_cast<int>(s)].size();
            require(times == (out.contains(stop.job) ? 0U : 1U), "stop {} stands {} times", s, times);
            if (times != 1 || stop.part == 0) continue;
            const auto& before = dates[static_cast<int>(s) - 1];
            require(!before.empty() && before.front() < dates[static_cast<int>(s)].front(),
                    "stop {} is not after the day before it", s);
        }
    }

    const week::Problem& problem_;
    const week::Rota& rota_;
    std::vector<std::string> broken_;
};

}  // namespace

std::vector<std::string> broken_rota_rules(const week::Problem& problem, const week::Rota& rota) {
    return Checker{problem, rota}.run();
}

namespace {

/// One crew's stops on one date, in the best of all orders; nothing where none keeps the rules.
std::optional<Minute> min_minutes(const week::Problem& problem, std::vector<int> stops) {
    std::optional<Minute> best;
    std::sort(stops.begin(), stops.end());
    do {
        Minute start = 0, finish = 1 << 20;
        for (const int s : stops) {
            start = std::max(start, problem.jobs[at(problem.stops[at(s)].job)].start);
            finish = std::min(finish, problem.jobs[at(problem.stops[at(s)].job)].finish);
        }
        Minute now = start, driven = 0;
        int place = 0;
        bool good = true;
        for (const int s : stops) {
            const auto& stop = problem.stops[at(s)];
            const Minute drive = problem.drive[at(place)][at(stop.job + 1)];
            now = std::max(now + drive, problem.jobs[at(stop.job)].window_from) + stop.length;
            good = good && now <= problem.jobs[at(stop.job)].window_to;
            driven += drive;
            place = stop.job + 1;
        }
        now += problem.drive[at(place)][0];
        driven += problem.drive[at(place)][0];
        if (!good || now > finish + problem.overtime) continue;
        const Minute sum = driven + std::max(0, now - finish);
        if (!best || sum < *best) best = sum;
    } while (std::next_permutation(stops.begin(), stops.end()));
    return best;
}

class Enumeration {
public:
    explicit Enumeration(const week::Problem& problem) : problem_{problem}, slot_of_(problem.stops.size(), -1) {}

    week::Worth run() {
        place(0);
        return best_;
    }

private:
    int date_of(std::size_t s) const { return slot_of_[s] / problem_.crews; }

    void place(std::size_t s) {
        if (s == slot_of_.size()) return judge();
        for (int slot = -1; slot < problem_.dates * problem_.crews; ++slot) {
            slot_of_[s] = slot;
            const auto& stop = problem_.stops[s];
            const bool alone_out = stop.part > 0 && (slot < 0) != (slot_of_[s - 1] < 0);
            const bool out_of_order =
                slot >= 0 && stop.part > 0 && slot_of_[s - 1] >= 0 && date_of(s) <= date_of(s - 1);
            if (alone_out || out_of_order) continue;
            if (slot >= 0 && !stop.allowed[at(date_of(s))]) continue;
            place(s + 1);
        }
    }

    void judge() {
        week::Worth sum;
        std::map<int, std::vector<int>> rounds;
        std::set<int> out;
        for (std::size_t s = 0; s < slot_of_.size(); ++s) {
            if (slot_of_[s] < 0) {
                out.insert(problem_.stops[s].job);
                continue;
            }
            rounds[slot_of_[s]].push_back(static_cast<int>(s));
            sum.dates += date_of(s);
            const int kept = problem_.stops[s].kept_date;
            sum.moved += kept >= 0 && kept != date_of(s) ? 1 : 0;
        }
        std::map<std::pair<int, std::size_t>, int> packers;
        for (const auto& [slot, stops] : rounds) {
            const auto minutes = min_minutes(problem_, stops);
            if (!minutes) return;
            sum.minutes += *minutes;
            for (std::size_t k = 0; k < problem_.packers.size(); ++k) {
                int most = 0;
                for (const int s : stops) most = std::max(most, problem_.stops[at(s)].packers[k]);
                int& used = packers[{slot / problem_.crews, k}];
                used += most;
                if (used > problem_.packers[k]) return;
            }
        }
        sum.crew_days = static_cast<std::int64_t>(rounds.size());
        sum.left_out = static_cast<std::int64_t>(out.size());
        if (!found_ || sum < best_) best_ = sum;
        found_ = true;
    }

    const week::Problem& problem_;
    std::vector<int> slot_of_;  ///< date and crew; -1: nowhere
    bool found_ = false;
    week::Worth best_;
};

}  // namespace

week::Worth best_by_enumeration(const week::Problem& problem) { return Enumeration{problem}.run(); }

}  // namespace patchwright::test
