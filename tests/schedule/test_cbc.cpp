#include <catch2/catch.hpp>

#include "patchwright/schedule/schedule.hpp"
#include "scenario.hpp"
#include "time_indexed.hpp"

using namespace patchwright::schedule;

TEST_CASE("fifty days have the same optimum as CBC's on a time-indexed model", "[schedule][reference]") {
    // Oracle: CBC (COIN-OR branch and cut) through its C interface. The horizon is the finish of our own day, which the
    // checker has found to keep every rule: CBC looks for an earlier one.
    int compared = 0;
    for (std::uint32_t seed = 1; compared < 50; ++seed) {
        scenario::Size size;
        size.patches = seed % 6 == 0 ? 3 : 2;
        size.runs = 1 + static_cast<int>(seed / 2 % 2);
        size.cuts = size.patches == 2 && seed % 4 < 3;
        size.looks = size.patches == 2 && seed % 4 > 0;
        size.benches = size.patches == 2 && seed % 8 == 4;
        size.preparations = size.patches == 2 && seed % 6 == 2;
        size.shared = false;
        size.day = 120;
        Problem problem = scenario::random_problem(7000 + seed, size);
        for (PatchWork& w : problem.patches) w.mix_to_let_down = 7 + w.mix_to_let_down % 4;
        const Schedule schedule = plan_days(problem);
        if (schedule.days.size() != 1 || !schedule.impossible.empty()) continue;
        CAPTURE(seed);
        REQUIRE(violations(problem, schedule).empty());
        REQUIRE(schedule.proven_optimal);
        // A run without a patch is not prepared: the programme must not ask for it.
        for (std::size_t r = 0; r < problem.runs.size(); ++r) {
            bool used = false;
            for (const PatchWork& w : problem.patches) used = used || w.run == static_cast<int>(r);
            if (!used) problem.runs[r] = RunWork{};
        }
        const time_indexed::Programme programme{problem, schedule.days.front().finish};
        CHECK(programme.solve(60.0, false) == schedule.days.front().finish);
        ++compared;
    }
}
