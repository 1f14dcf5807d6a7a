#pragma once
#include <array>
#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <unordered_set>
#include <vector>

#include "patchwright/city/line.hpp"

namespace patchwright::city {

/// What becomes of a lateral: the first of these that holds of it.
enum class Fate : std::uint8_t {
    unread,      ///< its job could not be read
    look_again,  ///< some place must be seen again before anything is said of the lateral
    dig,         ///< some place is dug up
    too_long,    ///< some patch fits in no working day as it stands: "patch, if"
    patch,       ///< every place gets its patch
    sound,       ///< nothing to mend
};
inline constexpr std::size_t fates = 6;
Fate fate_of(const Planned& plan);

/// The money of letters of one kind in one currency. Sums are exact.
struct Total {
    std::int64_t jobs = 0;
    Money floor, own, offered, ceiling;
};

/// What the worst jobs are worst by.
enum class WorstBy : std::uint8_t { dig, look_again, price, days, late };
inline constexpr std::size_t ways_worst = 5;
/// The price offered; where nothing is offered, what digging the same places costs.
Money price_of(const Planned& plan);

/// Plans counted and added up, in the order in which they come: memory holds the references and `worst` jobs of each
/// kind.
class Summary {
public:
    explicit Summary(std::size_t worst_each) : worst_most_{worst_each} {}
    void add(const Line& line);

    std::int64_t jobs = 0, patches = 0, too_long = 0, days = 0;
    std::array<std::int64_t, fates> by_fate{};
    std::array<std::int64_t, verdicts> by_verdict{};
    std::map<int, std::int64_t> by_days;  ///< jobs by their days, those with none left out
    /// By currency code, then kind of letter.
    std::map<std::string, std::array<Total, letters>> money;
    std::set<std::string> yards;
    bool demonstration = false;
    double late = 0.0, soft = 0.0;  ///< sleeves' jobs that are expected to go that way: the sum of their chances
    std::array<std::vector<Planned>, ways_worst> worst;  ///< worst first; of equals the earlier
    std::int64_t repeated = 0;                           ///< plans whose reference had stood before
    std::string first_repeated;
    std::vector<Line> unread;  ///< the first `worst_each` of them

private:
    void add_plan(const Planned& plan);
    void rank(WorstBy by, const Planned& plan);
    std::size_t worst_most_;
    std::unordered_set<std::string> seen_;
};

}  // namespace patchwright::city
