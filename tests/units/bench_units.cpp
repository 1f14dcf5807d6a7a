// Reading and showing one quantity, beside UDUNITS-2 reading the same unit in the same run.
#include <benchmark/benchmark.h>

#include <udunits2.h>

#include "patchwright/units/format.hpp"
#include "patchwright/units/parse.hpp"

using namespace patchwright;

static void parse_simple(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(parse_length("100 mm"));
}
BENCHMARK(parse_simple);

static void parse_compound(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(parse_length("6 ft 3 1/4 in"));
}
BENCHMARK(parse_compound);

static void udunits_unit(benchmark::State& state) {
    ut_set_error_message_handler(ut_ignore);
    ut_system* system = ut_read_xml(nullptr);
    for (auto _ : state) {
        ut_unit* unit = ut_parse(system, "100 mm", UT_UTF8);
        benchmark::DoNotOptimize(unit);
        ut_free(unit);
    }
    ut_free_system(system);
}
BENCHMARK(udunits_unit);

static void format_metric(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(format(Show::gauge_pressure, 65000.0, UnitSystem::metric));
}
BENCHMARK(format_metric);

static void format_tape_us(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(format(Show::tape, 1.905, UnitSystem::us));
}
BENCHMARK(format_tape_us);

BENCHMARK_MAIN();
