#pragma once
#include <vector>

#include "runs.hpp"

/// A long run with many defects at a fixed density, for the benchmarks: an invented survey, one defect in about 2.2 m,
/// a connection in about 12 m, sizes and spacings spread evenly, with a yard of three packers.
namespace layout_test {

inline Problem survey(int defects, std::uint32_t seed) {
    Dice dice{seed};
    Problem problem;
    problem.overlap = 20;
    problem.tolerance = 5;
    problem.gap = 10;
    problem.lap = 10;
    Centimetre at = 100;
    for (int i = 0; i < defects; ++i) {
        at += dice.roll(20, 420);
        const Centimetre length = dice.roll(2, 40);
        problem.targets.push_back({at, at + length, i, false});
        problem.end_keep_outs.push_back({at - 10, at + length + 10});
        at += length;
        if (!dice.chance(18)) continue;
        at += dice.roll(20, 120);
        Connection connection{{at - 5, at + 5}, std::nullopt};
        if (dice.chance(50)) connection.reopening = 9000;
        problem.connections.push_back(connection);
        problem.end_keep_outs.push_back({at - 15, at + 15});
    }
    problem.run_length = at + 200;
    const Centimetre lengths[][2] = {{30, 70}, {50, 120}, {100, 200}};
    for (int c = 0; c < 3; ++c) {
        problem.carriers.push_back({c, lengths[c][0], lengths[c][1], 15, false, {{0, problem.run_length}}, {}, {}});
    }
    return problem;
}

/// Dearer the longer, by whole cents; a set-up for each patch.
struct SurveyPrice {
    std::optional<Cost> operator()(Centimetre start, Centimetre end, int carrier, int, int) const {
        constexpr Cost fixed[] = {14000, 15500, 18000};
        constexpr Cost metre[] = {5210, 5430, 5870};
        return fixed[carrier] + (metre[carrier] * (end - start) + 50) / 100;
    }
};

}  // namespace layout_test
