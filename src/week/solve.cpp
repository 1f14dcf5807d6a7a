#include <algorithm>
#include <optional>

#include "rounds_parts.hpp"

namespace patchwright::week {
namespace {

int bound_of(const Problem& problem, const Rota& rota) {
    std::vector<int> placed;
    for (const Round& round : rota.rounds) placed.insert(placed.end(), round.stops.begin(), round.stops.end());
    std::sort(placed.begin(), placed.end());
    return min_crew_days(problem, placed);
}

}  // namespace

Rota solve(const Problem& problem, std::int64_t budget) {
    Rota rota;
    {
        RoundBook book{problem};
        if (solve_exactly(problem, budget, book, rota)) {
            rota.proven = true;
            rota.bound_crew_days = static_cast<int>(rota.rounds.size());
            return rota;
        }
    }
    // Fewer crews are a choice too: with one more the answer is never worse.
    std::optional<Worth> best;
    Problem fewer = problem;
    RoundBook book{problem};
    for (int crews = 1; crews <= std::min(problem.crews, static_cast<int>(problem.stops.size())); ++crews) {
        fewer.crews = crews;
        Rota other;
        RoundBook alone{fewer};
        if (!solve_exactly(fewer, budget, alone, other)) other = solve_by_insertion(fewer, book);
        const Worth sum = worth(problem, other);
        if (best && !(sum < *best)) continue;
        best = sum;
        rota = std::move(other);
    }
    rota.bound_crew_days = bound_of(problem, rota);
    return rota;
}

}  // namespace patchwright::week
