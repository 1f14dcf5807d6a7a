#pragma once
#include <cstdint>
#include <random>
#include <string>

#include <fmt/core.h>

#include "patchwright/schedule/schedule.hpp"

/// Problems for the tests: invented, small, and the same on every machine (no standard distribution is used).
namespace scenario {

using patchwright::schedule::Minute;
using patchwright::schedule::PatchWork;
using patchwright::schedule::Problem;
using patchwright::schedule::RunWork;

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
    int patches = 3, runs = 2;
    bool cuts = true, benches = true, looks = true, preparations = true;
    bool shared = true, dry = true;
    Minute day = 400;
};

inline Problem random_problem(std::uint32_t seed, const Size& size) {
    Dice dice{seed};
    Problem p;
    p.start = 60;
    p.travel = dice.roll(0, 3);
    p.pack_up = dice.roll(0, 3);
    p.finish = p.start + size.day;
    p.watch_cure = dice.chance(50);
    p.crew_size = dice.chance(70) ? 2 : dice.roll(1, 3);
    p.air_lines = dice.roll(1, 3);
    const int kinds = dice.roll(1, 2);
    for (int k = 0; k < kinds; ++k) p.packers.push_back({fmt::format("K{}", k), dice.roll(1, 2)});
    for (int r = 0; r < size.runs; ++r) {
        RunWork run;
        run.id = fmt::format("R{}", r);
        if (size.preparations) {
            run.set_up = dice.roll(0, 3);
            run.clean = dice.roll(0, 3);
            run.survey = dice.roll(0, 3);
            run.flow_control = dice.roll(0, 2);
        }
        if (size.dry && dice.chance(30)) {
            run.dry = dice.roll(1, 12);
            run.clean += 1;
        }
        p.runs.push_back(run);
    }
    for (int i = 0; i < size.patches; ++i) {
        PatchWork w;
        w.id = fmt::format("P{}", i);
        w.run = dice.roll(0, size.runs - 1);
        w.packer = dice.roll(0, kinds - 1);
        w.batch = i;
        if (size.cuts) w.cut = dice.roll(1, 5);
        if (size.benches) w.bench_test = dice.chance(60) ? dice.roll(1, 4) : 0;
        w.wet_out = dice.roll(1, 3);
        w.load = dice.roll(1, 2);
        w.position = dice.roll(1, 2);
        w.inflate = 1;
        w.crease = dice.roll(0, 1);
        w.let_down = dice.roll(1, 2);
        if (size.looks) w.re_survey = dice.roll(1, 4);
        w.inflate_by = 40;
        w.crease_by = 45;
        w.mix_to_let_down = dice.roll(8, 30);
        w.at_start = 4.0 * i;
        w.at_end = w.at_start + 2.0;
        w.from_far_end = dice.chance(40);
        if (i > 0 && dice.chance(10)) w.after.push_back(i - 1);
        p.patches.push_back(w);
    }
    for (int i = 0; i < size.patches; ++i) {
        if (size.shared && i > 0 && dice.chance(15) && p.batches.back().patches.size() == 1) {
            p.batches.back().patches.push_back(i);
        } else {
            p.batches.emplace_back();
            p.batches.back().patches.push_back(i);
        }
        p.patches[static_cast<std::size_t>(i)].batch = static_cast<int>(p.batches.size()) - 1;
    }
    return p;
}

/// A day as the trade knows it: minutes of docs/methods/schedule.md, two patches a run, one from either end.
inline Problem trade_day(int patches, int packers, bool watch, Minute let_down_after) {
    Problem p;
    p.start = 480;
    p.finish = 990;
    p.travel = 35;
    p.pack_up = 15;
    p.air_lines = packers;
    p.watch_cure = watch;
    p.packers.push_back({"soft 100", packers});
    for (int r = 0; r < (patches + 1) / 2; ++r) {
        RunWork run;
        run.id = fmt::format("R{}", r + 1);
        run.set_up = 25;
        run.clean = 20;
        run.survey = 25;
        run.flow_control = 15;
        p.runs.push_back(run);
    }
    for (int i = 0; i < patches; ++i) {
        PatchWork w;
        w.id = fmt::format("P{}", i + 1);
        w.run = i / 2;
        w.packer = 0;
        w.batch = i;
        w.cut = 15;
        w.bench_test = 10;
        w.wet_out = 20;
        w.load = 8;
        w.position = 10;
        w.inflate = 4;
        w.crease = 2;
        w.let_down = 10;
        w.re_survey = 25;
        w.inflate_by = 55;
        w.crease_by = 60;
        w.mix_to_let_down = let_down_after + 5 * (i % 4);
        w.at_start = i % 2 == 0 ? 3.0 : 12.0;
        w.at_end = w.at_start + 1.5;
        w.from_far_end = i % 2 == 1;
        p.patches.push_back(w);
        p.batches.emplace_back();
        p.batches.back().patches.push_back(i);
    }
    return p;
}

}  // namespace scenario
