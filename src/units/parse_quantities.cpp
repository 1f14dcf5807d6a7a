// The closed table of units of each dimension.
#include <array>

#include "patchwright/units/parse.hpp"
#include "scan.hpp"

namespace patchwright {
namespace {

using detail::Dimension;
using detail::Family;
using detail::UnitName;

template <Dim D>
constexpr UnitName named(std::string_view name, Quantity<D> one, Family family = Family::alone) {
    return {name, one.si(), family};
}

namespace u = unit;
constexpr Family metric = Family::metric, us = Family::us, time = Family::time;

constexpr std::array length_units{named("mm", u::mm, metric),
                                  named("cm", u::cm, metric),
                                  named("m", u::m, metric),
                                  named("km", u::km, metric),
                                  named("in", u::in, us),
                                  named("ft", u::ft, us),
                                  named("yd", u::yd, us),
                                  named("inch", u::in, us),
                                  named("inches", u::in, us),
                                  named("\"", u::in, us),
                                  named("foot", u::ft, us),
                                  named("feet", u::ft, us),
                                  named("'", u::ft, us),
                                  named("metre", u::m, metric),
                                  named("metres", u::m, metric),
                                  named("meter", u::m, metric),
                                  named("meters", u::m, metric),
                                  named("mile", 5280.0 * u::ft, us),
                                  named("miles", 5280.0 * u::ft, us)};
constexpr std::array area_units{named("m2", u::m2),   named("cm2", u::cm* u::cm), named("mm2", u::mm2),
                                named("ft2", u::ft2), named("in2", u::in* u::in), named("yd2", u::yd* u::yd)};
constexpr std::array volume_units{named("l", u::litre),
                                  named("L", u::litre),
                                  named("ml", u::ml),
                                  named("mL", u::ml),
                                  named("m3", u::m3),
                                  named("gal", u::gallon),
                                  named("fl oz", u::fluid_ounce),
                                  named("ft3", u::ft3),
                                  named("yd3", u::yd3),
                                  named("in3", u::in* u::in* u::in),
                                  named("cm3", u::ml),
                                  named("litre", u::litre),
                                  named("litres", u::litre),
                                  named("liter", u::litre),
                                  named("liters", u::litre),
                                  named("gallon", u::gallon),
                                  named("gallons", u::gallon)};
constexpr std::array mass_units{named("g", u::g, metric),   named("kg", u::kg, metric), named("t", u::tonne, metric),
                                named("lb", u::lb, us),     named("oz", u::oz, us),     named("lbs", u::lb, us),
                                named("US ton", u::us_ton), named("US tons", u::us_ton)};
constexpr std::array duration_units{
    named("s", u::s, time),           named("min", u::minute, time),     named("h", u::h, time),
    named("day", u::day, time),       named("days", u::day, time),       named("d", u::day, time),
    named("hr", u::h, time),          named("hour", u::h, time),         named("hours", u::h, time),
    named("minute", u::minute, time), named("minutes", u::minute, time), named("sec", u::s, time)};
constexpr std::array pressure_units{named("bar", u::bar),   named("mbar", u::mbar),  named("Pa", u::Pa),
                                    named("kPa", u::kPa),   named("MPa", u::MPa),    named("GPa", 1e3 * u::MPa),
                                    named("hPa", u::mbar),  named("psi", u::psi),    named("psf", u::psf),
                                    named("N/mm2", u::MPa), named("lb/ft2", u::psf), named("ksi", 1e3 * u::psi)};
constexpr std::array angle_units{named("deg", u::deg), named("\u00b0", u::deg), named("rad", u::rad)};
constexpr std::array flow_units{named("l/s", u::litre_s),
                                named("L/s", u::litre_s),
                                named("l/min", u::litre / u::minute),
                                named("L/min", u::litre / u::minute),
                                named("l/h", u::litre / u::h),
                                named("m3/h", u::m3 / u::h),
                                named("m3/s", u::m3 / u::s),
                                named("gal/min", u::gallon / u::minute),
                                named("gpm", u::gallon / u::minute),
                                named("gal/h", u::gallon / u::h)};
constexpr std::array density_units{named("kg/m3", u::kg_m3),          named("g/cm3", 1e3 * u::kg_m3),
                                   named("g/ml", 1e3 * u::kg_m3),     named("kg/l", 1e3 * u::kg_m3),
                                   named("t/m3", 1e3 * u::kg_m3),     named("lb/ft3", u::lb / u::ft3),
                                   named("lb/gal", u::lb / u::gallon)};
constexpr std::array areal_mass_units{named("g/m2", u::g_m2), named("kg/m2", u::kg / u::m2),
                                      named("oz/yd2", u::oz / (u::yd * u::yd)), named("oz/ft2", u::oz / u::ft2),
                                      named("lb/ft2", u::lb / u::ft2)};
constexpr std::array unit_weight_units{named("kN/m3", u::kN_m3), named("N/m3", u::N_m3), named("lb/ft3", u::pcf),
                                       named("lbf/ft3", u::pcf), named("pcf", u::pcf)};
constexpr std::array force_units{named("N", u::N), named("kN", u::kN), named("lbf", u::lbf)};
constexpr std::array specific_energy_units{named("J/g", u::J_g), named("kJ/kg", u::J_g), named("J/kg", u::J / u::kg)};
constexpr std::array specific_heat_units{named("J/(kg K)", u::J_kgK), named("kJ/(kg K)", 1e3 * u::J_kgK),
                                         named("J/(g K)", 1e3 * u::J_kgK), named("J/kg/K", u::J_kgK),
                                         named("J/kgK", u::J_kgK)};
constexpr std::array conductivity_units{named("W/(m K)", u::W_mK), named("W/m/K", u::W_mK), named("W/mK", u::W_mK)};
constexpr std::array molar_energy_units{named("kJ/mol", u::kJ_mol), named("J/mol", 1e-3 * u::kJ_mol)};
/// Differences; points are handled apart, these names only tell the dimension.
constexpr std::array difference_units{named("K", u::K),         named("C", u::K),       named("\u00b0C", u::K),
                                      named("degC", u::K),      named("F", u::K / 1.8), named("\u00b0F", u::K / 1.8),
                                      named("degF", u::K / 1.8)};

constexpr Dimension length_dim{"length", "a length", "100 mm", "mm, cm, m, in or ft", length_units};
constexpr Dimension area_dim{"area", "an area", "1.5 m2", "m2 or ft2", area_units};
constexpr Dimension volume_dim{"volume", "a volume", "60 l", "l, ml, m3, gal, fl oz, ft3 or yd3", volume_units};
constexpr Dimension mass_dim{"mass", "a mass", "1.5 kg", "g, kg, t, lb or oz", mass_units};
constexpr Dimension duration_dim{"time", "a time", "1 h 30 min", "s, min, h or day", duration_units};
constexpr Dimension pressure_dim{"pressure", "a pressure", "0.8 bar", "bar, mbar, Pa, kPa, MPa, psi or psf",
                                 pressure_units};
constexpr Dimension temperature_dim{"temperature", "a temperature", "9 C", "C, F or K", difference_units};
constexpr Dimension difference_dim{"temperature difference", "a temperature difference", "3 K", "K, C or F",
                                   difference_units};
constexpr Dimension angle_dim{"angle", "an angle", "45 deg", "deg", angle_units};
constexpr Dimension flow_dim{"flow", "a flow", "0.02 l/s", "l/s, l/min or gal/min", flow_units};
constexpr Dimension density_dim{"density", "a density", "1120 kg/m3", "kg/m3, g/cm3 or lb/ft3", density_units};
constexpr Dimension areal_mass_dim{"mass per area", "a mass per area", "620 g/m2", "g/m2, oz/yd2 or oz/ft2",
                                   areal_mass_units};
constexpr Dimension unit_weight_dim{"unit weight", "a unit weight", "19 kN/m3", "kN/m3 or pcf", unit_weight_units};
constexpr Dimension force_dim{"force", "a force", "800 N", "N, kN or lbf", force_units};
constexpr Dimension specific_energy_dim{"heat per mass", "a heat per mass", "400 J/g", "J/g or kJ/kg",
                                        specific_energy_units};
constexpr Dimension specific_heat_dim{"specific heat", "a specific heat", "1800 J/(kg K)", "J/(kg K)",
                                      specific_heat_units};
constexpr Dimension conductivity_dim{"conductivity", "a conductivity", "0.2 W/(m K)", "W/(m K)", conductivity_units};
constexpr Dimension molar_energy_dim{"energy per mole", "an energy per mole", "57 kJ/mol", "kJ/mol",
                                     molar_energy_units};

/// The difference comes last: "C" reads as a temperature where neither is asked for.
constexpr std::array<const Dimension*, 18> dimensions{
    &length_dim,      &area_dim,          &volume_dim,       &mass_dim,         &duration_dim,        &pressure_dim,
    &angle_dim,       &flow_dim,          &density_dim,      &force_dim,        &areal_mass_dim,      &unit_weight_dim,
    &temperature_dim, &specific_heat_dim, &conductivity_dim, &molar_energy_dim, &specific_energy_dim, &difference_dim};

template <class Q>
Parsed<Q> parse_quantity(std::string_view text, const Dimension& dimension) {
    const auto si = detail::parse_si(text, dimension);
    if (!si) return si.error();
    return Q::from_si(*si);
}

template <class Q>
Parsed<MoneyPer<Q>> parse_rate_in(std::string_view text, const Dimension& dimension, std::string_view example) {
    const auto rate = detail::parse_rate_text(text, dimension, example);
    if (!rate) return rate.error();
    return MoneyPer<Q>{rate->amount, Q::from_si(rate->per_si)};
}

}  // namespace

std::span<const detail::Dimension* const> detail::all_dimensions() { return dimensions; }

Parsed<Length> parse_length(std::string_view text) { return parse_quantity<Length>(text, length_dim); }
Parsed<Area> parse_area(std::string_view text) { return parse_quantity<Area>(text, area_dim); }
Parsed<Volume> parse_volume(std::string_view text) { return parse_quantity<Volume>(text, volume_dim); }
Parsed<Mass> parse_mass(std::string_view text) { return parse_quantity<Mass>(text, mass_dim); }
Parsed<Duration> parse_duration(std::string_view text) { return parse_quantity<Duration>(text, duration_dim); }
Parsed<Pressure> parse_pressure(std::string_view text) { return parse_quantity<Pressure>(text, pressure_dim); }
Parsed<Angle> parse_angle(std::string_view text) { return parse_quantity<Angle>(text, angle_dim); }
Parsed<VolumeFlow> parse_volume_flow(std::string_view text) { return parse_quantity<VolumeFlow>(text, flow_dim); }
Parsed<Density> parse_density(std::string_view text) { return parse_quantity<Density>(text, density_dim); }
Parsed<ArealMass> parse_areal_mass(std::string_view text) { return parse_quantity<ArealMass>(text, areal_mass_dim); }
Parsed<UnitWeight> parse_unit_weight(std::string_view text) {
    return parse_quantity<UnitWeight>(text, unit_weight_dim);
}
Parsed<Force> parse_force(std::string_view text) { return parse_quantity<Force>(text, force_dim); }
Parsed<SpecificEnergy> parse_specific_energy(std::string_view text) {
    return parse_quantity<SpecificEnergy>(text, specific_energy_dim);
}
Parsed<SpecificHeat> parse_specific_heat(std::string_view text) {
    return parse_quantity<SpecificHeat>(text, specific_heat_dim);
}
Parsed<Conductivity> parse_conductivity(std::string_view text) {
    return parse_quantity<Conductivity>(text, conductivity_dim);
}
Parsed<MolarEnergy> parse_molar_energy(std::string_view text) {
    return parse_quantity<MolarEnergy>(text, molar_energy_dim);
}
Parsed<TemperatureDifference> parse_temperature_difference(std::string_view text) {
    return parse_quantity<TemperatureDifference>(text, difference_dim);
}

Parsed<Temperature> parse_temperature(std::string_view text) {
    // Checked as a quantity first, so that both say the same of the same fault; then read again as a point.
    const auto checked = detail::parse_si(text, temperature_dim);
    if (!checked) return checked.error();
    text = detail::right_trimmed(text);
    std::size_t pos = detail::skip_space(text, 0);
    const double sign = detail::scan_sign(text, pos);
    const auto number = detail::scan_number(text, pos);
    const double value = sign * number->value;
    const char scale = text.back();
    const Temperature point = scale == 'K'   ? Temperature::kelvin(value)
                              : scale == 'F' ? Temperature::fahrenheit(value)
                                             : Temperature::celsius(value);
    if (point.in_kelvin() < 0.0)
        return TextError{0, text.size(), "a temperature cannot lie below absolute zero, -273.15 C"};
    return point;
}

template <>
Parsed<MoneyPer<Length>> parse_rate<Length>(std::string_view text) {
    return parse_rate_in<Length>(text, length_dim, "38.50 EUR/m");
}
template <>
Parsed<MoneyPer<Area>> parse_rate<Area>(std::string_view text) {
    return parse_rate_in<Area>(text, area_dim, "24.00 EUR/m2");
}
template <>
Parsed<MoneyPer<Volume>> parse_rate<Volume>(std::string_view text) {
    return parse_rate_in<Volume>(text, volume_dim, "45.00 EUR/m3");
}
template <>
Parsed<MoneyPer<Mass>> parse_rate<Mass>(std::string_view text) {
    return parse_rate_in<Mass>(text, mass_dim, "18.00 EUR/kg");
}
template <>
Parsed<MoneyPer<Duration>> parse_rate<Duration>(std::string_view text) {
    return parse_rate_in<Duration>(text, duration_dim, "62.00 EUR/h");
}

}  // namespace patchwright
