#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"

// What the day takes and what it refuses, each limit from both sides. The limits are its header's own.

using namespace patchwright::schedule;
using Catch::Matchers::Contains;
using patchwright::InputError;
using patchwright::RangeError;
namespace unit = patchwright::unit;

namespace {

const DayWork& good() {
    static const DayWork work = scenario::trade_day(2, 1, false, 120);
    return work;
}

template <class Spoil>
void refuse(Spoil spoil, const char* because) {
    DayWork bad = good();
    spoil(bad);
    CAPTURE(because);
    CHECK_THROWS_AS(best_day(bad), InputError);
    CHECK_THROWS_WITH(earliest_finish(bad), Contains(because));
}

template <class Change>
Day accept(Change change) {
    DayWork work = good();
    change(work);
    Day day;
    CHECK_NOTHROW(day = best_day(work));
    return day;
}

}  // namespace

TEST_CASE("a working day has sensible bounds", "[schedule][error]") {
    refuse([](DayWork& w) { w.start = -1; }, "finish after it starts");
    refuse([](DayWork& w) { w.finish = w.start; }, "finish after it starts");
    refuse([](DayWork& w) { w.finish = 2881; }, "finish after it starts");
    refuse([](DayWork& w) { w.travel = -1; }, "travel");
    refuse([](DayWork& w) { w.pack_up.minutes = -1; }, "pack up");
    refuse([](DayWork& w) { w.overtime = -1; }, "overtime");
    refuse([](DayWork& w) { w.persons = 0; }, "one to 4 persons");
    refuse([](DayWork& w) { w.persons = 5; }, "one to 4 persons");
    refuse([](DayWork& w) { w.air_lines = -1; }, "air lines");
    refuse([](DayWork& w) { w.packers[0].count = -1; }, "packers");
    accept([](DayWork& w) { w.start = 0; });
    accept([](DayWork& w) { w.finish = 2880; });
    CHECK(accept([](DayWork& w) { w.finish = w.start + 1; }).finish > 480);
    accept([](DayWork& w) { w.travel = w.pack_up.minutes = 0; });
    accept([](DayWork& w) { w.persons = 1; });
    accept([](DayWork& w) { w.persons = 4; });
    CHECK(accept([](DayWork& w) { w.air_lines = 0; }).verdict.hindrance == Hindrance::air_lines);
    CHECK(accept([](DayWork& w) { w.packers[0].count = 0; }).verdict.hindrance == Hindrance::packers);
    CHECK(accept([](DayWork& w) {
              w.heaters = {{"H", 0}};
              w.patches[0].heater = 0;
          }).verdict.hindrance == Hindrance::heaters);
}

TEST_CASE("every duration of a run and of a patch is held to its bounds", "[schedule][error]") {
    for (Labour RunWork::*part : {&RunWork::set_up, &RunWork::open_access, &RunWork::clean, &RunWork::roots,
                                  &RunWork::survey, &RunWork::flush, &RunWork::flow_control}) {
        refuse([&](DayWork& w) { (w.runs[0].*part).minutes = -1; }, "run R1 has a duration below zero");
        refuse([&](DayWork& w) { (w.runs[0].*part).minutes = 100001; },
               "run R1 has a duration below zero or above 100,000 min");
        refuse([&](DayWork& w) { (w.runs[0].*part).persons = 0; }, "a task for nobody");
        accept([&](DayWork& w) { (w.runs[0].*part).minutes = 0; });
        accept([&](DayWork& w) { (w.runs[0].*part).persons = 9; });
    }
    for (Labour PatchWork::*part :
         {&PatchWork::cut, &PatchWork::bench_test, &PatchWork::wet_out, &PatchWork::load, &PatchWork::position,
          &PatchWork::inflate, &PatchWork::crease, &PatchWork::let_down, &PatchWork::re_survey, &PatchWork::reopen}) {
        refuse([&](DayWork& w) { (w.patches[1].*part).minutes = -1; }, "patch P2 has a duration below zero");
        refuse([&](DayWork& w) { (w.patches[1].*part).minutes = 100001; }, "100,000 min");
        refuse([&](DayWork& w) { (w.patches[1].*part).persons = 0; }, "a task for nobody");
        accept([&](DayWork& w) { (w.patches[1].*part).minutes = 0; });
        accept([&](DayWork& w) { (w.patches[1].*part).persons = 9; });
    }
    for (Minute PatchWork::*part : {&PatchWork::inflate_by, &PatchWork::crease_by, &PatchWork::mix_to_let_down})
        refuse([&](DayWork& w) { w.patches[0].*part = 0; }, "after mixing");
}

TEST_CASE("places that name nothing are refused", "[schedule][error]") {
    using patchwright::job::run_place;
    refuse([](DayWork& w) { w.patches[0].run = run_place(9); }, "stands 0 times among the day's runs");
    refuse([](DayWork& w) { w.runs.push_back(w.runs[0]); }, "stands 2 times among the day's runs");
    refuse([](DayWork& w) { w.patches[0].packer = 1; }, "names packer 1, but there are 1");
    refuse([](DayWork& w) { w.patches[0].packer = -1; }, "names packer -1");
    refuse([](DayWork& w) { w.patches[0].heater = 0; }, "names heater 0, but there are 0");
    refuse([](DayWork& w) { w.heaters = {{"H", -1}}; }, "heaters");
    refuse([](DayWork& w) { w.patches[0].after = {2}; }, "waits for patch 2, but there are 2");
    refuse([](DayWork& w) { w.mixes[0].patches = {2}; }, "names patch 2, but there are 2");
    refuse([](DayWork& w) { w.prepare_ahead = {run_place(9)}; }, "not among the day's runs");
    CHECK(accept([](DayWork& w) { w.patches[0].after = {0}; }).verdict.hindrance == Hindrance::order);
    CHECK(accept([](DayWork& w) { w.patches[0].after = {1}, w.patches[1].after = {0}; }).verdict.hindrance ==
          Hindrance::order);
    CHECK(accept([](DayWork& w) { w.patches[1].after = {0}; }).verdict.hindrance == Hindrance::none);
}

TEST_CASE("each patch is in one mix, or lies in the pipe", "[schedule][error]") {
    refuse([](DayWork& w) { w.mixes[1].patches = {}; }, "mix 1 holds no patch");
    refuse([](DayWork& w) { w.mixes[0].pour_by = -1; }, "mix 0 has a pour-by below zero");
    refuse([](DayWork& w) { w.mixes[1].patches = {1, 1}; }, "patch P2 is in 2 mixes");
    refuse([](DayWork& w) { w.mixes[1].patches = {0}; }, "patch P1 is in 2 mixes");
    refuse([](DayWork& w) { w.mixes.pop_back(); }, "patch P2 is in 0 mixes");
    refuse([](DayWork& w) { w.patches[1].lying = 500; }, "patch P2 is in 1 mixes");
    refuse([](DayWork& w) { w.mixes.pop_back(), w.patches[1].lying = 500, w.patches[1].overnight = true; },
           "another night");
    refuse([](DayWork& w) { w.patches[0].at_start = w.patches[0].at_end + 0.01 * unit::m; }, "start before it ends");
    refuse([](DayWork& w) { w.patches[0].at_end = std::nan("") * unit::m; }, "start before it ends");
}

TEST_CASE("a day is shown only where each patch comes in from an end that is decided", "[schedule][error]") {
    DayWork work = scenario::trade_day(2, 2, true, 200);
    work.patches[1].from_any_end = true;
    CHECK_NOTHROW(earliest_finish(work));
    CHECK_THROWS_WITH(best_day(work), Contains("patch " + work.patches[1].id) && Contains("decided"));
}

TEST_CASE("a mix that no order saves says why", "[schedule][error]") {
    const auto together = [](DayWork& w) { w.mixes = {{{0, 1}, 0, {}, {}}}; };
    const Day packers = accept(together);
    CHECK(packers.verdict.hindrance == Hindrance::air_lines);
    CHECK(packers.verdict.mix == 0);
    const Day kind = accept([&](DayWork& w) { together(w), w.air_lines = 2; });
    CHECK(kind.verdict.hindrance == Hindrance::packers);
    const Day pipe = accept(
        [&](DayWork& w) { together(w), w.air_lines = 2, w.packers[0].count = 2, w.patches[1].from_far_end = false; });
    CHECK(pipe.verdict.hindrance == Hindrance::pipe);
    // Mixing to inflated takes 7 + 3 + 5 + 2 min.
    const Day slow = accept([](DayWork& w) { w.patches[1].inflate_by = 14; });
    CHECK(slow.verdict.hindrance == Hindrance::slow_hands);
    CHECK(slow.verdict.mix == 1);
    CHECK(slow.verdict.minutes == 3);
    CHECK(accept([](DayWork& w) { w.patches[1].inflate_by = 17; }).verdict.hindrance == Hindrance::none);
    CHECK(accept([](DayWork& w) { w.patches[1].crease_by = 18; }).verdict.minutes == 1);
    CHECK(accept([](DayWork& w) { w.patches[1].pour = 6, w.mixes[1].pour_by = 5; }).verdict.minutes == 1);
}

TEST_CASE("a day holds no more than 24 patches", "[schedule][error]") {
    CHECK_THROWS_WITH(earliest_finish(scenario::trade_day(25, 2, true, 60), 100), Contains("at most 24 patches"));
    const Finish many = earliest_finish(scenario::trade_day(24, 4, true, 60), 2000);
    CHECK(many.verdict.hindrance == Hindrance::none);
    CHECK(many.bound <= many.finish);
}

TEST_CASE("flow while a pipe is shut", "[schedule][flow][reference]") {
    // By hand: 60 l at 0.02 l/s are full in 3000 s; over 100 min 120 l arrive, 60 l of them must be pumped.
    using namespace patchwright;
    Working off = Working::off();
    const auto flow = flow_while_blocked(0.02 * unit::litre_s, 60.0 * unit::litre, 100.0 * unit::minute, off);
    CHECK(flow.fills_in.in(unit::s) == Approx(3000.0));
    CHECK_FALSE(flow.holds);
    CHECK(flow.pump.in(unit::litre_s) == Approx(0.01));
    CHECK(flow_while_blocked(0.02 * unit::litre_s, 60.0 * unit::litre, 50.0 * unit::minute, off).holds);
    // Hydrostatics: 9.80665 kN/m3 * 2 m * pi/4 * 0.1 m squared = 154.0 N.
    CHECK(push_on_stopper(100.0 * unit::mm, 2.0 * unit::m, off).si() ==
          Approx(9806.65 * 2.0 * std::numbers::pi / 4.0 * 0.01).epsilon(0.001));
}

TEST_CASE("flow and stoppers refuse what no drain has", "[schedule][flow][error]") {
    using namespace patchwright;
    Working off = Working::off();
    for (const double bad : {-1.0, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
        CAPTURE(bad);
        CHECK_THROWS_AS(flow_while_blocked(bad * unit::litre_s, unit::litre, unit::h, off), RangeError);
        CHECK_THROWS_AS(flow_while_blocked(unit::litre_s, bad * unit::litre, unit::h, off), RangeError);
        CHECK_THROWS_AS(flow_while_blocked(unit::litre_s, unit::litre, bad * unit::h, off), RangeError);
        CHECK_THROWS_AS(push_on_stopper(bad * unit::mm, unit::m, off), RangeError);
        CHECK_THROWS_AS(push_on_stopper(unit::m, bad * unit::m, off), RangeError);
    }
    CHECK(push_on_stopper(100.0 * unit::mm, Length{}, off).si() == 0.0);
}
