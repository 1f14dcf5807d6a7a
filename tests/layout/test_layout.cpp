#include <catch2/catch.hpp>

#include "ground.hpp"
#include "plain_run.hpp"

using namespace layout_test;

TEST_CASE("a sleeve covers its defect with overlap and tolerance, no more", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}};
    CHECK(places(solve(problem, per_centimetre)) == Places{{475, 555}});
}

TEST_CASE("the overlap is cut off at a mouth, the packer stays in pipe unless restrained", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{5, 30}};
    const auto without = solve(problem, per_centimetre);
    CHECK(without.uncovered == std::vector<int>{0});
    REQUIRE(without.obstacles.size() == 1);
    CHECK(without.obstacles[0].rules == std::vector<Rule>{Rule::mouth});
    problem.carriers[0].restraint_at_mouths = true;
    CHECK(places(solve(problem, per_centimetre)) == Places{{0, 55}});
}

TEST_CASE("ends keep off: the borders of a keep-out are allowed", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}};
    problem.end_keep_outs = {{470, 480}, {550, 560}};
    CHECK(places(solve(problem, per_centimetre)) == Places{{470, 560}});
    problem.end_keep_outs = {{470, 475}, {555, 560}};
    CHECK(places(solve(problem, per_centimetre)) == Places{{475, 555}});
}

TEST_CASE("neighbours keep the gap or lap", "[layout]") {
    Problem problem = plain_run();
    // Needs 475-555 and 560-640: five centimetres apart, too long for one sleeve together.
    problem.targets = {{500, 530}, {585, 615}};
    auto solution = solve(problem, per_centimetre);
    REQUIRE(solution.best.front().chosen.size() == 2);
    const auto patches = chosen(solution);
    CHECK(patches[0].end - patches[1].start == 10);
    CHECK(solution.best.front().cost == 2 * 1000 + 10 * (640 - 475 + 10));
    // Earliest of all equal ones: the second starts as early as it may.
    CHECK(places(solution) == Places{{475, 555}, {545, 640}});
    problem.targets[1] = {590, 620};  // needs 565: the gap is just there
    CHECK(places(solve(problem, per_centimetre)) == Places{{475, 555}, {565, 645}});
}

TEST_CASE("a live connection is covered only if reopening is priced", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 510}, {550, 560}};
    problem.connections = {{{525, 535}, std::nullopt}};
    CHECK(solve(problem, per_centimetre).uncovered.size() == 2);  // both needs reach over it
    problem.connections[0].reopening = 700;
    const auto solution = solve(problem, per_centimetre);
    CHECK(places(solution) == Places{{475, 585}});
    CHECK(solution.best.front().cost == 1000 + 10 * 110 + 700);
}

TEST_CASE("a target that needs a piece is covered by an anchored carrier alone", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 510, 0, true}};
    problem.connections = {{{500, 510}, 100}};
    const auto without = solve(problem, per_centimetre);
    CHECK(without.uncovered == std::vector<int>{0});
    CHECK(without.obstacles.at(0).rules == std::vector<Rule>{Rule::connection});
    problem.carriers.push_back({1, 40, 80, 10, false, {{0, 2000}}, {}, {505}});
    const auto solution = solve(problem, per_centimetre);
    CHECK(places(solution) == Places{{475, 535}});
    CHECK(chosen(solution)[0].carrier == 1);
    CHECK(solution.best.front().cost == 1000 + 600);  // nothing to reopen
}

TEST_CASE("what cannot be covered is left out with the rule that stands in the way", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}, {900, 1100}, {1500, 1510}};
    const auto long_one = solve(problem, per_centimetre);
    CHECK(long_one.uncovered == std::vector<int>{1});
    REQUIRE(long_one.obstacles.size() == 1);
    CHECK(long_one.obstacles[0].rules == std::vector<Rule>{Rule::length});
    REQUIRE(long_one.obstacles[0].if_lifted);
    CHECK(long_one.obstacles[0].if_lifted->start == 875);
    CHECK(long_one.obstacles[0].if_lifted->end == 1125);
    CHECK(long_one.best.front().chosen.size() == 2);
    CHECK(long_one.proven_optimal);

    problem.targets = {{500, 530}};
    problem.carriers[0].may_not_cross = {{515, 520}};
    CHECK(solve(problem, per_centimetre).obstacles.at(0).rules == std::vector<Rule>{Rule::bend});
    problem.carriers[0].may_not_cross = {};
    problem.carriers[0].reach = {{0, 400}};
    CHECK(solve(problem, per_centimetre).obstacles.at(0).rules == std::vector<Rule>{Rule::reach});
    problem.carriers[0].reach = {{0, 2000}};
    problem.end_keep_outs = {{400, 700}};
    CHECK(solve(problem, per_centimetre).obstacles.at(0).rules == std::vector<Rule>{Rule::length, Rule::end_keep_out});
    problem.end_keep_outs = {};
    const auto dear = solve(problem, [](int, int, int, int, int) -> std::optional<Cost> { return std::nullopt; });
    CHECK(dear.obstacles.at(0).rules == std::vector<Rule>{Rule::price});
    CHECK(dear.best.empty());
    CHECK(!dear.proven_optimal);
    problem.carriers[0].reach = {{0, 400}};
    problem.carriers[0].length_max = 40;
    CHECK(solve(problem, per_centimetre).obstacles.at(0).rules.empty());  // two rules at once
}

TEST_CASE("targets that cannot be had together: as few as possible are left out", "[layout]") {
    Problem problem = plain_run();
    // Sleeves of just one length, and no end allowed where they could lap.
    problem.carriers[0].length_min = problem.carriers[0].length_max = 60;
    problem.targets = {{500, 510}, {565, 575}, {900, 910}};
    problem.end_keep_outs = {{475, 535}, {540, 600}};
    const auto solution = solve(problem, per_centimetre);
    REQUIRE(solution.uncovered.size() == 1);
    CHECK(solution.best.front().chosen.size() == 2);
    REQUIRE(solution.obstacles.size() == 1);
    const auto& rules = solution.obstacles[0].rules;
    CHECK(std::find(rules.begin(), rules.end(), Rule::gap) != rules.end());
    CHECK(std::find(rules.begin(), rules.end(), Rule::length) != rules.end());
}

TEST_CASE("among equals the earliest", "[layout]") {
    Problem problem = plain_run();
    problem.carriers[0].length_min = 80;  // 30 cm to spare over a need of 50
    problem.targets = {{500, 500}};
    CHECK(places(solve(problem, per_centimetre)) == Places{{445, 525}});
}

TEST_CASE("the checker finds each broken rule", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}, {800, 830}};
    problem.end_keep_outs = {{490, 540}};
    problem.connections = {{{900, 910}, std::nullopt}};
    const std::vector<Candidate> good{{475, 555, 0, 0, 0, 0}, {775, 855, 0, 1, 1, 0}};
    CHECK(violations(problem, good).empty());
    const auto wrong = [&](Candidate first, Candidate second) {
        return violations(problem, std::vector<Candidate>{first, second}).size();
    };
    CHECK(wrong({476, 555, 0, 0, 0, 0}, good[1]) >= 1);  // overlap
    CHECK(wrong({475, 535, 0, 0, 0, 0}, good[1]) >= 1);  // an end in the keep-out
    CHECK(wrong({475, 600, 0, 0, 0, 0}, good[1]) == 1);  // too long
    CHECK(wrong(good[0], {800, 905, 0, 1, 1, 0}) >= 1);  // closes the connection
    CHECK(wrong(good[0], {775, 855, 1, 1, 1, 0}) >= 1);  // no such carrier
    CHECK(wrong(good[0], {775, 855, 0, 0, 1, 0}) == 1);  // claims too much
    CHECK(wrong({475, 595, 0, 0, 0, 0}, {590, 700, 0, 1, 1, 0}) >= 1);
    problem.carriers[0].reach = {{0, 860}};
    CHECK(violations(problem, good).size() == 1);  // the tail is beyond the reach
    problem.carriers[0].reach = {{0, 2000}};
    problem.carriers[0].may_not_cross = {{520, 520}};
    CHECK(violations(problem, good).size() == 1);
}

TEST_CASE("a problem that contradicts itself is refused", "[layout][error]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}, {400, 410}};
    CHECK_THROWS_AS(solve(problem, per_centimetre), std::invalid_argument);
    problem.targets = {{500, 2001}};
    CHECK_THROWS_AS(solve(problem, per_centimetre), std::invalid_argument);
    problem.targets = {{500, 530}};
    CHECK_THROWS_AS(solve(problem, [](int, int, int, int, int) -> std::optional<Cost> { return -1; }),
                    std::invalid_argument);
    problem.carriers[0].length_min = 200;
    CHECK_THROWS_AS(solve(problem, per_centimetre), std::invalid_argument);
    problem = plain_run();
    problem.gap = -1;
    CHECK_THROWS_AS(solve(problem, per_centimetre), std::invalid_argument);
}

TEST_CASE("an anchor is at its target within it, or within the opening of a connection that touches it", "[layout]") {
    Problem problem = plain_run();
    problem.connections = {{{100, 110}, std::nullopt}, {{300, 310}, std::nullopt}};
    Target target;
    target.from = 105;
    target.to = 120;
    for (const Centimetre at : {105, 120, 100, 110}) CHECK(anchor_at_target(problem, at, target));
    for (const Centimetre at : {99, 121, 130, 300, 305}) CHECK_FALSE(anchor_at_target(problem, at, target));
    target.from = 111;  // beside the opening
    CHECK_FALSE(anchor_at_target(problem, 105, target));
}
