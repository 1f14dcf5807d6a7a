#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <map>
#include <random>

#include "assignment.hpp"

using namespace patchwright::plan;

namespace {

/// A made-up cost of days: a fixed part, a part for each sleeve, less where a run was prepared before, and some sets
/// that no day holds. Whatever holds a set holds its parts.
struct World {
    std::vector<int> run;
    std::vector<double> sleeve;
    double day = 0.0, prepare = 0.0, crowd = 0.0;
    int holds = 6;
    SleeveSet overnight = 0;

    double cost(const DayKey& key) const {
        if (std::popcount(key.sleeves) > holds) return never;
        double sum = day + crowd * std::popcount(key.sleeves) * std::popcount(key.sleeves);
        std::uint32_t runs = 0;
        for (std::size_t i = 0; i < run.size(); ++i) {
            if (!(key.sleeves >> i & 1U)) continue;
            sum += sleeve[i];
            runs |= 1U << run[i];
        }
        sum += prepare * std::popcount(runs & ~key.prepared) + 0.3 * std::popcount(key.lying);
        return sum;
    }
};

World made_up(std::mt19937& dice, std::size_t sleeves) {
    const auto between = [&](double low, double high) {
        return low + (high - low) * static_cast<double>(dice() % 1000) / 999.0;
    };
    World world;
    for (std::size_t i = 0; i < sleeves; ++i) {
        world.run.push_back(static_cast<int>(dice() % 3));
        world.sleeve.push_back(between(1.0, 9.0));
        if (dice() % 5 == 0) world.overnight |= SleeveSet{1} << i;
    }
    world.day = between(0.0, 20.0);
    world.prepare = between(0.0, 10.0);
    world.crowd = between(0.0, 4.0);
    world.holds = 1 + static_cast<int>(dice() % 4);
    return world;
}

/// Every sequence of days, one after the other.
double enumerated(const World& world, const std::vector<SleeveSet>& after, SleeveSet done, SleeveSet lying,
                  std::uint32_t worked) {
    const SleeveSet all = (SleeveSet{1} << world.run.size()) - 1;
    if (done == all && lying == 0) return 0.0;
    double best = never;
    for (SleeveSet set = 0; set <= all; ++set) {
        if ((set & done) != 0 || (set == 0 && lying == 0)) continue;
        bool in_order = true;
        std::uint32_t runs = 0;
        for (std::size_t i = 0; i < world.run.size(); ++i) {
            if (!(set >> i & 1U)) continue;
            runs |= 1U << world.run[i];
            in_order = in_order && (after[i] & ~(done | set)) == 0;
        }
        if (!in_order) continue;
        const double today = world.cost({set, worked & runs, lying});
        if (today == never) continue;
        best = std::min(best, today + enumerated(world, after, done | set, set & world.overnight, worked | runs));
    }
    return best;
}

}  // namespace

TEST_CASE("the cheapest days are those of plain enumeration", "[assignment]") {
    std::mt19937 dice{20};
    for (int round = 0; round < 150; ++round) {
        const std::size_t sleeves = 1 + dice() % 5;
        const World world = made_up(dice, sleeves);
        AssignmentProblem problem;
        problem.run = world.run;
        problem.after.assign(sleeves, 0);
        for (std::size_t i = 1; i < sleeves; ++i) {
            if (dice() % 4 == 0) problem.after[i] = SleeveSet{1} << (dice() % i);
        }
        problem.overnight = world.overnight;
        // A day that cannot be is found out at first glance, by the better bound or not before it is priced.
        const auto shows = [round](const DayKey& key, unsigned stage) {
            return (key.sleeves + static_cast<unsigned>(round)) % 3 <= stage;
        };
        const auto part = [&](const DayKey& key, double share, unsigned stage) {
            const double cost = world.cost(key);
            return cost < never ? share * cost : shows(key, stage) ? never : 1.0;
        };
        std::map<std::array<std::uint32_t, 3>, int> asked;
        problem.quick_bound = [&](const DayKey& key) { return part(key, 0.3, 0); };
        problem.bound = [&](const DayKey& key) {
            ++asked[{key.sleeves, key.prepared, key.lying}];
            return part(key, 0.6, 1);
        };
        problem.cost = [&](const DayKey& key) { return DayCost{world.cost(key), world.cost(key)}; };
        const auto best = cheapest_days(problem, never, 100000);
        CAPTURE(round, sleeves);
        const double expected = enumerated(world, problem.after, 0, 0, 0);
        REQUIRE(best.cost == Approx(expected));
        CHECK(best.bound == Approx(best.cost));
        SleeveSet done = 0;
        for (const auto& day : best.days) {
            CHECK((done & day.sleeves) == 0);
            done |= day.sleeves;
        }
        CHECK(done == (SleeveSet{1} << sleeves) - 1);
        CHECK(std::all_of(asked.begin(), asked.end(), [](const auto& day) { return day.second == 1; }));

        // With prices of which nothing is proven the same days are found, and the bound stands on the bounds alone.
        AssignmentProblem unproven = problem;
        unproven.cost = [&](const DayKey& key) { return DayCost{0.0, world.cost(key)}; };
        const auto same = cheapest_days(unproven, never, 100000);
        CHECK(same.cost == Approx(expected));
        const auto by = [&](double share, unsigned stage) {
            AssignmentProblem bounds = problem;
            bounds.cost = [&, share, stage](const DayKey& key) {
                return DayCost{part(key, share, stage), part(key, share, stage)};
            };
            return cheapest_days(bounds, never, 100000).cost;
        };
        CHECK(same.bound >= by(0.3, 0) * (1.0 - 1e-9));
        CHECK(same.bound <= by(0.6, 1) * (1.0 + 1e-9));
    }
}

TEST_CASE("a sleeve that fits into no day leaves no assignment", "[assignment]") {
    AssignmentProblem problem;
    problem.run = {0, 0};
    problem.quick_bound = [](const DayKey&) { return 0.5; };
    problem.bound = [](const DayKey& key) { return key.sleeves & 1U ? never : 1.0; };
    problem.cost = [](const DayKey&) { return DayCost{1.0, 1.0}; };
    const auto best = cheapest_days(problem, never, 100);
    CHECK(best.days.empty());
    CHECK(best.cost == never);
}

TEST_CASE("a search that is cut short says how far off it may be", "[assignment]") {
    std::mt19937 dice{4};
    const World world = made_up(dice, 7);
    AssignmentProblem problem;
    problem.run = world.run;
    problem.quick_bound = [&](const DayKey& key) { return 0.1 * world.cost(key); };
    problem.bound = [&](const DayKey& key) { return 0.3 * world.cost(key); };
    problem.cost = [&](const DayKey& key) { return DayCost{world.cost(key), world.cost(key)}; };
    const auto whole = cheapest_days(problem, never, 100000);
    const auto cut = cheapest_days(problem, never, 2);
    CHECK(cut.bound <= whole.cost + 1e-9);
    CHECK(cut.cost >= whole.cost - 1e-9);
    CHECK(cut.evaluated < whole.evaluated);
}

TEST_CASE("a search that may end when it is enough has good days, and a bound", "[assignment]") {
    std::mt19937 dice{7};
    for (int round = 0; round < 12; ++round) {
        const World world = made_up(dice, 8);
        AssignmentProblem problem;
        problem.run = world.run;
        problem.overnight = world.overnight;
        problem.quick_bound = [&](const DayKey& key) { return std::min(0.2 * world.cost(key), 50.0); };
        problem.bound = [&](const DayKey& key) { return std::min(0.6 * world.cost(key), 150.0); };
        problem.cost = [&](const DayKey& key) { return DayCost{world.cost(key), world.cost(key)}; };
        const auto proven = cheapest_days(problem, never, 100000);
        problem.enough = [] { return false; };
        const auto to_the_end = cheapest_days(problem, never, 100000);
        problem.enough = [] { return true; };
        const auto at_once = cheapest_days(problem, never, 100000);
        CAPTURE(round);
        CHECK(to_the_end.cost == Approx(proven.cost));
        CHECK(at_once.cost >= proven.cost - 1e-9);
        CHECK(at_once.bound <= proven.cost + 1e-9);
        CHECK(at_once.evaluated <= to_the_end.evaluated);
        double cost = 0.0;
        SleeveSet done = 0;
        for (const auto& day : at_once.days) {
            cost += world.cost(day);
            done |= day.sleeves;
        }
        CHECK(at_once.cost == Approx(cost));
        CHECK(done == (SleeveSet{1} << world.run.size()) - 1);
    }
}
