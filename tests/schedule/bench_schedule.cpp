// Ten patches proven, against CBC on the time-indexed model, in one run; and the day of a usual job.
#include <benchmark/benchmark.h>

#include <chrono>

#include <fmt/core.h>

#include "patchwright/schedule/schedule.hpp"
#include "scenario.hpp"
#include "time_indexed.hpp"

using namespace patchwright::schedule;

namespace {

/// Ten patches that fit into one day. Short times, so that CBC's minutes stay few: both solve the same day.
Problem ten() {
    Problem p = scenario::trade_day(10, 2, true, 6);
    for (RunWork& run : p.runs) {
        run.set_up = run.clean = run.survey = 1;
        run.flow_control = 0;
    }
    for (std::size_t i = 0; i < p.patches.size(); ++i) {
        PatchWork& w = p.patches[i];
        w.cut = 1 + static_cast<Minute>(i % 2);
        w.bench_test = w.wet_out = w.load = w.position = w.inflate = w.let_down = 1;
        w.crease = 0;
        w.mix_to_let_down = 6 + static_cast<Minute>(i % 3);
        w.re_survey = 1 + static_cast<Minute>(i / 2 % 2);
    }
    return p;
}

void usual_job(benchmark::State& state) {
    const Problem problem = scenario::trade_day(static_cast<int>(state.range(0)), 2, state.range(1) != 0, 120);
    for (auto _ : state) benchmark::DoNotOptimize(plan_days(problem));
}
BENCHMARK(usual_job)->Args({2, 1})->Args({4, 1})->Args({4, 0})->Args({6, 1})->Unit(benchmark::kMicrosecond);

void ten_patches(benchmark::State& state) {
    const Problem problem = ten();
    Schedule schedule;
    for (auto _ : state) {
        schedule = plan_days(problem);
        benchmark::DoNotOptimize(schedule);
    }
    state.counters["proven"] = schedule.proven_optimal ? 1 : 0;
    state.counters["days"] = static_cast<double>(schedule.days.size());
    state.counters["finish"] = schedule.days.back().finish;
}
BENCHMARK(ten_patches)->Unit(benchmark::kMillisecond);

/// CBC gets our finish as its horizon and stops after two minutes: then the ratio is "more than".
void ten_patches_cbc(benchmark::State& state) {
    const Problem problem = ten();
    const Schedule schedule = plan_days(problem);
    Minute finish = 0;
    for (auto _ : state) {
        const time_indexed::Programme programme{problem, schedule.days.back().finish};
        finish = programme.solve(120.0);
        benchmark::DoNotOptimize(finish);
    }
    state.counters["finish"] = finish;
}
BENCHMARK(ten_patches_cbc)->Unit(benchmark::kMillisecond)->Iterations(1);

}  // namespace

BENCHMARK_MAIN();
