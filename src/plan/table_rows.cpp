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

std::vector<Temperature> points_of(std::initializer_list<double> list, UnitSystem units) {
    std::vector<Temperature> points;
    for (const double t : list)
        points.push_back(units == UnitSystem::us ? Temperature::fahrenheit(t) : Temperature::celsius(t));
    return points;
}

/// Whole degrees from 3 below what is expected to 2 above, in US units each second one: what a pipe is most often
/// found at has a row of its own.
std::vector<Temperature> steps_round(Temperature expected, UnitSystem units) {
    const bool us = units == UnitSystem::us;
    const double middle = std::round(us ? expected.in_fahrenheit() : expected.in_celsius()), step = us ? 2.0 : 1.0;
    std::vector<Temperature> points;
    for (int i = -3; i <= 2; ++i) {
        const double t = middle + i * step;
        points.push_back(us ? Temperature::fahrenheit(t) : Temperature::celsius(t));
    }
    return points;
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
    const bool us = job.units == UnitSystem::us;
    TableRows rows;
    std::vector<Temperature> grounds;
    for (const auto& run : job.runs) grounds.push_back(*run.ground_temperature);
    const auto grid = us ? points_of({41, 45, 50, 55, 60, 70, 82}, job.units)
                         : points_of({5, 6, 8, 10, 12, 15, 20, 25, 28}, job.units);
    auto pipes = in_order(grounds);
    for (const auto ground : in_order(std::move(grounds))) {
        auto steps = steps_round(ground, job.units);
        // Nothing nearer to the coldest row than a thermometer reads.
        std::erase_if(steps, [&](Temperature step) { return step < grid.front() + apart; });
        add_rows(pipes, steps, step_apart);
    }
    rows.pipes = with_expected(std::move(pipes), grid);
    rows.airs = with_expected({*job.site.air_temperature},
                              us ? points_of({60, 70, 82}, job.units) : points_of({15, 20, 28}, job.units));
    // Colder than expected the expected row holds.
    std::erase_if(rows.airs, [&](Temperature row) { return row < *job.site.air_temperature; });
    return rows;
}

std::vector<Temperature> resin_rows(const job::Job& job, Temperature expected) {
    auto rows = with_expected(
        {expected}, job.units == UnitSystem::us ? points_of({70, 82}, job.units) : points_of({20, 28}, job.units));
    std::erase_if(rows, [&](Temperature row) { return row < expected; });
    return rows;
}

}  // namespace patchwright::plan
