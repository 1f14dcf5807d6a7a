// Layout against CBC and GLPK on the same list of candidates, and growth to a city's survey.
// The solvers get one column a candidate, a cover row a target, and conflict rows; their time holds building the model.
// Ours holds everything: making the candidates, asking prices, the search.
#include <benchmark/benchmark.h>
#include <coin/Cbc_C_Interface.h>
#include <glpk.h>
#include <sys/resource.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <new>

#include "survey.hpp"

namespace {

std::size_t bytes_now = 0, bytes_most = 0;

}  // namespace

// Counts what is allocated, to print the memory a target.
void* operator new(std::size_t size) {
    auto* block = static_cast<std::size_t*>(std::malloc(size + 16));
    if (!block) throw std::bad_alloc{};
    *block = size;
    bytes_now += size;
    if (bytes_now > bytes_most) bytes_most = bytes_now;
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
    options.law = PriceLaw::rising;
    const auto solution = solve(problem, SurveyPrice{}, options);
    for (auto it = solution.uncovered.rbegin(); it != solution.uncovered.rend(); ++it) {
        problem.targets.erase(problem.targets.begin() + *it);
    }
    return problem;
}

struct Rows {
    std::vector<std::vector<int>> cover, conflict;
};

Rows rows_of(const Problem& problem, const std::vector<Candidate>& list) {
    Rows rows;
    rows.cover.resize(problem.targets.size());
    std::map<Centimetre, std::vector<int>> by_start, by_end;
    for (int i = 0; i < static_cast<int>(list.size()); ++i) {
        const auto& c = list[static_cast<std::size_t>(i)];
        for (int t = c.first_target; t <= c.last_target; ++t) rows.cover[static_cast<std::size_t>(t)].push_back(i);
        by_start[c.start].push_back(i);
        by_end[c.end].push_back(i);
    }
    for (const auto& [end, ending] : by_end) {
        for (auto it = by_start.upper_bound(end - problem.lap); it != by_start.end() && it->first < end + problem.gap;
             ++it) {
            std::vector<int> row;
            for (const int i : ending) {
                if (list[static_cast<std::size_t>(i)].start < it->first) row.push_back(i);
            }
            if (row.empty()) continue;
            row.insert(row.end(), it->second.begin(), it->second.end());
            rows.conflict.push_back(std::move(row));
        }
    }
    return rows;
}

Cost cbc(const std::vector<Candidate>& list, const Rows& rows) {
    Cbc_Model* model = Cbc_newModel();
    Cbc_setLogLevel(model, 0);
    Cbc_setParameter(model, "allowableGap", "0");
    Cbc_setParameter(model, "ratioGap", "0");
    Cbc_setParameter(model, "seconds", "120");
    for (const auto& c : list) Cbc_addCol(model, "x", 0.0, 1.0, static_cast<double>(c.cost), 1, 0, nullptr, nullptr);
    for (const auto* group : {&rows.cover, &rows.conflict}) {
        for (const auto& row : *group) {
            const std::vector<double> ones(row.size(), 1.0);
            Cbc_addRow(model, "r", static_cast<int>(row.size()), row.data(), ones.data(),
                       group == &rows.cover ? 'G' : 'L', 1.0);
        }
    }
    Cbc_solve(model);
    const Cost result = Cbc_isProvenOptimal(model) ? std::llround(Cbc_getObjValue(model)) : -1;
    Cbc_deleteModel(model);
    return result;
}

Cost glpk(const std::vector<Candidate>& list, const Rows& rows) {
    glp_term_out(GLP_OFF);
    glp_prob* model = glp_create_prob();
    glp_set_obj_dir(model, GLP_MIN);
    glp_add_cols(model, static_cast<int>(list.size()));
    for (int i = 0; i < static_cast<int>(list.size()); ++i) {
        glp_set_col_kind(model, i + 1, GLP_BV);
        glp_set_obj_coef(model, i + 1, static_cast<double>(list[static_cast<std::size_t>(i)].cost));
    }
    glp_add_rows(model, static_cast<int>(rows.cover.size() + rows.conflict.size()));
    int at = 0;
    for (const auto* group : {&rows.cover, &rows.conflict}) {
        for (const auto& row : *group) {
            std::vector<int> columns{0};
            for (const int i : row) columns.push_back(i + 1);
            const std::vector<double> ones(columns.size(), 1.0);
            glp_set_mat_row(model, ++at, static_cast<int>(row.size()), columns.data(), ones.data());
            glp_set_row_bnds(model, at, group == &rows.cover ? GLP_LO : GLP_UP, 1.0, 1.0);
        }
    }
    glp_iocp options;
    glp_init_iocp(&options);
    options.presolve = GLP_ON;
    options.msg_lev = GLP_MSG_OFF;
    options.tm_lim = 120'000;
    glp_intopt(model, &options);
    const Cost result = glp_mip_status(model) == GLP_OPT ? std::llround(glp_mip_obj_val(model)) : -1;
    glp_delete_prob(model);
    return result;
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
    options.law = PriceLaw::rising;
    return options;
}

void against_solvers(benchmark::State& state) {
    const int n = static_cast<int>(state.range(0));
    const Problem problem = coverable(n);
    const auto whole = solve(problem, SurveyPrice{}, plain(20, true));
    const auto rows = rows_of(problem, whole.candidates);
    Cost by_cbc = 0, by_glpk = 0, ours = 0;
    const double cbc_time = time_of(1, [&] { by_cbc = cbc(whole.candidates, rows_of(problem, whole.candidates)); });
    const double glpk_time = time_of(1, [&] { by_glpk = glpk(whole.candidates, rows_of(problem, whole.candidates)); });
    const double our_time =
        time_of(n <= 100 ? 200 : 20, [&] { ours = solve(problem, SurveyPrice{}, plain(20, false)).best.front().cost; });
    const double list_time = time_of(n <= 100 ? 50 : 5, [&] { solve(problem, SurveyPrice{}, plain(20, true)); });
    for (auto _ : state) benchmark::DoNotOptimize(solve(problem, SurveyPrice{}, plain(20, false)));
    state.counters["candidates"] = static_cast<double>(whole.candidates.size());
    state.counters["ms"] = 1e3 * our_time;
    state.counters["ms_with_list"] = 1e3 * list_time;
    state.counters["cbc_ms"] = 1e3 * cbc_time;
    state.counters["cbc_ratio"] = cbc_time / our_time;
    state.counters["glpk_ms"] = 1e3 * glpk_time;
    state.counters["glpk_ratio"] = glpk_time / our_time;
    // A solver that has no proof after two minutes: its ratio is a lower limit.
    state.counters["unfinished"] = (by_cbc < 0 ? 1.0 : 0.0) + (by_glpk < 0 ? 1.0 : 0.0);
    const bool differs = (by_cbc >= 0 && by_cbc != ours) || (by_glpk >= 0 && by_glpk != ours);
    if (differs) state.SkipWithError("the solvers found another cost");
}
BENCHMARK(against_solvers)->Arg(10)->Arg(100)->Arg(1000)->Unit(benchmark::kMillisecond)->Iterations(3);

void growth(benchmark::State& state) {
    const Problem problem = survey(static_cast<int>(state.range(0)), 7);
    const int k_best = static_cast<int>(state.range(1));
    const std::size_t before = bytes_now;
    bytes_most = bytes_now;
    for (auto _ : state) benchmark::DoNotOptimize(solve(problem, SurveyPrice{}, plain(k_best, false)));
    state.counters["bytes_a_target"] = static_cast<double>(bytes_most - before) / static_cast<double>(state.range(0));
}
BENCHMARK(growth)
    ->ArgsProduct({{100, 1000, 10000, 100000}, {1, 20}})
    ->ArgNames({"targets", "k"})
    ->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
