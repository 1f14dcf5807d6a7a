#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

#include "calibrate.hpp"
#include "cvode_body.hpp"
#include "demo_resins.hpp"
#include "patchwright/cure/cure.hpp"
#include "patchwright/units/error.hpp"
#include "solver.hpp"

using namespace patchwright;
using namespace patchwright::cure;
using namespace patchwright::cure::detail;

namespace {

constexpr double wall = 300.0, slab_conductivity = 0.2, slab_half = 0.01, slab_volumetric_heat = 2e6,
                 rate_at_wall = 1e-8;

/// Zero-order kinetics, so that nothing is used up, as the theory of thermal ignition assumes.
RateLaw zero_order(double energy_over_rt) {
    Kinetics k;
    k.energy_1 = k.energy_2 = MolarEnergy::from_si(energy_over_rt * gas_constant * wall);
    k.rate_2 = Frequency::from_si(rate_at_wall * std::exp(energy_over_rt));
    k.order_m = k.order_n = 0.0;
    return RateLaw{k};
}

bool runs_away(const Body& body, double energy_over_rt, double duration) {
    State state = uniform_state(body, wall, 0.0);
    bool ignited = false;
    Solver solver{Settings{.tolerance = 1e-5}};
    const Profile cold = Profile::constant(wall);
    solver.run(body, zero_order(energy_over_rt), state, 0.0, duration, cold, cold, [&](const Sample& s) {
        ignited = (s.hottest - wall) * energy_over_rt / wall > 6.0;  // dimensionless temperature
        return !ignited;
    });
    return ignited;
}

/// The heat that just runs away, as a multiple of `unit_heat` in `make`.
template <class MakeBody>
double critical(MakeBody&& make, double low, double high, double energy_over_rt, double duration) {
    for (int i = 0; i < 14; ++i) {
        const double middle = 0.5 * (low + high);
        (runs_away(make(middle), energy_over_rt, duration) ? high : low) = middle;
    }
    return 0.5 * (low + high);
}

double critical_delta(Shape shape, double energy_over_rt) {
    const auto make = [&](double delta) {
        // delta = E q L^2 / (R T0^2 k), so q = delta k T0 / (L^2 E/(R T0)).
        const double q = delta * slab_conductivity * wall / (slab_half * slab_half * energy_over_rt);
        return make_body(shape, 0.0,
                         {{slab_half, slab_conductivity, slab_volumetric_heat, 60, 1.0, q / rate_at_wall, 0.0}}, 0.0,
                         0.0);
    };
    return critical(make, 0.5, 5.0, energy_over_rt,
                    300.0 * slab_half * slab_half * slab_volumetric_heat / slab_conductivity);
}

}  // namespace

TEST_CASE("critical Frank-Kamenetskii numbers by bisection on the solver", "[cure][reference]") {
    // Frank-Kamenetskii (1939): 0.878458 slab, 2 cylinder, 3.321992 sphere, for E/(RT) without bound. The solver works
    // at a finite one; the first-order correction is taken out by two runs.
    struct Row {
        Shape shape;
        double delta;
    };
    const auto row = GENERATE(Row{Shape::slab, 0.878458}, Row{Shape::cylinder, 2.000000}, Row{Shape::sphere, 3.321992});
    const double limit = 2.0 * critical_delta(row.shape, 600.0) - critical_delta(row.shape, 300.0);
    CHECK(limit == Approx(row.delta).epsilon(2e-3));
}

TEST_CASE("critical Semenov number by bisection on the solver", "[cure][reference]") {
    // Semenov (1928), from memory: psi = E q V / (R T0^2 h S) = 1/e for a stirred body.
    const auto psi_at = [](double energy_over_rt) {
        const auto make = [&](double psi) {
            Body body;
            body.capacity = {1000.0};
            body.outer_link = 5.0;
            body.reacting = 1;
            body.heat = {psi * wall / energy_over_rt * 5.0 / rate_at_wall};
            return body;
        };
        return critical(make, 0.1, 1.0, energy_over_rt, 300.0 * 1000.0 / 5.0);
    };
    CHECK(2.0 * psi_at(600.0) - psi_at(300.0) == Approx(1.0 / std::numbers::e).epsilon(2e-3));
}

TEST_CASE("a mixed bucket of the demonstration resin", "[cure][reference]") {
    // Lumped cylinder as high as wide, all faces 8 W/(m2 K), start = ambient, A 2.343e5, 3.012e5 1/s, E 57, 52 kJ/mol,
    // 400 J/g, 1900 J/kgK, 1120 kg/m3, no diffusion: minutes to 0.577, peak in °C. Computed with scipy, printed to 0.1
    // min and 1 K. The time to +10 K is held to SUNDIALS CVODE (rtol 1e-9, root finding).
    struct Row {
        double grams, celsius, gel, peak;
    };
    const auto row =
        GENERATE(Row{100, 20, 72.3, 191}, Row{150, 20, 68.8, 197}, Row{500, 20, 62.1, 209}, Row{1000, 20, 59.6, 213},
                 Row{3000, 20, 57.0, 218}, Row{100, 23, 54.4, 201}, Row{150, 23, 52.4, 206}, Row{1000, 23, 46.9, 219},
                 Row{3000, 23, 45.2, 223}, Row{100, 10, 263.3, 65}, Row{150, 10, 222.4, 124}, Row{1000, 10, 149.8, 188},
                 Row{3000, 10, 134.4, 199});
    CAPTURE(row.grams, row.celsius);
    Kinetics k;
    k.rate_1 = Frequency::from_si(2.343e5);
    k.energy_1 = 57.0 * unit::kJ_mol;
    k.rate_2 = Frequency::from_si(3.012e5);
    k.energy_2 = 52.0 * unit::kJ_mol;
    job::Resin resin = test::bare_epoxy();
    resin.density_a = resin.density_b = 1120.0 * unit::kg_m3;
    resin.heat_of_reaction = 400.0 * unit::J_g;
    const Body body = body_of(cup_body(resin, row.grams / 1000.0, 8.0, true));
    State state = uniform_state(body, row.celsius + 273.15, 0.0);
    Solver solver{Settings{.tolerance = 1e-6, .longest_step = 60.0}};
    const Profile air = Profile::constant(row.celsius + 273.15);
    double alarm = 0.0, gel = 0.0, peak = 0.0;
    Sample last;
    const auto minutes = [&](double before, double after, double target, double now) {
        return (last.time + (target - before) / (after - before) * (now - last.time)) / 60.0;
    };
    solver.run(body, RateLaw{k}, state, 0.0, 86400.0, air, air, [&](const Sample& s) {
        if (alarm == 0.0 && s.hottest >= row.celsius + 283.15)
            alarm = minutes(last.hottest, s.hottest, row.celsius + 283.15, s.time);
        if (gel == 0.0 && s.most >= 0.577) gel = minutes(last.most, s.most, 0.577, s.time);
        peak = std::max(peak, s.hottest - 273.15);
        last = s;
        return s.most < 0.999 && s.time < 86400.0;
    });
    Body seen = body;
    seen.face_weight = 1.0;  // the condition below then sees the resin's own temperature
    const auto warm = [&](double, double kelvin) { return kelvin - row.celsius - 283.15; };
    const double cvode = test::cvode_run(seen, RateLaw{k}, uniform_state(body, row.celsius + 273.15, 0.0), 0.0, 86400.0,
                                         0.0, row.celsius + 273.15, -1.0, warm, 1e-9, 1e-11, 1e-9)
                             .release;
    CHECK(alarm == Approx(cvode / 60.0).margin(0.02).epsilon(0));
    CHECK(gel == Approx(row.gel).margin(0.06).epsilon(0));
    CHECK(peak == Approx(row.peak).margin(1.0).epsilon(0));
}

TEST_CASE("a bucket answers how long, how hot and how much", "[cure]") {
    const job::Limits limits = test::usual_limits();
    const Temperature room = Temperature::celsius(20.0);
    for (const job::Resin& resin : {test::fast(), test::standard(), test::slow()}) {
        const Model model{resin};
        CAPTURE(resin.id);
        Working working;
        Duration before = 1000.0 * unit::h;
        for (const double kilograms : {0.1, 0.3, 1.0, 2.0, 5.0}) {
            const BucketAnswer a = model.bucket(kilograms * unit::kg, room, room, limits, working);
            CHECK(a.pot_life <= before);  // more mass never lasts longer when it starts no colder than the air
            before = a.pot_life;
            CHECK(a.alarm < a.pot_life);
            CHECK(a.pour_by < limits.pot_share * a.pot_life);  // warm and fast side
            CHECK(a.pour_by == model.pour_by(kilograms * unit::kg, room, room, limits));
            CHECK(a.too_much == (kilograms * unit::kg > resin.safe_pot_mass));
            // Above the bound both numbers cannot be subcritical together.
            if (kilograms * unit::kg > a.never_runs_away)
                CHECK(a.frank_kamenetskii / 3.321992 + a.semenov * std::numbers::e > 1.0);
        }
        CHECK(working.steps().size() == 5 * 6);
        CHECK_THROWS_AS(model.bucket(0.0 * unit::kg, room, room, limits, working), RangeError);
    }
}

TEST_CASE("below its never-runs-away mass a bucket stays cool", "[cure]") {
    const Model model{test::standard()};
    const Temperature room = Temperature::celsius(20.0);
    Working off = Working::off();
    const BucketAnswer big = model.bucket(1.0 * unit::kg, room, room, test::usual_limits(), off);
    const BucketAnswer small = model.bucket(0.5 * big.never_runs_away, room, room, test::usual_limits(), off);
    CHECK(big.hottest > Temperature::celsius(80.0));
    CHECK(small.hottest < Temperature::celsius(35.0));
}
