#pragma once
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"
#include "patchwright/working/working.hpp"

namespace patchwright::cure {

/// Yearly course of the temperature at the ground's surface.
struct Climate {
    Temperature mean{};
    TemperatureDifference amplitude{};  ///< half the range between the coldest and the warmest day
    int coldest_day = 35;               ///< of the year, 1 to 365
    Diffusivity diffusivity{};          ///< of the ground, 0.3e-6 to 0.9e-6 m2/s
};

/// Temperature of undisturbed ground at a depth on a day of the year.
///
/// T = Tm - As exp(-z/D) cos(2 pi (t - t0) / 365 - z/D), D = sqrt(diffusivity * year / pi).
/// Source: Kusuda & Achenbach, ASHRAE Transactions 71(1) (1965) 61-74.
/// House drains are warmed by use and cooled by draught: a default until the wall is measured.
/// Throws RangeError for a negative depth, a day outside 1 to 366 or a diffusivity that is not positive.
Temperature ground_temperature(const Climate& climate, Length depth, int day_of_year, Working& working);

}  // namespace patchwright::cure
