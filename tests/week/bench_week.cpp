#define CATCH_CONFIG_DISABLE  // the invented weeks check what they read; here they are only measured
#include <benchmark/benchmark.h>

#include <catch2/catch.hpp>

#include "weeks.hpp"

// Weeks of four crews: the rounds of more jobs take longer in proportion, by insertion.
namespace {

using namespace patchwright;

void jobs_for_four_crews(benchmark::State& state) {
    test::Dice dice{2026};
    auto input = test::example_week(1);
    input.jobs.clear();
    for (int j = 0; j < state.range(0); ++j) input.jobs.push_back(test::small_job(dice, j + 1));
    input.crews = 4;
    input.dates = 15;
    input.threads = 1;
    for (auto _ : state) benchmark::DoNotOptimize(week::plan_week(input));
    state.SetComplexityN(state.range(0));
}

BENCHMARK(jobs_for_four_crews)
    ->RangeMultiplier(2)
    ->Range(15, 60)
    ->Iterations(1)
    ->Unit(benchmark::kSecond)
    ->Complexity(benchmark::oNSquared);

}  // namespace

BENCHMARK_MAIN();
