#include <catch2/catch.hpp>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::eur;

namespace {
/// A build-up of one line, closed by rates that are otherwise empty.
BuildUp closed(double direct, const job::Rates& rates) {
    BuildUp b;
    b.lines.push_back({LineKind::labour, "work", 1.0, "job", eur(direct), eur(direct)});
    close(b, rates, off);
    return b;
}
}  // namespace

TEST_CASE("margin and markup are two names for two shares", "[price][reference]") {
    // Source: m/(1+m) and g/(1-g), textbook arithmetic; the usual table, in percent to two places.
    struct Row {
        double markup, margin;
    };
    const auto row =
        GENERATE(Row{10, 9.09}, Row{15, 13.04}, Row{20, 16.67}, Row{25, 20.00}, Row{30, 23.08}, Row{50, 33.33});
    CAPTURE(row.markup);
    CHECK(100 * margin_from_markup(Share::percent(row.markup)).as_double() == Approx(row.margin).margin(0.005));
    const auto back = GENERATE(Row{11.11, 10}, Row{17.65, 15}, Row{25, 20}, Row{33.33, 25}, Row{42.86, 30},
                               Row{66.67, 40}, Row{100, 50});
    CAPTURE(back.margin);
    CHECK(100 * markup_from_margin(Share::percent(back.margin)).as_double() == Approx(back.markup).margin(0.005));
    CHECK_THROWS_AS(markup_from_margin(Share::percent(100)), RangeError);
    CHECK_THROWS_AS(margin_from_markup(Share::percent(-100)), RangeError);
}

TEST_CASE("cost of a productive hour", "[price][reference]") {
    // Source: wage 20.00, on-costs 25 %, 2080 hours paid of which 1792 worked: 29.02; of those 75 % on jobs: 38.69.
    // Textbook arithmetic of labour rates, by hand.
    const MoneyPer<Duration> wage{eur(20.0), unit::h};
    CHECK(hour_cost(wage, Share::percent(25), Share::percent(100.0 * 1792 / 2080), off).amount == eur(29.02));
    CHECK(hour_cost(wage, Share::percent(25), Share::percent(75.0 * 1792 / 2080), off).amount == eur(38.69));
    job::Rates rates;
    rates.wage = wage;
    rates.on_costs = Share::percent(25);
    rates.productive = Share::percent(100.0 * 1792 / 2080);
    rates.crew_size = 3;
    CHECK(crew_hour(rates, off).amount == eur(87.05));  // 3 * 29.0179, rounded once
}

TEST_CASE("overhead and profit one after the other", "[price][reference]") {
    // Source: 1000 (1 + 15 %)(1 + 10 %) = 1265.00, profit 9.09 % of the price; 1000 / (1 - 25 %) = 1333.33: by hand.
    job::Rates rates;
    rates.overhead = Share::percent(15);
    rates.profit = Share::percent(10);
    const BuildUp b = closed(1000.0, rates);
    CHECK(b.overhead == eur(150.0));
    CHECK(b.net == eur(1265.0));
    CHECK(static_cast<double>(b.profit.in_cents()) / static_cast<double>(b.net.in_cents()) ==
          Approx(0.0909).margin(5e-5));
    job::Rates share;
    share.profit = Share::percent(25);
    share.profit_is_margin = true;
    CHECK(closed(1000.0, share).net == eur(1333.33));
}

TEST_CASE("tax on top and tax within", "[price][reference]") {
    // Source: 20 % on 1518.00 is 303.60, gross 1821.60; the part of a gross price at 20 % is 1/6: by hand.
    CHECK(tax_on(eur(1518.0), Share::percent(20)) == eur(303.60));
    CHECK(tax_within(eur(1821.60), Share::percent(20)) == eur(303.60));
    CHECK(tax_within(eur(600.0), Share::percent(20)) == eur(100.0));
    CHECK_THROWS_AS(tax_within(eur(1.0), Share::percent(-1)), RangeError);
}

TEST_CASE("tax by rate groups, each rounded once", "[price][reference]") {
    // Source: sample invoice "EN16931_Einfach" of the ZUGFeRD 2 / Factur-X information package: 198.00 at 19 % and
    // 275.00 at 7 %: tax 37.62 and 19.25, together 56.87 on 473.00, total 529.87.
    job::Rates rates;
    rates.tax = Share::percent(7);
    rates.tax_materials = Share::percent(19);
    rates.tax_registered = true;
    BuildUp b;
    b.lines.push_back({LineKind::labour, "work", 1, "job", eur(275.0), eur(275.0)});
    b.lines.push_back({LineKind::material, "goods", 1, "lot", eur(198.0), eur(198.0)});
    close(b, rates, off);
    const auto parts = tax_parts(b, b.net, rates);
    REQUIRE(parts.size() == 2);
    CHECK(parts[0].tax == eur(37.62));
    CHECK(parts[1].tax == eur(19.25));
    CHECK(b.tax == eur(56.87));
    CHECK(b.gross == eur(529.87));
    // EN 16931-1, rule BR-CO-17: taxable amount times rate, rounded to two decimals; the published checks of the rule
    // round half up. 12.50 at 19 % is 2.375.
    CHECK(tax_on(eur(12.50), Share::percent(19)) == eur(2.38));
}

TEST_CASE("a tenth off a job with 20 % margin halves its profit", "[price][reference]") {
    // Source: price 100 on cost 80; 10 % off: 90, profit 10: by hand.
    job::Rates rates;
    rates.profit = Share::percent(20);
    rates.profit_is_margin = true;
    const BuildUp b = closed(80.0, rates);
    CHECK(b.profit == eur(20.0));
    Bracket bracket;
    bracket.floor = b.cost();
    bracket.own = bracket.suggested = b.net;
    job::Yard yard;
    yard.rates.discount = Share::percent(10);
    const Offered o = offered({1, b.net, b.cost()}, {}, bracket, {}, yard, off);
    CHECK(o.total == eur(90.0));
    CHECK(o.discount == eur(10.0));
    CHECK(o.total - b.cost() == eur(10.0));
}

TEST_CASE("minimum charge and rounding are part of profit", "[price]") {
    job::Rates rates;
    rates.overhead = Share::percent(10);
    rates.minimum_charge = eur(380.0);
    rates.round_to = eur(5.0);
    const BuildUp small = closed(100.0, rates);
    CHECK(small.net == eur(380.0));
    CHECK(small.profit == eur(270.0));
    const BuildUp odd = closed(401.0, rates);  // 441.10
    CHECK(odd.net == eur(445.0));
    CHECK(odd.profit == eur(3.9));
    CHECK(closed(0.0, rates).net == eur(0.0));  // nothing to do costs nothing
}

TEST_CASE("overhead by the crew-day stands in for the share", "[price]") {
    job::Rates rates;
    rates.overhead = Share::percent(15);
    rates.overhead_per_crew_day = eur(120.0);
    BuildUp b;
    b.lines.push_back({LineKind::labour, "work", 1.0, "job", eur(1000.0), eur(1000.0)});
    b.crew_days = 2.5;
    close(b, rates, off);
    CHECK(b.overhead == eur(300.0));
    CHECK(price_of_cost(eur(1000.0), 2.5, rates) == eur(1300.0));
    CHECK(price_of_cost(100000.0, 2.5, rates) == Approx(130000.0));
}

TEST_CASE("tax by kind of line, and a firm that is not registered", "[price]") {
    job::Rates rates;
    rates.tax = Share::percent(0);
    rates.tax_materials = Share::percent(6);
    rates.tax_registered = true;
    BuildUp b;
    b.lines.push_back({LineKind::labour, "work", 1, "job", eur(300.0), eur(300.0)});
    b.lines.push_back({LineKind::material, "felt", 1, "roll", eur(100.0), eur(100.0)});
    close(b, rates, off);
    CHECK(b.tax == eur(6.0));
    CHECK(b.gross == eur(406.0));
    rates.tax = Share::percent(20);
    close(b, rates, off);
    CHECK(b.tax == eur(66.0));  // 6 % on 100, 20 % on 300
    rates.tax_materials.reset();
    close(b, rates, off);
    CHECK(b.tax == eur(80.0));

    rates.tax_registered = false;
    add_input_tax(b.lines, rates);
    close(b, rates, off);
    CHECK(b.tax == eur(0.0));
    CHECK(b.direct == eur(420.0));  // 20 % on the felt, which nobody gives back
    CHECK(b.gross == b.net);
}

TEST_CASE("rates that make no price are refused", "[price][error]") {
    job::Rates rates;
    rates.wage = {eur(20.0), unit::h};
    CHECK_THROWS_AS(crew_hour(rates, off), RangeError);  // productive share not given
    rates.productive = Share::percent(120);
    CHECK_THROWS_AS(crew_hour(rates, off), RangeError);
    rates.productive = Share::percent(80);
    rates.wage.amount = eur(-1.0);
    CHECK_THROWS_AS(crew_hour(rates, off), RangeError);
    rates.wage.amount = eur(20.0);
    rates.profit = Share::percent(100);
    rates.profit_is_margin = true;
    CHECK_THROWS_AS(closed(80.0, rates), RangeError);
}

TEST_CASE("patch lines hold every layer of the direct cost", "[price]") {
    scenario::Scenario s;
    s.works.cutter_needed = true;
    s.works.nights = 1;
    const std::vector<Line> lines = patch_lines(s.works, s.yard.rates, off);
    const auto has = [&](LineKind kind) {
        return std::any_of(lines.begin(), lines.end(), [kind](const Line& l) { return l.kind == kind; });
    };
    for (const LineKind k : {LineKind::labour, LineKind::material, LineKind::wear, LineKind::plant,
                             LineKind::job_specific, LineKind::mobilisation}) {
        CAPTURE(word(k));
        CHECK(has(k));
    }
    for (const Line& line : lines) {
        CAPTURE(line.words);
        CHECK_FALSE(line.amount.is_zero());
    }
    // One visit: twice the road at the yard's price.
    CHECK(lines.back().amount == cost(s.yard.rates.travel_cost, 2.0 * s.yard.rates.travel_distance));
    s.works.days = 0;
    CHECK_THROWS_AS(patch_lines(s.works, s.yard.rates, off), InputError);
    s.works.patches = 0;
    CHECK(patch_lines(s.works, s.yard.rates, off).empty());
}
