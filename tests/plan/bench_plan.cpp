#include <benchmark/benchmark.h>

#include <fstream>
#include <iterator>
#include <string>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"

// One plan of the demonstration job beside the parts that it is compared with: mere parsing, no working, the trials;
// and how the time grows with the number of runs.
namespace {

using namespace patchwright;

const std::string& demo() {
    static const std::string text = [] {
        std::ifstream file{std::string{PATCHWRIGHT_SOURCE_DIR} + "/examples/demo.json"};
        return std::string{std::istreambuf_iterator<char>{file}, {}};
    }();
    return text;
}

void mere_parsing(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(nlohmann::json::parse(demo()));
}
void reading_with_positions(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(io::read_job(demo(), "demo.json"));
}
void one_plan(benchmark::State& state, bool working, bool price, int trials) {
    const auto job = io::read_job(demo(), "demo.json");
    plan::Options options;
    options.working = working;
    options.price = price;
    options.trials = trials;
    for (auto _ : state) benchmark::DoNotOptimize(plan::make_plan(*job.value, io::builtin_yard(), options));
}
void plan_without_price(benchmark::State& state) { one_plan(state, true, false, 1); }
void plan_without_working(benchmark::State& state) { one_plan(state, false, false, 1); }
void plan_with_10000_trials(benchmark::State& state) { one_plan(state, true, true, 10000); }

/// So many runs of three fissures each: the search plans a few sleeves at a time, so the time should grow as the
/// number.
void runs_of_three_fissures(benchmark::State& state) {
    std::string runs;
    for (int r = 0; r < state.range(0); ++r)
        runs += fmt::format(R"({}{{"id": "R{}", "from": "M{}", "to": "N{}", "length": "12 m", "bore": "100 mm",
            "material": "clay", "depth": "1.2 m", "access": ["M{}", "N{}"], "defects": [
            {{"id": "D1", "at": "3 m", "kind": "fissure", "size": "2 mm"}},
            {{"id": "D2", "at": "6 m", "kind": "fissure", "size": "2 mm"}},
            {{"id": "D3", "at": "9 m", "kind": "fissure", "size": "2 mm"}}]}})",
                            r == 0 ? "" : ", ", r, r, r, r, r);
    const auto job =
        io::read_job(R"({"patchwright_job": 1, "reference": "large", "runs": [)" + runs + "]}", "large.json");
    for (auto _ : state) benchmark::DoNotOptimize(plan::make_plan(*job.value, io::builtin_yard(), {}));
    state.SetComplexityN(state.range(0));
}

/// So many joints side by side in one run, each sleeve over one or several of them.
void places_close_together(benchmark::State& state) {
    std::string places;
    for (int d = 0; d < state.range(0); ++d)
        places += fmt::format(R"({}{{"id": "D{}", "at": "{:.2f} m", "kind": "displaced joint", "size": "8 mm"}})",
                              d == 0 ? "" : ", ", d + 1, 3.0 + 0.9 * d);
    const auto job = io::read_job(R"({"patchwright_job": 1, "reference": "close", "runs": [{"id": "A", "from": "M1",
        "to": "M2", "length": "20 m", "bore": "150 mm", "material": "clay", "depth": "1.2 m", "access": ["M1", "M2"],
        "defects": [)" + places + "]}]}",
                                  "close.json");
    for (auto _ : state) benchmark::DoNotOptimize(plan::make_plan(*job.value, io::builtin_yard(), {}));
    state.SetComplexityN(state.range(0));
}

BENCHMARK(mere_parsing);
BENCHMARK(reading_with_positions);
BENCHMARK(plan_without_working)->Unit(benchmark::kMillisecond);
BENCHMARK(plan_without_price)->Unit(benchmark::kMillisecond);
BENCHMARK(plan_with_10000_trials)->Unit(benchmark::kMillisecond);
BENCHMARK(runs_of_three_fissures)
    ->RangeMultiplier(2)
    ->Range(10, 80)
    ->Iterations(1)
    ->Unit(benchmark::kSecond)
    ->Complexity(benchmark::oNLogN);

BENCHMARK(places_close_together)->DenseRange(2, 10, 2)->Iterations(1)->Unit(benchmark::kSecond);

}  // namespace

BENCHMARK_MAIN();
