#pragma once
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <vector>

/// Which sleeves are set on which day. Knows sets and costs, not resins or clocks.
namespace patchwright::plan {

/// The cost of what cannot be done.
inline constexpr double never = std::numeric_limits<double>::infinity();

using SleeveSet = std::uint32_t;  ///< bit i: sleeve i

/// One day's work, apart from who does it when.
struct DayKey {
    SleeveSet sleeves = 0;     ///< set on that day
    std::uint32_t prepared{};  ///< of their runs (bit r: run r), those worked on an earlier day
    SleeveSet lying = 0;       ///< left to cure since the day before: let down on that day
    bool operator==(const DayKey&) const = default;
};

/// What a day costs at least and as found: proven when both are the same. Both infinite: it cannot be done in a day.
struct DayCost {
    double lower = 0.0, upper = never;
};

struct AssignmentProblem {
    std::vector<int> run;          ///< of each sleeve, below 32
    std::vector<SleeveSet> after;  ///< sleeves that must be let down before; empty: none
    SleeveSet overnight = 0;       ///< sleeves that cure overnight and are let down the next day
    int max_a_day = 6;
    /// A bound that costs next to nothing, a better one, and the real cost: each asked once a key, and only where the
    /// one before does not decide.
    std::function<double(const DayKey&)> quick_bound, bound;
    std::function<DayCost(const DayKey&)> cost;
    /// The best found so far is to do: asked where good days are looked for first. Empty: only a proof ends the search.
    std::function<bool()> enough;
};

struct Assignment {
    std::vector<DayKey> days;  ///< in order; empty: some sleeve fits into no day
    double cost = std::numeric_limits<double>::infinity();
    double bound = 0.0;  ///< no assignment costs less
    int evaluated = 0;   ///< days whose real cost was asked
};

/// The cheapest sequence of days, exact for what `cost` gives.
///
/// Dynamic programme over the sets of sleeves that are done, with bounds in place of costs; the days on the cheapest
/// path get the better bound, then their price, and the programme is run again until every day on its path has one.
/// Ends early when the bound reaches `not_above`, after `max_priced` prices or when it is `enough`: then, and where a
/// price is not proven, `bound` says how far off the best may be. At most 16 sleeves; more throw std::invalid_argument.
Assignment cheapest_days(const AssignmentProblem& problem, double not_above, int max_priced);

}  // namespace patchwright::plan
