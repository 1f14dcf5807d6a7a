// Chances of being late, and pipes shut for longer than their storage lasts.
#include <catch2/catch.hpp>

#include <cmath>

#include "patchwright/schedule/schedule.hpp"
#include "patchwright/units/error.hpp"
#include "scenario.hpp"

using namespace patchwright::schedule;
using Catch::Matchers::Contains;

TEST_CASE("the chance of being late follows the Irwin-Hall distribution", "[schedule][reference]") {
    // A symmetric triangular time is the sum of two uniform ones, so four of them from 0 to 2u sum to u times the sum
    // of eight uniforms: Irwin (1927), Hall (1927); F(x) = 1/n! sum_k (-1)^k C(n,k) (x-k)^n, n = 8.
    // A low of 0 stands for "as likely", so every time here runs from 10 to 10 + 2u instead.
    const int u = 10;
    Problem problem = scenario::trade_day(1, 1, true, 120);
    PatchWork& w = problem.patches[0];
    w.wet_out_low = w.load_low = w.position_low = w.inflate_low = 10;
    w.wet_out = w.load = w.position = w.inflate = 10 + u;
    w.wet_out_high = w.load_high = w.position_high = w.inflate_high = 10 + 2 * u;
    const auto irwin_hall = [](double x) {
        double sum = 0, choose = 1;
        for (int k = 0; k <= 8 && k <= x; ++k) {
            sum += (k % 2 == 0 ? 1 : -1) * choose * std::pow(x - k, 8);
            choose = choose * (8 - k) / (k + 1);
        }
        return sum / 40320.0;
    };
    for (int limit = 60; limit <= 110; limit += 5) {
        CAPTURE(limit);
        w.inflate_by = limit;
        const double exact = 1.0 - irwin_hall((limit - 40.0) / u);
        CHECK(late_probability(problem, 0, {0}) == Approx(exact).margin(0.002));
    }
    w.inflate_by = 120;
    CHECK(late_probability(problem, 0, {0}) == 0.0);
    w.inflate_by = 39;
    CHECK(late_probability(problem, 0, {0}) == 1.0);
}

TEST_CASE("one skewed triangular time has its own distribution function", "[schedule][reference]") {
    // Triangular distribution function by hand: (2, 3, 7) has P50 3.83772 and P80 5.00000 (F = 0.2 at the
    // mode, 1 - (b - x)^2 / ((b - a)(b - m)) above it). In minutes times ten: 20, 30, 70; the rest of the times are
    // fixed.
    Problem problem = scenario::trade_day(1, 1, true, 120);
    PatchWork& w = problem.patches[0];
    w.wet_out_low = 20;
    w.wet_out = 30;
    w.wet_out_high = 70;
    w.inflate_by = 50 + w.load + w.position + w.inflate;
    CHECK(late_probability(problem, 0, {0}) == Approx(0.20).margin(0.002));
    w.inflate_by = 38 + w.load + w.position + w.inflate;
    CHECK(late_probability(problem, 0, {0}) == Approx(0.512).margin(0.002));
}

TEST_CASE("a blocked pipe fills what stands behind it", "[schedule][flow][reference]") {
    // By hand: 60 l at 0.02 l/s last 3000 s = 50 min. Shut for 4 h = 14400 s, 288 l come; 228 l must be pumped over
    // 14400 s: 0.0158333 l/s.
    using namespace patchwright;
    Working working;
    const FlowVerdict v = flow_while_blocked(0.02 * unit::litre_s, 60.0 * unit::litre, 4.0 * unit::h, working);
    CHECK_FALSE(v.holds);
    CHECK(v.fills_in.in(unit::minute) == Approx(50.0));
    CHECK(v.pump.in(unit::litre_s) == Approx(228.0 / 14400.0));
    CHECK(working.steps().size() == 2);
    CHECK(flow_while_blocked(0.02 * unit::litre_s, 60.0 * unit::litre, 50.0 * unit::minute, working).holds);
    CHECK(flow_while_blocked(VolumeFlow{}, Volume{}, 4.0 * unit::h, working).holds);
    CHECK_THROWS_AS(flow_while_blocked(-1.0 * unit::litre_s, Volume{}, unit::h, working), RangeError);
    // 1 m of water on a 100 mm stopper: 9806.65 * pi/4 * 0.01 = 77.02 N.
    CHECK(push_on_stopper(100.0 * unit::mm, 1.0 * unit::m, working).in(unit::N) == Approx(77.02).epsilon(1e-4));
    CHECK_THROWS_AS(push_on_stopper(-1.0 * unit::mm, unit::m, working), RangeError);
}

TEST_CASE("a run that is shut longer than its storage lasts is warned of", "[schedule][flow]") {
    Problem problem = scenario::trade_day(1, 1, true, 120);
    problem.runs[0].blocked_at_most = 170;
    CHECK(plan_days(problem).warnings.empty());
    problem.runs[0].blocked_at_most = 169;
    const Schedule s = plan_days(problem);
    REQUIRE(s.warnings.size() == 1);
    CHECK_THAT(s.warnings[0], Contains("shut from 09:45 to 12:35") && Contains("pump over"));
    CHECK_FALSE(s.blocked[0].holds);
    CHECK(violations(problem, s).empty());
}
