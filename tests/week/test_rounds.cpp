// The rounds of the crews against rules written anew, and against trying everything.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "rota_rules.hpp"
#include "support/dice.hpp"

using namespace patchwright;
using namespace patchwright::test;

namespace {

struct Size {
    int jobs = 4, dates = 3, crews = 2;
};

/// Jobs scattered round a yard, some of two days, some with windows, fixed dates or the only packer of its kind. Drives
/// go as the crow flies between whole minutes, so that no way is longer than by another place.
week::Problem random_problem(Dice& dice, const Size& size) {
    week::Problem problem;
    problem.dates = size.dates;
    problem.crews = size.crews;
    problem.overtime = dice.chance(50) ? 30 : 0;
    problem.packers = {dice.between(1, 3), dice.between(1, 2)};
    std::vector<std::pair<int, int>> places{{0, 0}};
    for (int j = 0; j < size.jobs; ++j) {
        places.emplace_back(dice.between(-30, 30), dice.between(-30, 30));
        week::Bounds bounds{450, 990, 0, 5000};
        if (dice.chance(25)) bounds.start = 480;
        if (dice.chance(25)) bounds.finish = dice.between(900, 1020);
        if (dice.chance(30)) {
            bounds.window_from = dice.between(480, 700);
            bounds.window_to = bounds.window_from + dice.between(200, 420);
        }
        problem.jobs.push_back(bounds);
        const int parts = dice.chance(20) ? 2 : 1;
        for (int part = 0; part < parts; ++part) {
            week::Stop stop;
            stop.job = j;
            stop.part = part;
            stop.length = dice.between(60, 330);
            stop.packers = {dice.between(0, 1), dice.between(0, 1)};
            for (int d = 0; d < size.dates; ++d) stop.allowed.push_back(dice.chance(85));
            if (dice.chance(20)) stop.kept_date = dice.between(0, size.dates - 1);
            problem.stops.push_back(stop);
        }
    }
    for (const auto& [x, y] : places) {
        auto& row = problem.drive.emplace_back();
        for (const auto& [u, v] : places) row.push_back(std::abs(x - u) + std::abs(y - v));
    }
    return problem;
}

}  // namespace

TEST_CASE("weeks of up to four jobs are the best of all", "[week][oracle]") {
    Dice dice{7};
    int several = 0, left_out = 0;
    for (int i = 0; i < 150; ++i) {
        auto problem = random_problem(dice, {dice.between(1, 4), dice.between(1, 3), dice.between(1, 2)});
        if (problem.stops.size() > 5) continue;
        const auto rota = week::solve(problem);
        CAPTURE(i);
        CHECK(broken_rota_rules(problem, rota) == std::vector<std::string>{});
        CHECK(rota.proven);
        const auto best = best_by_enumeration(problem);
        CHECK(week::worth(problem, rota) == best);
        several += rota.rounds.size() < problem.stops.size() ? 1 : 0;
        left_out += rota.left_out.empty() ? 0 : 1;
    }
    CHECK(several > 20);  // of the cases share a day or leave out
    CHECK(left_out > 5);
}

TEST_CASE("every rota keeps every rule, of any size", "[week][properties]") {
    Dice dice{11};
    for (int i = 0; i < 60; ++i) {
        const auto problem = random_problem(dice, {dice.between(5, 24), dice.between(2, 6), dice.between(1, 4)});
        const auto rota = week::solve(problem);
        CAPTURE(i);
        CHECK(broken_rota_rules(problem, rota) == std::vector<std::string>{});
        CHECK(rota.bound_crew_days <= static_cast<int>(rota.rounds.size()));
        const auto again = week::solve(problem);
        REQUIRE(again.rounds.size() == rota.rounds.size());
        for (std::size_t r = 0; r < rota.rounds.size(); ++r) CHECK(again.rounds[r].stops == rota.rounds[r].stops);
    }
}

TEST_CASE("one more crew never leaves out more jobs or takes more crew-days", "[week][properties]") {
    Dice dice{13};
    for (int i = 0; i < 40; ++i) {
        auto problem = random_problem(dice, {dice.between(3, 14), dice.between(2, 4), 1});
        auto before = week::worth(problem, week::solve(problem));
        for (problem.crews = 2; problem.crews <= 4; ++problem.crews) {
            const auto now = week::worth(problem, week::solve(problem));
            CAPTURE(i, problem.crews);
            CHECK(now <= before);
            before = now;
        }
    }
}

TEST_CASE("the quick search comes close to the proven one", "[week][properties]") {
    Dice dice{17};
    int same_days = 0, cases = 0;
    for (int i = 0; i < 60; ++i) {
        const auto problem = random_problem(dice, {8, 5, 2});
        const auto exact = week::solve(problem);
        if (!exact.proven) continue;
        const auto quick = week::solve(problem, 0);  // no state: only insertion
        CHECK_FALSE(quick.proven);
        CHECK(broken_rota_rules(problem, quick) == std::vector<std::string>{});
        const auto best = week::worth(problem, exact), found = week::worth(problem, quick);
        CAPTURE(i);
        CHECK(found >= best);
        ++cases;
        same_days += found.left_out == best.left_out && found.crew_days == best.crew_days ? 1 : 0;
        CHECK(week::min_crew_days(problem, [&] {
                  std::vector<int> placed;
                  for (const auto& round : exact.rounds)
                      placed.insert(placed.end(), round.stops.begin(), round.stops.end());
                  return placed;
              }()) <= best.crew_days);
    }
    CHECK(cases >= 50);
    CHECK(same_days >= cases * 9 / 10);
}

TEST_CASE("a round by hand", "[week]") {
    // Two stops of two hours, 20 min and 30 min from the yard, 25 min apart; the second lets in from 9:00 only.
    week::Problem problem;
    problem.dates = 1;
    problem.jobs = {{480, 960, 0, 5000}, {480, 960, 540, 5000}};
    problem.stops = {{0, 0, 120, {}, {true}, -1}, {1, 0, 120, {}, {true}, -1}};
    problem.drive = {{0, 20, 30}, {20, 0, 25}, {30, 25, 0}};
    const auto rota = week::solve(problem);
    REQUIRE(rota.rounds.size() == 1);
    const auto& round = rota.rounds.front();
    CHECK(round.stops == std::vector<int>{0, 1});
    CHECK(round.leave == 480);
    CHECK(round.arrive == std::vector<week::Minute>{500, 645});  // 8:20, and 10:20 + 25 min
    CHECK(round.back == 795);
    CHECK(round.drive == 75);
    CHECK(round.overtime == 0);
}
