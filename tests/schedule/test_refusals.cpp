#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "patchwright/schedule/schedule.hpp"
#include "patchwright/units/error.hpp"
#include "scenario.hpp"

// What the scheduler takes and what it refuses, each limit from both sides. The limits are its header's own.

using namespace patchwright::schedule;
using Catch::Matchers::Contains;
using patchwright::InputError;
using patchwright::RangeError;

namespace {

const Problem& good() {
    static const Problem problem = scenario::trade_day(2, 1, true, 120);
    return problem;
}

template <class Spoil>
void refuse(Spoil spoil, const char* because) {
    Problem bad = good();
    spoil(bad);
    CAPTURE(because);
    CHECK_THROWS_AS(plan_days(bad), InputError);
    CHECK_THROWS_WITH(plan_days(bad), Contains(because));
}

template <class Change>
void accept(Change change) {
    Problem problem = good();
    change(problem);
    CHECK_NOTHROW(plan_days(problem));
}

}  // namespace

TEST_CASE("a working day has sensible bounds", "[schedule][error]") {
    refuse([](Problem& p) { p.start = -1; }, "finish after it starts");
    refuse([](Problem& p) { p.finish = p.start; }, "finish after it starts");
    refuse([](Problem& p) { p.finish = 2881; }, "finish after it starts");
    refuse([](Problem& p) { p.travel = -1; }, "travel");
    refuse([](Problem& p) { p.pack_up = -1; }, "pack up");
    refuse([](Problem& p) { p.crews = 0; }, "crew");
    refuse([](Problem& p) { p.crew_size = 0; }, "crew");
    refuse([](Problem& p) { p.air_lines = -1; }, "air lines");
    refuse([](Problem& p) { p.packers[0].count = -1; }, "packer");
    accept([](Problem& p) { p.start = 0; });
    accept([](Problem& p) { p.finish = 2880; });
    accept([](Problem& p) { p.finish = p.start + 1; });
    accept([](Problem& p) { p.travel = p.pack_up = 0; });
    accept([](Problem& p) { p.air_lines = 0; });
    accept([](Problem& p) { p.packers[0].count = 0; });
    accept([](Problem& p) { p.crew_size = 1; });
}

TEST_CASE("every duration of a run and of a patch is held to its bounds", "[schedule][error]") {
    for (Minute RunWork::*part :
         {&RunWork::set_up, &RunWork::clean, &RunWork::survey, &RunWork::flow_control, &RunWork::dry}) {
        refuse([&](Problem& p) { p.runs[0].*part = -1; }, "run R1 has a duration below zero");
        refuse([&](Problem& p) { p.runs[0].*part = 100001; }, "run R1 has a duration below zero or absurd");
        accept([&](Problem& p) { p.runs[0].*part = 0; });
    }
    for (Minute PatchWork::*part : {&PatchWork::cut, &PatchWork::bench_test, &PatchWork::wet_out, &PatchWork::load,
                                    &PatchWork::position, &PatchWork::inflate, &PatchWork::crease, &PatchWork::let_down,
                                    &PatchWork::re_survey, &PatchWork::reopen, &PatchWork::pour}) {
        refuse([&](Problem& p) { p.patches[1].*part = -1; }, "patch P2 has a duration below zero");
        refuse([&](Problem& p) { p.patches[1].*part = 100001; }, "patch P2 has a duration below zero or absurd");
        accept([&](Problem& p) { p.patches[1].*part = 0; });
    }
    // Longer than any day is no nonsense: no day holds it, and that is the answer.
    Problem endless = good();
    endless.patches[1].cut = 100000;
    CHECK(plan_days(endless).impossible == std::vector<int>{1});
    for (Minute PatchWork::*part : {&PatchWork::inflate_by, &PatchWork::crease_by, &PatchWork::mix_to_let_down})
        refuse([&](Problem& p) { p.patches[0].*part = 0; }, "after mixing");
}

TEST_CASE("places that name nothing are refused", "[schedule][error]") {
    refuse([](Problem& p) { p.patches[0].run = -1; }, "names run -1");
    refuse([](Problem& p) { p.patches[0].run = 1; }, "names run 1, but there are 1");
    refuse([](Problem& p) { p.patches[0].batch = 2; }, "names mix 2, but there are 2");
    refuse([](Problem& p) { p.patches[0].batch = -1; }, "names mix -1");
    refuse([](Problem& p) { p.patches[0].packer = 1; }, "names packer 1, but there are 1");
    refuse([](Problem& p) { p.patches[0].packer = -2; }, "names packer -2");
    refuse([](Problem& p) { p.patches[0].after = {2}; }, "names patch 2, but there are 2");
    refuse([](Problem& p) { p.batches[0].patches = {2}; }, "names patch 2, but there are 2");
    refuse([](Problem& p) { p.patches[0].after = {0}; }, "in a circle");
    refuse([](Problem& p) { p.patches[0].after = {1}, p.patches[1].after = {0}; }, "in a circle");
    accept([](Problem& p) { p.patches[1].after = {0}; });
}

TEST_CASE("a search without a single step is refused", "[schedule][error]") {
    CHECK_THROWS_AS(plan_days(good(), 0), InputError);
}

TEST_CASE("each patch is in one mix", "[schedule][error]") {
    refuse([](Problem& p) { p.batches[1].patches = {}; }, "mix 1 holds no patch");
    refuse([](Problem& p) { p.batches[0].pour_by = -1; }, "mix 0 has a pour-by below zero");
    refuse([](Problem& p) { p.batches[1].patches = {1, 1}; }, "in one mix");
    refuse([](Problem& p) { p.batches[1].patches = {0}; }, "in one mix");
    refuse([](Problem& p) { p.batches.pop_back(), p.patches[1].batch = 0; }, "patch P2 is in no mix");
    refuse([](Problem& p) { p.patches[0].at_start = p.patches[0].at_end + 0.01; }, "start before it ends");
    refuse([](Problem& p) { p.patches[0].at_end = std::nan(""); }, "start before it ends");
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
