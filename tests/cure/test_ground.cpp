#include <catch2/catch.hpp>

#include "patchwright/cure/ground.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::cure;

namespace {
Climate check_climate() { return {Temperature::celsius(10.0), 9.0 * unit::K, 35, 0.6e-6 * unit::m2_s}; }
}  // namespace

TEST_CASE("ground temperature after Kusuda and Achenbach", "[cure][reference]") {
    // ASHRAE Transactions 71(1) (1965) 61-74: mean 10 °C, amplitude 9 K, coldest day 35, diffusivity 0.6e-6 m2/s.
    // Values of the formula with its phase lag in depth, computed with scipy.
    struct Row {
        double depth;
        double celsius[4];
    };
    const auto row =
        GENERATE(Row{0.0, {1.0000, 4.7413, 18.9997, 11.3505}}, Row{0.5, {2.8107, 4.5939, 17.1762, 12.5473}},
                 Row{1.5, {6.0000, 5.3882, 13.9757, 13.3713}}, Row{2.0, {7.2673, 6.0506, 12.7076, 13.2763}});
    const int day[4] = {35, 90, 217, 300};
    for (int i = 0; i < 4; ++i) {
        Working working;
        CAPTURE(row.depth, day[i]);
        CHECK(ground_temperature(check_climate(), row.depth * unit::m, day[i], working).in_celsius() ==
              Approx(row.celsius[i]).margin(6e-5).epsilon(0));
        REQUIRE(working.steps().size() == 1);
    }
}

TEST_CASE("deep ground keeps the yearly mean", "[cure]") {
    Working off = Working::off();
    CHECK(ground_temperature(check_climate(), 40.0 * unit::m, 120, off).in_celsius() == Approx(10.0).margin(1e-5));
}

TEST_CASE("ground temperature refuses what has no meaning", "[cure][error]") {
    Working off = Working::off();
    Climate c = check_climate();
    CHECK_THROWS_AS(ground_temperature(c, -1.0 * unit::m, 100, off), RangeError);
    CHECK_THROWS_AS(ground_temperature(c, 1.0 * unit::m, 0, off), RangeError);
    c.diffusivity = {};
    CHECK_THROWS_AS(ground_temperature(c, 1.0 * unit::m, 100, off), RangeError);
}
