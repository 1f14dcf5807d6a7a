#pragma once
#include <optional>
#include <vector>

#include "runs.hpp"

/// The layout stated again for integer programming: every sleeve that the rules permit, a centimetre at a time, one
/// yes-or-no variable each; every target covered at least once; no two that the rules forbid together. Shares no code
/// with the library.
namespace layout_test {

struct Sleeve {
    Centimetre start = 0, end = 0;
    int carrier = 0;
    std::vector<int> covers;
    Cost cost = 0;
};

/// All sleeves that cover something, by start, end, carrier.
std::vector<Sleeve> every_sleeve(const Problem& problem, const Tariff& tariff);

bool together(const Problem& problem, const Sleeve& a, const Sleeve& b);

/// A covering set's cost, number and length; nullopt: there is none. `sleeves` must be in order of start.
struct Best {
    Cost cost = 0;
    int patches = 0;
    std::int64_t lined = 0;
    auto operator<=>(const Best&) const = default;
};
std::optional<Best> by_brute_force(const Problem& problem, const std::vector<Sleeve>& sleeves);
/// Least cost; nullopt: there is none. Throws when the solver has no proof after `seconds`.
std::optional<Cost> by_cbc(const Problem& problem, const std::vector<Sleeve>& sleeves, int seconds = 3600);
std::optional<Cost> by_glpk(const Problem& problem, const std::vector<Sleeve>& sleeves, int seconds = 3600);

}  // namespace layout_test
