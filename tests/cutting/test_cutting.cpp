#include <catch2/catch.hpp>

#include <random>
#include <stdexcept>

#include "oracle.hpp"
#include "support/cutting_rules.hpp"

using namespace cutting_test;

namespace {

std::string numbered(int i) {
    std::string name{"P"};
    name += std::to_string(i);
    return name;
}

struct Case {
    std::vector<Piece> pieces;
    std::vector<Stock> stock;
    Millimetre kerf = 0;
};

Case random_case(std::uint32_t seed, int max_pieces) {
    std::mt19937 engine{seed};
    const auto roll = [&](int from, int to) {
        return from + static_cast<int>(engine() % static_cast<std::uint32_t>(to - from + 1));
    };
    Case made;
    made.kerf = roll(0, 2) * 5;
    const int kinds = roll(1, 4);
    std::vector<std::pair<int, int>> sizes;
    for (int i = 0; i < kinds; ++i) sizes.emplace_back(roll(6, 20) * 50, roll(3, 9) * 60);
    const int count = roll(1, max_pieces);
    for (int i = 0; i < count; ++i) {
        const bool odd = roll(0, 2) == 0;
        const auto [length, width] = sizes[static_cast<std::size_t>(roll(0, kinds - 1))];
        made.pieces.push_back({numbered(i), odd ? roll(300, 1000) : length, odd ? roll(180, 540) : width});
    }
    for (int i = roll(0, 3); i > 0; --i) {
        made.stock.push_back({"offcut", roll(400, 1600), roll(200, 1000), roll(0, 900), roll(1, 2), true});
    }
    if (roll(0, 4) > 0) made.stock.push_back({"roll", roll(1200, 3000), roll(560, 1100), roll(1500, 4000), -1, false});
    return made;
}

std::vector<std::string> faults(const Case& made, const CutPlan& plan) {
    return patchwright::test::broken_cutting_rules(made.pieces, made.stock, made.kerf, plan);
}

}  // namespace

TEST_CASE("cutting costs what CBC and GLPK find for the same pieces and stock", "[cutting][reference]") {
    // Reference: COIN-OR CBC 2.10 and GLPK 5.0 on an assignment of pieces to bands and of bands to stock.
    int feasible = 0, infeasible = 0;
    for (std::uint32_t seed = 1; seed <= 300; ++seed) {
        const Case made = random_case(seed, 5);
        CAPTURE(seed);
        const auto cbc = by_cbc(made.pieces, made.stock, made.kerf);
        REQUIRE(cbc == by_glpk(made.pieces, made.stock, made.kerf));
        const auto plan = plan_cuts(made.pieces, made.stock, made.kerf);
        CHECK(faults(made, plan).empty());
        REQUIRE(plan.unplaced.empty() == cbc.has_value());
        CHECK(plan.proven_optimal);
        if (!cbc) {
            ++infeasible;
            continue;
        }
        ++feasible;
        CHECK(plan.cost == *cbc);
        CHECK(plan.bound == *cbc);
    }
    CHECK(feasible >= 150);
    CHECK(infeasible >= 20);
}

TEST_CASE("among equal costs the fewest cuts, by brute force", "[cutting][reference]") {
    // Oracle: every way to lay the pieces into bands and the bands onto the stock, oracle.cpp.
    int feasible = 0;
    for (std::uint32_t seed = 1001; seed <= 1250; ++seed) {
        const Case made = random_case(seed, 5);
        CAPTURE(seed);
        const auto best = by_brute_force(made.pieces, made.stock, made.kerf);
        const auto plan = plan_cuts(made.pieces, made.stock, made.kerf);
        REQUIRE(plan.unplaced.empty() == best.has_value());
        if (!best) continue;
        ++feasible;
        CHECK(plan.cost == best->cost);
        CHECK(plan.cuts == best->cuts);
    }
    CHECK(feasible >= 120);
}

TEST_CASE("an owned offcut comes first only as its price says", "[cutting]") {
    const std::vector<Piece> pieces{{"A", 800, 400}};
    std::vector<Stock> stock{{"roll", 20000, 1000, 5000, -1, false}, {"offcut", 900, 450, 200, 1, true}};
    CHECK(plan_cuts(pieces, stock, 5).used == std::vector<int>{0, 1});
    stock[1].price = 5001;
    CHECK(plan_cuts(pieces, stock, 5).used == std::vector<int>{1, 0});
}

TEST_CASE("pieces lie side by side with the kerf between them, none at the edges", "[cutting]") {
    const std::vector<Piece> pieces{{"A", 800, 400}, {"B", 700, 595}};
    const std::vector<Stock> stock{{"roll", 800, 1000, 100, -1, false}};
    const auto plan = plan_cuts(pieces, stock, 5);
    CHECK(plan.cost == 100);
    CHECK(plan.cuts == 3);  // across, between, and B to its length
    CHECK(plan.placements == std::vector<Placement>{{0, 0, 0, 0, 0}, {1, 0, 0, 0, 405}});
    CHECK(plan_cuts(pieces, stock, 6).cost == 200);
}

TEST_CASE("sixteen pieces, all different, are cut with proof", "[cutting]") {
    std::vector<Piece> pieces;
    for (int i = 0; i < 16; ++i) pieces.push_back({numbered(i), 500 + 37 * i, 300 + 11 * i});
    const std::vector<Stock> stock{{"roll", 2500, 1000, 3000, -1, false}, {"offcut", 900, 700, 400, 2, true}};
    const auto plan = plan_cuts(pieces, stock, 5);
    CHECK(plan.proven_optimal);
    CHECK(plan.bound == plan.cost);
    CHECK(plan.unplaced.empty());
    CHECK(patchwright::test::broken_cutting_rules(pieces, stock, 5, plan).empty());
    // One piece less never costs more.
    pieces.pop_back();
    CHECK(plan_cuts(pieces, stock, 5).cost <= plan.cost);
}

TEST_CASE("beyond sixteen the answer is valid and the bound below it", "[cutting]") {
    std::mt19937 engine{7};
    std::vector<Piece> pieces;
    for (int i = 0; i < 30; ++i) {
        pieces.push_back({numbered(i), 400 + static_cast<int>(engine() % 900), 300 + static_cast<int>(engine() % 300)});
    }
    const std::vector<Stock> stock{{"roll", 6000, 1000, 6000, -1, false}, {"offcut", 1200, 700, 300, 3, true}};
    const auto plan = plan_cuts(pieces, stock, 5);
    CHECK(patchwright::test::broken_cutting_rules(pieces, stock, 5, plan).empty());
    CHECK(plan.unplaced.empty());
    CHECK(!plan.proven_optimal);
    CHECK(plan.bound <= plan.cost);
    CHECK(static_cast<double>(plan.bound) >= 0.6 * static_cast<double>(plan.cost));
    // Forty of one size are still exact: 2 side by side, 5 bands of 1000 and four kerfs in a roll, four rolls.
    const std::vector<Piece> alike(40, Piece{"A", 1000, 480});
    const auto exact = plan_cuts(alike, {{"roll", 5020, 1000, 6000, -1, false}}, 5);
    CHECK(exact.proven_optimal);
    CHECK(exact.cost == 4 * 6000);
}

TEST_CASE("the bound holds where the exact answer is known", "[cutting][reference]") {
    // By hand: two of 480 mm lie side by side on 1000, five rows of at most 1000 mm and four kerfs of 5 fill 5020 mm.
    // Ten pieces a roll, so twenty take two rolls. Being all different, they are too many for the exact search.
    std::vector<Piece> pieces;
    for (int i = 0; i < 20; ++i) pieces.push_back({numbered(i), 1000 - i, 480});
    const std::vector<Stock> stock{{"roll", 5020, 1000, 6000, -1, false}};
    const auto plan = plan_cuts(pieces, stock, 5);
    CHECK(patchwright::test::broken_cutting_rules(pieces, stock, 5, plan).empty());
    CHECK(plan.bound <= 2 * 6000);
    CHECK(plan.cost >= 2 * 6000);
}

TEST_CASE("what does not fit is left unplaced, too little stock too", "[cutting]") {
    const std::vector<Stock> stock{{"offcut", 1000, 500, 100, 1, true}};
    const auto large = plan_cuts({{"A", 1001, 100}, {"B", 900, 500}}, stock, 5);
    CHECK(large.unplaced == std::vector<int>{0});
    CHECK(large.cost == 100);
    const auto many = plan_cuts({{"A", 600, 400}, {"B", 600, 400}}, stock, 5);
    CHECK(many.unplaced.size() == 1);
    CHECK(plan_cuts({}, stock, 5).cost == 0);
}

TEST_CASE("the checker finds each broken rule of cutting", "[cutting]") {
    const std::vector<Piece> pieces{{"A", 800, 400}, {"B", 700, 400}};
    const std::vector<Stock> stock{{"roll", 2000, 1000, 100, 1, false}};
    const CutPlan good = plan_cuts(pieces, stock, 5);
    REQUIRE(patchwright::test::broken_cutting_rules(pieces, stock, 5, good).empty());
    CHECK(good.placements == std::vector<Placement>{{0, 0, 0, 0, 0}, {1, 0, 0, 0, 405}});
    const auto wrong = [&](auto&& change) {
        CutPlan plan = good;
        change(plan);
        return !patchwright::test::broken_cutting_rules(pieces, stock, 5, plan).empty();
    };
    CHECK(wrong([](CutPlan& p) { p.placements[1].across = 404; }));
    CHECK(wrong([](CutPlan& p) { p.placements[1].across = 601; }));
    CHECK(wrong([](CutPlan& p) { p.placements[1].along = 10; }));
    CHECK(wrong([](CutPlan& p) { p.placements[1].piece = 0; }));
    CHECK(wrong([](CutPlan& p) { p.placements[1].copy = 1; }));
    CHECK(wrong([](CutPlan& p) { p.placements.pop_back(); }));
    CHECK(wrong([](CutPlan& p) { p.cost = 99; }));
    CHECK(wrong([](CutPlan& p) { p.cuts = 3; }));
    CHECK(wrong([](CutPlan& p) { p.bound = 101; }));
}

TEST_CASE("pieces and stock of no size are refused", "[cutting][error]") {
    const std::vector<Stock> stock{{"roll", 2000, 1000, 100, 1, false}};
    CHECK_THROWS_AS(plan_cuts({{"A", 0, 100}}, stock, 5), std::invalid_argument);
    CHECK_THROWS_AS(plan_cuts({{"A", 10, 100}}, stock, -1), std::invalid_argument);
    CHECK_THROWS_AS(plan_cuts({{"A", 10, 100}}, {{"roll", 2000, -1, 100, 1, false}}, 5), std::invalid_argument);
    CHECK_THROWS_AS(plan_cuts({{"A", 10, 100}}, {{"roll", 2000, 10, -100, 1, false}}, 5), std::invalid_argument);
}
