// The water that arrives while a pipe is shut, and what it does to a stopper.
#include <catch2/catch.hpp>

#include "patchwright/schedule/schedule.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright::schedule;
using Catch::Matchers::Contains;

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
