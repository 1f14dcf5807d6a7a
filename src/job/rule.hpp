#pragma once
#include <cstdint>
#include <limits>
#include <string_view>

#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

/// What values a field of an input file may take. Internal to the readers.
namespace patchwright::job {

/// How a text or a plain number is to be taken.
enum class Form : std::uint8_t {
    plain,    ///< numbers: as they stand; texts: a name on one line
    percent,  ///< "2 %" kept as 2
    share,    ///< "85 %" kept as 0.85
    note,     ///< texts: more than one line allowed
};

/// Bounds in the unit in which the value is kept (SI, kelvin, cents), with the words for a message.
struct Rule {
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    bool low_excluded = false;
    std::string_view low_words, high_words;
    Form form = Form::plain;
};

template <Dim D>
constexpr Rule between(Quantity<D> low, std::string_view low_words, Quantity<D> high, std::string_view high_words) {
    return {low.si(), high.si(), false, low_words, high_words, Form::plain};
}
constexpr Rule between(Temperature low, std::string_view low_words, Temperature high, std::string_view high_words) {
    return {low.in_kelvin(), high.in_kelvin(), false, low_words, high_words, Form::plain};
}
/// Above zero, up to `high`.
template <Dim D>
constexpr Rule positive(Quantity<D> high, std::string_view high_words) {
    return {0.0, high.si(), true, "", high_words, Form::plain};
}
/// Zero or more, up to `high`.
template <Dim D>
constexpr Rule up_to(Quantity<D> high, std::string_view high_words) {
    return {0.0, high.si(), false, "", high_words, Form::plain};
}
constexpr Rule number(double low, std::string_view low_words, double high, std::string_view high_words,
                      bool low_excluded = false) {
    return {low, high, low_excluded, low_words, high_words, Form::plain};
}
/// Percent text kept as percent.
constexpr Rule percent(double high, std::string_view high_words) {
    return {0.0, high, false, "", high_words, Form::percent};
}
/// Percent text kept as a share of one.
constexpr Rule share(double high = 1.0, std::string_view high_words = "100 %") {
    return {0.0, high, false, "", high_words, Form::share};
}
constexpr Rule note() {
    Rule rule;
    rule.form = Form::note;
    return rule;
}

/// Bounds that hold for every value of a type where its field has none of its own: no negative quantity,
/// nothing so large that arithmetic on it could overflow.
template <class T>
struct DefaultRule {
    static constexpr Rule rule{};
};
template <>
struct DefaultRule<Length> {
    static constexpr Rule rule = up_to(100.0 * unit::km, "100 km");
};
template <>
struct DefaultRule<Area> {
    static constexpr Rule rule = up_to(1e6 * unit::m2, "1000000 m2");
};
template <>
struct DefaultRule<Volume> {
    static constexpr Rule rule = up_to(1e5 * unit::m3, "100000 m3");
};
template <>
struct DefaultRule<Mass> {
    static constexpr Rule rule = up_to(1e3 * unit::tonne, "1000 t");
};
template <>
struct DefaultRule<Duration> {
    static constexpr Rule rule = up_to(30.0 * unit::day, "30 d");
};
template <>
struct DefaultRule<Pressure> {
    static constexpr Rule rule = up_to(1e6 * unit::MPa, "1000000 MPa");
};
template <>
struct DefaultRule<Force> {
    static constexpr Rule rule = up_to(1e4 * unit::kN, "10000 kN");
};
template <>
struct DefaultRule<Density> {
    static constexpr Rule rule = positive(30000.0 * unit::kg_m3, "30000 kg/m3");
};
template <>
struct DefaultRule<UnitWeight> {
    static constexpr Rule rule = positive(300.0 * unit::kN_m3, "300 kN/m3");
};
template <>
struct DefaultRule<ArealMass> {
    static constexpr Rule rule = positive(1e5 * unit::g_m2, "100000 g/m2");
};
template <>
struct DefaultRule<VolumeFlow> {
    static constexpr Rule rule = up_to(1000.0 * unit::litre_s, "1000 l/s");
};
template <>
struct DefaultRule<SpecificEnergy> {
    static constexpr Rule rule = up_to(5000.0 * unit::J_g, "5000 J/g");
};
template <>
struct DefaultRule<SpecificHeat> {
    static constexpr Rule rule = positive(10000.0 * unit::J_kgK, "10000 J/(kg K)");
};
template <>
struct DefaultRule<Conductivity> {
    static constexpr Rule rule = positive(500.0 * unit::W_mK, "500 W/(m K)");
};
template <>
struct DefaultRule<TemperatureDifference> {
    static constexpr Rule rule = up_to(200.0 * unit::K, "200 K");
};
template <>
struct DefaultRule<Angle> {
    static constexpr Rule rule = up_to(360.0 * unit::deg, "360 deg");
};
template <>
struct DefaultRule<Temperature> {
    static constexpr Rule rule = between(Temperature::celsius(-60.0), "-60 C", Temperature::celsius(400.0), "400 C");
};
template <>
struct DefaultRule<Money> {
    static constexpr Rule rule{0.0, 1e9, false, "", "10 million", Form::plain};
};
template <>
struct DefaultRule<Share> {
    static constexpr Rule rule{0.0, 10.0, false, "", "1000 %", Form::plain};
};
template <>
struct DefaultRule<double> {
    static constexpr Rule rule = number(0.0, "", 1e6, "1000000");
};
template <>
struct DefaultRule<int> {
    static constexpr Rule rule = number(0.0, "", 1e6, "1000000");
};

}  // namespace patchwright::job
