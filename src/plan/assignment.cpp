#include "assignment.hpp"

#include <algorithm>
#include <bit>
#include <map>
#include <stdexcept>
#include <utility>

namespace patchwright::plan {
namespace {

constexpr std::size_t max_sleeves = 16;

/// Days priced so far, by key. A key's place in its set's list follows from its runs prepared and its sleeves lying.
class Prices {
public:
    explicit Prices(const AssignmentProblem& problem)
        : problem_{problem}, rows_(std::size_t{1} << problem.run.size()), runs_(rows_.size(), 0) {
        for (std::size_t set = 1; set < runs_.size(); ++set) {
            const auto first = static_cast<std::size_t>(std::countr_zero(set));
            runs_[set] = runs_[set & (set - 1)] | std::uint32_t{1} << problem.run[first];
        }
    }

    /// Bits of the runs of a set.
    std::uint32_t runs_of(SleeveSet set) const { return runs_[set]; }
    double lower(const DayKey& key) {
        Row& row = rows_[key.sleeves];
        const auto place = find(row, key);
        if (place != row.end()) return place->cost.lower;
        row.push_back({key, {problem_.quick_bound(key), never}, Known::quick_bound});
        return row.back().cost.lower;
    }
    /// Better bounds for those days that have only a first one; true when there was one.
    bool bound(const std::vector<DayKey>& days) {
        bool better = false;
        for (const DayKey& key : days) {
            Entry& entry = *find(rows_[key.sleeves], key);
            if (entry.known != Known::quick_bound) continue;
            entry.cost.lower = std::max(entry.cost.lower, problem_.bound(key));
            entry.known = Known::bound;
            better = true;
        }
        return better;
    }
    /// Prices the day unless it is; true when that was still to do.
    bool price(const DayKey& key) {
        Entry& entry = *find(rows_[key.sleeves], key);
        if (entry.known == Known::price) return false;
        entry = {key, problem_.cost(key), Known::price};
        return true;
    }
    double upper(const DayKey& key) { return find(rows_[key.sleeves], key)->cost.upper; }

private:
    enum class Known : std::uint8_t { quick_bound, bound, price };
    struct Entry {
        DayKey key;
        DayCost cost;
        Known known;
    };
    using Row = std::vector<Entry>;
    static Row::iterator find(Row& row, const DayKey& key) {
        return std::find_if(row.begin(), row.end(), [&](const Entry& entry) { return entry.key == key; });
    }

    const AssignmentProblem& problem_;
    std::vector<Row> rows_;            ///< by set
    std::vector<std::uint32_t> runs_;  ///< of each set
};

/// Cheapest way by the lower costs to each set of sleeves done, with those that still lie.
class Programme {
public:
    Programme(const AssignmentProblem& problem, Prices& prices) : problem_{problem}, prices_{prices} {}

    /// The days of the cheapest way and its sum of lower costs.
    std::pair<std::vector<DayKey>, double> run() {
        const SleeveSet all = (SleeveSet{1} << problem_.run.size()) - 1;
        best_.clear();
        best_[{0, 0}] = {0.0, {}, {0, 0}};
        // A day adds sleeves or, when all are in the pipe, takes out what lies: states follow each other in this order.
        for (SleeveSet done = 0; done <= all; ++done) {
            for (SleeveSet lying = problem_.overnight & done;; lying = (lying - 1) & (problem_.overnight & done)) {
                if (const auto state = best_.find({done, lying}); state != best_.end())
                    leave(done, lying, state->second.cost, all);
                if (lying == 0) break;
            }
        }
        return path(all);
    }

private:
    using State = std::pair<SleeveSet, SleeveSet>;  ///< done, lying
    struct Step {
        double cost = never;
        DayKey day;
        State from;
    };

    bool allowed(SleeveSet done, SleeveSet set) const {
        if (std::popcount(set) > problem_.max_a_day) return false;
        for (std::size_t i = 0; i < problem_.after.size(); ++i) {
            if ((set >> i & 1U) && (problem_.after[i] & ~(done | set)) != 0) return false;
        }
        return true;
    }
    void leave(SleeveSet done, SleeveSet lying, double cost, SleeveSet all) {
        const SleeveSet rest = all & ~done;
        for (SleeveSet set = rest;; set = (set - 1) & rest) {
            if ((set != 0 || lying != 0) && allowed(done, set)) step(done, lying, set, cost);
            if (set == 0) break;
        }
    }
    void step(SleeveSet done, SleeveSet lying, SleeveSet set, double cost) {
        const DayKey key{set, prices_.runs_of(done) & prices_.runs_of(set), lying};
        const double total = cost + prices_.lower(key);
        if (total == never) return;
        auto& to = best_[{done | set, set & problem_.overnight}];
        if (total < to.cost) to = {total, key, {done, lying}};
    }
    std::pair<std::vector<DayKey>, double> path(SleeveSet all) const {
        auto state = best_.find({all, 0});
        if (state == best_.end() || state->second.cost == never) return {{}, never};
        const double cost = state->second.cost;
        std::vector<DayKey> days;
        for (; state->first != State{0, 0}; state = best_.find(state->second.from)) days.push_back(state->second.day);
        std::reverse(days.begin(), days.end());
        return {std::move(days), cost};
    }

    const AssignmentProblem& problem_;
    Prices& prices_;
    std::map<State, Step> best_;
};

}  // namespace

Assignment cheapest_days(const AssignmentProblem& problem, double not_above, int max_priced) {
    if (problem.run.size() > max_sleeves)
        throw std::invalid_argument("cheapest_days: too many sleeves for one programme");
    Prices prices{problem};
    Programme programme{problem, prices};
    Assignment best;
    while (true) {
        auto [days, bound] = programme.run();
        const bool nothing_priced = best.evaluated == 0;
        if (nothing_priced) best.first_bound = bound;
        best.bound = bound;
        if (bound >= std::min(best.cost, not_above)) break;
        if (prices.bound(days)) continue;
        bool all_known = true;
        for (const DayKey& day : days) {
            if (!prices.price(day)) continue;
            all_known = false;
            ++best.evaluated;
        }
        double cost = 0.0;
        for (const DayKey& day : days) cost += prices.upper(day);
        if (cost < best.cost) {
            best.cost = cost;
            best.days = std::move(days);
        }
        if (all_known || best.evaluated >= max_priced) break;
    }
    best.bound = std::min(best.bound, best.cost);
    return best;
}

}  // namespace patchwright::plan
