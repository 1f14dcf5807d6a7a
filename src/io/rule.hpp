#pragma once
#include <charconv>
#include <cstdint>
#include <limits>
#include <stdexcept>
#include <string>
#include <string_view>

#include "patchwright/units/money.hpp"
#include "patchwright/units/parse.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

/// What values a field of an input file may take. Internal to the readers.
namespace patchwright::io {

/// How a text or a plain number is to be taken.
enum class Form : std::uint8_t {
    plain,    ///< numbers: as they stand; texts: a name on one line
    percent,  ///< "2 %" kept as 2
    share,    ///< "85 %" kept as 0.85
    note,     ///< texts: more than one line allowed
};

/// Bounds, as the table of fields writes them ("0 m to 3 m", "above 0 mm to 3 m") and in the unit in which the value is
/// kept (SI, kelvin, cents). No text: no bounds.
struct Range {
    std::string_view text, low_words, high_words;
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    bool low_excluded = false;

    bool too_low(double value) const { return !(value >= low) || (low_excluded && value == low); }
    bool holds(double value) const { return !too_low(value) && value <= high; }
};

struct Rule {
    Range possible;  ///< outside: an error
    Range usual;     ///< outside: a warning
    Form form = Form::plain;
};

/// What the parser calls each dimension, and an example for messages.
struct QuantityNames {
    std::string_view what, example;
};
template <class Q>
struct QuantityText;  // parse() and names
#define PATCHWRIGHT_QUANTITY_TEXT(TYPE, FUNCTION, WHAT, EXAMPLE)                    \
    template <>                                                                     \
    struct QuantityText<TYPE> {                                                     \
        static Parsed<TYPE> parse(std::string_view text) { return FUNCTION(text); } \
        static constexpr QuantityNames names{WHAT, EXAMPLE};                        \
    }
PATCHWRIGHT_QUANTITY_TEXT(Length, parse_length, "a length", "100 mm");
PATCHWRIGHT_QUANTITY_TEXT(Area, parse_area, "an area", "1.5 m2");
PATCHWRIGHT_QUANTITY_TEXT(Volume, parse_volume, "a volume", "60 l");
PATCHWRIGHT_QUANTITY_TEXT(Mass, parse_mass, "a mass", "1.5 kg");
PATCHWRIGHT_QUANTITY_TEXT(Duration, parse_duration, "a time", "35 min");
PATCHWRIGHT_QUANTITY_TEXT(Pressure, parse_pressure, "a pressure", "0.8 bar");
PATCHWRIGHT_QUANTITY_TEXT(TemperatureDifference, parse_temperature_difference, "a temperature difference", "3 K");
PATCHWRIGHT_QUANTITY_TEXT(Angle, parse_angle, "an angle", "45 deg");
PATCHWRIGHT_QUANTITY_TEXT(VolumeFlow, parse_volume_flow, "a flow", "0.02 l/s");
PATCHWRIGHT_QUANTITY_TEXT(Density, parse_density, "a density", "1120 kg/m3");
PATCHWRIGHT_QUANTITY_TEXT(ArealMass, parse_areal_mass, "a mass per area", "620 g/m2");
PATCHWRIGHT_QUANTITY_TEXT(UnitWeight, parse_unit_weight, "a unit weight", "18.9 kN/m3");
PATCHWRIGHT_QUANTITY_TEXT(Force, parse_force, "a force", "500 N");
PATCHWRIGHT_QUANTITY_TEXT(SpecificEnergy, parse_specific_energy, "an energy per mass", "400 J/g");
PATCHWRIGHT_QUANTITY_TEXT(SpecificHeat, parse_specific_heat, "a specific heat", "1900 J/(kg K)");
PATCHWRIGHT_QUANTITY_TEXT(Conductivity, parse_conductivity, "a thermal conductivity", "0.2 W/(m K)");
#undef PATCHWRIGHT_QUANTITY_TEXT

namespace detail {
template <class V>
inline constexpr bool is_quantity = false;
template <Dim D>
inline constexpr bool is_quantity<Quantity<D>> = true;
template <class V>
inline constexpr bool is_rate = false;
template <class Q>
inline constexpr bool is_rate<MoneyPer<Q>> = true;

/// A rate as one number, whatever unit it is given for: cents for one SI unit.
template <class Q>
double comparable(const MoneyPer<Q>& rate) {
    return static_cast<double>(rate.amount.in_cents()) / rate.per.si();
}

template <class T>
T sound(const Parsed<T>& parsed, std::string_view text) {
    if (!parsed) throw std::logic_error("bound of a field: " + std::string{text});
    return *parsed;
}

/// One bound of a field that holds a V.
template <class V>
double bound(std::string_view text, Form form) {
    if constexpr (is_quantity<V>) {
        return sound(QuantityText<V>::parse(text), text).si();
    } else if constexpr (std::is_same_v<V, Temperature>) {
        return sound(parse_temperature(text), text).in_kelvin();
    } else if constexpr (std::is_same_v<V, Money>) {
        return static_cast<double>(sound(parse_money(text), text).in_cents());
    } else if constexpr (is_rate<V>) {
        return comparable(sound(parse_rate<decltype(V::per)>(text), text));
    } else if constexpr (std::is_same_v<V, Share>) {
        return sound(parse_percent(text), text) / 100.0;
    } else {
        if (form != Form::plain) return sound(parse_percent(text), text) / (form == Form::share ? 100.0 : 1.0);
        double value = 0.0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
        if (error != std::errc{} || end != text.data() + text.size())
            throw std::logic_error("bound of a field: " + std::string{text});
        return value;
    }
}
}  // namespace detail

template <class V>
Range range(std::string_view text, Form form = Form::plain) {
    Range r;
    r.text = text;
    constexpr std::string_view above = "above ", to = " to ";
    r.low_excluded = text.starts_with(above);
    const std::string_view bounds = text.substr(r.low_excluded ? above.size() : 0);
    const std::size_t middle = bounds.find(to);
    if (middle == std::string_view::npos) throw std::logic_error("range of a field: " + std::string{text});
    r.low_words = bounds.substr(0, middle);
    r.high_words = bounds.substr(middle + to.size());
    r.low = detail::bound<V>(r.low_words, form);
    r.high = detail::bound<V>(r.high_words, form);
    return r;
}

/// Ten million in the field's own currency: more is a slip, and sums of many stay far from overflow.
inline constexpr double max_cents = 1e9;
/// Usual amounts are given in euros. They serve for currencies of the same size; in others nothing is called unusual.
bool is_of_euro_size(Currency currency);

}  // namespace patchwright::io
