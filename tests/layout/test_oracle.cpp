#include <catch2/catch.hpp>

#include "oracle.hpp"
#include "plain_run.hpp"

using namespace layout_test;

namespace {

Best judged(const std::vector<Candidate>& patches) {
    Best best;
    for (const auto& patch : patches) {
        best.cost += patch.cost;
        best.patches += 1;
        best.lined += patch.end - patch.start;
    }
    return best;
}

Solution solved(const Case& made, PriceMonotonicity monotonicity, int k_best = 20) {
    Options options;
    options.k_best = k_best;
    options.monotonicity = monotonicity;
    return solve(made.problem, made.tariff, options);
}

}  // namespace

TEST_CASE("a layout costs what CBC and GLPK find for the same rules, to the cent", "[layout][reference]") {
    // Reference: COIN-OR CBC 2.10 and GLPK 5.0 on an integer programme over every sleeve, a centimetre at a time.
    int feasible = 0, infeasible = 0;
    for (std::uint32_t seed = 1; seed <= 1000; ++seed) {
        const Case made = random_case(seed, 5, 80);
        CAPTURE(seed);
        const auto sleeves = every_sleeve(made.problem, made.tariff);
        const auto cbc = by_cbc(made.problem, sleeves);
        const auto glpk = by_glpk(made.problem, sleeves);
        REQUIRE(cbc == glpk);
        const auto solution = solved(made, monotonicity_of(made.tariff));
        REQUIRE(solution.uncovered.empty() == cbc.has_value());
        if (!cbc) {
            ++infeasible;
            continue;
        }
        ++feasible;
        REQUIRE(!solution.best.empty());
        CHECK(solution.best.front().cost == *cbc);
        CHECK(solution.proven_optimal);
        CHECK(solution.bound == *cbc);
        CHECK(judged(chosen(solution)).cost == *cbc);
        CHECK(violations(made.problem, chosen(solution)) == std::vector<std::string>{});
    }
    CHECK(feasible >= 300);
    CHECK(infeasible >= 40);
}

TEST_CASE("among equal costs the fewest patches, then the least length, by brute force", "[layout][reference]") {
    // Oracle: every covering set of every sleeve that the rules permit, oracle.cpp.
    int feasible = 0;
    for (std::uint32_t seed = 100001; seed <= 104000; ++seed) {
        Case made = random_case(seed, 4, 44);
        // Round prices, so that many sets cost the same.
        for (auto& fixed : made.tariff.fixed) fixed = fixed / 1000 * 1000;
        for (auto& metre : made.tariff.metre) metre = metre / 2000 * 2000;
        CAPTURE(seed);
        const auto best = by_brute_force(made.problem, every_sleeve(made.problem, made.tariff));
        const auto solution = solved(made, monotonicity_of(made.tariff));
        REQUIRE(solution.uncovered.empty() == best.has_value());
        if (!best) continue;
        ++feasible;
        const auto patches = chosen(solution);
        CHECK(judged(patches).cost == best->cost);
        CHECK(judged(patches).patches == best->patches);
        CHECK(judged(patches).lined == best->lined);
        CHECK(violations(made.problem, patches) == std::vector<std::string>{});
    }
    CHECK(feasible >= 400);
}
