#include "patchwright/cure/ground.hpp"

#include <fmt/core.h>

#include <array>
#include <cmath>
#include <numbers>

#include "patchwright/units/error.hpp"

namespace patchwright::cure {
namespace {

constexpr std::array ground_inputs{
    Symbol{"Tm", "yearly mean temperature", Show::temperature},
    Symbol{"As", "yearly amplitude", Show::temperature_step},
    Symbol{"z", "depth", Show::run_distance},
    Symbol{"D", "damping depth", Show::run_distance},
    Symbol{"t", "day of the year", Show::count},
    Symbol{"t0", "coldest day", Show::count},
};
constexpr Formula ground_formula{"cure.ground",
                                 {"T", "ground temperature", Show::temperature},
                                 "T = Tm - As exp(-z/D) cos(2 pi (t - t0)/365 - z/D)",
                                 ground_inputs,
                                 "Kusuda & Achenbach, ASHRAE Transactions 71(1) (1965) 61-74",
                                 "cure"};

}  // namespace

Temperature ground_temperature(const Climate& climate, Length depth, int day_of_year, Working& working) {
    if (!(depth.si() >= 0.0) || !is_finite(depth))
        throw RangeError("ground temperature: the depth must not be negative");
    if (day_of_year < 1 || day_of_year > 366)
        throw RangeError(fmt::format("ground temperature: day {} is not a day of the year", day_of_year));
    if (!(climate.diffusivity.si() > 0.0) || !is_finite(climate.diffusivity))
        throw RangeError("ground temperature: the ground's diffusivity must be above zero, such as 0.5e-6 m2/s");
    constexpr double year = 365.0;
    const double damping = std::sqrt(climate.diffusivity.si() * (year * unit::day).si() / std::numbers::pi);
    const double lag = depth.si() / damping;
    const double phase = 2.0 * std::numbers::pi * (day_of_year - climate.coldest_day) / year - lag;
    const Temperature result = climate.mean - std::exp(-lag) * std::cos(phase) * climate.amplitude;
    working.add(ground_formula,
                {climate.mean, climate.amplitude, depth, damping, static_cast<double>(day_of_year),
                 static_cast<double>(climate.coldest_day)},
                result);
    return result;
}

}  // namespace patchwright::cure
