#include "by_count.hpp"

#include <algorithm>
#include <optional>

namespace patchwright::plan {
namespace {

constexpr std::size_t candidates_most = 400;  // the chains of candidates grow with their square

/// A candidate by the covered targets alone: places `first..last` among them.
struct Sleeve {
    layout::Candidate candidate;
    int first = 0, last = -1;
};

std::vector<Sleeve> sleeves_of(const layout::Problem& problem, const layout::Solution& solution) {
    std::vector<int> before(problem.targets.size() + 1, 0);  // covered targets before that one
    for (std::size_t t = 0; t < problem.targets.size(); ++t) {
        const bool left_out = std::find(solution.uncovered.begin(), solution.uncovered.end(), static_cast<int>(t)) !=
                              solution.uncovered.end();
        before[t + 1] = before[t] + (left_out ? 0 : 1);
    }
    std::vector<Sleeve> sleeves;
    for (const auto& c : solution.candidates) {
        sleeves.push_back({c, before[static_cast<std::size_t>(c.first_target)],
                           before[static_cast<std::size_t>(c.last_target) + 1] - 1});
    }
    return sleeves;
}

/// Whether `b` may follow `a` along the run.
bool follows(const layout::Problem& problem, const Sleeve& a, const Sleeve& b) {
    const auto& p = a.candidate;
    const auto& q = b.candidate;
    const bool onward = p.start < q.start && p.end < q.end && b.first <= a.last + 1 && b.last > a.last;
    return onward && (q.start - p.end >= problem.gap || p.end - q.start >= problem.lap);
}

struct Chain {
    layout::Cost cost = 0;
    int previous = -1;
};
using Row = std::vector<std::optional<Chain>>;  // by the candidate that a chain ends with

Row next_row(const layout::Problem& problem, const std::vector<Sleeve>& sleeves, const Row& row) {
    Row next(sleeves.size());
    for (std::size_t b = 0; b < sleeves.size(); ++b) {
        for (std::size_t a = 0; a < b; ++a) {
            if (!row[a] || !follows(problem, sleeves[a], sleeves[b])) continue;
            const layout::Cost cost = row[a]->cost + sleeves[b].candidate.cost;
            if (!next[b] || cost < next[b]->cost) next[b] = {cost, static_cast<int>(a)};
        }
    }
    return next;
}

}  // namespace

std::vector<layout::Candidate> cheapest_of(const layout::Problem& problem, const layout::Solution& solution,
                                           std::size_t count) {
    if (count == 0 || solution.candidates.size() > candidates_most) return {};
    const auto sleeves = sleeves_of(problem, solution);
    const auto covered = static_cast<int>(problem.targets.size() - solution.uncovered.size());
    std::vector<Row> rows(1, Row(sleeves.size()));
    for (std::size_t s = 0; s < sleeves.size(); ++s) {
        if (sleeves[s].first == 0) rows[0][s] = Chain{sleeves[s].candidate.cost, -1};
    }
    while (rows.size() < count) rows.push_back(next_row(problem, sleeves, rows.back()));

    int end = -1;
    for (std::size_t s = 0; s < sleeves.size(); ++s) {
        if (!rows.back()[s] || sleeves[s].last != covered - 1) continue;
        if (end < 0 || rows.back()[s]->cost < rows.back()[static_cast<std::size_t>(end)]->cost)
            end = static_cast<int>(s);
    }
    std::vector<layout::Candidate> chosen;
    for (auto row = rows.rbegin(); end >= 0 && row != rows.rend(); ++row) {
        chosen.push_back(sleeves[static_cast<std::size_t>(end)].candidate);
        end = (*row)[static_cast<std::size_t>(end)]->previous;
    }
    std::reverse(chosen.begin(), chosen.end());
    return chosen;
}

}  // namespace patchwright::plan
