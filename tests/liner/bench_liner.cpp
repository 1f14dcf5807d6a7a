#include <benchmark/benchmark.h>

#include "inputs.hpp"

using namespace patchwright;
using namespace patchwright::liner;

namespace {

void design_host_sound(benchmark::State& state) {
    const auto input = drain();
    for (auto _ : state) benchmark::DoNotOptimize(designed(input).design);
}
BENCHMARK(design_host_sound);

void design_under_road(benchmark::State& state) {
    auto input = broken_drain();
    input.soil->traffic.value = job::Traffic::highway;
    for (auto _ : state) benchmark::DoNotOptimize(designed(input).design);
}
BENCHMARK(design_under_road);

void design_with_working(benchmark::State& state) {
    const auto input = drain();
    for (auto _ : state) {
        Working working;
        benchmark::DoNotOptimize(design_thickness(input, working).design);
    }
}
BENCHMARK(design_with_working);

void sensitivity_under_road(benchmark::State& state) {
    auto input = broken_drain();
    input.soil->traffic.value = job::Traffic::highway;
    for (auto _ : state) benchmark::DoNotOptimize(sensitivity(input, 3.0 * unit::mm).holds);
}
BENCHMARK(sensitivity_under_road);

}  // namespace

BENCHMARK_MAIN();
