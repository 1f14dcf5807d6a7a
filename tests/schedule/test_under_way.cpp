// Days that are asked for from the middle on: what lies, what is in hand, what stands open.
#include <catch2/catch.hpp>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"
#include "support/crew_day_rules.hpp"

using namespace patchwright::schedule;
using namespace patchwright;

namespace {

/// A random day from a random minute on. The first mix is in hand, what else lies was set today.
DayWork under_way(std::uint32_t seed) {
    DayWork work = scenario::random_day(seed, {1 + static_cast<int>(seed % 5), 1 + static_cast<int>(seed % 3)});
    scenario::Dice dice{seed + 7000};
    work.travel_out = dice.chance(85) ? 0 : dice.roll(1, 3);
    for (RunWork& run : work.runs) {
        if (dice.chance(40)) run.ready = work.start + dice.roll(-5, 8);
        if (run.ready || dice.chance(20)) run.from_open = run.access_from >= 0;
        if (run.ready && dice.chance(60)) run.to_open = run.access_to >= 0;
    }
    for (PatchWork& p : work.patches) {
        p.watched = p.lying && dice.chance(70);
        p.ready_on_site = !p.lying && dice.chance(20);
    }
    Mix& first = work.mixes.front();
    if (work.travel_out != 0 || dice.chance(50)) return work;
    first.in_hand = true;
    for (const int i : first.patches) {
        PatchWork& p = work.patches[static_cast<std::size_t>(i)];
        p.wet_out.minutes = 0;
        p.load.minutes = dice.roll(0, p.load.minutes);
        p.after.clear();
        for (RunWork& run : work.runs)
            if (run.place == p.run) run.ready = work.start;
    }
    return work;
}

bool possible(const Finish& day) { return day.verdict.hindrance == Hindrance::none; }

}  // namespace

TEST_CASE("days under way keep every rule", "[schedule][property]") {
    int days = 0, in_hand = 0, watched = 0, ready = 0;
    for (std::uint32_t seed = 1; seed <= 600; ++seed) {
        const DayWork work = under_way(seed);
        const Day day = best_day(work);
        CAPTURE(seed);
        if (!possible(day)) continue;
        ++days;
        in_hand += work.mixes.front().in_hand;
        for (const auto& p : work.patches) watched += p.watched && !work.alarm_gauge;
        for (const auto& run : work.runs) ready += run.ready.has_value();
        const auto broken = test::broken_crew_day_rules(work, day);
        for (const auto& words : broken) UNSCOPED_INFO(words);
        CHECK(broken.empty());
        CHECK(day.proven);
        CHECK(finish_bound(work) <= day.finish);
        CHECK(earliest_finish(work).finish == day.finish);
        CHECK(earliest_finish(work, default_budget, day.finish - 1).finish >= day.finish);
    }
    CHECK(days >= 300);
    CHECK(in_hand >= 100);
    CHECK(watched >= 5);
    CHECK(ready >= 200);
}

TEST_CASE("the order of a sheet is kept where none is back before it", "[schedule][property]") {
    int kept = 0;
    for (std::uint32_t seed = 1; seed <= 300; ++seed) {
        const DayWork work =
            scenario::random_day(seed, {1 + static_cast<int>(seed % 5), 1 + static_cast<int>(seed % 3)});
        const Day day = best_day(work);
        CAPTURE(seed);
        if (!possible(day)) continue;
        const Day again = best_day_by(day.tasks, work);
        CHECK(again.finish == day.finish);
        CHECK(test::broken_crew_day_rules(work, again).empty());
        CHECK(again.order == day.order);
        // A sheet of nothing is as good as none.
        CHECK(best_day_by({}, work).finish == day.finish);
        ++kept;
    }
    CHECK(kept >= 200);
}

TEST_CASE("a ready run, an open access and a set sleeve never make a day longer", "[schedule][property]") {
    int compared = 0;
    for (std::uint32_t seed = 1; seed <= 300; ++seed) {
        DayWork work = scenario::random_day(seed, {1 + static_cast<int>(seed % 5), 1 + static_cast<int>(seed % 3)});
        if (work.persons == 1) work.persons = 2;
        const Finish before = earliest_finish(work);
        if (!possible(before)) continue;
        CAPTURE(seed);
        DayWork open = work;
        for (RunWork& run : open.runs) run.from_open = run.access_from >= 0, run.to_open = run.access_to >= 0;
        CHECK(earliest_finish(open).finish <= before.finish);
        DayWork ready = open;
        for (RunWork& run : ready.runs) run.ready = work.start;
        CHECK(earliest_finish(ready).finish <= before.finish);
        DayWork there = work;
        there.travel_out = 0;
        CHECK(earliest_finish(there).finish <= before.finish);
        ++compared;
    }
    CHECK(compared >= 200);
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

TEST_CASE("what is under way goes on before anything new", "[schedule]") {
    DayWork work = scenario::trade_day(2, 2, true, 120);
    work.travel_out = 0;
    for (auto& run : work.runs) run.ready = work.start;
    auto& out = work.patches[0];
    out.lying = work.start;
    std::erase_if(work.mixes, [](const Mix& mix) { return mix.patches.front() == 0; });
    work.under_way.push_back({0, {}, What::let_down});
    const Day day = best_day(work);
    const auto let_down = std::find_if(day.tasks.begin(), day.tasks.end(),
                                       [](const Task& t) { return t.patch == 0 && t.what == What::let_down; });
    REQUIRE(let_down != day.tasks.end());
    CHECK(let_down->start == work.start);
    CHECK(test::broken_crew_day_rules(work, day).empty());
}
