#include "assignment.hpp"

#include <algorithm>
#include <bit>
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
    /// What a day counts with: its price as found, or the best bound so far.
    double cost(const DayKey& key) {
        Row& row = rows_[key.sleeves];
        const auto place = find(row, key);
        if (place != row.end())
            return place->known == Known::price && !proven_only_ ? place->cost.upper : place->cost.lower;
        row.push_back({key, {problem_.quick_bound(key), never}, Known::quick_bound});
        return row.back().cost.lower;
    }
    /// Better bounds for those days that have only a quick one; true when there was one.
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
        const DayCost cost = problem_.cost(key);
        entry.cost = {std::max(entry.cost.lower, cost.lower), cost.upper};
        proven_ = proven_ && entry.cost.lower >= entry.cost.upper;
        entry.known = Known::price;
        return true;
    }
    double upper(const DayKey& key) { return find(rows_[key.sleeves], key)->cost.upper; }
    /// Every price so far is.
    bool proven() const { return proven_; }
    /// From now on days that have a price count with what is proven of it.
    void count_what_is_proven() { proven_only_ = true; }

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
    bool proven_ = true, proven_only_ = false;
};

/// The cheapest days by what they count with, again and again while that rises. What is still to be paid from each
/// state is worked out once; later only where the cheapest way leads along, for elsewhere it can only have risen.
class Programme {
public:
    Programme(const AssignmentProblem& problem, Prices& prices)
        : problem_{problem}, prices_{prices}, all_{(SleeveSet{1} << problem.run.size()) - 1}, to_pay_(all_ + 1) {
        // A day adds sleeves or, when none is added, takes out what lies: a state's followers come before it here.
        for (SleeveSet done = all_ + 1; done-- > 0;) {
            to_pay_[done].resize(std::size_t{1} << std::popcount(problem_.overnight & done), never);
            const SleeveSet overnight = problem_.overnight & done;
            for (SleeveSet lying = 0;; lying = (lying - overnight) & overnight) {
                const State state{done, lying};
                to_pay(state) = state == end() ? 0.0 : cheapest(state).cost;
                if (lying == overnight) break;
            }
        }
    }

    /// The days of the cheapest way and its sum.
    std::pair<std::vector<DayKey>, double> run() {
        std::vector<Step> way;
        State state{0, 0};
        while (state != end()) {
            const Step step = cheapest(state);
            if (step.cost == never && way.empty()) return {{}, never};
            const bool risen = step.cost > to_pay(state);
            to_pay(state) = step.cost;
            if (risen && !way.empty()) {  // another way may be cheaper now
                state = way.back().from;
                way.pop_back();
                continue;
            }
            way.push_back(step);
            state = {state.done | step.day.sleeves, step.day.sleeves & problem_.overnight};
        }
        std::vector<DayKey> days;
        for (const Step& step : way) days.push_back(step.day);
        return {std::move(days), to_pay({0, 0})};
    }

private:
    struct State {
        SleeveSet done = 0, lying = 0;
        bool operator==(const State&) const = default;
    };
    struct Step {
        double cost = never;  ///< of this day and all that follow
        DayKey day;
        State from;
    };

    State end() const { return {all_, 0}; }
    double& to_pay(State state) {
        std::size_t place = 0;
        std::size_t bit = 1;
        for (SleeveSet rest = problem_.overnight & state.done; rest != 0; rest &= rest - 1, bit <<= 1)
            if ((state.lying & rest & (~rest + 1)) != 0) place |= bit;
        return to_pay_[state.done][place];
    }
    bool allowed(SleeveSet done, SleeveSet set) const {
        if (std::popcount(set) > problem_.max_a_day) return false;
        for (std::size_t i = 0; i < problem_.after.size(); ++i) {
            if ((set >> i & 1U) && (problem_.after[i] & ~(done | set)) != 0) return false;
        }
        return true;
    }
    Step cheapest(State state) {
        Step best;
        const SleeveSet rest = all_ & ~state.done;
        // Of equals the first sleeves first.
        for (SleeveSet set = 0;; set = (set - rest) & rest) {
            if ((set != 0 || state.lying != 0) && allowed(state.done, set)) {
                const double later = to_pay({state.done | set, set & problem_.overnight});
                const DayKey key{set, prices_.runs_of(state.done) & prices_.runs_of(set), state.lying};
                const double cost = later < best.cost ? later + prices_.cost(key) : never;
                if (cost < best.cost) best = {cost, key, state};
            }
            if (set == rest) break;
        }
        return best;
    }

    const AssignmentProblem& problem_;
    Prices& prices_;
    SleeveSet all_;
    std::vector<std::vector<double>> to_pay_;  ///< by sleeves done, then by those of them that lie
};

/// Prices the days of a way, and keeps it if it is the best; true when one of them had no price yet.
bool price(std::vector<DayKey> days, Prices& prices, Assignment& best) {
    int fresh = 0;
    double cost = 0.0;
    for (const DayKey& day : days) {
        fresh += prices.price(day) ? 1 : 0;
        cost += prices.upper(day);
    }
    best.evaluated += fresh;
    if (cost < best.cost) {
        best.cost = cost;
        best.days = std::move(days);
    }
    return fresh > 0;
}

/// Good ways to begin with: the best by the bounds with so many sleeves a day, from as many as a day takes to a few.
void find_first(const AssignmentProblem& problem, double not_above, Prices& prices, Assignment& best) {
    constexpr int max_priced = 6, max_bounded = 300;
    AssignmentProblem fewer = problem;
    for (; fewer.max_a_day > 0; --fewer.max_a_day) {
        Programme programme{fewer, prices};
        for (int priced = 0, bounded = 0; priced < max_priced;) {
            auto [days, bound] = programme.run();
            if (bound >= std::min(best.cost, not_above)) return;  // fewer a day only cost more
            if (bounded < max_bounded && prices.bound(days)) {
                ++bounded;
                continue;
            }
            if (!price(std::move(days), prices, best)) break;
            ++priced;
        }
    }
}

}  // namespace

Assignment cheapest_days(const AssignmentProblem& problem, double not_above, int max_priced) {
    if (problem.run.size() > max_sleeves)
        throw std::invalid_argument("cheapest_days: too many sleeves for one programme");
    Prices prices{problem};
    Programme programme{problem, prices};
    Assignment best;
    if (problem.enough) find_first(problem, not_above, prices, best);
    for (bool fresh = true; fresh;) {
        auto [days, bound] = programme.run();
        best.bound = bound;
        const bool proven = bound >= std::min(best.cost, not_above);
        const bool enough = problem.enough && problem.enough();
        if (proven || best.evaluated >= max_priced || (enough && best.cost < never)) break;
        fresh = (!enough && prices.bound(days)) || price(std::move(days), prices, best);
    }
    if (!prices.proven()) {
        prices.count_what_is_proven();
        best.bound = Programme{problem, prices}.run().second;
    }
    best.bound = std::min(best.bound, best.cost);
    return best;
}

}  // namespace patchwright::plan
