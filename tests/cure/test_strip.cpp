// The release rule against the tests that stand on a resin's data sheet, followed by plain small steps.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "cases.hpp"
#include "patchwright/io/read.hpp"

using namespace patchwright;
using namespace patchwright::cure;

namespace {

double mixed_density(const job::Resin& r) {
    return (r.parts_a + r.parts_b) / (r.parts_a / r.density_a.si() + r.parts_b / r.density_b.si());
}

/// Seconds until the rule lets go of the sheet's own test: a film at its temperature, or the wet laminate of
/// docs/methods/cure.md (82 % resin by mass, 8 W/(m2 K) into air and 22 into the mineral behind). Explicit Euler, 1 s.
double released(const job::Resin& r, const job::DataPoint& p, const Kinetics& k, const ReleaseRule& rule) {
    const double ambient = p.temperature.in_kelvin();
    const double density = 1.0 / (0.82 / mixed_density(r) + 0.18 / 1380.0);
    const double specific_heat = 0.82 * r.specific_heat.si() + 0.18 * 1200.0;
    const double rise = 0.82 * r.heat_of_reaction.si() / specific_heat;  // K for full conversion
    double cooling = 0.0;                                                // 1/s
    if (p.thickness) {
        const double resistance = 0.5 * p.thickness->si() / r.conductivity.si() + 1.0 / 30.0;
        cooling = 1.0 / (resistance * density * specific_heat * p.thickness->si());
    }
    double a = 0.0;
    double t = ambient;
    for (double time = 0.0; time < 10.0 * 86400.0; time += 1.0) {
        const Temperature now = Temperature::kelvin(t);
        const bool gelled = a >= rule.gel_conversion;
        const bool glassy = glass_temperature(k.glass, a) >= now + rule.margin;
        if (gelled && (glassy || a >= rule.share * attainable_conversion(k.glass, now))) return time;
        const double step = conversion_rate(k, a, now).si();
        a = std::min(a + step, 0.999);
        if (p.thickness) t += rise * step - cooling * (t - ambient);
    }
    return 10.0 * 86400.0;
}

void hold(const job::Resin& resin) {
    const Model model{resin};
    const ReleaseRule rule = test::ask(model, test::usual(3.0, 15.0)).release;
    CHECK(rule.gel_conversion == resin.gel_conversion);
    for (const job::DataPoint& p : resin.data) {
        if (p.kind != job::DataPointKind::strip) continue;
        CAPTURE(resin.id, p.temperature.in_celsius(), p.time.in(unit::minute));
        const double ratio = released(resin, p, model.kinetics(), rule) / p.time.si();
        CHECK(ratio > 0.985);  // the steps' own error: 1 %
        CHECK(ratio < 1.35);
    }
}

}  // namespace

TEST_CASE("no resin is released before its own data sheet", "[cure]") {
    for (const job::Resin& resin : io::builtin_yard().resins) hold(resin);
    for (const job::Resin& resin : {test::fast(), test::standard(), test::slow()}) hold(resin);
    // Figures that set at once and harden late, as of quick silicate resins: gel after 26 min, strip after 70.
    job::Resin quick = test::bare_epoxy();
    quick.id = "quick";
    quick.kind = job::ResinKind::silicate_isocyanate;
    quick.gel_conversion = 0.6;
    quick.glass_start = Temperature::celsius(-50.0);
    quick.glass_end = Temperature::celsius(85.0);
    quick.glass_lambda = 0.5;
    const auto layer = [](job::DataPointKind kind, double celsius, double minutes) {
        return job::DataPoint{kind, Temperature::celsius(celsius), minutes * unit::minute, {}, 3.0 * unit::mm};
    };
    quick.data = {test::pot_life(20, 14, 200),
                  test::pot_life(10, 27, 200),
                  layer(job::DataPointKind::gel, 10, 50),
                  layer(job::DataPointKind::gel, 20, 26),
                  layer(job::DataPointKind::strip, 10, 140),
                  layer(job::DataPointKind::strip, 20, 70)};
    hold(quick);
}

TEST_CASE("a colder pipe is never let down sooner: of any data sheet that is taken", "[cure]") {
    std::vector<job::Resin> resins = io::builtin_yard().resins;
    for (const double hours : {2.5, 4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 30.0, 60.0}) {
        job::Resin r = *io::builtin_yard().find_resin("standard");
        r.id = "late to harden";
        r.data = {test::pot_life(23, 40),
                  {job::DataPointKind::gel, Temperature::celsius(20.0), 1.7 * unit::h, {}, 3.0 * unit::mm},
                  {job::DataPointKind::strip, Temperature::celsius(20.0), hours * unit::h, {}, 3.0 * unit::mm}};
        resins.push_back(r);
    }
    int taken = 0;
    for (const job::Resin& resin : resins) {
        if (!resin_faults(resin).empty()) continue;
        ++taken;
        const Model model{resin};
        for (const double thickness : {1.5, 3.0, 6.0}) {
            Duration warmer{}, printed_warmer{};
            for (double pipe = resin.application_max.in_celsius(); pipe >= resin.application_min.in_celsius(); --pipe) {
                const Answer a = test::ask(model, test::usual(thickness, pipe, 20.0, 20.0));
                CAPTURE(resin.id, resin.data.back().time.in(unit::h), thickness, pipe);
                CHECK(a.hard.likely >= warmer);
                warmer = a.hard.likely;
                if (a.refused) continue;
                CHECK(a.sheet.let_down >= printed_warmer);
                printed_warmer = a.sheet.let_down;
            }
        }
    }
    CHECK(taken >= 8);
    // Hard after 16 h at 20 °C that would be let down after 13 h at 10 °C: refused, with the figure.
    const auto faults = resin_faults(resins[resins.size() - 4]);
    REQUIRE(faults.size() == 1);
    CHECK_THAT(faults[0].message,
               Catch::Contains("960 min") && Catch::Contains("a colder pipe would be deflated sooner"));
}

TEST_CASE("a working time after the layer has gelled or hardened is refused", "[cure][error]") {
    const auto working = [](double minutes, std::optional<Length> thickness = {}) {
        return job::DataPoint{
            job::DataPointKind::working, Temperature::celsius(20.0), minutes * unit::minute, {}, thickness};
    };
    // The sheet names no gel time at 20 °C of its own; by the others a film gels after about 125 min there.
    job::Resin r = test::standard();
    r.data = {test::pot_life(23, 35), test::gel(5, 415), test::gel(10, 270), working(110)};
    CHECK(resin_faults(r).empty());
    r.data.back() = working(150);
    const auto faults = resin_faults(r);
    REQUIRE(faults.size() == 1);
    CHECK_THAT(faults[0].message, Catch::Contains("working time 150 min") && Catch::Contains("gelled by then"));
    CHECK(faults[0].data == 3);
    // Longer than until the same layer is stripped.
    r.data = {test::pot_life(23, 35), test::strip(20, 170), working(230)};
    const auto stripped = resin_faults(r);
    REQUIRE_FALSE(stripped.empty());
    CHECK_THAT(stripped[0].message, Catch::Contains("cannot be shaped once it is hard"));
}

TEST_CASE("the data sheet's working time ends shaping", "[cure]") {
    job::Resin r = test::standard();
    const job::Limits limits = test::usual_limits();
    const double without = test::ask(Model{r}, test::usual(3.0, 15.0)).shaping_conversion;
    CHECK(without <= limits.working_conversion);
    r.data.push_back({job::DataPointKind::working, Temperature::celsius(20.0), 70.0 * unit::minute, {}, {}});
    const Model model{r};
    const Answer a = test::ask(model, test::usual(3.0, 15.0));
    CHECK(a.shaping_conversion ==
          Approx(isothermal_conversion(model.kinetics(), 0.0, 70.0 * unit::minute, Temperature::celsius(20.0)))
              .epsilon(2e-3));
    // It does not change how fast the resin is taken to be.
    CHECK(model.kinetics().rate_2 == Model{test::standard()}.kinetics().rate_2);
    // Of two working times the more careful one counts.
    r.data.push_back({job::DataPointKind::working, Temperature::celsius(10.0), 100.0 * unit::minute, {}, {}});
    CHECK(test::ask(Model{r}, test::usual(3.0, 15.0)).shaping_conversion < a.shaping_conversion);
}
