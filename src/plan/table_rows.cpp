#include "table_rows.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>

namespace patchwright::plan {
namespace {

/// Two rows nearer than a thermometer reads are one: the expected one stays.
constexpr TemperatureDifference apart = 0.75 * unit::K;
/// Of the steps round what is expected: a whole degree beside a broken one is no nearer than that.
constexpr TemperatureDifference step_apart = 0.45 * unit::K;

void add_rows(std::vector<Temperature>& rows, const std::vector<Temperature>& more, TemperatureDifference nearest) {
    for (const auto point : more) {
        const bool near = std::any_of(rows.begin(), rows.end(),
                                      [&](Temperature row) { return point - row < nearest && row - point < nearest; });
        if (!near) rows.push_back(point);
    }
}

Temperature degrees(double t, UnitSystem units) {
    return units == UnitSystem::us ? Temperature::fahrenheit(t) : Temperature::celsius(t);
}

std::vector<Temperature> points(UnitSystem units, std::initializer_list<double> celsius,
                                std::initializer_list<double> fahrenheit) {
    std::vector<Temperature> list;
    for (const double t : units == UnitSystem::us ? fahrenheit : celsius) list.push_back(degrees(t, units));
    return list;
}

/// Whole degrees from 3 below what is expected to 2 above, in US units each second one: what a pipe is most often
/// found at has a row of its own.
std::vector<Temperature> steps_round(Temperature expected, UnitSystem units) {
    const bool us = units == UnitSystem::us;
    const double middle = std::round(us ? expected.in_fahrenheit() : expected.in_celsius()), step = us ? 2.0 : 1.0;
    std::vector<Temperature> steps;
    for (int i = -3; i <= 2; ++i) steps.push_back(degrees(middle + i * step, units));
    return steps;
}

std::vector<Temperature> in_order(std::vector<Temperature> rows) {
    std::sort(rows.begin(), rows.end());
    rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
    return rows;
}

std::vector<Temperature> with_expected(std::vector<Temperature> expected, const std::vector<Temperature>& grid) {
    add_rows(expected, grid, apart);
    return in_order(std::move(expected));
}

}  // namespace

TableRows table_rows(const job::Job& job) {
    TableRows rows;
    std::vector<Temperature> grounds;
    for (const auto& run : job.runs) grounds.push_back(*run.ground_temperature);
    const auto grid = points(job.units, {5, 6, 8, 10, 12, 15, 20, 25, 28}, {41, 45, 50, 55, 60, 70, 82});
    auto pipes = in_order(grounds);
    for (const auto ground : in_order(std::move(grounds))) {
        auto steps = steps_round(ground, job.units);
        // Nothing nearer to the coldest row than a thermometer reads.
        std::erase_if(steps, [&](Temperature step) { return step < grid.front() + apart; });
        add_rows(pipes, steps, step_apart);
    }
    rows.pipes = with_expected(std::move(pipes), grid);
    rows.airs = with_expected({*job.site.air_temperature}, points(job.units, {15, 20, 28}, {60, 70, 82}));
    // Colder than expected the expected row holds.
    std::erase_if(rows.airs, [&](Temperature row) { return row < *job.site.air_temperature; });
    return rows;
}

std::vector<Temperature> resin_rows(const job::Job& job, Temperature expected) {
    auto rows = with_expected({expected}, points(job.units, {20, 28}, {70, 82}));
    std::erase_if(rows, [&](Temperature row) { return row < expected; });
    return rows;
}

}  // namespace patchwright::plan
