#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

#include "solver.hpp"

using namespace patchwright;
using namespace patchwright::cure;
using namespace patchwright::cure::detail;

namespace {

/// A law that does not react: conduction alone.
RateLaw inert() {
    Kinetics k;
    k.rate_2 = Frequency::from_si(1e-30);
    return RateLaw{k};
}

constexpr double conductivity = 0.2, volumetric_heat = 2e6, half = 0.01;

struct Cooled {
    double centre, surface, mean;
};

/// Dimensionless temperature of a slab or cylinder put into surroundings of another temperature.
Cooled cooled(Shape shape, double biot, double fourier, std::size_t cells) {
    const double film = std::isinf(biot) ? 0.0 : biot * conductivity / half;
    const Body body = make_body(shape, 0.0, {{half, conductivity, volumetric_heat, cells, 1.0, 1e-12, 0.0}}, 0.0, film);
    State state = uniform_state(body, 301.0, 0.0);
    Solver solver{Settings{.tolerance = 1e-6}};
    const double time = fourier * half * half * volumetric_heat / conductivity;
    Sample last;
    solver.run(body, inert(), state, 0.0, time, Profile::constant(300.0), Profile::constant(300.0),
               [&](const Sample& s) {
                   last = s;
                   return true;
               });
    double heat = 0.0, capacity = 0.0;
    for (std::size_t i = 0; i < body.cells(); ++i) {
        heat += body.capacity[i] * (state.temperature[i] - 300.0);
        capacity += body.capacity[i];
    }
    return {state.temperature.front() - 300.0, last.face - 300.0, heat / capacity};
}

}  // namespace

TEST_CASE("a slab and a cylinder cool as the series say", "[cure][reference]") {
    // Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), ch. 3 and 7: series of 60 terms summed with
    // scipy.
    const double inf = INFINITY;
    struct Row {
        double biot, fourier;
        Cooled cylinder, slab;
    };
    const auto row = GENERATE_COPY(Row{inf, 0.05, {0.987099, 0, 0.547879}, {0.996869, 0, 0.747687}},
                                   Row{inf, 0.1, {0.848355, 0, 0.394176}, {0.949305, 0, 0.643177}},
                                   Row{inf, 0.2, {0.501487, 0, 0.217852}, {0.772312, 0, 0.495912}},
                                   Row{inf, 0.5, {0.088890, 0, 0.038379}, {0.370777, 0, 0.236050}},
                                   Row{inf, 1.0, {0.004932, 0, 0.002130}, {0.107977, 0, 0.068740}},
                                   Row{1, 0.05, {0.998898, 0.769641, 0.915693}, {0.999751, 0.790377, 0.957310}},
                                   Row{1, 0.1, {0.976817, 0.684565, 0.843266}, {0.993108, 0.723577, 0.919597}},
                                   Row{1, 0.2, {0.870174, 0.570228, 0.718516}, {0.950642, 0.643391, 0.851595}},
                                   Row{1, 0.5, {0.548586, 0.352786, 0.447384}, {0.772526, 0.504522, 0.681105}},
                                   Row{1, 1.0, {0.249380, 0.160338, 0.203347}, {0.533859, 0.348177, 0.470397}});
    CAPTURE(row.biot, row.fourier);
    const Cooled cylinder = cooled(Shape::cylinder, row.biot, row.fourier, 100);
    CHECK(cylinder.centre == Approx(row.cylinder.centre).margin(3e-4).epsilon(0));
    CHECK(cylinder.surface == Approx(row.cylinder.surface).margin(3e-4).epsilon(0));
    CHECK(cylinder.mean == Approx(row.cylinder.mean).margin(3e-4).epsilon(0));
    const Cooled slab = cooled(Shape::slab, row.biot, row.fourier, 100);
    CHECK(slab.centre == Approx(row.slab.centre).margin(3e-4).epsilon(0));
    CHECK(slab.surface == Approx(row.slab.surface).margin(3e-4).epsilon(0));
    CHECK(slab.mean == Approx(row.slab.mean).margin(3e-4).epsilon(0));
}

TEST_CASE("the mean temperature converges with the second order of the cell", "[cure]") {
    const double exact = 0.394176;  // cylinder, Bi infinite, Fo 0.1, as above
    const double coarse = std::abs(cooled(Shape::cylinder, INFINITY, 0.1, 8).mean - exact);
    const double fine = std::abs(cooled(Shape::cylinder, INFINITY, 0.1, 16).mean - exact);
    CHECK(std::log2(coarse / fine) > 1.8);
    CHECK(std::log2(coarse / fine) < 2.3);
}

TEST_CASE("steady heat through a composite pipe wall", "[cure][reference]") {
    // Text-book resistances in a row: 1/(2 pi r h) + sum ln(r2/r1)/(2 pi k) + 1/(2 pi r h).
    const std::vector<Layer> layers{{0.003, 0.2, 2e6, 5, 1.0, 1e-12, 0.0},
                                    {0.015, 1.2, 1.8e6, 4, 1.0, 0.0, 50.0},
                                    {0.5, 1.8, 2.6e6, 12, 1.4, 0.0, 0.0}};
    const Body body = make_body(Shape::cylinder, 0.047, layers, 20.0, 9.0);
    State state = uniform_state(body, 283.0, 0.0);
    Solver solver{Settings{.tolerance = 1e-5, .longest_step = 1e9}};
    solver.run(body, inert(), state, 0.0, 3e9, Profile::constant(333.0), Profile::constant(283.0),
               [](const Sample&) { return true; });
    const double r0 = 0.047, r1 = 0.050, r2 = 0.065, r3 = 0.565;
    const double resistance = (1 / (20 * r0) + std::log(r1 / r0) / 0.2 + std::log(r2 / r1) / 1.2 + 1 / (50 * r2) +
                               std::log(r3 / r2) / 1.8 + 1 / (9 * r3)) /
                              (2 * std::numbers::pi);
    const double flow = body.inner_link * (333.0 - state.temperature.front());
    CHECK(flow == Approx(50.0 / resistance).epsilon(1e-6));
    CHECK(body.outer_link * (state.temperature.back() - 283.0) == Approx(50.0 / resistance).epsilon(1e-6));
}

TEST_CASE("an adiabatic resin warms itself as the balance says", "[cure][reference]") {
    // Demonstration resin (A 2.343e5, 3.012e5 1/s; E 57, 52 kJ/mol; 400 J/g, 1.9 J/gK) from 20 °C without diffusion:
    // T = 20 + 400/1.9 a. Values computed with scipy (stiff integrator).
    Kinetics k;
    k.rate_1 = Frequency::from_si(2.343e5);
    k.energy_1 = 57.0 * unit::kJ_mol;
    k.rate_2 = Frequency::from_si(3.012e5);
    k.energy_2 = 52.0 * unit::kJ_mol;
    const RateLaw law{k};
    Body body;
    body.capacity = {1900.0};
    body.reacting = 1;
    body.heat = {400e3};
    struct Row {
        double seconds, a, celsius;
    };
    const auto row = GENERATE(Row{600, 0.011202, 22.3583}, Row{1200, 0.026362, 25.5498}, Row{1800, 0.048928, 30.3005},
                              Row{2400, 0.089775, 38.9001}, Row{3000, 0.249262, 72.4761});
    State state = uniform_state(body, 293.15, 0.0);
    Solver solver{Settings{.tolerance = 1e-7}};
    solver.run(body, law, state, 0.0, row.seconds, {}, {}, [](const Sample&) { return true; });
    CHECK(state.conversion[0] == Approx(row.a).margin(2e-6).epsilon(0));
    CHECK(state.temperature[0] - 273.15 == Approx(row.celsius).margin(3e-4).epsilon(0));
    CHECK(state.temperature[0] - 293.15 == Approx(400.0 / 1.9 * state.conversion[0]).epsilon(1e-9));
}

TEST_CASE("energy: what is stored, set free and let through balances", "[cure]") {
    Kinetics k;
    k.rate_2 = Frequency::from_si(6e5);
    k.rate_1 = 0.02 * k.rate_2;
    k.energy_1 = k.energy_2 = 50.0 * unit::kJ_mol;
    k.limit = DiffusionLimit::glass;
    k.glass = {Temperature::celsius(-40.0), Temperature::celsius(70.0), 0.45};
    const RateLaw law{k};
    const Body body = make_body(Shape::cylinder, 0.042,
                                {{0.002, 0.35, 1.56e6, 1, 1.0, 0.0, 300.0},
                                 {0.006, 0.2, 2.0e6, 8, 1.0, 2.4e8, 0.0},
                                 {0.015, 1.2, 1.8e6, 3, 1.0, 0.0, 0.0},
                                 {1.0, 1.8, 2.6e6, 11, 1.45, 0.0, 0.0}},
                                15.0, 0.0);
    State state = uniform_state(body, 290.0, 0.02);
    const double before = energy(body, state, 283.15);
    const Profile heating{{{0.0, 300.0}, {3600.0, 330.0}, {7200.0, 330.0}, {9000.0, 285.0}}};
    Statistics statistics;
    Solver solver;
    solver.run(
        body, law, state, 0.0, 6 * 3600.0, heating, Profile::constant(283.15), [](const Sample&) { return true; },
        &statistics);
    double released = 0.0;
    for (std::size_t i = 0; i < body.reacting; ++i) released += body.heat[i] * (state.conversion[i] - 0.02);
    REQUIRE(state.face_conversion > 0.5);
    REQUIRE(std::abs(statistics.inflow) > 0.1 * released);
    CHECK(std::abs(energy(body, state, 283.15) - before - statistics.inflow) < 1e-6 * released);
}
