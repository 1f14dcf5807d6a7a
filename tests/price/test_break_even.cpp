#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "patchwright/price/break_even.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::price;

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
