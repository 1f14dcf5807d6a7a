#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::eur;

namespace {}

TEST_CASE("marginal cost of a sleeve by hand", "[price][marginal]") {
    job::Yard yard;
    yard.rates.currency = Currency{"EUR"};
    yard.rates.crew_size = 2;
    yard.rates.wage = {eur(20.0), unit::h};
    yard.rates.productive = Share::percent(100);
    yard.rates.felt_waste = Share::percent(10);  // already in the felt's money
    yard.rates.consumables_per_patch = eur(12.0);
    Marginal m;
    m.felt_money = eur(22.0);
    m.resin_money = eur(30.0);
    m.film_money = eur(4.0);
    m.wear = eur(5.0);
    m.crew_time = 1.5 * unit::h;
    m.reopening = eur(25.0);
    m.dig_instead = eur(2000.0);
    // 22 + 30 + 4 + 12 + 5 + 60 + 25 = 158
    CHECK(marginal_cost(m, yard, off) == eur(158.0));
    CHECK(sleeve_cost(m, yard, off) == eur(158.0));
    job::Risk redo;
    redo.probability = Share::percent(4);
    redo.cost = {eur(100), eur(200), eur(600)};
    redo.consequence = job::Risk::Consequence::redo;
    redo.then_dig = Share::percent(10);
    job::Risk stuck;
    stuck.probability = Share::percent(0.5);
    stuck.consequence = job::Risk::Consequence::dig;
    job::Risk of_dig = redo;
    of_dig.of_dig = true;
    yard.risks = {redo, stuck, of_dig};
    // + 4 % [300 + 0.9 * 158 + 0.1 * 2000] + 0.5 % * 2000 = 25.688 + 10, to the cent
    CHECK(marginal_cost(m, yard, off) == eur(158.0 + 25.69 + 10.0));
    CHECK(sleeve_cost(m, yard, off) == eur(158.0));
}

TEST_CASE("a sleeve never comes for nothing, and more never costs less", "[price][marginal][property]") {
    job::Yard empty;
    empty.rates.productive = Share::percent(100);
    CHECK(marginal_cost({}, empty, off).in_cents() == 1);
    CHECK(rc::check("each part raises the cost", [] {
        const job::Yard& yard = io::builtin_yard();
        Marginal m;
        m.felt_money = eur(*rc::gen::inRange(0, 200));
        m.resin_money = eur(*rc::gen::inRange(0, 200));
        m.crew_time = *rc::gen::inRange(0, 600) * unit::minute;
        const Money base = marginal_cost(m, yard, off);
        RC_ASSERT(base.in_cents() > 0);
        for (const int part : {0, 1, 2, 3, 4, 5}) {
            Marginal more = m;
            if (part == 0) more.felt_money += eur(1.0);
            if (part == 1) more.resin_money += eur(1.0);
            if (part == 2) more.crew_time += 1.0 * unit::minute;
            if (part == 3) more.wear += eur(1.0);
            if (part == 4) more.reopening += eur(1.0);
            if (part == 5) more.dig_instead += eur(100.0);
            RC_ASSERT(marginal_cost(more, yard, off) > base);
        }
    }));
}

TEST_CASE("a negative time is refused", "[price][marginal][error]") {
    Marginal m;
    m.crew_time = -1.0 * unit::h;
    CHECK_THROWS_AS(marginal_cost(m, io::builtin_yard(), off), RangeError);
}
