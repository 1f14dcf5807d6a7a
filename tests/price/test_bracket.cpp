#include <catch2/catch.hpp>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::eur;

namespace {
Working off = Working::off();
Bracket between(double floor, double ceiling, double percent, double step) {
    BuildUp patch;
    patch.direct = eur(floor);
    BuildUp dig;
    dig.net = eur(ceiling);
    job::Rates rates;
    rates.suggested_share = Share::percent(percent);
    rates.round_to = eur(step);
    return bracket(patch, dig, 1, rates, off);
}
}  // namespace

TEST_CASE("the suggested price by hand", "[price][bracket]") {
    struct Row {
        double floor, ceiling, percent, step, suggested;
    };
    const auto row = GENERATE(Row{600, 2000, 40, 0, 1160}, Row{600, 2000, 40, 25, 1175}, Row{600, 2000, 0, 0, 600},
                              Row{600, 2000, 100, 5, 2000}, Row{600, 2000, 100, 30, 1980},  // up would pass the ceiling
                              Row{605, 609, 50, 10, 609},  // no round figure between: the ceiling
                              Row{600, 600, 40, 5, 600}, Row{601, 700, 1, 5, 605});
    CAPTURE(row.floor, row.ceiling, row.percent, row.step);
    const Bracket b = between(row.floor, row.ceiling, row.percent, row.step);
    CHECK(b.bid);
    CHECK(b.suggested == eur(row.suggested));
    CHECK(b.saving == eur(row.ceiling) - b.suggested);
    CHECK_FALSE(b.why_floor.empty());
    CHECK_FALSE(b.why_ceiling.empty());
    CHECK_FALSE(b.why_suggested.empty());
}

TEST_CASE("a floor above the ceiling is no bid", "[price][bracket]") {
    const Bracket b = between(2001, 2000, 40, 5);
    CHECK_FALSE(b.bid);
    CHECK(b.suggested == eur(2000));
    CHECK(b.saving == eur(0));
    CHECK_THAT(b.why_suggested, Catch::Contains("1.00"));
}

TEST_CASE("a share outside the bracket is refused", "[price][bracket][error]") {
    CHECK_THROWS_AS(between(600, 2000, 101, 5), RangeError);
    CHECK_THROWS_AS(between(600, 2000, -1, 5), RangeError);
}
