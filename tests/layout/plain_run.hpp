#pragma once
#include <utility>
#include <vector>

#include "runs.hpp"

/// The plainest run, for rules that are worked by hand.
namespace layout_test {

/// 20 m of pipe, one packer for sleeves of 30 to 120 cm; overlap 20, tolerance 5, gap and lap 10.
inline Problem plain_run() {
    Problem problem;
    problem.run_length = 2000;
    problem.overlap = 20;
    problem.tolerance = 5;
    problem.gap = problem.lap = 10;
    problem.carriers = {{0, 30, 120, 10, false, {{0, 2000}}, {}, {}}};
    return problem;
}

inline std::optional<Cost> per_centimetre(Centimetre start, Centimetre end, int, int, int) {
    return 1000 + 10 * (end - start);
}

inline std::vector<Candidate> chosen(const Solution& solution, std::size_t which = 0) {
    std::vector<Candidate> patches;
    for (const int i : solution.best.at(which).chosen)
        patches.push_back(solution.candidates.at(static_cast<std::size_t>(i)));
    return patches;
}

inline std::vector<std::pair<Centimetre, Centimetre>> places(const Solution& solution) {
    std::vector<std::pair<Centimetre, Centimetre>> result;
    for (const auto& patch : chosen(solution)) result.emplace_back(patch.start, patch.end);
    return result;
}

using Places = std::vector<std::pair<Centimetre, Centimetre>>;

}  // namespace layout_test
