#pragma once
#include <fmt/core.h>

#include <cstdint>
#include <random>

#include "patchwright/schedule/schedule.hpp"

/// Days for the tests: invented, small, and the same on every machine (no standard distribution is used).
namespace scenario {

using namespace patchwright;
using namespace patchwright::schedule;

class Dice {
public:
    explicit Dice(std::uint32_t seed) : engine_{seed} {}
    /// Whole number from `low` to `high`, both included.
    int roll(int low, int high) {
        return low + static_cast<int>(engine_() % static_cast<std::uint32_t>(high - low + 1));
    }
    bool chance(int percent) { return roll(1, 100) <= percent; }

private:
    std::mt19937 engine_;
};

struct Size {
    int mixes = 3, runs = 2;
    bool watched = true;  ///< some days have no alarm gauge
};

inline RunWork random_run(Dice& dice, int r) {
    RunWork run;
    run.place = job::run_place(7 + 3 * r);  // a run's place in the job is not its place in the day
    run.id = fmt::format("R{}", r);
    run.prepared = dice.chance(25);
    run.access_from = dice.roll(0, 2);
    run.access_to = dice.chance(80) ? 3 + r : -1;
    run.ends_in_sight = dice.chance(40);
    run.set_up = {dice.roll(1, 4), 2};
    run.open_access = {dice.roll(1, 2), 2};
    run.clean = {dice.roll(0, 3), 2};
    if (dice.chance(20)) run.roots = {dice.roll(1, 3), 2};
    run.survey = {dice.roll(0, 3), 1};
    run.flush = {dice.roll(0, 2), 2};
    run.flow_control = {dice.roll(0, 2), 1};
    if (dice.chance(30)) run.dry = dice.roll(1, 8);
    return run;
}

inline PatchWork random_patch(Dice& dice, int i, int runs, int kinds) {
    PatchWork p;
    p.id = fmt::format("P{}", i);
    p.run = job::run_place(7 + 3 * dice.roll(0, runs - 1));
    p.packer = dice.roll(0, kinds - 1);
    p.cut = {dice.roll(1, 3), 1};
    p.bench_test = {dice.roll(0, 2), 1};
    p.wet_out = {dice.roll(1, 3), 2};
    p.load = {dice.roll(1, 2), 2};
    p.position = {dice.roll(1, 2), 2};
    p.inflate = {1, 2};
    p.crease = {dice.roll(0, 2), 1};
    p.let_down = {dice.roll(1, 2), dice.chance(90) ? 1 : 2};
    p.re_survey = {dice.roll(0, 3), 1};
    if (dice.chance(10)) p.reopen = {dice.roll(1, 3), 2};
    p.inflate_by = 40;
    p.crease_by = 45;
    p.mix_to_let_down = dice.roll(6, 24);
    p.at_start = (4.0 * i) * unit::m;
    p.at_end = p.at_start + 2.0 * unit::m;
    p.from_far_end = dice.chance(40);
    return p;
}

/// Small durations, so that the order matters at every turn.
inline DayWork random_day(std::uint32_t seed, const Size& size) {
    Dice dice{seed};
    DayWork day;
    day.start = 60;
    day.finish = 300;
    day.travel = dice.roll(0, 3);
    day.pack_up = {dice.roll(0, 3), 2};
    day.persons = dice.chance(50) ? 2 : dice.roll(1, 4);
    day.air_lines = dice.roll(2, 3);
    day.alarm_gauge = !size.watched || dice.chance(50);
    day.while_watching = dice.chance(70) ? WhileWatching::jobs_there : WhileWatching::nothing;
    day.ready_in_yard = dice.chance(80);
    const int kinds = dice.roll(1, 2);
    for (int k = 0; k < kinds; ++k) day.packers.push_back({fmt::format("K{}", k), dice.roll(1, 2)});
    for (int r = 0; r < size.runs; ++r) day.runs.push_back(random_run(dice, r));
    for (int m = 0; m < size.mixes; ++m) {
        const int first = static_cast<int>(day.patches.size());
        day.patches.push_back(random_patch(dice, first, size.runs, kinds));
        day.mixes.push_back({{first}, 0, {}, {}});
        if (dice.chance(15)) {
            day.patches.push_back(random_patch(dice, first + 1, size.runs, kinds));
            day.mixes.back().patches.push_back(first + 1);
        }
        if (first > 0 && dice.chance(10)) day.patches.back().after.push_back(first - 1);
    }
    if (dice.chance(10)) day.patches.back().overnight = true;
    if (dice.chance(10)) {
        PatchWork lying = random_patch(dice, static_cast<int>(day.patches.size()), size.runs, kinds);
        lying.lying = day.start + dice.roll(0, 20);
        day.patches.push_back(lying);
    }
    if (dice.chance(40)) {
        day.heaters.push_back({"H", dice.roll(1, 2)});
        for (PatchWork& p : day.patches)
            if (!p.lying && !p.overnight && dice.chance(60)) p.heater = 0;
    }
    for (int& count : day.machines) count = dice.chance(70) ? 1 : 2;
    return day;
}

/// A day as the trade knows it: docs/methods/schedule.md, two patches a run, one from either end.
inline DayWork trade_day(int patches, int packers, bool alarm, Minute let_down_after) {
    DayWork day;
    day.start = 480;
    day.finish = 990;
    day.travel = 35;
    day.pack_up = {15, 2};
    day.air_lines = packers;
    day.alarm_gauge = alarm;
    day.packers.push_back({"soft 100", packers});
    for (int r = 0; r < (patches + 1) / 2; ++r) {
        RunWork run;
        run.place = job::run_place(r);
        run.id = fmt::format("R{}", r + 1);
        run.access_from = r;
        run.access_to = r + 1;
        run.set_up = {20, 2};
        run.open_access = {8, 2};
        run.clean = {18, 2};
        run.survey = {15, 1};
        run.flush = {12, 2};
        run.flow_control = {10, 1};
        day.runs.push_back(run);
    }
    for (int i = 0; i < patches; ++i) {
        PatchWork p;
        p.id = fmt::format("P{}", i + 1);
        p.run = job::run_place(i / 2);
        p.cut = {8, 1};
        p.bench_test = {8, 1};
        p.wet_out = {7, 2};
        p.load = {3, 2};
        p.position = {5, 2};
        p.inflate = {2, 2};
        p.crease = {2, 1};
        p.let_down = {7, 1};
        p.re_survey = {10, 1};
        p.inflate_by = 55;
        p.crease_by = 60;
        p.mix_to_let_down = let_down_after + 5 * (i % 4);
        p.at_start = (i % 2 == 0 ? 3.0 : 12.0) * unit::m;
        p.at_end = p.at_start + 1.5 * unit::m;
        p.from_far_end = i % 2 == 1;
        day.patches.push_back(p);
        day.mixes.push_back({{i}, 0, {}, {}});
    }
    return day;
}

}  // namespace scenario
