#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::eur;
using scenario::Scenario;

namespace {
Working off = Working::off();
Offer offer_of(const Scenario& s) {
    Input in = s.input();
    in.trials = 1;
    return make_offer(in, off);
}
}  // namespace

TEST_CASE("break-even depths in closed form", "[price][break-even][reference]") {
    // Source: algebra. Vertical sides: D = (P - F)/(v b L); P 900, F 500, v 180 a m3, b 0.6 m, L 3 m: 1.2346 m.
    // Sides battered at z: v z L D^2 + v b L D + F - P = 0, solved for D.
    const double p = 900.0;
    const double f = 500.0;
    const double v = 180.0;
    const double b = 0.6;
    const double l = 3.0;
    const auto vertical = crossings([&](double d) { return f + v * b * l * d - p; }, 0.1, 6.0, 59, 1e-9);
    REQUIRE(vertical.size() == 1);
    CHECK(vertical[0] == Approx(1.2346).margin(5e-5));
    const double z = 1.0;
    const auto battered = crossings([&](double d) { return f + v * l * d * (b + z * d) - p; }, 0.1, 6.0, 59, 1e-9);
    REQUIRE(battered.size() == 1);
    const double root = (-b + std::sqrt(b * b + 4.0 * z * (p - f) / (v * l))) / (2.0 * z);
    CHECK(battered[0] == Approx(root).epsilon(1e-7));
    // P <= F: patching wins at every depth.
    CHECK(crossings([&](double d) { return f + v * b * l * d - 400.0; }, 0.1, 6.0, 59, 1e-9).empty());
}

TEST_CASE("all crossings are found, jumps among them", "[price][break-even][reference]") {
    // Source: sin x changes sign at pi, 2 pi, 3 pi on (0.5, 10).
    const auto roots = crossings([](double x) { return std::sin(x); }, 0.5, 10.0, 40, 1e-10);
    REQUIRE(roots.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) CHECK(roots[i] == Approx((static_cast<double>(i) + 1) * std::acos(-1.0)));
    const auto jump = crossings([](double x) { return x < 1.75 ? -100.0 : 300.0; }, 0.5, 6.0, 11, 1e-6);
    REQUIRE(jump.size() == 1);
    CHECK(jump[0] == Approx(1.75).margin(1e-6));
}

TEST_CASE("a scan without a range is refused", "[price][break-even][error]") {
    const auto f = [](double x) { return x; };
    CHECK_THROWS_AS(crossings(f, 1.0, 1.0, 5, 0.1), RangeError);
    CHECK_THROWS_AS(crossings(f, 0.0, 1.0, 0, 0.1), RangeError);
    CHECK_THROWS_AS(crossings(f, 0.0, 1.0, 5, 0.0), RangeError);
    CHECK_THROWS_AS(crossings(f, 0.0, std::numeric_limits<double>::infinity(), 5, 0.1), RangeError);
}

TEST_CASE("the depth at which the answer flips is where the prices cross", "[price][break-even]") {
    // A dear patch and a cheap dig under grass: shallow it is better dug.
    Scenario s({5.0});
    s.job.dig.surface.value = job::Surface::grass;
    s.works.crew_time = 13.0 * unit::h;
    s.works.days = s.works.visits = 2;
    s.yard.rates.round_to = eur(0.01);
    s.yard.rates.minimum_charge = eur(0);
    const Offer o = offer_of(s);
    REQUIRE(o.break_even.size() == 3);
    const BreakEven& depth = o.break_even[0];
    REQUIRE(depth.what == "depth");
    REQUIRE(depth.at.size() == 1);
    const auto prices_at = [&](double d) {
        Scenario moved = s;
        moved.job.runs[0].depth = d * unit::m;
        const Offer there = offer_of(moved);
        return std::pair{there.patch.net, there.dig.net};
    };
    const auto above = prices_at(depth.at[0] - 0.02);
    const auto below = prices_at(depth.at[0] + 0.02);
    CHECK(above.first > above.second);
    CHECK(below.first < below.second);
    CHECK(depth.points.size() == 14);
    CHECK(depth.points.front().patch > depth.points.front().dig);
    CHECK(depth.points.back().patch < depth.points.back().dig);
}

TEST_CASE("the tables use the offer's own prices", "[price][break-even]") {
    Scenario s({3.9, 9.1, 15.0});
    s.must_dig_last();
    s.yard.rates.round_to = eur(0.01);
    s.yard.rates.minimum_charge = eur(0);
    const Offer o = offer_of(s);
    const BreakEven& surface = o.break_even[2];
    REQUIRE(surface.what == "surface");
    REQUIRE(surface.points.size() == 4);
    const BreakEvenPoint& concrete = surface.points[3];
    REQUIRE(concrete.label == "concrete");
    CHECK(std::abs((concrete.patch - o.patch.net).in_cents()) <= 2);
    CHECK(std::abs((concrete.dig - o.dig.net).in_cents()) <= 2);
    // Another surface is another job: the same as asking for it.
    s.job.dig.surface.value = job::Surface::grass;
    const Offer grass = offer_of(s);
    CHECK(std::abs((surface.points[0].patch - grass.patch.net).in_cents()) <= 2);
    CHECK(std::abs((surface.points[0].dig - grass.dig.net).in_cents()) <= 2);
}

TEST_CASE("patches share a visit: their number can flip the answer", "[price][break-even]") {
    Scenario s({5.0});
    s.job.dig.surface.value = job::Surface::grass;
    s.yard.rates.minimum_charge = eur(0);
    s.works.crew_time = 26.0 * unit::h;
    s.works.redo_cost = {eur(200.0)};
    const Offer o = offer_of(s);
    const BreakEven& number = o.break_even[1];
    REQUIRE(number.what == "number of patches");
    REQUIRE(number.points.size() == 12);
    REQUIRE(number.at.size() == 1);
    CHECK(number.at[0] >= 2.0);
    CHECK(number.points[0].patch > number.points[0].dig);
    CHECK(number.points[11].patch < number.points[11].dig);
    CHECK_FALSE(number.words.empty());
}

TEST_CASE("nothing patched: nothing to flip", "[price][break-even]") {
    Scenario s({5.0});
    s.must_dig_last();
    s.works = {};
    CHECK(offer_of(s).break_even.empty());
}
