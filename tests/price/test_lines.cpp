#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::eur;

namespace {

struct Desk {
    Part patches{3, eur(900), eur(700)}, digs{1, eur(1200), eur(1000)};
    Bracket bracket;
    job::Job job;
    job::Yard yard;
    Desk() {
        bracket.floor = eur(1700);
        bracket.own = eur(2100);
        bracket.limit = eur(4000);
        bracket.suggested = eur(2500);
        yard.rates.currency = Currency{"EUR"};
    }
    Offered offer() const { return offered(patches, digs, bracket, job, yard, off); }
};

Money sum_of(const Offered& o) {
    Money sum{};
    for (const OfferLine& l : o.lines) sum += l.net;
    return sum;
}

}  // namespace

TEST_CASE("money for both parts, shared out by hand", "[price][lines]") {
    const Part patches{3, eur(900), eur(700)};
    const Part digs{1, eur(1200), eur(1000)};
    struct Row {
        double total, patch, dig;
    };
    const auto row = GENERATE(Row{2500, 1300, 1200},  // the digs keep their own price
                              Row{2100, 900, 1200},   // own price
                              Row{1900, 800, 1100},   // half of each profit
                              Row{1700, 700, 1000},   // floors
                              Row{850, 350, 500});    // on demand: half of each floor
    CAPTURE(row.total);
    const Shares s = shared_out(patches, digs, eur(row.total));
    CHECK(s.patch == eur(row.patch));
    CHECK(s.dig == eur(row.dig));
    CHECK(shared_out(patches, {}, eur(10)).patch == eur(10));
    CHECK(shared_out({}, digs, eur(10)).dig == eur(10));
}

TEST_CASE("no line falls below its floor, and the lines add up", "[price][lines][property]") {
    CHECK(rc::check("any two parts, any total from the floors up", [] {
        const auto part = [] {
            const Money floor = Money::cents(*rc::gen::inRange<std::int64_t>(1, 900'000), Currency{"EUR"});
            const Money profit = Money::cents(*rc::gen::inRange<std::int64_t>(0, 300'000), Currency{"EUR"});
            return Part{*rc::gen::inRange(1, 5), floor + profit, floor};
        };
        const Part patches = part();
        const Part digs = part();
        const Money floor = patches.floor + digs.floor;
        const Money total = floor + Money::cents(*rc::gen::inRange<std::int64_t>(0, 900'000), Currency{"EUR"});
        const Shares s = shared_out(patches, digs, total);
        RC_ASSERT(s.patch + s.dig == total);
        RC_ASSERT(s.patch >= patches.floor);
        RC_ASSERT(s.dig >= digs.floor);
    }));
}

TEST_CASE("the discount is a line, and stops at the floor", "[price][lines]") {
    Desk desk;
    desk.yard.rates.discount = Share::percent(10);
    Offered o = desk.offer();
    CHECK(o.total == eur(2250));
    CHECK(o.discount == eur(250));
    REQUIRE(o.lines.size() == 3);
    CHECK(o.lines.back().kind == OfferKind::discount);
    CHECK(o.lines.back().net == eur(-250));
    CHECK(o.lines.back().floor == eur(-800));  // 2500 - 1700: the most that may be given
    CHECK(sum_of(o) == o.total);
    CHECK(o.warnings.empty());

    desk.yard.rates.discount = Share::percent(50);
    o = desk.offer();
    CHECK(o.total == eur(1700));
    REQUIRE(o.warnings.size() == 1);
    CHECK_THAT(o.warnings[0], Catch::Contains("cut to 800.00"));

    desk.yard.rates.minimum_charge = eur(2400);
    o = desk.offer();
    CHECK(o.total == eur(2400));
    CHECK_THAT(o.warnings.at(0), Catch::Contains("minimum charge"));
}

TEST_CASE("the estimator's word on the price", "[price][lines]") {
    Desk desk;
    desk.yard.rates.discount = Share::percent(10);
    SECTION("a net price has no discount, and below the cost it is taken with a warning") {
        desk.job.price.net = eur(1500);
        const Offered o = desk.offer();
        CHECK(o.wished);
        CHECK(o.total == eur(1500));
        CHECK(o.lines.size() == 2);
        REQUIRE(o.warnings.size() == 2);
        CHECK_THAT(o.warnings[0], Catch::Contains("below their cost"));
    }
    SECTION("so much a patch; the digs at own price") {
        desk.yard.rates.discount = {};
        desk.job.price.per_patch = eur(350);
        const Offered o = desk.offer();
        CHECK(o.lines[0].net == eur(1050));
        CHECK(o.lines[1].net == eur(1200));
    }
    SECTION("a profit of the job's own: own price, not the suggested one") {
        desk.yard.rates.discount = {};
        desk.job.price.profit = Share::percent(5);
        CHECK(desk.offer().total == eur(2100));
    }
    SECTION("above what digging costs it is said") {
        desk.job.price.net = eur(4500);
        CHECK_THAT(desk.offer().warnings.at(0), Catch::Contains("digging serves the customer better"));
    }
}

TEST_CASE("without a bid there are no lines, unless the estimator wants them", "[price][lines]") {
    Desk desk;
    desk.bracket.bid = false;
    desk.job.extras.push_back({"Access chamber", 1, "no.", eur(300), eur(200)});
    CHECK(desk.offer().lines.empty());
    CHECK(desk.offer().total.is_zero());
    desk.job.price.net = eur(2000);
    CHECK(desk.offer().total == eur(2300));
}

TEST_CASE("extras are lines with cost of their own, by the price list where they give no rate", "[price][lines]") {
    Desk desk;
    desk.yard.price_list.extras.push_back({"Root cutting", "h", eur(95), eur(60)});
    desk.job.extras = {{"Root cutting", 2, "", {}, {}}, {"Parking", 1, "day", eur(18.5), {}}};
    const Offered o = desk.offer();
    REQUIRE(o.lines.size() == 4);
    CHECK(o.lines[2].net == eur(190));
    CHECK(o.lines[2].floor == eur(120));
    CHECK(o.lines[2].unit == "h");
    CHECK(o.lines[3].net == eur(18.5));
    CHECK(o.total == eur(2708.5));
    CHECK(o.work == eur(2500));
    desk.job.extras = {{"Unheard of", 1, "", {}, {}}};
    CHECK_THROWS_AS(desk.offer(), InputError);
}

TEST_CASE("extras alone come to the minimum charge at least", "[price][lines]") {
    Desk desk;
    desk.yard.rates.discount = {};
    desk.yard.rates.minimum_charge = eur(380);
    desk.job.extras = {{"Root cutting", 2, "h", eur(145), eur(98)}};
    const auto alone = [&] { return offered({}, {}, desk.bracket, desk.job, desk.yard, off); };
    const Offered o = alone();
    REQUIRE(o.lines.size() == 2);
    CHECK(o.lines[1].net == eur(90));  // 380 less 2 h at 145
    CHECK(o.total == eur(380));
    desk.job.extras[0].quantity = 3;
    CHECK(alone().lines.size() == 1);
    CHECK(alone().total == eur(435));
    CHECK(desk.offer().lines.size() == 3);  // with work the work reaches it
}

TEST_CASE("the price list by hand", "[price][lines]") {
    job::PriceList list;
    list.patches = {{100.0 * unit::mm, 1.0 * unit::m, eur(600), eur(280)},
                    {150.0 * unit::mm, 1.0 * unit::m, eur(700), eur(340)},
                    {150.0 * unit::mm, 2.0 * unit::m, eur(800), eur(420)}};
    const std::vector<ListedSleeve> sleeves{{"A1", 99.0 * unit::mm, 0.6 * unit::m},
                                            {"A2", 99.0 * unit::mm, 0.9 * unit::m},
                                            {"B1", 150.0 * unit::mm, 1.2 * unit::m}};
    // One visit: the third as first, 800 + 280 + 280; two visits: 800 + 600 + 280.
    const ListedPrice one = by_price_list(sleeves, 1, eur(1000), list, UnitSystem::metric);
    CHECK(one.listed);
    CHECK(one.patches == eur(1360));
    CHECK(one.margin == eur(360));
    CHECK(by_price_list(sleeves, 2, eur(1000), list, UnitSystem::metric).patches == eur(1680));
    const ListedPrice beyond =
        by_price_list({{"C1", 200.0 * unit::mm, 0.6 * unit::m}}, 1, eur(0), list, UnitSystem::metric);
    CHECK_FALSE(beyond.listed);
    CHECK(beyond.beyond.size() == 1);
    CHECK_FALSE(by_price_list(sleeves, 1, eur(0), {}, UnitSystem::metric).listed);
}
