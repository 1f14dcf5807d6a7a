#include <catch2/catch.hpp>

#include <array>
#include <cmath>

#include "cases.hpp"
#include "cvode_body.hpp"
#include "history.hpp"
#include "knowledge.hpp"

using namespace patchwright;
using namespace patchwright::cure;
using namespace patchwright::cure::detail;

namespace {

/// One sleeve ready to be followed.
struct Prepared {
    explicit Prepared(const job::Resin& resin, double millimetres, double pipe, const Shift& shift = {})
        : known{resin, calibrate(resin)} {
        const test::Case c = test::usual(millimetres, pipe);
        const job::Limits limits = test::usual_limits();
        site = make_site(resin, c.sleeve, c.host);
        course = course_of(completed(c.conditions, limits), shift);
        release = release_of(known, limits);
        kinetics = kinetics_at(known, shift);
    }
    Knowledge known;
    Site site;
    Course course;
    Release release;
    Kinetics kinetics;
};

}  // namespace

TEST_CASE("gel and let-down agree with CVODE on the same cells", "[cure][reference]") {
    // SUNDIALS CVODE 6.4: BDF, Newton, banded difference-quotient Jacobian, rtol 1e-8, events by its root finding.
    const auto resin = GENERATE(test::fast(), test::standard(), test::slow());
    const double millimetres = GENERATE(3.0, 4.5, 6.0, 9.0);
    const double pipe = GENERATE(2.0, 10.0, 20.0, 25.0);
    CAPTURE(resin.id, millimetres, pipe);
    const Prepared p{resin, millimetres, pipe};
    const RateLaw law{p.kinetics};
    const Grid grid = usual_grid(p.site);
    const Outcome ours = follow(p.site, law, p.course, p.release, grid);

    const Lump lump = before_inflation(p.site, law, p.course);
    const Body body = inflated_body(p.site, p.course, grid);
    const auto hard = [&](double a, double face) {
        const double by_margin = law.glass_temperature(a) - face - p.release.margin;
        const double by_share =
            a - p.release.share * attainable_conversion(p.kinetics.glass, Temperature::kelvin(face));
        return std::max(by_margin, 100.0 * by_share);
    };
    const test::CvodeResult theirs =
        test::cvode_run(body, law, inflated_state(body, lump, grid, p.course.pipe), lump.time, 60.0 * 86400.0, 0.0,
                        p.course.pipe, p.release.gel, hard, 1e-8, 1e-10, 1e-7);
    CHECK(ours.gel == Approx(theirs.gel).epsilon(3e-3));
    CHECK(ours.release == Approx(theirs.release).epsilon(3e-3));
}

TEST_CASE("the stages before inflation agree with CVODE", "[cure][reference]") {
    // A sleeve's bucket, carried on to gel: the lumped body by both integrators.
    const auto resin = GENERATE(test::fast(), test::standard(), test::slow());
    const double celsius = GENERATE(5.0, 23.0);
    const Knowledge known{resin, calibrate(resin)};
    const RateLaw law{known.fit.kinetics};
    const Body body = body_of(cup_body(resin, 1.35));
    const double kelvin = celsius + 273.15;
    const auto never = [](double, double) { return -1.0; };
    const test::CvodeResult theirs = test::cvode_run(body, law, uniform_state(body, kelvin, 0.0), 0.0, 86400.0, 0.0,
                                                     kelvin, resin.gel_conversion, never, 1e-9, 1e-11, 1e-8);
    CHECK(pot_seconds(known, 1.35, kelvin, kelvin) == Approx(theirs.gel).epsilon(3e-3));
}

/// The classical Runge-Kutta method, fourth order, in steps too short to matter: the lumped body's equations as they
/// stand, written down once more.
LumpState by_runge_kutta(const Lumped& b, const RateLaw& law, double air, LumpState from, double seconds) {
    using Y = std::array<double, 4>;
    const auto slope = [&](const Y& y) {
        const double rate = law(y[2], y[1]).value;
        const double in = b.inner_capacity > 0.0 ? b.inner_link * (y[1] - y[0]) : 0.0;
        const double face = b.face_weight * y[1] + (1.0 - b.face_weight) * air;
        return Y{b.inner_capacity > 0.0 ? in / b.inner_capacity : 0.0,
                 (b.outer_link * (air - y[1]) - in + b.heat * rate) / b.capacity, rate, law(y[3], face).value};
    };
    const auto ahead = [](const Y& y, const Y& k, double h) {
        return Y{y[0] + h * k[0], y[1] + h * k[1], y[2] + h * k[2], y[3] + h * k[3]};
    };
    Y y{from.inner, from.temperature, from.conversion, from.face_conversion};
    constexpr double h = 0.1;
    for (double t = 0.0; t < seconds - 0.5 * h; t += h) {
        const Y k1 = slope(y), k2 = slope(ahead(y, k1, 0.5 * h)), k3 = slope(ahead(y, k2, 0.5 * h)),
                k4 = slope(ahead(y, k3, h));
        for (std::size_t i = 0; i < 4; ++i) y[i] += h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]);
    }
    return {y[0], y[1], y[2], y[3]};
}

TEST_CASE("a lumped body follows its equations", "[cure]") {
    // Bare, with a face of its own, and round a bladder; in air warmer and colder than itself.
    const Knowledge known{test::fast(), calibrate(test::fast())};
    const RateLaw law{known.fit.kinetics};
    const Lumped bare{4000.0, 9e5, 12.0, 0.0, 0.0, 1.0};
    const Lumped faced{4000.0, 9e5, 25.0, 0.0, 0.0, 0.7};
    const Lumped packed{4000.0, 9e5, 10.0, 3100.0, 300.0, 1.0};
    for (const Lumped& lumped : {bare, faced, packed}) {
        for (const double air : {278.0, 303.0}) {
            CAPTURE(lumped.face_weight, lumped.inner_capacity, air);
            const LumpState start{285.0, 293.0, 0.02, 0.02};
            LumpState ours = start;
            double step = lump_first_step;
            CHECK(run_lumped(lumped, law, air, ours, 60.0, 1860.0, step, [](const Sample&) { return true; }) == 1860.0);
            const LumpState theirs = by_runge_kutta(lumped, law, air, start, 1800.0);
            CHECK(ours.conversion == Approx(theirs.conversion).epsilon(1e-3));
            CHECK(ours.face_conversion == Approx(theirs.face_conversion).epsilon(1e-3));
            CHECK(ours.temperature == Approx(theirs.temperature).margin(0.05));
            if (lumped.inner_capacity > 0.0) CHECK(ours.inner == Approx(theirs.inner).margin(0.05));
        }
    }
}

TEST_CASE("rates of many cells are those of each", "[cure]") {
    Kinetics k = calibrate(test::standard()).kinetics;
    for (const DiffusionLimit limit : {DiffusionLimit::none, DiffusionLimit::glass, DiffusionLimit::conversion}) {
        for (const double order : {2.0, 1.7}) {
            k.limit = limit;
            k.order_n = order;
            const RateLaw law{k};
            const std::vector<double> conversions{-1e-3, 0.0, 0.2, 0.57, 0.8, 0.93, 1.0};
            for (const double kelvin : {275.0, 298.0, 410.0}) {
                const std::vector<double> temperatures(conversions.size(), kelvin);
                law.each(conversions.size(), conversions.data(), temperatures.data(),
                         [&](std::size_t i, const Rate& r) {
                             const Rate one = law(conversions[i], kelvin);
                             CHECK(r.value == one.value);
                             CHECK(r.by_conversion == one.by_conversion);
                             CHECK(r.by_temperature == one.by_temperature);
                         });
            }
        }
    }
}

TEST_CASE("the step's order is three", "[cure]") {
    // Fixed steps through a mild exotherm; the reference is the same method with a hundredth of the step.
    const Prepared p{test::fast(), 6.0, 20.0};
    const RateLaw law{p.kinetics};
    const Grid grid{8, 3, 11};
    const Body body = inflated_body(p.site, p.course, grid);
    const Lump lump{0.0, 0.05, 293.15, 293.15, 293.15};
    const auto end = [&](double step) {
        State state = inflated_state(body, lump, grid, p.course.pipe);
        Solver solver{Settings{.tolerance = 1e9, .first_step = step, .longest_step = step}};
        solver.run(body, law, state, 0.0, 4800.0, {}, Profile::constant(p.course.pipe),
                   [](const Sample&) { return true; });
        return state;
    };
    const State exact = end(4800.0 / 8000.0);
    const auto error = [&](const State& s) {
        return std::abs(s.face_conversion - exact.face_conversion) +
               std::abs(s.temperature[3] - exact.temperature[3]) / 100.0;
    };
    const double coarse = error(end(4800.0 / 100.0));
    const double fine = error(end(4800.0 / 200.0));
    REQUIRE(fine > 1e-12);
    CHECK(std::log2(coarse / fine) > 2.6);
    CHECK(std::log2(coarse / fine) < 3.6);
}

TEST_CASE("the coldest point converges with the second order of the cell", "[cure]") {
    // A sleeve near running away, where the gradient at its face is steepest. Without the unknown on the face, the
    // least conversion over cell centres converges with the first order only.
    const Prepared p{test::fast(), 9.0, 20.0, {3.0, 1.0}};
    const RateLaw law{p.kinetics};
    struct Times {
        double with_face, centres;
    };
    const auto gel = [&](std::size_t cells) {
        const Grid grid{cells, 12, 44};
        Body body = inflated_body(p.site, p.course, grid);
        const Lump lump = before_inflation(p.site, law, p.course);
        Times t{};
        for (const bool face : {true, false}) {
            State state = inflated_state(body, lump, grid, p.course.pipe);
            if (!face) state.face_conversion = 1.0;  // out of the race: the least is then over the centres
            Solver solver{Settings{.tolerance = 2e-6}};
            Outcome out;
            double found = 0.0;
            Sample last;
            solver.run(
                body, law, state, lump.time, 86400.0, {}, Profile::constant(p.course.pipe), [&](const Sample& s) {
                    if (s.least >= p.release.gel && found == 0.0)
                        found =
                            last.time + (p.release.gel - last.least) / (s.least - last.least) * (s.time - last.time);
                    last = s;
                    return found == 0.0;
                });
            (face ? t.with_face : t.centres) = found;
        }
        return t;
    };
    const Times coarse = gel(6), middle = gel(12), fine = gel(24);
    const double order = std::log2((coarse.with_face - middle.with_face) / (middle.with_face - fine.with_face));
    const double plain = std::log2((coarse.centres - middle.centres) / (middle.centres - fine.centres));
    CAPTURE(coarse.with_face, middle.with_face, fine.with_face, coarse.centres, middle.centres, fine.centres);
    CHECK(order > 1.6);
    CHECK(order < 2.6);
    CHECK(plain < 1.5);
}

TEST_CASE("the usual grid is within 0.25 % of one four times finer", "[cure]") {
    const auto resin = GENERATE(test::fast(), test::slow());
    const double millimetres = GENERATE(3.0, 6.0);
    const double pipe = GENERATE(5.0, 20.0);
    CAPTURE(resin.id, millimetres, pipe);
    const Prepared p{resin, millimetres, pipe};
    const RateLaw law{p.kinetics};
    const Settings fine_steps{.tolerance = 1e-4};
    const Grid grid = usual_grid(p.site);
    const Grid fine{4 * grid.sleeve, 4 * grid.wall, 4 * grid.soil};
    const Outcome usual = follow(p.site, law, p.course, p.release, grid, fine_steps);
    const Outcome best = follow(p.site, law, p.course, p.release, fine, fine_steps);
    CHECK(usual.gel == Approx(best.gel).epsilon(2.5e-3));
    CHECK(usual.release == Approx(best.release).epsilon(2.5e-3));
    CHECK(usual.hottest == Approx(best.hottest).margin(0.3).epsilon(0));
}

TEST_CASE("a sleeve that sheds all its heat cures like a film", "[cure]") {
    // Mass and thickness to nothing: the isothermal quadrature.
    const Prepared p{test::standard(), 0.05, 15.0};
    const RateLaw law{p.kinetics};
    Course course = p.course;
    course.resin = course.air = course.pipe;
    course.bucket = 0.0;
    const Outcome thin = follow(p.site, law, course, p.release, Grid{}, Settings{.tolerance = 1e-4});
    const double film = isothermal_time(p.kinetics, 0.0, p.release.gel, Temperature::kelvin(course.pipe)).si();
    CHECK(thin.gel == Approx(film).epsilon(2e-3));
    CHECK(thin.gel < film);  // what little heat is left still helps
}
