// The search for one crew's day beside Gecode on the same days, in one run.
#include <benchmark/benchmark.h>

#include <chrono>

#include "gecode_exists.hpp"
#include "scenario.hpp"

using namespace patchwright::schedule;

namespace {

void earliest(benchmark::State& state) {
    const DayWork work = scenario::trade_day(static_cast<int>(state.range(0)), 2, true, 120);
    for (auto _ : state) benchmark::DoNotOptimize(earliest_finish(work).finish);
}
BENCHMARK(earliest)->DenseRange(1, 6);

/// Days of random work: how many times longer Gecode takes to find the same finish and to prove it.
void ratio_to_gecode(benchmark::State& state) {
    using Clock = std::chrono::steady_clock;
    std::chrono::duration<double> ours{}, theirs{};
    for (auto _ : state)
        for (std::uint32_t seed = 1; seed <= 20; ++seed) {
            const DayWork work = scenario::random_day(seed, {static_cast<int>(state.range(0)), 2, false});
            const auto before = Clock::now();
            const Finish day = earliest_finish(work);
            const auto between = Clock::now();
            if (day.verdict.hindrance != Hindrance::none) continue;
            const Minute end = day.finish - work.pack_up.minutes - work.travel;
            benchmark::DoNotOptimize(gecode_day::exists(work, end, 40'000));
            benchmark::DoNotOptimize(gecode_day::exists(work, end - 1, 40'000));
            ours += between - before;
            theirs += Clock::now() - between;
        }
    state.counters["gecode/ours"] = theirs / ours;
}
BENCHMARK(ratio_to_gecode)->DenseRange(2, 4)->Unit(benchmark::kMillisecond)->Iterations(1);

}  // namespace

BENCHMARK_MAIN();
