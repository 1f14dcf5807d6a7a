// Layout against CBC and GLPK on the same list of candidates, and growth to a city's survey.
// The solvers get one column a candidate, a cover row a target, and conflict rows; their time holds building the model.
// Ours holds everything: making the candidates, asking prices, the search.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <cstdio>
#include <cstdlib>
#include <new>
#include <stdexcept>

#include "oracle.hpp"
#include "survey.hpp"

namespace {

std::size_t bytes_now = 0, max_bytes = 0;

}  // namespace

// Counts what is allocated, to print the memory a target.
void* operator new(std::size_t size) {
    auto* block = static_cast<std::size_t*>(std::malloc(size + 16));
    if (!block) throw std::bad_alloc{};
    *block = size;
    bytes_now += size;
    if (bytes_now > max_bytes) max_bytes = bytes_now;
    return reinterpret_cast<char*>(block) + 16;
}
void operator delete(void* at) noexcept {
    if (!at) return;
    auto* block = reinterpret_cast<std::size_t*>(static_cast<char*>(at) - 16);
    bytes_now -= *block;
    std::free(block);
}
void operator delete(void* at, std::size_t) noexcept { operator delete(at); }

namespace {

using namespace layout_test;

/// The survey less what no sleeve covers, so that all three are asked the same.
Problem coverable(int defects) {
    Problem problem = survey(defects, 7);
    Options options;
    options.k_best = 1;
    options.keep_candidates = false;
    options.monotonicity = PriceMonotonicity::rising;
    const auto solution = solve(problem, SurveyPrice{}, options);
    for (auto it = solution.uncovered.rbegin(); it != solution.uncovered.rend(); ++it) {
        problem.targets.erase(problem.targets.begin() + *it);
    }
    return problem;
}

/// The candidates as the oracles take them: what each covers, in order of start.
std::vector<Sleeve> sleeves_of(const std::vector<Candidate>& list) {
    std::vector<Sleeve> sleeves;
    for (const auto& c : list) {
        Sleeve sleeve{c.start, c.end, c.carrier, {}, c.cost};
        for (int t = c.first_target; t <= c.last_target; ++t) sleeve.covers.push_back(t);
        sleeves.push_back(std::move(sleeve));
    }
    return sleeves;
}

/// -1 when the solver has no proof after two minutes.
template <class Solver>
Cost within_two_minutes(Solver&& solver, const Problem& problem, const std::vector<Sleeve>& sleeves) {
    try {
        return solver(problem, sleeves, 120).value_or(-1);
    } catch (const std::runtime_error&) {
        return -1;
    }
}

/// Processor time, so that a busy machine does not count.
double seconds() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_utime.tv_sec) + 1e-6 * static_cast<double>(usage.ru_utime.tv_usec);
}

template <class F>
double time_of(int times, F&& f) {
    const double before = seconds();
    for (int i = 0; i < times; ++i) f();
    return (seconds() - before) / times;
}

Options plain(int k_best, bool keep) {
    Options options;
    options.k_best = k_best;
    options.keep_candidates = keep;
    options.monotonicity = PriceMonotonicity::rising;
    return options;
}

/// Both solvers end when bound and answer are that near, as a share of the answer: GLPK's tol_obj is 1e-7 by default,
/// CBC works its relaxations to a dual tolerance of 1e-7.
constexpr double solver_tolerance = 1e-7;

/// The solver's answer is no cheaper than ours, and dearer by no more than its tolerance. No answer agrees.
bool agrees(Cost solver, Cost ours) {
    return solver < 0 ||
           (ours <= solver && static_cast<double>(solver - ours) <= solver_tolerance * static_cast<double>(ours));
}

/// The best layout's sleeves keep every rule.
bool is_legal(const Problem& problem, const Solution& solution) {
    std::vector<Candidate> sleeves;
    for (const int place : solution.best.front().chosen)
        sleeves.push_back(solution.candidates[static_cast<std::size_t>(place)]);
    return violations(problem, sleeves).empty();
}

void against_solvers(benchmark::State& state) {
    const int n = static_cast<int>(state.range(0));
    const Problem problem = coverable(n);
    const auto whole = solve(problem, SurveyPrice{}, plain(20, true));
    const auto sleeves = sleeves_of(whole.candidates);
    Cost cbc = 0, glpk = 0, ours = 0;
    const double cbc_time = time_of(1, [&] { cbc = within_two_minutes(by_cbc, problem, sleeves); });
    const double glpk_time = time_of(1, [&] { glpk = within_two_minutes(by_glpk, problem, sleeves); });
    const double our_time =
        time_of(n <= 100 ? 200 : 20, [&] { ours = solve(problem, SurveyPrice{}, plain(20, false)).best.front().cost; });
    const double list_time =
        time_of(n <= 100 ? 50 : 5, [&] { benchmark::DoNotOptimize(solve(problem, SurveyPrice{}, plain(20, true))); });
    for (auto _ : state) benchmark::DoNotOptimize(solve(problem, SurveyPrice{}, plain(20, false)));
    state.counters["candidates"] = static_cast<double>(whole.candidates.size());
    state.counters["ms"] = 1e3 * our_time;
    state.counters["ms_with_list"] = 1e3 * list_time;
    state.counters["cbc_ms"] = 1e3 * cbc_time;
    state.counters["cbc_ratio"] = cbc_time / our_time;
    state.counters["glpk_ms"] = 1e3 * glpk_time;
    state.counters["glpk_ratio"] = glpk_time / our_time;
    // A solver that has no proof after two minutes: its ratio is a lower limit.
    state.counters["unfinished"] = (cbc < 0 ? 1.0 : 0.0) + (glpk < 0 ? 1.0 : 0.0);
    const auto cost_ratio = [&](Cost solver) {
        return solver < 0 ? 0.0 : static_cast<double>(solver) / static_cast<double>(ours);
    };
    state.counters["cbc_cost_ratio"] = cost_ratio(cbc);
    state.counters["glpk_cost_ratio"] = cost_ratio(glpk);
    if (!is_legal(problem, whole)) state.SkipWithError("our layout breaks a rule");
    if (!agrees(cbc, ours) || !agrees(glpk, ours))
        state.SkipWithError("a solver's cost is another by more than its tolerance");
}
BENCHMARK(against_solvers)->Arg(10)->Arg(100)->Arg(1000)->Unit(benchmark::kMillisecond)->Iterations(3);

void growth(benchmark::State& state) {
    const Problem problem = survey(static_cast<int>(state.range(0)), 7);
    const int k_best = static_cast<int>(state.range(1));
    const std::size_t before = bytes_now;
    max_bytes = bytes_now;
    for (auto _ : state) benchmark::DoNotOptimize(solve(problem, SurveyPrice{}, plain(k_best, false)));
    state.counters["bytes_a_target"] = static_cast<double>(max_bytes - before) / static_cast<double>(state.range(0));
}
BENCHMARK(growth)
    ->ArgsProduct({{100, 1000, 10000, 100000}, {1, 20}})
    ->ArgNames({"targets", "k"})
    ->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
