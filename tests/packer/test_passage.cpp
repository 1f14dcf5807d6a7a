#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "packer/yard_support.hpp"
#include "patchwright/packer/packer.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::packer;

namespace {

double longest_mm(double bore, double radius, double diameter, std::optional<double> angle_deg = std::nullopt) {
    Working working;
    std::optional<Angle> angle;
    if (angle_deg) angle = *angle_deg * unit::deg;
    return longest_through_bend(bore * unit::mm, radius * unit::mm, diameter * unit::mm, angle, working).in(unit::mm);
}

/// A bend as the set of points within D/2 of a centre line: straight, arc of radius R, straight. Knows nothing of the
/// formula under test. Lengths in mm; the arc's centre is the origin, its middle lies on the y axis.
struct Channel {
    double bore, radius, angle;

    double off_centre_line(double x, double y) const {
        const double half = angle / 2.0;
        double least = std::numeric_limits<double>::infinity();
        if (std::abs(std::atan2(x, y)) <= half) least = std::abs(std::hypot(x, y) - radius);
        for (const double side : {-1.0, 1.0}) {
            const double end_x = side * radius * std::sin(half), end_y = radius * std::cos(half);
            const double along_x = side * std::cos(half), along_y = -std::sin(half);
            const double along = std::max(0.0, (x - end_x) * along_x + (y - end_y) * along_y);
            least = std::min(least, std::hypot(x - end_x - along * along_x, y - end_y - along * along_y));
        }
        return least;
    }

    /// How far the worst point of a cylinder sticks out of the wall; it lies with its axis at right angles to the ray
    /// that leans by `lean` from the y axis, its middle at `out` along that ray and moved by `shift` along its axis.
    double worst(double length, double diameter, double lean, double out, double shift) const {
        constexpr int along_steps = 20, round_steps = 12;
        double worst = -std::numeric_limits<double>::infinity();
        for (int i = 0; i <= along_steps; ++i) {
            const double u = shift + length * (static_cast<double>(i) / along_steps - 0.5);
            for (int j = 0; j <= round_steps; ++j) {
                const double turn = std::numbers::pi * j / round_steps;
                const double v = out + diameter / 2.0 * std::cos(turn), z = diameter / 2.0 * std::sin(turn);
                const double x = u * std::cos(lean) + v * std::sin(lean), y = -u * std::sin(lean) + v * std::cos(lean);
                worst = std::max(worst, std::hypot(off_centre_line(x, y), z) - bore / 2.0);
            }
        }
        return worst;
    }

    /// Best place of the cylinder at that lean, by a search over both shifts that narrows in.
    double best(double length, double diameter, double lean) const {
        double out = radius, shift = 0.0, reach_out = bore / 2.0, reach_shift = length / 4.0;
        double least = worst(length, diameter, lean, out, shift);
        for (int round = 0; round < 9; ++round) {
            const double out_0 = out, shift_0 = shift;
            for (int i = -6; i <= 6; ++i) {
                for (int j = -3; j <= 3; ++j) {
                    const double o = out_0 + reach_out * i / 6.0, s = shift_0 + reach_shift * j / 3.0;
                    const double w = worst(length, diameter, lean, o, s);
                    if (w < least) least = w, out = o, shift = s;
                }
            }
            reach_out *= 0.45;
            reach_shift *= 0.5;
        }
        return least;
    }
};

}  // namespace

TEST_CASE("a rod round a corner from the chamber into the pipe", "[packer][reference]") {
    // Source: the classical ladder round a corner of two corridors, L = (a^(2/3) + b^(2/3))^(3/2); calculus textbooks,
    // from memory. Corridors of 8 ft and 27 ft: (4 + 9)^(3/2) = 46.87 ft. A rod without thickness, here 1e-6 mm.
    Working working;
    const auto longest = [&](double w, double d, double thick) {
        return longest_into_pipe({w * unit::ft, Origin::given}, {d * unit::ft, Origin::given},
                                 {thick * unit::ft, Origin::given}, working)
            .in(unit::ft);
    };
    CHECK(longest(27.0, 8.0, 1e-9) == Approx(46.8722).margin(1e-3));
    CHECK(longest(1.0, 1.0, 1e-9) == Approx(std::sqrt(8.0)).margin(1e-6));
    // Between equal walls a bar as thick as half of them turns at 45 degrees: (sqrt(2) - 1/2) / (1/2).
    CHECK(longest(1.0, 1.0, 0.5) == Approx(2.0 * std::sqrt(2.0) - 1.0).margin(1e-6));
    CHECK_THROWS_AS(longest(1.0, 1.0, 1.5), RangeError);
    // The opening that is asked for lets it through, and a millimetre less does not.
    const Length stiff = 1.5 * unit::m, bore = 150.0 * unit::mm, thick = 96.0 * unit::mm;
    const Length opening = opening_needed(stiff, bore, thick);
    const auto through = [&](Length w) {
        return longest_into_pipe({w, Origin::given}, {bore, Origin::given}, {thick, Origin::given}, working);
    };
    CHECK(through(opening) >= stiff);
    CHECK(through(opening - 1.2 * unit::mm) < stiff);
}

TEST_CASE("longest stiff cylinder through a bend, worked values", "[packer][reference]") {
    // Source: derived (plane geometry), docs/methods/packer.md; the figures were verified numerically in space before
    // this program was written, and are again below. Tolerance: half of the last digit given.
    struct Row {
        double bore, radius, diameter, longest, arc;
    };
    const auto row = GENERATE(Row{100, 150, 70, 210.713, 63.58}, Row{100, 100, 60, 203.961, 85.67},
                              Row{100, 50, 60, 160.000, 106.26}, Row{50, 75, 30, 120.000, 73.74},
                              Row{102.26, 101.6, 60, 210.930, 87.34});
    CAPTURE(row.bore, row.radius, row.diameter);
    CHECK(longest_mm(row.bore, row.radius, row.diameter) == Approx(row.longest).margin(5e-4).epsilon(0));
    CHECK(arc_needed(row.bore * unit::mm, row.radius * unit::mm, row.diameter * unit::mm).in(unit::deg) ==
          Approx(row.arc).margin(5e-3).epsilon(0));
}

TEST_CASE("limits of the bend formula", "[packer][reference]") {
    // Source: limits of the derivation, references: d = D gives 0; d to 0 gives 2 sqrt(2 R D), 346.410 mm for 100/150;
    // R = D/2 gives 2 sqrt(D^2 - d^2), 160 mm for 100/60 (a right triangle 60-80-100).
    CHECK(longest_mm(100, 150, 100) == Approx(0.0).margin(1e-9));
    CHECK(longest_mm(100, 150, 1e-9) == Approx(346.410).margin(5e-4));
    CHECK(longest_mm(100, 50, 60) == Approx(160.0).margin(1e-9));
}

TEST_CASE("a cylinder of the computed length turns, one a hundredth longer does not", "[packer]") {
    // Oracle: a search over every place of the cylinder in space, for full and short bends.
    struct Row {
        double bore, radius, diameter, angle;
    };
    const auto row = GENERATE(Row{100, 150, 70, 90}, Row{100, 100, 60, 90}, Row{50, 75, 30, 90}, Row{100, 150, 70, 45},
                              Row{100, 100, 60, 45}, Row{100, 50, 60, 45}, Row{100, 75, 40, 30}, Row{150, 150, 90, 60});
    CAPTURE(row.bore, row.radius, row.diameter, row.angle);
    const Channel channel{row.bore, row.radius, row.angle * std::numbers::pi / 180.0};
    const double longest = longest_mm(row.bore, row.radius, row.diameter, row.angle);

    CHECK(channel.best(1.01 * longest, row.diameter, 0.0) > 0.0);
    // On its way the cylinder leans from one straight to the other.
    for (int step = 0; step <= 4; ++step) {
        const double lean = channel.angle / 2.0 * step / 4.0;
        CAPTURE(lean);
        CHECK(channel.best(0.99 * longest, row.diameter, lean) <= 0.0);
    }
}

TEST_CASE("short bends let longer cylinders through, and meet the full form at the arc", "[packer]") {
    const auto diameter = GENERATE(20.0, 45.0, 70.0, 95.0);
    CAPTURE(diameter);
    const double full = longest_mm(100, 120, diameter);
    const double arc = arc_needed(100.0 * unit::mm, 120.0 * unit::mm, diameter * unit::mm).in(unit::deg);
    CHECK(longest_mm(100, 120, diameter, arc * (1.0 - 1e-9)) == Approx(full).epsilon(1e-9));
    double longer_than = full;
    for (const double share : {0.9, 0.6, 0.3, 0.1}) {
        const double longest = longest_mm(100, 120, diameter, share * arc);
        CHECK(longest > longer_than);
        longer_than = longest;
    }
    if (arc < 170.0) CHECK(longest_mm(100, 120, diameter, 175.0) == full);
}

TEST_CASE("a thicker or tighter case never passes a longer cylinder", "[packer]") {
    for (double diameter = 10.0; diameter < 99.0; diameter += 7.0) {
        for (const double angle : {15.0, 45.0, 90.0}) {
            CHECK(longest_mm(100, 150, diameter + 1.0, angle) <= longest_mm(100, 150, diameter, angle));
            CHECK(longest_mm(100, 60, diameter, 90.0) <= longest_mm(100, 150, diameter, 90.0) + 1e-9);
        }
    }
}

TEST_CASE("bend refuses what is no bend", "[packer][error]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(longest_mm(100, 150, 0), RangeError);
    CHECK_THROWS_AS(longest_mm(100, 150, 101), RangeError);
    CHECK_THROWS_AS(longest_mm(100, 49, 60), RangeError);
    CHECK_THROWS_AS(longest_mm(100, nan, 60), RangeError);
    CHECK_THROWS_AS(longest_mm(nan, 150, 60), RangeError);
    CHECK_THROWS_AS(longest_mm(100, 150, 60, 0.0), RangeError);
    CHECK_THROWS_AS(longest_mm(100, 150, 60, 181.0), RangeError);
    CHECK_THROWS_AS(longest_mm(100, 150, 60, nan), RangeError);
}

TEST_CASE("centre-line radius of hubless cast-iron quarter bends", "[packer][reference]") {
    // From memory, not sighted: nominal bore and radius in inches, 2:3, 3:3.5, 4:4, 5:4.5, 6:5, 8:6.
    struct Row {
        double bore_in, radius_in;
    };
    const auto row =
        GENERATE(Row{1.96, 3.0}, Row{2.96, 3.5}, Row{3.94, 4.0}, Row{4.94, 4.5}, Row{5.94, 5.0}, Row{7.94, 6.0});
    job::Run run = test::straight_run();
    run.material = job::Material::cast_iron;
    run.bore = row.bore_in * unit::in;
    job::Fitting fitting = test::bend(5.0, 90.0, 100.0);
    fitting.radius.reset();
    const Sourced<Length> radius = bend_radius(fitting, run);
    CHECK(radius->in(unit::in) == Approx(row.radius_in));
    CHECK(radius.origin == Origin::looked_up);
}

TEST_CASE("a surveyed radius comes before the table", "[packer]") {
    const job::Run run = test::straight_run();
    const Sourced<Length> radius = bend_radius(test::bend(5.0, 45.0, 150.0), run);
    CHECK(radius->in(unit::mm) == Approx(150.0));
    CHECK(radius.given());
}

TEST_CASE("a bend takes up its arc, a junction its opening", "[packer]") {
    const job::Run run = test::straight_run();
    const Extent arc = extent(test::bend(6.8, 45.0, 150.0), run);
    CHECK((arc.to - arc.from).in(unit::mm) == Approx(150.0 * std::numbers::pi / 4.0));
    CHECK(((arc.to + arc.from) / 2.0).in(unit::m) == Approx(6.8));
    const Extent hole = extent(test::junction(11.2), run);
    CHECK(hole.from.in(unit::m) == Approx(11.15));
    CHECK(hole.to.in(unit::m) == Approx(11.25));
}

TEST_CASE("what passes and lies across a bend, by material", "[packer]") {
    // Common practice, no source: soft bladders across 45 deg, a quarter bend only with a long radius, calibration
    // hose on straights only.
    const job::Run run = test::straight_run();
    const job::Limits limits = test::small_yard().limits;
    const Length felt = 3.0 * unit::mm;
    job::Packer packer = test::soft_packer();
    Working working;

    const Passage easy = passage(run, limits, test::bend(5, 45, 150), packer, felt, working);
    CHECK(easy.passes);
    CHECK(easy.may_lie_across);
    CHECK(easy.reason.empty());

    const Passage tight = passage(run, limits, test::bend(5, 90, 100), packer, felt, working);
    CHECK(tight.passes);
    CHECK_FALSE(tight.may_lie_across);
    CHECK_FALSE(tight.reason.empty());
    CHECK(passage(run, limits, test::bend(5, 90, 150), packer, felt, working).may_lie_across);

    packer.material = job::BladderMaterial::pvc_hose;
    const Passage hose = passage(run, limits, test::bend(5, 15, 300), packer, felt, working);
    CHECK_FALSE(hose.passes);
    CHECK_FALSE(hose.may_lie_across);
    CHECK(passage(run, limits, test::junction(5), packer, felt, working).passes);
}

TEST_CASE("wet felt counts only where it lies over the stiff part", "[packer]") {
    const job::Run run = test::straight_run();
    const job::Limits limits = test::small_yard().limits;
    const Length felt = 3.0 * unit::mm;
    Working working;

    job::Packer packer = test::soft_packer();
    const Passage fitting = passage(run, limits, test::bend(5, 90, 100), packer, felt, working);
    CHECK_FALSE(felt_over_rigid(packer));
    CHECK(fitting.longest.in(unit::mm) == Approx(longest_mm(100, 100, 50, 90.0)));

    packer.rigid_length = 240.0 * unit::mm;  // a core, longer than the tail of 200 mm
    const Passage core = passage(run, limits, test::bend(5, 90, 100), packer, felt, working);
    CHECK(felt_over_rigid(packer));
    CHECK(core.longest.in(unit::mm) == Approx(longest_mm(100, 100, 56, 90.0)));
    CHECK_FALSE(core.passes);  // 240 mm against 212 mm
    CHECK(core.stiff > core.longest);
    CHECK_FALSE(core.reason.empty());
    const Passage wide = passage(run, limits, test::bend(5, 45, 300), packer, felt, working);
    CHECK(wide.passes);
    CHECK_FALSE(wide.may_lie_across);
}

TEST_CASE("a size change lets through what the smaller bore takes, and never a sleeve across it", "[packer]") {
    const job::Run run = test::straight_run();
    const job::Limits limits = test::small_yard().limits;
    Working working;
    job::Fitting fitting = test::junction(8.0);
    fitting.kind = job::FittingKind::size_change;
    const job::Packer packer = test::soft_packer();  // needs (62 + 6) / 0.8 = 85 mm
    for (const double bore : {84.0, 86.0, 150.0}) {
        fitting.bore = bore * unit::mm;
        const Passage through = passage(run, limits, fitting, packer, 3.0 * unit::mm, working);
        CHECK(through.passes == (bore > 85.0));
        CHECK_FALSE(through.may_lie_across);
        CHECK_FALSE(through.reason.empty());
    }
}

TEST_CASE("the trade's fitting sets pass the iron bends of their bores", "[packer]") {
    // Common practice, no source: sets about 28 mm and 38 mm across serve bores of 2 to 6 in. Bladder walls of 2 mm
    // and fittings of 70 and 90 mm are our own figures; radii by the hubless table (from memory).
    struct Row {
        double across, length, bore_in, radius_in;
    };
    const auto row =
        GENERATE(Row{32, 70, 2, 3}, Row{32, 70, 3, 3.5}, Row{42, 90, 3, 3.5}, Row{42, 90, 4, 4}, Row{42, 90, 6, 5});
    CAPTURE(row.across, row.bore_in);
    CHECK(longest_mm(row.bore_in * 25.4, row.radius_in * 25.4, row.across, 90.0) > row.length);
}
