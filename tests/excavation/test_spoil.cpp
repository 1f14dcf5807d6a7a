#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <numbers>

#include "patchwright/excavation/spoil.hpp"
#include "patchwright/units/error.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::excavation;

namespace {}

TEST_CASE("spoil of a 3.0 x 0.6 x 1.5 m trench", "[excavation][reference]") {
    // Source: worked by hand. Surface build-up 0.20 m, pipe OD 110 mm with 100 mm bed and surround: pipe zone
    // 0.6 * 3 * 0.31 = 0.558 m3, granular net of pipe 0.5295 m3. Loose / bank 1.25 and compacted / bank 0.90 for common
    // earth: US Army earthmoving field manual, from memory; 1.8 t/m3: common practice, no source.
    const Volume soil = 3.0 * 0.6 * (1.5 - 0.20) * unit::m3;
    const Volume zone = 3.0 * 0.6 * 0.31 * unit::m3;
    CHECK(soil.si() == Approx(2.340));
    CHECK((zone.si() - 3.0 * std::numbers::pi / 4.0 * 0.110 * 0.110) == Approx(0.5295).margin(5e-5));
    SpoilInput in{.soil = soil, .pipe_zone = zone, .bank_density = 1800.0 * unit::kg_m3};
    const SpoilBalance back = balance(in, off);
    CHECK(back.backfill.si() == Approx(1.782));
    CHECK(back.reused_bank.si() == Approx(1.980));
    CHECK(back.surplus_bank.si() == Approx(0.360));
    CHECK(back.surplus_loose.si() == Approx(0.450));
    CHECK(back.carted.in(unit::tonne) == Approx(0.648));
    CHECK(back.imported.si() == Approx(0.0).margin(1e-12));
    in.reuse = false;
    const SpoilBalance away = balance(in, off);
    CHECK(away.surplus_loose.si() == Approx(2.925));
    CHECK(away.carted.in(unit::tonne) == Approx(4.212));
    CHECK(away.imported.si() == Approx(1.782));
}

TEST_CASE("a thousand bank cubic metres of clay swell to 1300 loose", "[excavation][reference]") {
    // Source: textbook estimating example (earthwork quantities, example 9-2), swell 30 %.
    const SpoilBalance b = balance({.soil = 1000.0 * unit::m3,
                                    .pipe_zone = {},
                                    .loose_factor = 1.30,
                                    .compacted_factor = 0.90,
                                    .bank_density = 1800.0 * unit::kg_m3,
                                    .reuse = false},
                                   off);
    CHECK(b.loose.si() == Approx(1300.0));
    CHECK(b.surplus_loose.si() == Approx(1300.0));
}

TEST_CASE("soil is neither made nor lost", "[excavation][property]") {
    CHECK(rc::check("dug = reused + carted, by mass and by volume; backfill = reused + imported", [] {
        SpoilInput in;
        in.soil = *rc::gen::inRange(1, 100000) * 1e-3 * unit::m3;
        in.pipe_zone = (*rc::gen::inRange(0, 1001) * 1e-3) * in.soil;
        in.loose_factor = *rc::gen::inRange(100, 160) * 1e-2;
        in.compacted_factor = *rc::gen::inRange(80, 131) * 1e-2;
        in.bank_density = *rc::gen::inRange(1500, 2700) * 1.0 * unit::kg_m3;
        in.reuse = *rc::gen::arbitrary<bool>();
        const SpoilBalance b = balance(in, off);
        const auto near = [](double x, double y) { return std::abs(x - y) <= 1e-9 * std::max(1.0, std::abs(y)); };
        RC_ASSERT(near(b.dug.si(), (b.reused + b.carted).si()));
        RC_ASSERT(near(in.soil.si(), (b.reused_bank + b.surplus_bank).si()));
        RC_ASSERT(near(b.backfill.si(), (in.compacted_factor * b.reused_bank + b.imported).si()));
        RC_ASSERT(b.carted.si() >= 0.0);
        RC_ASSERT(b.imported.si() >= 0.0);
        RC_ASSERT(b.surplus_bank <= in.soil);
    }));
}

TEST_CASE("a balance refuses what cannot be", "[excavation][error]") {
    const SpoilInput good{.soil = 2.0 * unit::m3, .pipe_zone = 0.5 * unit::m3, .bank_density = 1800.0 * unit::kg_m3};
    const double nan = std::numeric_limits<double>::quiet_NaN();
    SpoilInput bad = good;
    bad.pipe_zone = 2.1 * unit::m3;
    CHECK_THROWS_AS(balance(bad, off), RangeError);
    bad = good;
    bad.soil = nan * unit::m3;
    CHECK_THROWS_AS(balance(bad, off), RangeError);
    bad = good;
    bad.compacted_factor = 0.0;
    CHECK_THROWS_AS(balance(bad, off), RangeError);
    bad = good;
    bad.loose_factor = nan;
    CHECK_THROWS_AS(balance(bad, off), RangeError);
    bad = good;
    bad.bank_density = {};
    CHECK_THROWS_AS(balance(bad, off), RangeError);
}
