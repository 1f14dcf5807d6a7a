#include <benchmark/benchmark.h>

#include "scenario.hpp"

// What an offer costs in time: the trials, the choice of the holes, and one marginal cost.
namespace {

using namespace patchwright;
using namespace patchwright::price;
using scenario::Scenario;

Scenario eight_places() {
    Scenario s({1.2, 3.9, 5.6, 9.1, 9.8, 13.0, 15.4, 19.0});
    s.must_dig_last();
    return s;
}

void offer(benchmark::State& state, int trials, int threads) {
    const Scenario s = eight_places();
    Input in = s.input();
    in.trials = trials;
    in.threads = threads;
    for (auto _ : state) {
        Working working = Working::off();
        benchmark::DoNotOptimize(make_offer(in, working));
    }
}
void trials_10000(benchmark::State& state) { offer(state, 10000, 1); }
void trials_10000_two_threads(benchmark::State& state) { offer(state, 10000, 2); }
void offer_without_trials(benchmark::State& state) { offer(state, 1, 1); }

void patch_side_only(benchmark::State& state) {
    const Scenario s = eight_places();
    const Input in = s.input();
    for (auto _ : state) {
        Working working = Working::off();
        benchmark::DoNotOptimize(patch_build_up(in, working));
    }
}

void cheapest_holes(benchmark::State& state) {
    const Scenario s = eight_places();
    const auto places = s.places(s.patched);
    for (auto _ : state) benchmark::DoNotOptimize(cheapest_dig_mean(places, s.job.dig, s.yard));
}

void one_marginal_cost(benchmark::State& state) {
    const Scenario s = eight_places();
    Marginal m;
    m.felt_money = m.resin_money = scenario::eur(20.0);
    m.crew_time = 1.5 * unit::h;
    for (auto _ : state) {
        Working working = Working::off();
        benchmark::DoNotOptimize(marginal_cost(m, s.yard, working));
    }
}

BENCHMARK(trials_10000)->Unit(benchmark::kMillisecond);
BENCHMARK(trials_10000_two_threads)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(offer_without_trials)->Unit(benchmark::kMicrosecond);
BENCHMARK(patch_side_only)->Unit(benchmark::kMicrosecond);
BENCHMARK(cheapest_holes)->Unit(benchmark::kMicrosecond);
BENCHMARK(one_marginal_cost)->Unit(benchmark::kNanosecond);

}  // namespace

BENCHMARK_MAIN();
