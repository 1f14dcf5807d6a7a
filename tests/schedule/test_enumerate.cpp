// Oracle of all cases here: every order of all jobs of a day, and every way to deal the patches over days,
// enumerate.hpp.
#include <catch2/catch.hpp>

#include <numeric>

#include "enumerate.hpp"
#include "patchwright/schedule/schedule.hpp"
#include "scenario.hpp"

using namespace patchwright::schedule;

namespace {

std::vector<int> workable(const Problem& problem, const Schedule& schedule) {
    std::vector<int> mixes;
    for (int b = 0; b < static_cast<int>(problem.batches.size()); ++b) {
        const int first = problem.batches[static_cast<std::size_t>(b)].patches.front();
        if (std::find(schedule.impossible.begin(), schedule.impossible.end(), first) == schedule.impossible.end())
            mixes.push_back(b);
    }
    return mixes;
}

Minute total_waiting(const Problem& problem, const Schedule& schedule, int day) {
    Minute sum = 0;
    for (std::size_t i = 0; i < problem.patches.size(); ++i) {
        const PatchTimes& t = schedule.patches[i];
        const PatchWork& w = problem.patches[i];
        if (t.day == day) sum += t.inflate - t.mix - w.wet_out - w.load - w.position - w.inflate;
    }
    return sum;
}

void compare(const Problem& problem) {
    const Schedule schedule = plan_days(problem);
    const auto broken = violations(problem, schedule);
    CAPTURE(broken);
    REQUIRE(broken.empty());
    REQUIRE(schedule.proven_optimal);
    for (int i : schedule.impossible) {
        const int mix = problem.patches[static_cast<std::size_t>(i)].batch;
        CHECK_FALSE(enumerate::day(problem, {mix}).found());
    }
    const std::vector<int> mixes = workable(problem, schedule);
    if (mixes.empty()) {
        CHECK(schedule.days.empty());
        return;
    }
    const enumerate::Days oracle = enumerate::all_days(problem, mixes);
    REQUIRE(static_cast<int>(schedule.days.size()) == oracle.days);
    CHECK(schedule.days.back().finish == oracle.last.finish);
    CHECK(schedule.bound == schedule.days.back().finish);
    CHECK(total_waiting(problem, schedule, oracle.days - 1) == oracle.last.waiting);
}

}  // namespace

TEST_CASE("small days with every kind of job agree with exhaustive enumeration", "[schedule][reference]") {
    for (std::uint32_t seed = 1; seed <= 120; ++seed) {
        CAPTURE(seed);
        scenario::Size size;
        size.patches = 1 + static_cast<int>(seed % 2);
        size.runs = 1 + static_cast<int>(seed % 2);
        compare(scenario::random_problem(seed, size));
    }
}

TEST_CASE("three patches with cuts or looks agree with exhaustive enumeration", "[schedule][reference]") {
    for (std::uint32_t seed = 1; seed <= 120; ++seed) {
        CAPTURE(seed);
        scenario::Size size;
        size.patches = 3;
        size.runs = 2;
        size.cuts = seed % 4 == 0;
        size.looks = seed % 4 == 1;
        size.benches = seed % 4 == 2;
        size.preparations = seed % 4 == 3;
        compare(scenario::random_problem(1000 + seed, size));
    }
}

TEST_CASE("several short days agree with every way to deal the patches over days", "[schedule][reference]") {
    for (std::uint32_t seed = 1; seed <= 120; ++seed) {
        CAPTURE(seed);
        scenario::Size size;
        size.patches = 3 + static_cast<int>(seed % 2);
        size.runs = 2;
        size.cuts = seed % 2 == 0;
        size.benches = false;
        size.looks = false;
        size.preparations = seed % 3 == 0;
        size.day = 35 + static_cast<int>(seed % 5) * 8;
        compare(scenario::random_problem(2000 + seed, size));
    }
}

TEST_CASE("up to seven patches agree with exhaustive enumeration", "[schedule][reference]") {
    for (std::uint32_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        scenario::Size size;
        size.patches = 4 + static_cast<int>(seed % 4);
        size.runs = 3;
        size.cuts = size.benches = size.looks = size.preparations = false;
        Problem problem = scenario::random_problem(3000 + seed, size);
        problem.air_lines = std::min(problem.air_lines, size.patches > 5 ? 1 : 2);
        const Schedule schedule = plan_days(problem);
        const auto broken = violations(problem, schedule);
        CAPTURE(broken);
        REQUIRE(broken.empty());
        if (schedule.days.size() != 1) continue;
        REQUIRE(schedule.proven_optimal);
        const enumerate::Best oracle = enumerate::day(problem, workable(problem, schedule));
        CHECK(schedule.days.front().finish == oracle.finish);
        CHECK(total_waiting(problem, schedule, 0) == oracle.waiting);
    }
}
