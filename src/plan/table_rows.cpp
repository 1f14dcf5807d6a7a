#include "table_rows.hpp"

#include <algorithm>
#include <initializer_list>

namespace patchwright::plan {
namespace {

/// Two rows nearer than a thermometer reads are one: the expected one stays.
constexpr TemperatureDifference apart = 0.75 * unit::K;

std::vector<Temperature> with_expected(std::vector<Temperature> expected, std::initializer_list<double> celsius,
                                       std::initializer_list<double> fahrenheit, UnitSystem units) {
    std::vector<Temperature> grid;
    if (units == UnitSystem::us)
        for (const double f : fahrenheit) grid.push_back(Temperature::fahrenheit(f));
    else
        for (const double c : celsius) grid.push_back(Temperature::celsius(c));
    std::vector<Temperature> rows = std::move(expected);
    for (const auto point : grid) {
        const bool near = std::any_of(rows.begin(), rows.end(),
                                      [&](Temperature row) { return point - row < apart && row - point < apart; });
        if (!near) rows.push_back(point);
    }
    std::sort(rows.begin(), rows.end());
    rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
    return rows;
}

}  // namespace

TableRows table_rows(const job::Job& job) {
    TableRows rows;
    std::vector<Temperature> grounds;
    for (const auto& run : job.runs) grounds.push_back(*run.ground_temperature);
    rows.pipes =
        with_expected(std::move(grounds), {5, 6, 8, 10, 12, 15, 20, 25, 28}, {41, 45, 50, 55, 60, 70, 82}, job.units);
    rows.airs = with_expected({*job.site.air_temperature}, {15, 20, 28}, {60, 70, 82}, job.units);
    // Colder than expected the expected row holds.
    std::erase_if(rows.airs, [&](Temperature row) { return row < *job.site.air_temperature; });
    return rows;
}

std::vector<Temperature> resin_rows(const job::Job& job, Temperature expected) {
    auto rows = with_expected({expected}, {20, 28}, {70, 82}, job.units);
    std::erase_if(rows, [&](Temperature row) { return row < expected; });
    return rows;
}

}  // namespace patchwright::plan
