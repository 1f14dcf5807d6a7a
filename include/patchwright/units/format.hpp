#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "patchwright/units/money.hpp"
#include "patchwright/units/parse.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

namespace patchwright {

enum class UnitSystem : std::uint8_t { metric, us };

/// What a number is, so that it is shown in the right unit with the digits that a tape, a scale or a gauge can read.
/// Each row gives metric form / US form. A `Show` also fixes the unit in which a working keeps its value (SI).
enum class Show : std::uint8_t {
    ratio,             ///< 0.836
    percent,           ///< value 0.02 shown "2 %"
    count,             ///< whole number
    run_distance,      ///< 6.80 m / 22 ft 3 3/4 in: along the pipe, whole cm or 1/8 in
    tape,              ///< 345 mm / 13 5/8 in: cut sizes and marks
    thickness,         ///< 3.0 mm / 0.12 in
    thin,              ///< 1.203 mm / 0.0474 in: worked thicknesses, before choice
    gauge_pressure,    ///< 0.65 bar / 9.4 psi
    test_pressure,     ///< 100.0 mbar / 1.45 psi
    soil_pressure,     ///< 12.3 kPa / 257 psf
    modulus,           ///< 1724 MPa / 250000 psi
    force,             ///< 785 N / 176 lbf
    scale_mass,        ///< 1250 g / 2 lb 12.1 oz: to the gram or tenth of an ounce
    big_mass,          ///< 1.25 kg / 2.8 lb
    spoil_mass,        ///< 4.2 t / 4.6 US tons
    litres,            ///< 1.12 l / 0.30 gal
    millilitres,       ///< 250 ml / 8.5 fl oz
    big_volume,        ///< 2.70 m3 / 3.53 yd3
    area,              ///< 1.80 m2 / 19.4 ft2
    minutes,           ///< 25 min (both)
    span,              ///< 3 h 20 min (both)
    seconds,           ///< 113 s (both)
    temperature,       ///< 9 °C / 48 °F: value in kelvin
    temperature_step,  ///< 3 K / 5 °F difference
    energy,            ///< 704 J / 519 ft lbf
    angle,             ///< 45°
    density,           ///< 1120 kg/m3 / 69.9 lb/ft3
    unit_weight,       ///< 18.9 kN/m3 / 120 lb/ft3
    areal_mass,        ///< 620 g/m2 / 2.03 oz/ft2
    flow,              ///< 0.02 l/s / 0.32 gal/min
    conversion,        ///< 0.577: degree of cure
    molar_energy,      ///< 57.0 kJ/mol (both)
    specific_energy,   ///< 400 J/g (both)
    money,             ///< cents as a double
};

/// The text of a figure: number, space, unit. Rounded half away from zero to the last digit shown, where a value
/// within a part in 10^12 of the half counts as the half. Never "-0", never "0 ft 12 in". No locale.
/// US lengths and small masses, and spans of time, are compounds ("6 ft 3 1/4 in", "2 lb 12.1 oz", "3 h 20 min").
/// Throws RangeError on NaN or infinity, or if the figure has more than 15 digits.
std::string format(Show show, double si, UnitSystem system);
/// The same, rounded downwards or upwards: a greatest pressure is never shown above itself, a least one never below.
std::string format_down(Show show, double si, UnitSystem system);
std::string format_up(Show show, double si, UnitSystem system);
/// The figure without its unit, and the unit alone, for table columns. A compound keeps its units in the figure
/// and has no label.
std::string format_bare(Show show, double si, UnitSystem system);
std::string unit_label(Show show, UnitSystem system);
/// The suffix of JSON keys: "_mm", "_bar", "_min". Empty for ratios, counts and money.
std::string_view json_suffix(Show show);
/// The value in the unit of `json_suffix`, to 12 significant digits so that 6.8 m reads 6.8. Money: in whole units.
double json_value(Show show, double si);

template <Dim D>
std::string format(Show show, Quantity<D> q, UnitSystem s) {
    return format(show, q.si(), s);
}
template <Dim D>
std::string format_down(Show show, Quantity<D> q, UnitSystem s) {
    return format_down(show, q.si(), s);
}
template <Dim D>
std::string format_up(Show show, Quantity<D> q, UnitSystem s) {
    return format_up(show, q.si(), s);
}
inline std::string format(Show show, Temperature t, UnitSystem s) { return format(show, t.in_kelvin(), s); }

std::string format(Money amount);  ///< "1,234.50 EUR": thousands comma only here, on paper
std::string format(ClockTime t);   ///< "08:00"
std::string format(Date d);        ///< "2026-04-14"
std::string format(ClockRange c);  ///< "10-2"

}  // namespace patchwright
