// Days that are asked for from the middle on. That they keep every rule is held by the tests of `now`.
#include <catch2/catch.hpp>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"
#include "support/crew_day_rules.hpp"

using namespace patchwright::schedule;
using namespace patchwright;

TEST_CASE("the order of a sheet is kept where none is back before it", "[schedule][property]") {
    int kept = 0;
    for (std::uint32_t seed = 1; seed <= 300; ++seed) {
        const DayWork work =
            scenario::random_day(seed, {1 + static_cast<int>(seed % 5), 1 + static_cast<int>(seed % 3)});
        const Day day = best_day(work);
        CAPTURE(seed);
        if (day.verdict.hindrance != Hindrance::none) continue;
        const Day again = best_day_by(day.tasks, work);
        CHECK(again.finish == day.finish);
        CHECK(test::broken_crew_day_rules(work, again).empty());
        // A sheet of nothing is as good as none.
        CHECK(best_day_by({}, work).finish == day.finish);
        ++kept;
    }
    CHECK(kept >= 200);
}

TEST_CASE("a day under way is refused where it contradicts itself", "[schedule][error]") {
    DayWork work = scenario::trade_day(2, 1, true, 120);
    work.travel_out = 0;
    CHECK_NOTHROW(best_day(work));
    auto late = work;
    late.start = late.finish + 30;  // asked for after its end
    CHECK(best_day(late).short_by(late) > 0);
    auto far = work;
    far.travel_out = -1;
    CHECK_THROWS_AS(best_day(far), InputError);
    auto watched = work;
    watched.patches[0].watched = true;  // but does not lie
    CHECK_THROWS_AS(best_day(watched), InputError);
    auto in_hand = work;
    in_hand.mixes[0].in_hand = true;  // in a run that is not ready
    CHECK_THROWS_AS(best_day(in_hand), InputError);
    for (auto& run : in_hand.runs) run.ready = work.start;
    CHECK_NOTHROW(best_day(in_hand));
    in_hand.travel_out = 5;
    CHECK_THROWS_AS(best_day(in_hand), InputError);
}
