#include <limits>

#include <catch2/catch.hpp>

#include "inputs.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::liner;

TEST_CASE("a wall of the thickness needed is used to the full, a thinner one beyond", "[liner]") {
    const auto input = GENERATE(drain(), broken_drain(), published_pipe());
    const auto design = designed(input);
    for (const auto& check : design.checks) {
        if (!check.applies) continue;
        CAPTURE(word(check.check));
        const auto place = static_cast<std::size_t>(check.check);
        CHECK(utilisation(input, check.needed).at(place) == Approx(1.0).epsilon(1e-9));
        CHECK(utilisation(input, 0.99 * check.needed).at(place) > 1.0);
        CHECK(utilisation(input, 1.01 * check.needed).at(place) < 1.0);
    }
}

TEST_CASE("utilisation worked by hand", "[liner]") {
    // DN100, 3 mm, 1 m of water: P = 9.802 kPa. X1.1 carries 2*7*861.8 MPa*0.8358/(2*0.91*(32.333)^3) = 163.9 kPa.
    // X1.4: 1723.7 MPa/(12*33.33^3) = 3.878 kPa against 0.6412 kPa.
    const auto partial = utilisation(drain(), 3.0 * unit::mm);
    CHECK(partial[0] == Approx(0.0598).margin(0.0001).epsilon(0));
    CHECK(partial[2] == 0.0);
    CHECK(partial[3] == 0.0);
    CHECK(partial[4] == Approx(1.0).epsilon(1e-12));
    CHECK(utilisation(broken_drain(), 3.0 * unit::mm)[3] == Approx(0.1653).margin(0.0002).epsilon(0));
}

TEST_CASE("a ring too thick to bend is not used by bending", "[liner]") {
    // X1.2 leaves no stress where 1.5 q D/t <= 0.5: at q 2 % below D/t 16.7.
    Working working;
    CHECK(utilisation(drain(), 6.1 * unit::mm, working)[1] == 0.0);
    for (const auto& step : working.steps())
        for (const auto& operand : step.inputs()) CHECK(std::isfinite(operand.value));
}

TEST_CASE("utilisation refuses walls that are none", "[liner][error]") {
    const double mm = GENERATE(-1.0, 0.0, 50.0, std::numeric_limits<double>::quiet_NaN());
    CHECK_THROWS_AS(utilisation(drain(), mm * unit::mm), RangeError);
}

TEST_CASE("one layer less, one layer more", "[liner]") {
    auto input = drain();
    SECTION("a single layer has none less") {
        const auto change = layer_change(input, 3.0 * unit::mm, 1, 3);
        CHECK_FALSE(change.less);
        REQUIRE(change.more);
        CHECK(change.more->layers == 2);
        CHECK(change.more->installed == 6.0 * unit::mm);
        CHECK(change.more->adequate);
    }
    SECTION("two of 1.5 mm make 3 mm, one does not") {
        const auto change = layer_change(input, 1.5 * unit::mm, 2, 2);
        CHECK_FALSE(change.more);
        REQUIRE(change.less);
        CHECK(change.less->installed == 1.5 * unit::mm);
        CHECK_FALSE(change.less->adequate);
        CHECK(change.less->greatest == Approx(2.0).epsilon(1e-12));  // half the least thickness
    }
    SECTION("no layer more where three would fill the pipe") {
        CHECK_FALSE(layer_change(input, *input.bore / 6.0, 2, 5).more);
        CHECK(layer_change(input, *input.bore / 6.1, 2, 5).more);
    }
    SECTION("outside the method no layer does") {
        input.ovality.value = 0.2;
        CHECK_FALSE(layer_change(input, 3.0 * unit::mm, 1, 3).more->adequate);
    }
}
