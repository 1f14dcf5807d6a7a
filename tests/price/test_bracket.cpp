#include <catch2/catch.hpp>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::eur;

namespace {

struct Case {
    double floor = 600, own = 660, ceiling = 2000;
    double share = 40, advantage = 0, step = 0, minimum = 0;
};
Bracket between(const Case& c, int patches = 1) {
    BuildUp patch;
    patch.direct = eur(c.floor);
    patch.net = eur(c.own);
    BuildUp dig;
    dig.net = eur(c.ceiling);
    job::Rates rates;
    rates.suggested_share = Share::percent(c.share);
    rates.round_to = eur(c.step);
    rates.minimum_charge = eur(c.minimum);
    return bracket(patch, dig, patches, rates, Share::percent(c.advantage), off);
}
}  // namespace

TEST_CASE("the suggested price by hand", "[price][bracket]") {
    struct Row {
        Case c;
        double suggested;
    };
    const auto row = GENERATE(Row{{600, 660, 2000, 40, 0, 0}, 1160},    // 600 + 0.4 * 1400
                              Row{{600, 660, 2000, 40, 0, 25}, 1175},   // up to the step
                              Row{{600, 660, 2000, 0, 0, 0}, 660},      // own price is the larger
                              Row{{600, 660, 2000, 100, 5, 0}, 1900},   // 5 % is the customer's
                              Row{{600, 660, 2000, 100, 0, 30}, 1980},  // up would pass the ceiling
                              Row{{605, 607, 609, 50, 0, 10}, 609},     // no round figure between: the ceiling
                              Row{{600, 600, 600, 40, 0, 5}, 600}, Row{{601, 601, 700, 1, 0, 5}, 605},
                              Row{{600, 1500, 2000, 10, 5, 5, 1500}, 1500});  // the minimum charge is in own
    CAPTURE(row.c.floor, row.c.own, row.c.ceiling, row.c.share, row.c.step);
    const Bracket b = between(row.c);
    CHECK(b.bid);
    CHECK_FALSE(b.own_above_limit);
    CHECK(b.suggested == eur(row.suggested));
    CHECK(b.saving == eur(row.c.ceiling) - b.suggested);
    for (const auto* why : {&b.why_floor, &b.why_own, &b.why_ceiling, &b.why_suggested}) CHECK_FALSE(why->empty());
}

TEST_CASE("own price above what the customer would pay: bid at most", "[price][bracket]") {
    // 1000 less 5 % is 950; floor 800, own 980.
    const Bracket b = between({800, 980, 1000, 15, 5, 0});
    CHECK(b.bid);
    CHECK(b.own_above_limit);
    CHECK(b.suggested == eur(950));
    CHECK_THAT(b.why_suggested, Catch::Contains("at our profit digging is cheaper: bid at most 950.00"));
    CHECK_THAT(b.why_suggested, Catch::Contains("or do not bid"));
}

TEST_CASE("a floor above the limit is no bid", "[price][bracket]") {
    const Bracket b = between({1901, 2100, 2000, 40, 5, 5});
    CHECK_FALSE(b.bid);
    CHECK(b.suggested == eur(1900));  // what a bid could be at most
    CHECK_THAT(b.why_suggested, Catch::Contains("1.00"));
    CHECK_THAT(b.why_suggested, Catch::Contains("do not bid"));
}

TEST_CASE("a minimum charge above the limit is no bid", "[price][bracket]") {
    const Bracket b = between({600, 1500, 1500, 40, 5, 5, 1500});
    CHECK_FALSE(b.bid);
    CHECK_THAT(b.why_suggested, Catch::Contains("minimum charge"));
}

TEST_CASE("nothing to patch: own price of the dig", "[price][bracket]") {
    const Bracket b = between({800, 980, 950, 15, 5, 0}, 0);
    CHECK(b.bid);
    CHECK(b.suggested == eur(980));
    CHECK(b.saving.is_zero());
}

TEST_CASE("a share outside the bracket is refused", "[price][bracket][error]") {
    CHECK_THROWS_AS(between({600, 660, 2000, 101}), RangeError);
    CHECK_THROWS_AS(between({600, 660, 2000, -1}), RangeError);
    CHECK_THROWS_AS(between({600, 660, 2000, 10, 101}), RangeError);
}

TEST_CASE("an offer says what a dig would mend besides", "[price]") {
    scenario::Scenario s({3.9, 9.1});
    s.job.runs[0].defects[1].kind = job::DefectKind::displaced_joint;
    const Offer o = make_offer(s.input(), off);
    REQUIRE(o.dig_also_mends.size() == 2);
    CHECK_THAT(o.dig_also_mends[0], Catch::Contains("A2"));
    CHECK(o.dig_outcome.carted.in(unit::tonne) > 1.0);
    CHECK(o.patch_outcome.carted == Mass{});
    CHECK(o.patch_outcome.days == 1.0);
}
