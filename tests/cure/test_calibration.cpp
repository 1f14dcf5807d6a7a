#include <catch2/catch.hpp>

#include <cmath>

#include "calibrate.hpp"
#include "cases.hpp"
#include "cvode_body.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::cure;
using namespace patchwright::cure::detail;
using test::gel;
using test::pot_life;
using test::strip;

TEST_CASE("the demonstration resins meet their own data sheets", "[cure]") {
    for (const job::Resin& resin : {test::fast(), test::standard(), test::slow()}) {
        const Model model{resin};
        CAPTURE(resin.id);
        REQUIRE(model.fit().size() == resin.data.size());
        for (const Model::FitPoint& p : model.fit()) {
            CAPTURE(p.data.temperature.in_celsius(), p.data.time.in(unit::minute), p.computed.in(unit::minute));
            CHECK(std::abs(std::log(p.computed / p.data.time)) < 0.06);
        }
        CHECK(model.fit_remarks().empty());
        CHECK(std::abs(model.kinetics().energy_2.in(unit::kJ_mol)-54.0) < 1.5);  // they were made with 54
    }
}

TEST_CASE("a made-up resin's kinetics are found again from its tests", "[cure]") {
    // The tests of the data sheet are made with CVODE (cup) and the quadrature (film), not with the fit's own solver.
    job::Resin resin = test::bare_epoxy();
    const Vector truth{std::log(5e-4), 51e3, std::log(0.045), 2.0};
    const Kinetics k = kinetics_of(resin, truth);
    const RateLaw law{k};
    for (const double celsius : {10.0, 23.0, 30.0}) {
        const double kelvin = celsius + 273.15;
        const Body cup = body_of(cup_body(resin, 0.1));
        const double pot = test::cvode_run(
                               cup, law, uniform_state(cup, kelvin, 0.0), 0.0, 86400.0, 0.0, kelvin,
                               resin.gel_conversion, [](double, double) { return -1.0; }, 1e-9, 1e-11, 1e-8)
                               .gel;
        resin.data.push_back(pot_life(celsius, pot / 60.0));
        resin.data.push_back(gel(
            celsius, isothermal_time(k, 0.0, resin.gel_conversion, Temperature::celsius(celsius)).in(unit::minute)));
        const double stripped = conversion_at_glass(k.glass, Temperature::celsius(celsius + 2.0));
        resin.data.push_back(
            strip(celsius, isothermal_time(k, 0.0, stripped, Temperature::celsius(celsius)).in(unit::minute)));
    }
    const Fitted fit = calibrate(resin);
    // The priors pull a little; the data must win.
    CHECK(fit.at[activation] == Approx(truth[activation]).margin(2500.0).epsilon(0));
    CHECK(fit.at[log_ratio] == Approx(truth[log_ratio]).margin(0.25).epsilon(0));
    CHECK(fit.at[strip_margin] == Approx(truth[strip_margin]).margin(1.5).epsilon(0));
    CHECK(fit.misfit < 0.03);
    for (const double celsius : {5.0, 20.0}) {
        const double kelvin = celsius + 273.15;
        const double found = isothermal_seconds(RateLaw{fit.kinetics}, 0.0, 0.577, kelvin, 8);
        CHECK(found == Approx(isothermal_seconds(law, 0.0, 0.577, kelvin, 8)).epsilon(0.05));
    }
}

TEST_CASE("the less a data sheet says, the wider the band", "[cure]") {
    const double cold = 278.15;
    const auto doubt = [&](std::vector<job::DataPoint> data) {
        job::Resin r = test::bare_epoxy();
        r.data = std::move(data);
        return log_time_deviation(r, calibrate(r), cold, false);
    };
    const double full = doubt(test::standard().data);
    const double two_films = doubt({pot_life(23, 35), gel(20, 125), gel(30, 65)});
    const double one_film = doubt({pot_life(23, 35), gel(20, 125)});
    const double cup_only = doubt({pot_life(23, 35)});
    CHECK(full < two_films);
    CHECK(two_films < one_film);
    CHECK(one_film < cup_only);
    // A pot life alone fixes the cold film only within a factor of 2 to 3: about 0.35 to 0.55 in ln(time) is one
    // standard deviation of that.
    CHECK(cup_only > 0.25);
    CHECK(full < 0.12);
}

TEST_CASE("two temperatures are combined with the usual activation energy, not trusted alone", "[cure]") {
    job::Resin r = test::bare_epoxy();
    // Film times at 20 and 30 °C, each some 15 % uncertain, leave 35 % at 10 °C; with the prior about 16 %: simple
    // error propagation, no published figure.
    r.data = {gel(20, 125), gel(30, 65)};
    const double deviation = log_time_deviation(r, calibrate(r), 283.15, false);
    CHECK(deviation > 0.11);
    CHECK(deviation < 0.20);
    // Two film times that alone would say 90 kJ/mol.
    const double factor = std::exp(90e3 / gas_constant * (1.0 / 293.15 - 1.0 / 303.15));
    r.data = {gel(20, 125), gel(30, 125 / factor)};
    const Fitted fit = calibrate(r);
    CHECK(fit.at[activation] < 75e3);
    CHECK(fit.at[activation] > 57e3);
}

TEST_CASE("thin data is said", "[cure]") {
    job::Resin r = test::bare_epoxy();
    r.data = {pot_life(23, 35)};
    const auto said = [&](const char* part) {
        const Model model{r};
        for (const std::string& s : model.fit_remarks())
            if (s.find(part) != std::string::npos) return true;
        return false;
    };
    CHECK(said("only pot lives"));
    CHECK(said("one temperature"));
    CHECK(said("no strip time"));
    r.data = {pot_life(23, 35), gel(10, 270), gel(20, 125), strip(20, 170), strip(10, 900)};
    CHECK(said("check this figure"));
}

TEST_CASE("data that no resin can have is refused in plain words", "[cure][error]") {
    const auto refused = [](std::vector<job::DataPoint> data, const char* part) {
        job::Resin r = test::bare_epoxy();
        r.data = std::move(data);
        CHECK_THROWS_WITH(Model{r}, Catch::Contains(part));
        CHECK_THROWS_AS(Model{r}, InputError);
    };
    refused({}, "no times");
    refused({gel(10, 100), gel(20, 150)}, "no resin is slower when it is warmer");
    refused({pot_life(23, 60), gel(20, 50)}, "a cup heats itself");
    refused({pot_life(23, 25, 100), pot_life(23, 60, 1000)}, "the larger cup heats itself more");
    refused({gel(20, 120), strip(20, 60)}, "gels before it can be stripped");
    refused({pot_life(23, -5)}, "above zero");
    refused({pot_life(23, 30, 0.0)}, "mass");
    refused({gel(120, 30)}, "ambient");

    job::Resin r = test::standard();
    r.heat_of_reaction = {};
    CHECK_THROWS_AS(Model{r}, InputError);
    r = test::standard();
    r.glass_end = r.glass_start;
    CHECK_THROWS_AS(Model{r}, InputError);
    r = test::standard();
    r.gel_conversion = 1.2;
    CHECK_THROWS_AS(Model{r}, InputError);
}

TEST_CASE("a polyester with its small gel conversion is fitted too", "[cure]") {
    job::Resin r = test::bare_epoxy();
    r.kind = job::ResinKind::polyester;
    r.gel_conversion = 0.05;
    r.glass_start = Temperature::celsius(-60.0);
    r.glass_end = Temperature::celsius(90.0);
    r.heat_of_reaction = 350.0 * unit::J_g;
    r.data = {pot_life(20, 25), gel(20, 28), gel(10, 55), strip(20, 80)};
    const Model model{r};
    for (const Model::FitPoint& p : model.fit()) CHECK(std::abs(std::log(p.computed / p.data.time)) < 0.25);
}

TEST_CASE("doubling per 10 K is near, and optimistic in the cold", "[cure]") {
    // Common practice, no source: a rate that doubles per 10 K.
    const Model model{test::standard()};
    const auto time = [&](double c) {
        return isothermal_time(model.kinetics(), 0.0, 0.577, Temperature::celsius(c)).si();
    };
    const double doubling = time(10) / time(20);
    CHECK(doubling > 1.7);
    CHECK(doubling < 2.6);
    CHECK(time(5) / time(20) > std::pow(2.0, 1.5));
}
