#include <algorithm>
#include <limits>

#include <catch2/catch.hpp>

#include "inputs.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/working/render.hpp"

using namespace patchwright;
using namespace patchwright::liner;

namespace {

std::string_view reason(const ThicknessDesign& design, Check check) {
    return design.checks.at(static_cast<std::size_t>(check)).why_not;
}
bool has_step(const Working& working, std::string_view id) {
    return std::any_of(working.steps().begin(), working.steps().end(),
                       [&](const Step& step) { return step.formula->id == id; });
}

}  // namespace

TEST_CASE("which checks apply", "[liner]") {
    SECTION("dry and sound enough: only the least thickness") {
        auto input = drain();
        input.head_over_invert.value = Length{};
        const auto design = designed(input);
        CHECK_FALSE(applies(design, Check::water_buckling));
        CHECK_FALSE(applies(design, Check::ovality_bending));
        CHECK_THAT(std::string(reason(design, Check::water_buckling)), Catch::Contains("no water"));
        CHECK(design.governing == Check::least_thickness);
        CHECK(design.design == 3.0 * unit::mm);
        CHECK(design.glock == Length{});
    }
    SECTION("round pipe: X1.2 is void") {
        auto input = drain();
        input.ovality.value = 0.0;
        const auto design = designed(input);
        CHECK(applies(design, Check::water_buckling));
        CHECK_FALSE(applies(design, Check::ovality_bending));
        CHECK(needed(design, Check::ovality_bending) == Length{});
        CHECK_THAT(std::string(reason(design, Check::ovality_bending)), Catch::Contains("zero ovality"));
    }
    SECTION("fully deteriorated: all five") {
        const auto design = designed(broken_drain());
        for (const auto& check : design.checks) CHECK(check.applies);
        CHECK(design.soil.has_value());
    }
    SECTION("missing wall counts as fully deteriorated") {
        auto input = drain();
        input.wall_missing = true;
        input.soil = garden();
        const auto missing = designed(input);
        const auto broken = designed(broken_drain());
        CHECK(missing.design == broken.design);
        CHECK(applies(missing, Check::stiffness));
        REQUIRE_FALSE(missing.notes.empty());
        CHECK_THAT(std::string(missing.notes.front()), Catch::Contains("fill the void"));
        Working working;
        design_thickness(input, working);
        CHECK(has_step(working, "liner.missing_wall"));
    }
    SECTION("nothing to design for") {
        auto input = drain();
        input.head_over_invert.value = Length{};
        input.least.value = Length{};
        const auto design = designed(input);
        CHECK(design.design == Length{});
        CHECK_FALSE(design.outside_method);
        CHECK_THAT(std::string(design.notes.back()), Catch::Contains("least thickness"));
    }
}

TEST_CASE("a wall of 1/200 of the bore is in the method, a thinner one is not", "[liner]") {
    auto input = drain();
    input.head_over_invert.value = Length{};
    input.bore.value = 200.0 * unit::mm;
    input.least.value = 1.0 * unit::mm;
    CHECK_FALSE(designed(input).outside_method);
    input.least.value = 0.99 * unit::mm;
    REQUIRE(designed(input).outside_method);
    CHECK_THAT(*designed(input).outside_method, Catch::Contains("1/200"));
}

TEST_CASE("bending fades out with ovality", "[liner]") {
    // X1.2 -> D/t without bound as q -> 0, so its thickness tends to the zero that the void case reports.
    auto input = drain();
    Length before = 1.0 * unit::m;
    for (const double q : {1e-2, 1e-3, 1e-4, 1e-6, 1e-9}) {
        input.ovality.value = q;
        const Length t = needed(designed(input), Check::ovality_bending);
        CHECK(t < before);
        before = t;
    }
    CHECK(before.in(unit::mm) < 0.01);
}

TEST_CASE("the greatest thickness governs", "[liner]") {
    auto input = broken_drain();
    input.least.value = Length{};
    const auto design = designed(input);
    const auto greatest = std::max_element(design.checks.begin(), design.checks.end(),
                                           [](const auto& a, const auto& b) { return a.needed < b.needed; });
    CHECK(design.design == greatest->needed);
    CHECK(design.governing == greatest->check);
    input.least.value = 4.5 * unit::mm;
    CHECK(designed(input).governing == Check::least_thickness);
    CHECK(designed(input).design == 4.5 * unit::mm);
}

TEST_CASE("the second method stands beside and is never mixed in", "[liner]") {
    auto input = drain();
    input.least.value = Length{};
    const auto design = designed(input);
    Working off = Working::off();
    const auto ring = f1216::ring(input, off);
    // By definition: safety times the water is what a tight liner of that thickness carries.
    CHECK(f1216::glock_pressure(ring.long_modulus, 0.3, design.glock, 100.0 * unit::mm) /
              (2.0 * load::water_pressure(1.0 * unit::m)) ==
          Approx(1.0).epsilon(1e-12));
    CHECK(design.glock != design.design);
    CHECK(design.design == needed(design, Check::water_buckling));
}

TEST_CASE("what the method does not cover is said in words", "[liner]") {
    SECTION("ovality") {
        auto input = drain();
        input.ovality.value = 0.10;
        CHECK_FALSE(designed(input).outside_method);
        input.ovality.value = 0.101;
        CHECK_THAT(designed(input).outside_method.value(),
                   Catch::Contains("10.1 %") && Catch::Contains("dig") && Catch::Contains("engineer"));
    }
    SECTION("wall too thick for a thin ring") {
        auto input = drain();
        input.least.value = 10.0 * unit::mm;
        CHECK_FALSE(designed(input).outside_method);
        input.least.value = 10.1 * unit::mm;
        CHECK_THAT(designed(input).outside_method.value(), Catch::Contains("tenth of the bore"));
    }
    SECTION("wall too thin to be laid") {
        auto input = drain();
        input.least.value = 0.51 * unit::mm;
        input.head_over_invert.value = 0.02 * unit::m;
        CHECK_FALSE(designed(input).outside_method);
        input.least.value = 0.49 * unit::mm;
        CHECK_THAT(designed(input).outside_method.value(), Catch::Contains("least thickness"));
    }
    SECTION("ground") {
        auto input = broken_drain();
        input.soil->traffic.value = job::Traffic::railway;
        CHECK_THAT(designed(input).outside_method.value(), Catch::Contains("engineer"));
        input.soil->traffic.value = job::Traffic::highway;
        input.soil->cover.value = 0.5 * unit::m;
        input.soil->water_over_crown.value = Length{};
        CHECK_THAT(designed(input).outside_method.value(), Catch::Contains("0.6 m"));
    }
    SECTION("soil that holds nothing") {
        auto input = broken_drain();
        input.soil->soil_modulus.value = load::soil_modulus(load::SoilClass::fine_plastic, load::Compaction::high);
        const auto design = designed(input);
        CHECK_THAT(design.outside_method.value(), Catch::Contains("modulus"));
        CHECK(needed(design, Check::soil_buckling) == Length{});
    }
    SECTION("the host still carries: what lies above does not matter") {
        auto input = drain();
        input.soil = garden();
        input.soil->traffic.value = job::Traffic::aircraft;
        CHECK_FALSE(designed(input).outside_method);
    }
}

TEST_CASE("a bore below the published scope is designed, with a note", "[liner][reference]") {
    // ASTM F2599-16 scope: 4 to 60 in (102 to 1520 mm); ASTM F1216-09 scope: 4 to 108 in.
    // Nominal sizes: DN100 is the 4 in pipe, so a bore of 100 mm is in.
    auto input = drain();
    CHECK(designed(input).notes.empty());
    input.bore.value = 99.0 * unit::mm;
    CHECK(designed(input).notes.size() == 1);
    CHECK_THAT(std::string(designed(input).notes.front()), Catch::Contains("DN100"));
    CHECK(designed(input).design > Length{});
    CHECK_FALSE(designed(input).outside_method);
}

TEST_CASE("thickness refuses what no pipe has", "[liner][error]") {
    const double bad =
        GENERATE_COPY(-1.0, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity());
    auto input = broken_drain();
    SECTION("bore") { input.bore.value = bad * unit::m; }
    SECTION("ovality") { input.ovality.value = bad; }
    SECTION("head") { input.head_over_invert.value = bad * unit::m; }
    SECTION("modulus") { input.wall.modulus.value = bad * unit::MPa; }
    SECTION("strength") { input.wall.flexural_strength.value = bad * unit::MPa; }
    SECTION("share") { input.wall.long_term_share.value = bad; }
    SECTION("poisson") { input.wall.poisson.value = bad; }
    SECTION("enhancement") { input.enhancement.value = bad; }
    SECTION("safety") { input.safety.value = bad; }
    SECTION("least") { input.least.value = bad * unit::mm; }
    SECTION("soil modulus") { input.soil->soil_modulus.value = bad * unit::MPa; }
    SECTION("depth") { input.depth_to_invert = bad * unit::m; }
    CHECK_THROWS_AS(designed(input), RangeError);
}

TEST_CASE("thickness refuses zero where zero means nothing", "[liner][error]") {
    auto input = drain();
    SECTION("bore") { input.bore.value = Length{}; }
    SECTION("modulus") { input.wall.modulus.value = Pressure{}; }
    SECTION("safety") { input.safety.value = 0.0; }
    CHECK_THROWS_AS(designed(input), RangeError);
}

TEST_CASE("a fully deteriorated pipe without its ground is an input error", "[liner][error]") {
    auto input = drain();
    input.condition = job::Condition::fully_deteriorated;
    CHECK_THROWS_AS(designed(input), InputError);
    input.condition = job::Condition::partially_deteriorated;
    input.wall_missing = true;
    CHECK_THROWS_AS(designed(input), InputError);
}

TEST_CASE("the thickness carries its working", "[liner]") {
    Working working;
    const auto input = broken_drain();
    const auto design = design_thickness(input, working);
    for (const auto* id : {"f1216.c", "liner.el", "liner.sl", "f1216.p", "f1216.x1.1", "f1216.x1.2", "f1216.x1.3",
                           "f1216.x1.4", "liner.glock", "liner.design", "load.total"}) {
        CAPTURE(id);
        CHECK(has_step(working, id));
    }
    for (const auto& step : working.steps()) {
        CAPTURE(step.formula->id);
        CHECK(step.inputs().size() == step.formula->inputs.size());
        CHECK_FALSE(step.formula->source.empty());
        CHECK_FALSE(step.formula->page.empty());
    }
    for (const auto& step : working.steps()) {
        if (step.formula->id != "f1216.x1.1") continue;
        CHECK(step.result == needed(design, Check::water_buckling).si());
        CHECK(step.inputs()[0].origin == Origin::given);    // bore
        CHECK(step.inputs()[1].origin == Origin::assumed);  // K 7
        CHECK(step.inputs()[2].origin == Origin::computed);
    }
    Working off = Working::off();
    CHECK(design_thickness(input, off).design == design.design);
    CHECK(off.empty());
}
