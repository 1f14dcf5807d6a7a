// How fast a sleeve is followed, beside CVODE on the same cells at like accuracy. Read the CPU column.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cases.hpp"
#include "cvode_body.hpp"
#include "history.hpp"
#include "knowledge.hpp"

using namespace patchwright;
using namespace patchwright::cure;
using namespace patchwright::cure::detail;

namespace {

struct Prepared {
    Prepared(const job::Resin& resin, double millimetres, double pipe) : known{resin, calibrate(resin)} {
        const test::Case c = test::usual(millimetres, pipe, 15.0);
        site = make_site(resin, c.sleeve, c.host);
        course = course_of(completed(c.conditions, test::usual_limits()));
        release = release_of(known, test::usual_limits());
        grid = usual_grid(site);
    }
    double ours(double tolerance) const {
        return follow(site, RateLaw{known.fit.kinetics}, course, release, grid, Settings{.tolerance = tolerance})
            .release;
    }
    /// The inflated stage only; what comes before is ours in both, and counted for us alone.
    double cvode(double relative) const {
        const RateLaw law{known.fit.kinetics};
        const Body body = inflated_body(site, course, grid);
        const Lump lump = before_inflation(site, law, course);
        const auto hard = [&](double a, double face) {
            return std::max(law.glass_temperature(a) - face - release.margin,
                            100.0 * (a - release.share * attainable_conversion(known.fit.kinetics.glass,
                                                                               Temperature::kelvin(face))));
        };
        return test::cvode_run(body, law, inflated_state(body, lump, grid, course.pipe), lump.time, 60.0 * 86400.0, 0.0,
                               course.pipe, release.gel, hard, relative, 0.1 * relative, 10.0 * relative)
            .release;
    }
    Knowledge known;
    Site site;
    Course course;
    Release release;
    Grid grid;
};

const std::array<Prepared, 4>& sleeves() {
    static const std::array<Prepared, 4> all{Prepared{test::fast(), 3.0, 5.0}, Prepared{test::standard(), 3.0, 10.0},
                                             Prepared{test::standard(), 6.0, 20.0}, Prepared{test::slow(), 4.5, 10.0}};
    return all;
}

template <class F>
void follow_all(benchmark::State& state, F&& release_of_one) {
    for (auto _ : state)
        for (const Prepared& p : sleeves()) benchmark::DoNotOptimize(release_of_one(p));
    double worst = 0.0;
    for (const Prepared& p : sleeves()) worst = std::max(worst, std::abs(release_of_one(p) / p.cvode(1e-9) - 1.0));
    state.counters["worst_error_%"] = 100.0 * worst;
    state.counters["sleeves/s"] =
        benchmark::Counter(static_cast<double>(state.iterations() * 4), benchmark::Counter::kIsRate);
}

/// Tolerance 10^-range for both integrators.
void history(benchmark::State& state) {
    const double tolerance = static_cast<double>(state.range(0)) * 1e-5;
    follow_all(state, [&](const Prepared& p) { return p.ours(tolerance); });
}
BENCHMARK(history)->Arg(400)->Arg(200)->Arg(50)->Arg(10)->MinTime(0.2);

void history_cvode(benchmark::State& state) {
    const double relative = static_cast<double>(state.range(0)) * 1e-6;
    follow_all(state, [&](const Prepared& p) { return p.cvode(relative); });
}
BENCHMARK(history_cvode)->Arg(1000)->Arg(300)->Arg(100)->Arg(10)->MinTime(0.2);

void calibrating(benchmark::State& state) {
    const job::Resin resin = test::standard();
    for (auto _ : state) benchmark::DoNotOptimize(calibrate(resin));
}
BENCHMARK(calibrating);

void answering(benchmark::State& state) {
    const Model model{test::standard()};
    const test::Case c = test::usual(3.0, 10.0);
    for (auto _ : state) benchmark::DoNotOptimize(test::ask(model, c));
}
BENCHMARK(answering);

/// Six patches, ten pipe temperatures each, with and without the sleeve's own heat.
void day_sheet_tables(benchmark::State& state) {
    const Model model{test::standard()};
    std::vector<Temperature> pipes;
    for (int i = 0; i < 10; ++i) pipes.push_back(Temperature::celsius(5.0 + 2.0 * i));
    for (auto _ : state)
        for (int patch = 0; patch < 6; ++patch) {
            const test::Case c = test::usual(3.0 + 0.5 * patch, 10.0);
            benchmark::DoNotOptimize(model.let_down_table(c.sleeve, c.host, c.conditions, test::usual_limits(), pipes));
        }
}
BENCHMARK(day_sheet_tables)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
