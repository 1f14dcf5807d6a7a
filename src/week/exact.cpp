// The best rota by dynamic programme over dates: which stops are done by the evening, and at what least worth.
#include <algorithm>
#include <bit>
#include <map>
#include <optional>

#include "rounds_parts.hpp"

namespace patchwright::week {
namespace {

using Set = std::uint32_t;

Set bit(int s) { return Set{1} << s; }
bool has(Set set, int s) { return (set & bit(s)) != 0; }

/// A set of stops that one crew can do in a day.
struct Group {
    Set stops = 0;
    const Round* round = nullptr;
    std::vector<int> packers;
};

/// What a set of stops comes to by the evening of a date, and how.
struct State {
    Worth worth;
    Set morning = 0;
    std::vector<int> groups;  ///< of that date
};
using Evening = std::map<Set, State>;

class Dates {
public:
    Dates(const Problem& problem, std::int64_t budget, RoundBook& book)
        : problem_{problem}, budget_{budget}, stops_{static_cast<int>(problem.stops.size())} {
        std::vector<int> members;
        add_groups(0, members, book);
    }

    bool run(Rota& rota) {
        evenings_.assign(1, Evening{{0, State{}}});
        for (date_ = 0; date_ < problem_.dates; ++date_) {
            evenings_.emplace_back();
            for (const auto& [morning, state] : evenings_[at(date_)]) {
                morning_ = morning;
                open_.clear();
                for (std::size_t g = 0; g < groups_.size(); ++g)
                    if (may_go(groups_[g])) open_.push_back(static_cast<int>(g));
                chosen_.clear();
                used_.assign(problem_.packers.size(), 0);
                add(0, morning, state.worth);
                if (budget_ < 0) return false;
            }
        }
        write(rota);
        return true;
    }

private:
    /// Every set that fits, by adding stops in order; with a stop more none fits that does not fit without it.
    void add_groups(int from, std::vector<int>& members, RoundBook& book) {
        for (int s = from; s < stops_; ++s) {
            members.push_back(s);
            if (--budget_ >= 0) {
                const Round& round = book.of(members);
                if (!round.stops.empty()) {
                    Group group{0, &round, packers_of(problem_, members)};
                    for (const int m : members) group.stops |= bit(m);
                    groups_.push_back(std::move(group));
                    add_groups(s + 1, members, book);
                }
            }
            members.pop_back();
        }
    }

    bool may_go(const Group& group) const {
        if ((group.stops & morning_) != 0) return false;
        for (int s = 0; s < stops_; ++s) {
            if (!has(group.stops, s)) continue;
            const Stop& stop = problem_.stops[at(s)];
            if (!stop.allowed[at(date_)] || (stop.part > 0 && !has(morning_, s - 1))) return false;
        }
        return true;
    }

    /// The date with the groups chosen so far, and with each further one: by rising place, so that no choice comes
    /// twice.
    void add(std::size_t from, Set done, const Worth& worth) {
        if (--budget_ < 0) return;
        auto [place, fresh] = evenings_.back().try_emplace(done, State{worth, morning_, chosen_});
        if (!fresh && worth < place->second.worth) place->second = {worth, morning_, chosen_};
        if (static_cast<int>(chosen_.size()) >= problem_.crews) return;
        for (std::size_t k = from; k < open_.size(); ++k) {
            const Group& group = groups_[at(open_[k])];
            if ((group.stops & done) != 0) continue;
            bool enough = true;
            for (std::size_t p = 0; p < used_.size(); ++p)
                enough = enough && used_[p] + group.packers[p] <= problem_.packers[p];
            if (!enough) continue;
            for (std::size_t p = 0; p < used_.size(); ++p) used_[p] += group.packers[p];
            chosen_.push_back(open_[k]);
            Worth with = worth;
            ++with.crew_days;
            with.minutes += group.round->drive + group.round->overtime;
            for (const int s : group.round->stops) {
                const int kept = problem_.stops[at(s)].kept_date;
                with.moved += kept >= 0 && kept != date_ ? 1 : 0;
                with.dates += date_;
            }
            add(k + 1, done | group.stops, with);
            chosen_.pop_back();
            for (std::size_t p = 0; p < used_.size(); ++p) used_[p] -= group.packers[p];
        }
    }

    /// Jobs that are not begun in that set; none where one is begun and not done.
    std::optional<std::vector<int>> left_out(Set done) const {
        std::vector<int> parts(problem_.jobs.size(), 0), all(problem_.jobs.size(), 0);
        for (int s = 0; s < stops_; ++s) {
            const auto job = at(problem_.stops[at(s)].job);
            ++all[job];
            parts[job] += has(done, s) ? 1 : 0;
        }
        std::vector<int> out;
        for (std::size_t j = 0; j < parts.size(); ++j) {
            if (parts[j] != 0 && parts[j] != all[j]) return std::nullopt;
            if (parts[j] == 0 && all[j] > 0) out.push_back(static_cast<int>(j));
        }
        return out;
    }

    void write(Rota& rota) {
        std::optional<Worth> best;
        Set evening = 0;
        for (const auto& [done, state] : evenings_.back()) {
            const auto out = left_out(done);
            if (!out) continue;
            Worth sum = state.worth;
            sum.left_out = static_cast<std::int64_t>(out->size());
            if (best && !(sum < *best)) continue;
            best = sum;
            evening = done;
            rota.left_out = *out;
        }
        for (int d = problem_.dates; d > 0; --d) {
            const State& state = evenings_[at(d)].at(evening);
            for (const int g : state.groups) {
                rota.rounds.push_back(*groups_[at(g)].round);
                rota.rounds.back().date = d - 1;
            }
            evening = state.morning;
        }
        sort_rounds(rota);
    }

    const Problem& problem_;
    std::int64_t budget_;
    const int stops_;
    std::vector<Group> groups_;
    std::vector<Evening> evenings_;  ///< before the first date, then after each
    int date_ = 0;
    Set morning_ = 0;
    std::vector<int> open_, chosen_, used_;
};

}  // namespace

bool solve_exactly(const Problem& problem, std::int64_t budget, RoundBook& book, Rota& rota) {
    constexpr std::size_t max_bits = 24;
    if (problem.jobs.size() > static_cast<std::size_t>(exact_jobs) || problem.stops.size() > max_bits) return false;
    return Dates{problem, budget, book}.run(rota);
}

}  // namespace patchwright::week
