#include <cmath>
#include <limits>

#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include "patchwright/load/load.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/working/render.hpp"

using namespace patchwright;
using load::SoilLoadInput;

namespace {

/// Ground of the published example: 16 ft of cover, water 8 ft over the crown, 120 lb/ft3.
SoilLoadInput example() {
    return {{48.0 * unit::in},   {16.0 * unit::ft},    {8.0 * unit::ft},
            {120.0 * unit::pcf}, {1000.0 * unit::psi}, {job::Traffic::none}};
}
load::SoilLoad loaded(const SoilLoadInput& input) {
    Working off = Working::off();
    return load::soil_load(input, off);
}

}  // namespace

TEST_CASE("buoyancy and elastic support of the published example", "[load][reference]") {
    // M. Najafi, Trenchless Technology Piping (2010), p. 75-80, design after ASTM F1216 Appendix X1:
    // cover 16 ft, Hw/Hs 0.5 (implied): Rw 0.835, B' 0.414.
    CHECK(load::buoyancy_factor(8.0 * unit::ft, 16.0 * unit::ft) == Approx(0.835).margin(0.0005).epsilon(0));
    CHECK(load::elastic_support(16.0 * unit::ft) == Approx(0.414).margin(0.0005).epsilon(0));
}

TEST_CASE("elastic support in the metric edition", "[load][reference]") {
    // ASTM F1216, Appendix X1, SI: B' = 1/(1 + 4 exp(-0.213 H)), H in metres; from memory.
    // 0.065/ft is 0.21325/m: the two editions part by less than 0.001.
    const double metres = GENERATE(0.0, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0);
    CHECK(load::elastic_support(metres * unit::m) ==
          Approx(1.0 / (1.0 + 4.0 * std::exp(-0.213 * metres))).margin(0.001).epsilon(0));
}

TEST_CASE("total load as the standard adds it up", "[load][reference]") {
    // ASTM F1216, Appendix X1, as given by M. Najafi, Trenchless Technology Piping (2010), p. 75:
    // qt = 0.433 Hw + w Hs Rw/144 + Ws. For the example's water and 120 lb/ft3 without traffic
    // 0.433*8 + 120*16*0.835/144 = 14.597 psi; the program takes 62.4/144 = 0.43333 for 0.433: 14.600.
    const auto load = loaded(example());
    CHECK(load.total.in(unit::psi) == Approx(14.597).margin(0.004).epsilon(0));
    CHECK(load.water.in(unit::psi) == Approx(8.0 * 62.4 / 144.0).epsilon(1e-12));
    CHECK(load.soil.in(unit::psi) == Approx(120.0 * 16.0 * 0.835 / 144.0).epsilon(1e-12));
    CHECK(load.traffic == Pressure{});
    CHECK_FALSE(load.outside_method);
}

TEST_CASE("factors in their limits", "[load][reference]") {
    // ASTM F1216, Appendix X1, as given by M. Najafi (2010), p. 75: Rw not below 0.67; B' from 1/5 without cover to 1
    // far down.
    CHECK(load::buoyancy_factor(Length{}, 3.0 * unit::m) == 1.0);
    CHECK(load::buoyancy_factor(3.0 * unit::m, 3.0 * unit::m) == Approx(0.67).epsilon(1e-15));
    CHECK(load::buoyancy_factor(1.0 * unit::m, Length{}) == 0.67);
    CHECK(load::elastic_support(Length{}) == Approx(0.2).epsilon(1e-15));
    CHECK(load::elastic_support(1000.0 * unit::m) == Approx(1.0).epsilon(1e-15));
}

TEST_CASE("traffic on the sleeve", "[load]") {
    auto input = example();
    input.traffic.value = job::Traffic::highway;
    input.cover.value = 1.2 * unit::m;
    input.water_over_crown.value = Length{};
    Working off = Working::off();
    const auto load = loaded(input);
    CHECK(load.traffic == load::wheel_load(1.2 * unit::m, 48.0 * unit::in, off));
    CHECK(load.total == load.water + load.soil + load.traffic);
}

TEST_CASE("what the load method does not cover is said in words", "[load]") {
    auto input = example();
    SECTION("railway") {
        input.traffic.value = job::Traffic::railway;
        CHECK_THAT(loaded(input).outside_method.value(), Catch::Contains("railway") && Catch::Contains("engineer"));
    }
    SECTION("aircraft") {
        input.traffic.value = job::Traffic::aircraft;
        CHECK_THAT(loaded(input).outside_method.value(), Catch::Contains("aircraft") && Catch::Contains("engineer"));
    }
    SECTION("shallow under wheels") {
        input.traffic.value = job::Traffic::highway;
        input.cover.value = 0.59 * unit::m;
        input.water_over_crown.value = Length{};
        CHECK_THAT(loaded(input).outside_method.value(), Catch::Contains("0.6 m"));
        input.cover.value = 0.60 * unit::m;
        CHECK_FALSE(loaded(input).outside_method);
    }
    SECTION("shallow without wheels is covered") {
        input.cover.value = 0.3 * unit::m;
        input.water_over_crown.value = Length{};
        CHECK_FALSE(loaded(input).outside_method);
    }
    SECTION("water over the ground") {
        input.water_over_crown.value = 17.0 * unit::ft;
        CHECK_THAT(loaded(input).outside_method.value(), Catch::Contains("water table"));
    }
    SECTION("crown out of the ground") {
        input.cover.value = -0.05 * unit::m;
        input.water_over_crown.value = -0.05 * unit::m;
        CHECK_THAT(loaded(input).outside_method.value(), Catch::Contains("out of the ground"));
    }
}

TEST_CASE("loads refuse what no ground has", "[load][error]") {
    const double bad = GENERATE_COPY(-1.0, std::numeric_limits<double>::quiet_NaN());
    auto input = example();
    SECTION("water") { input.water_over_crown.value = bad * unit::m; }
    SECTION("soil weight") { input.soil_unit_weight.value = bad * unit::pcf; }
    SECTION("diameter") { input.outside_diameter.value = bad * unit::m; }
    SECTION("cover") { input.cover.value = std::numeric_limits<double>::quiet_NaN() * unit::m; }
    CHECK_THROWS_AS(loaded(input), RangeError);
}

TEST_CASE("the load carries its working", "[load]") {
    auto input = example();
    input.traffic.value = job::Traffic::highway;
    Working working;
    const auto load = load::soil_load(input, working);
    REQUIRE(working.steps().size() == 7);  // Rw, B', water, soil, impact, wheels, total
    CHECK(working.steps().back().formula->id == "load.total");
    CHECK(working.steps().back().result == load.total.si());
    for (const auto& step : working.steps()) {
        CHECK(step.inputs().size() == step.formula->inputs.size());
        CHECK_FALSE(step.formula->source.empty());
    }
}

TEST_CASE("more ground, water or wheels is never less load", "[load][property]") {
    CHECK(rc::check("total load rises with water and soil weight; traffic never takes away", [] {
        auto input = example();
        const double cover = *rc::gen::inRange(600, 8000) * 1e-3;
        const double wet = *rc::gen::inRange(0, 1001) * 1e-3;
        input.cover.value = cover * unit::m;
        input.water_over_crown.value = wet * cover * unit::m;
        const auto before = loaded(input);
        input.soil_unit_weight.value = 1.1 * *input.soil_unit_weight;
        RC_ASSERT(loaded(input).total >= before.total);
        input.traffic.value = job::Traffic::highway;
        RC_ASSERT(loaded(input).total > before.total);
    }));
}
