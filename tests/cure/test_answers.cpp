#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "cases.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::cure;
using test::ask;
using test::Case;
using test::usual;

namespace {

std::vector<job::Resin> demonstration_resins() { return {test::fast(), test::standard(), test::slow()}; }

}  // namespace

TEST_CASE("the times of a sleeve stand in order", "[cure]") {
    for (const job::Resin& resin : demonstration_resins()) {
        const Model model{resin};
        for (const double pipe : {5.0, 10.0, 20.0})
            for (const double air : {2.0, 11.0, 20.0}) {
                CAPTURE(resin.id, pipe, air);
                const Answer a = ask(model, usual(3.0, pipe, air));
                REQUIRE_FALSE(a.refused);
                const Times likely = test::likely(model, usual(3.0, pipe, air));
                for (const Times& t : {a.sheet, likely}) {
                    CHECK(t.pour_by.si() > 0.0);
                    CHECK(t.inflate_by.si() > 0.0);
                    CHECK(t.inflate_by < t.crease_by);
                    CHECK(t.crease_by <= t.working_time);
                    CHECK(t.working_time < t.gel);
                    CHECK(t.gel <= t.let_down);
                }
                const job::Limits limits = test::usual_limits();
                CHECK(a.sheet.crease_by - a.sheet.inflate_by >= limits.crease_step);
                // Whole minutes, limits down and waits up, by the promised chances.
                for (const Duration t :
                     {a.sheet.pour_by, a.sheet.inflate_by, a.sheet.crease_by, a.sheet.gel, a.sheet.let_down})
                    CHECK(t.in(unit::minute) == Approx(std::round(t.in(unit::minute))).margin(1e-9));
                CHECK(a.shaping.chance_before(a.sheet.crease_by) <= limits.late_at_most);
                CHECK(a.shaping.chance_before(a.sheet.crease_by + 1.0 * unit::minute) > limits.late_at_most);
                CHECK(1.0 - a.hard.chance_before(a.sheet.let_down) <= limits.soft_at_most);
                CHECK(a.sheet.let_down >= a.coupon);
            }
    }
}

TEST_CASE("what the built-in resins promise", "[cure]") {
    const Model fast{test::fast()};
    // Usable from 5 °C on; closes a 3 mm sleeve at 10 °C within 5 h of mixing.
    for (const double air : {5.0, 11.0, 20.0}) CHECK(ask(fast, usual(3.0, 10.0, air)).sheet.let_down < 5.0 * unit::h);
    for (const job::Resin& resin : demonstration_resins()) {
        const Model model{resin};
        CAPTURE(resin.id);
        CHECK_FALSE(ask(model, usual(3.0, 5.0)).refused);
        CHECK(ask(model, usual(3.0, 4.9)).refused);
        for (const double millimetres : {3.0, 4.5, 6.0})
            for (const double pipe : {5.0, 10.0, 15.0, 20.0}) {
                CAPTURE(millimetres, pipe);
                const Answer a = ask(model, usual(millimetres, pipe));
                CHECK_FALSE(a.refused);
                CHECK(a.hottest < resin.highest_safe);
            }
    }
    // Mix to inflated in 15 to 25 min is possible in air of 15 to 20 °C.
    CHECK(ask(fast, usual(3.0, 10.0, 20.0)).sheet.inflate_by > 15.0 * unit::minute);
    CHECK(ask(fast, usual(3.0, 10.0, 15.0)).sheet.inflate_by > 18.0 * unit::minute);
}

TEST_CASE("the built-in yard keeps what is promised of it", "[cure]") {
    const job::Yard& yard = io::builtin_yard();
    for (const job::Resin& resin : yard.resins) {
        const Model model{resin};  // every data sheet of the yard can be fitted
        CAPTURE(resin.id);
        for (const Model::FitPoint& p : model.fit()) CHECK(std::abs(std::log(p.computed / p.data.time)) < 0.26);
    }
    for (const char* id : {"fast", "standard", "slow"}) {
        const job::Resin* resin = yard.find_resin(id);
        REQUIRE(resin != nullptr);
        const Model model{*resin};
        CHECK(model.fit_remarks().empty());
        for (const double millimetres : {3.0, 4.5, 6.0})
            for (const double pipe : {5.0, 10.0, 15.0, 20.0}) {
                CAPTURE(id, millimetres, pipe);
                CHECK_FALSE(ask(model, usual(millimetres, pipe), yard.limits).refused);
            }
        CHECK(ask(model, usual(3.0, 4.5), yard.limits).refused);
    }
    const Model fast{*yard.find_resin("fast")};
    for (const double air : {5.0, 11.0, 20.0})
        CHECK(ask(fast, usual(3.0, 10.0, air), yard.limits).sheet.let_down < 5.0 * unit::h);
    CHECK(ask(fast, usual(3.0, 10.0, 15.0), yard.limits).sheet.inflate_by > 15.0 * unit::minute);
}

TEST_CASE("let-down at 10 °C is what the trade is used to", "[cure]") {
    // Common practice, no source: 2.5 to 4 h fast, 5 to 9 h standard for a 1 m patch in DN100; the likely side without
    // margins to the sheet's side with all of them must meet that range.
    const Times fast = test::likely(Model{test::fast()}, usual(3.0, 10.0, 11.0));
    CHECK(fast.let_down > 2.0 * unit::h);
    CHECK(fast.let_down < 4.0 * unit::h);
    const Model slower{test::standard()};
    CHECK(test::likely(slower, usual(3.0, 10.0, 11.0)).let_down > 4.0 * unit::h);
    const Answer standard = ask(slower, usual(3.0, 10.0, 11.0));
    CHECK(standard.sheet.let_down < 9.0 * unit::h);
}

TEST_CASE("warmer is never slower to gel, thicker is never cooler", "[cure]") {
    for (const job::Resin& resin : demonstration_resins()) {
        const Model model{resin};
        double before = std::numeric_limits<double>::infinity();
        for (double pipe = 5.0; pipe <= 25.0; pipe += 2.5) {
            const Answer a = ask(model, usual(3.0, pipe));
            CAPTURE(resin.id, pipe);
            REQUIRE_FALSE(a.refused);
            const Times likely = test::likely(model, usual(3.0, pipe));
            CHECK(likely.gel.si() < before);
            before = likely.gel.si();
        }
        double hot = 0.0;
        for (double millimetres = 2.0; millimetres <= 9.0; millimetres += 1.0) {
            // Resin, air and pipe alike, so that all warmth is the sleeve's own.
            const Answer a = ask(model, usual(millimetres, 15.0, 15.0, 15.0));
            CAPTURE(resin.id, millimetres);
            REQUIRE_FALSE(a.refused);
            CHECK(a.hottest.in_kelvin() > hot);
            hot = a.hottest.in_kelvin();
        }
    }
}

TEST_CASE("warmer air, van or resin leaves less time, never more", "[cure]") {
    const Model model{test::standard()};
    const auto inflate_by = [&](double air, double van, double resin) {
        Case c = usual(3.0, 10.0, air, resin);
        c.conditions.van = test::at(van);
        return ask(model, c).sheet.inflate_by;
    };
    CHECK(inflate_by(20, 10, 20) < inflate_by(10, 10, 20));
    CHECK(inflate_by(10, 20, 20) < inflate_by(10, 10, 20));
    CHECK(inflate_by(10, 10, 25) < inflate_by(10, 10, 15));
    CHECK(inflate_by(20, 10, 20) == inflate_by(20, 20, 20));  // the warmest of air and van rules
    // A van that nobody speaks of is as warm as the air.
    Case c = usual(3.0, 10.0, 20.0);
    c.conditions.van = {};
    CHECK(ask(model, c).sheet.inflate_by == inflate_by(20, 20, 20));
    CHECK(ask(model, c).sheet.let_down == ask(model, usual(3.0, 10.0, 20.0)).sheet.let_down);
    c.conditions.van = {Temperature::celsius(30.0), Origin::assumed};  // but what somebody assumed counts
    CHECK(ask(model, c).sheet.inflate_by == inflate_by(20, 30, 20));
}

TEST_CASE("a cold pipe stops short of full cure, and says so", "[cure]") {
    const Model model{test::standard()};
    const Answer cold = ask(model, usual(3.0, 5.0));
    CHECK(cold.stops_short);
    CHECK(cold.attainable == Approx(0.690).margin(1e-3));
    CHECK(ask(model, usual(3.0, 20.0)).attainable > cold.attainable);
}

TEST_CASE("refusals say what would make it possible", "[cure][error]") {
    const Model model{test::standard()};
    const auto refused = [&](const Case& c, const char* part) {
        const Answer a = ask(model, c);
        REQUIRE(a.refused);
        CHECK_THAT(*a.refused, Catch::Contains(part));
        CHECK(a.sheet.let_down == Duration{});
    };
    refused(usual(3.0, 3.0), "warm air");
    refused(usual(3.0, 35.0), "slower resin");
    refused(usual(3.0, 10.0, 20.0, 33.0), "cool first");
    refused(usual(3.0, 10.0, 20.0, 2.0), "warm both parts");

    SECTION("felt thicker than its safe exotherm") {
        job::Resin hot = test::fast();
        hot.heat_of_reaction = 450.0 * unit::J_g;
        hot.highest_safe = Temperature::celsius(90.0);
        Case c = usual(12.0, 20.0);
        const Answer a = ask(Model{hot}, c);
        REQUIRE(a.refused);
        CHECK_THAT(*a.refused, Catch::Contains("thinner felt") && Catch::Contains("Frank-Kamenetskii"));
        CHECK(a.frank_kamenetskii > 0.88);
    }
    SECTION("a wall that softens") {
        job::Resin hot = test::slow();
        hot.heat_of_reaction = 450.0 * unit::J_g;
        hot.highest_safe = Temperature::celsius(250.0);
        Case c = usual(16.0, 25.0);
        c.host.host = job::Material::pvc_u;
        c.host.wall = 3.2 * unit::mm;
        c.host.wet_soil = false;
        const Answer a = ask(Model{hot}, c);
        REQUIRE(a.refused);
        CHECK_THAT(*a.refused, Catch::Contains("softens"));
        CHECK(a.host_hottest > Temperature::celsius(70.0));
    }
    SECTION("no time to inflate") {
        job::Limits slow_hands = test::usual_limits();
        slow_hands.crease_step = 10.0 * unit::minute;
        const Answer a = ask(Model{test::fast()}, usual(3.0, 29.0, 45.0, 29.0), slow_hands);
        REQUIRE(a.refused);
        CHECK_THAT(*a.refused, Catch::Contains("cool the resin"));
    }
}

TEST_CASE("hands that take longer than the sleeve allows are a warning, not a runaway", "[cure]") {
    const Model model{test::fast()};
    Case c = usual(3.0, 10.0, 20.0);
    c.conditions.wet_out = 20.0 * unit::minute;
    c.conditions.load = 15.0 * unit::minute;
    c.conditions.position = 10.0 * unit::minute;
    const Answer a = ask(model, c);
    REQUIRE_FALSE(a.refused);
    CHECK(a.hands_on == 47.0 * unit::minute);
    CHECK(a.sheet.inflate_by < a.hands_on);
    REQUIRE_FALSE(a.warnings.empty());
    CHECK_THAT(a.warnings.front(), Catch::Contains("hands-on"));
    CHECK(a.hottest < Temperature::celsius(60.0));
}

TEST_CASE("impossible input throws", "[cure][error]") {
    const Model model{test::standard()};
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double bad : {0.0, -3.0, nan, 60.0}) CHECK_THROWS_AS(ask(model, usual(bad, 10.0)), RangeError);
    CHECK_THROWS_AS(ask(model, usual(3.0, nan)), RangeError);
    CHECK_THROWS_AS(ask(model, usual(3.0, 10.0, 200.0)), RangeError);
    Case c = usual(3.0, 10.0);
    c.host.bore = {};
    CHECK_THROWS_AS(ask(model, c), RangeError);
    c = usual(3.0, 10.0);
    c.sleeve.resin_mass_fraction = 1.2;
    CHECK_THROWS_AS(ask(model, c), RangeError);
    c = usual(3.0, 10.0);
    c.conditions.load = Duration::from_si(nan);
    CHECK_THROWS_AS(ask(model, c), RangeError);
}

TEST_CASE("a pipe far from the data is extrapolated, widened and said", "[cure]") {
    job::Resin r = test::standard();
    r.data = {test::pot_life(23, 35), test::gel(20, 125), test::strip(20, 170)};
    const Model model{r};
    const Answer near = ask(model, usual(3.0, 18.0));
    const Answer far = ask(model, usual(3.0, 8.0));
    CHECK_FALSE(near.extrapolated);
    CHECK(far.extrapolated);
    CHECK(far.rate_sd > near.rate_sd);
    bool said = false;
    for (const std::string& w : far.warnings) said = said || w.find("extrapolated") != std::string::npos;
    CHECK(said);
    const Answer known = ask(Model{test::standard()}, usual(3.0, 8.0));
    CHECK_FALSE(known.extrapolated);
    CHECK(known.rate_sd < far.rate_sd);
}

TEST_CASE("warm water in the bladder shortens the cure and lifts the lower limit", "[cure]") {
    const Model model{test::standard()};
    Case c = usual(3.0, 8.0);
    const Duration cold = ask(model, c).sheet.let_down;
    c.conditions.heating.medium = Heating::Medium::air;
    c.conditions.heating.points = {{0.0 * unit::s, Temperature::celsius(40.0)}};
    const Duration warm_air = ask(model, c).sheet.let_down;
    c.conditions.heating.medium = Heating::Medium::water;
    const Duration warm_water = ask(model, c).sheet.let_down;
    CHECK(warm_air < cold);
    CHECK(warm_water < warm_air);
    c.conditions.pipe = test::at(3.0);
    const Answer a = ask(model, c);
    CHECK_FALSE(a.refused);
    REQUIRE_FALSE(a.warnings.empty());
    CHECK_THAT(a.warnings.front(), Catch::Contains("heated"));
}

TEST_CASE("the working holds every step, and none when it is off", "[cure]") {
    const Model model{test::standard()};
    const Case c = usual(3.0, 10.0);
    Working working;
    const Answer a = model.answer(c.sleeve, c.host, c.conditions, test::usual_limits(), working);
    const auto find = [&](std::string_view id) -> const Step* {
        for (const Step& s : working.steps())
            if (s.formula->id == id) return &s;
        return nullptr;
    };
    REQUIRE(find("cure.let_down") != nullptr);
    CHECK(find("cure.let_down")->result == a.sheet.let_down.si());
    REQUIRE(find("cure.inflate_by") != nullptr);
    CHECK(find("cure.inflate_by")->result == a.sheet.inflate_by.si());
    REQUIRE(find("cure.crease_by") != nullptr);
    CHECK(find("cure.crease_by")->result == a.sheet.crease_by.si());
    CHECK(find("cure.pour_by")->result == a.sheet.pour_by.si());
    CHECK(find("cure.attainable")->result == a.attainable);
    const Kinetics& k = model.kinetics();
    const double rate = k.rate_2.si() * std::exp(-k.energy_2.si() / (gas_constant * c.conditions.pipe->in_kelvin()));
    CHECK(find("cure.rate")->result == Approx(1.0 / rate));
    for (const Step& s : working.steps()) {
        CHECK(s.inputs().size() == s.formula->inputs.size());
        CHECK(std::isfinite(s.result));
        CHECK_FALSE(s.formula->source.empty());
    }
    Working off = Working::off();
    model.answer(c.sleeve, c.host, c.conditions, test::usual_limits(), off);
    CHECK(off.empty());
}

TEST_CASE("the same question gives the same bits", "[cure]") {
    const Answer a = ask(Model{test::fast()}, usual(4.5, 9.0));
    const Answer b = ask(Model{test::fast()}, usual(4.5, 9.0));
    CHECK(a.sheet.let_down == b.sheet.let_down);
    CHECK(a.sheet.inflate_by == b.sheet.inflate_by);
    CHECK(a.hottest == b.hottest);
    CHECK(a.hard.log_sd == b.hard.log_sd);
}

TEST_CASE("any sleeve gets times in order, or a refusal", "[cure]") {
    // Fixed pseudo-random cases over all that the input check lets through.
    std::uint64_t seed = 20260414;
    const auto draw = [&](double low, double high) {
        seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
        return low + (high - low) * static_cast<double>(seed >> 40) / static_cast<double>(1ULL << 24);
    };
    const std::vector<job::Resin> resins = demonstration_resins();
    std::vector<Model> models;
    for (const job::Resin& r : resins) models.emplace_back(r);
    constexpr job::Material hosts[] = {job::Material::clay,  job::Material::concrete,        job::Material::cast_iron,
                                       job::Material::pvc_u, job::Material::asbestos_cement, job::Material::pitch_fibre,
                                       job::Material::other};
    int answered = 0;
    for (int i = 0; i < 600; ++i) {
        Case c = usual(draw(1.0, 14.0), draw(0.0, 32.0), draw(-10.0, 35.0), draw(3.0, 32.0));
        c.conditions.van = test::at(draw(-10.0, 35.0));
        c.host.bore = draw(45.0, 220.0) * unit::mm;
        c.host.wall = draw(0.0, 25.0) * unit::mm;
        c.host.host = hosts[i % 7];
        c.host.wet_soil = i % 2 == 0;
        c.sleeve.resin_mass = draw(0.0, 6.0) * unit::kg;
        c.sleeve.table_layers = 1.0 + i % 2;
        c.conditions.wet_out = draw(0.0, 20.0) * unit::minute;
        c.conditions.load = draw(0.0, 10.0) * unit::minute;
        c.conditions.position = draw(0.0, 20.0) * unit::minute;
        CAPTURE(i, c.sleeve.thickness.in(unit::mm), c.conditions.pipe->in_celsius(), c.conditions.air->in_celsius());
        const Answer a = ask(models[static_cast<std::size_t>(i % 3)], c);
        if (a.refused) {
            CHECK(a.refused->size() > 40);
            continue;
        }
        ++answered;
        CHECK(a.hottest < Temperature::celsius(200.0));
        for (const Times& t : {a.sheet, a.likely}) {
            CHECK(std::isfinite(t.let_down.si()));
            CHECK(t.inflate_by < t.crease_by);
            CHECK(t.crease_by <= t.working_time);
            CHECK(t.working_time < t.gel);
            CHECK(t.gel <= t.let_down);
        }
        CHECK(a.sheet.inflate_by.si() > 0.0);
    }
    CHECK(answered > 200);
}
