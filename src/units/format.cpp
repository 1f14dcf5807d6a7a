#include "patchwright/units/format.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright {
namespace {

enum class Rounding { nearest, down, up };

/// How the number is written. `fixed` keeps its zeros, `trimmed` drops them: "7", not "7.000".
enum class Style { fixed, trimmed, feet_inches, inches, pounds_ounces, span, money };

struct Form {
    std::string_view unit;
    double one = 1.0;  ///< SI value of one unit
    int decimals = 0;
    Style style = Style::fixed;
};

struct Row {
    Show show;
    Form metric, us;
    std::string_view suffix;
    double json_one = 1.0;
};

namespace u = unit;
constexpr std::string_view celsius = "\u00b0C", fahrenheit = "\u00b0F", degree = "\u00b0";

template <Dim D>
constexpr Form in(std::string_view name, Quantity<D> one, int decimals, Style style = Style::fixed) {
    return {name, one.si(), decimals, style};
}
constexpr Form number(double one, int decimals, Style style = Style::trimmed, std::string_view name = {}) {
    return {name, one, decimals, style};
}
constexpr Row same(Show show, Form form, std::string_view suffix, double json_one) {
    return {show, form, form, suffix, json_one};
}

/// In the order of `Show`. Temperatures: `one` is the size of a degree, the zero is handled in `displayed`.
constexpr std::array rows{
    same(Show::ratio, number(1.0, 3), "", 1.0),
    same(Show::percent, number(0.01, 1, Style::trimmed, "%"), "_percent", 0.01),
    same(Show::count, number(1.0, 0), "", 1.0),
    Row{Show::run_distance, in("m", u::m, 2), in("", u::in / 8.0, 0, Style::feet_inches), "_m", u::m.si()},
    Row{Show::tape, in("mm", u::mm, 0), in("", u::in / 8.0, 0, Style::inches), "_mm", u::mm.si()},
    Row{Show::thickness, in("mm", u::mm, 1), in("in", u::in, 2), "_mm", u::mm.si()},
    Row{Show::thin, in("mm", u::mm, 3), in("in", u::in, 4), "_mm", u::mm.si()},
    Row{Show::gauge_pressure, in("bar", u::bar, 2), in("psi", u::psi, 1), "_bar", u::bar.si()},
    Row{Show::test_pressure, in("mbar", u::mbar, 1), in("psi", u::psi, 2), "_mbar", u::mbar.si()},
    Row{Show::soil_pressure, in("kPa", u::kPa, 1), in("psf", u::psf, 0), "_kpa", u::kPa.si()},
    Row{Show::modulus, in("MPa", u::MPa, 0), in("psi", u::psi, 0), "_mpa", u::MPa.si()},
    Row{Show::force, in("N", u::N, 0), in("lbf", u::lbf, 0), "_n", u::N.si()},
    Row{Show::scale_mass, in("g", u::g, 0), in("", u::oz / 10.0, 0, Style::pounds_ounces), "_g", u::g.si()},
    Row{Show::big_mass, in("kg", u::kg, 2), in("lb", u::lb, 1), "_kg", u::kg.si()},
    Row{Show::spoil_mass, in("t", u::tonne, 1), in("US tons", u::us_ton, 1), "_t", u::tonne.si()},
    Row{Show::litres, in("l", u::litre, 2), in("gal", u::gallon, 2), "_litre", u::litre.si()},
    Row{Show::millilitres, in("ml", u::ml, 0), in("fl oz", u::fluid_ounce, 1), "_ml", u::ml.si()},
    Row{Show::big_volume, in("m3", u::m3, 2), in("yd3", u::yd3, 2), "_m3", u::m3.si()},
    Row{Show::area, in("m2", u::m2, 2), in("ft2", u::ft2, 1), "_m2", u::m2.si()},
    same(Show::minutes, in("min", u::minute, 0), "_min", u::minute.si()),
    same(Show::span, in("", u::minute, 0, Style::span), "_min", u::minute.si()),
    same(Show::seconds, in("s", u::s, 0), "_s", u::s.si()),
    Row{Show::temperature, in(celsius, u::K, 1, Style::trimmed), in(fahrenheit, u::K / 1.8, 0), "_c", 1.0},
    Row{Show::temperature_step, in("K", u::K, 1, Style::trimmed), in(fahrenheit, u::K / 1.8, 0), "_k", 1.0},
    Row{Show::energy, in("J", u::J, 0), in("ft lbf", u::ft_lbf, 0), "_j", u::J.si()},
    same(Show::angle, in(degree, u::deg, 1, Style::trimmed), "_deg", u::deg.si()),
    Row{Show::density, in("kg/m3", u::kg_m3, 0), in("lb/ft3", u::lb / u::ft3, 1), "_kg_m3", u::kg_m3.si()},
    Row{Show::unit_weight, in("kN/m3", u::kN_m3, 1), in("lb/ft3", u::pcf, 0), "_kn_m3", u::kN_m3.si()},
    Row{Show::areal_mass, in("g/m2", u::g_m2, 0), in("oz/ft2", u::oz / u::ft2, 2), "_g_m2", u::g_m2.si()},
    Row{Show::flow, in("l/s", u::litre_s, 2), in("gal/min", u::gallon / u::minute, 2), "_l_s", u::litre_s.si()},
    same(Show::conversion, number(1.0, 3, Style::fixed), "", 1.0),
    same(Show::molar_energy, in("kJ/mol", u::kJ_mol, 1), "_kj_mol", u::kJ_mol.si()),
    same(Show::specific_energy, in("J/g", u::J_g, 0), "_j_g", u::J_g.si()),
    same(Show::money, number(1.0, 0, Style::money), "", 100.0),
};

constexpr bool in_order() {
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (rows[i].show != static_cast<Show>(i)) return false;
    return rows.size() == static_cast<std::size_t>(Show::money) + 1;
}
static_assert(in_order(), "one row for each Show, in its order");

const Row& row_of(Show show) { return rows[static_cast<std::size_t>(show)]; }
const Form& form_of(Show show, UnitSystem system) {
    return system == UnitSystem::metric ? row_of(show).metric : row_of(show).us;
}

/// The value in the form's unit.
double displayed(Show show, double si, const Form& form) {
    if (show != Show::temperature) return si / form.one;
    const Temperature point = Temperature::kelvin(si);
    return form.one == u::K.si() ? point.in_celsius() : point.in_fahrenheit();
}

constexpr std::array<std::int64_t, 5> powers{1, 10, 100, 1000, 10000};

/// Whole steps of the last digit shown. The allowance of a part in 10^12 stops a decimal half that binary holds
/// a hair too low (345.5 mm as 0.3455 m / 0.001) from going the wrong way, and never comes to a step itself; downwards
/// and upwards a billionth of a step is noise of the arithmetic, as it is where minutes become clock times.
std::int64_t whole_steps(double value, Rounding rounding) {
    if (!std::isfinite(value) || std::abs(value) >= 1e15)
        throw RangeError("a figure to be shown is not a number of at most 15 digits");
    const double allowance = std::min(std::abs(value) * 1e-12, 0.01);
    switch (rounding) {
        case Rounding::down:
            return static_cast<std::int64_t>(std::floor(value + std::max(allowance, 1e-9)));
        case Rounding::up:
            return static_cast<std::int64_t>(std::ceil(value - std::max(allowance, 1e-9)));
        case Rounding::nearest:
            break;
    }
    const auto magnitude = static_cast<std::int64_t>(std::floor(std::abs(value) + allowance + 0.5));
    return value < 0.0 ? -magnitude : magnitude;
}

std::string decimal(std::int64_t steps, int decimals, bool trim) {
    const std::int64_t power = powers[static_cast<std::size_t>(decimals)];
    const std::int64_t magnitude = std::abs(steps);
    std::string out = fmt::format("{}{}", steps < 0 ? "-" : "", magnitude / power);
    if (decimals > 0) out += fmt::format(".{:0{}}", magnitude % power, decimals);
    if (decimals > 0 && trim) {
        out.erase(out.find_last_not_of('0') + 1);
        if (out.back() == '.') out.pop_back();
    }
    return out;
}

/// `eighths` below zero are handled by the caller. "13 5/8 in", "0 1/4 in" only after feet.
std::string inch_text(std::int64_t eighths, bool after_feet) {
    const std::int64_t whole = eighths / 8;
    std::int64_t top = eighths % 8, bottom = 8;
    if (top == 0) return fmt::format("{} in", whole);
    while (top % 2 == 0) {
        top /= 2;
        bottom /= 2;
    }
    if (whole == 0 && !after_feet) return fmt::format("{}/{} in", top, bottom);
    return fmt::format("{} {}/{} in", whole, top, bottom);
}

std::string compound(std::int64_t steps, Style style) {
    const std::int64_t magnitude = std::abs(steps);
    const std::string_view sign = steps < 0 ? "-" : "";
    if (style == Style::pounds_ounces) {  // tenths of an ounce, 160 to the pound
        const std::string ounces = decimal(magnitude % 160, 1, false);
        return magnitude < 160 ? fmt::format("{}{} oz", sign, ounces)
                               : fmt::format("{}{} lb {} oz", sign, magnitude / 160, ounces);
    }
    if (style == Style::span) {
        const std::int64_t hours = magnitude / 60, minutes = magnitude % 60;
        std::string text{sign};
        if (hours == 0) return text + decimal(minutes, 0, false) + " min";
        text += decimal(hours, 0, false) + " h";
        // "3 h 07 min": in a column of times a lone digit is read as tens.
        if (minutes > 0) text += fmt::format(" {:02} min", minutes);
        return text;
    }
    // A tape is read in inches alone as far as two feet.
    const std::int64_t foot = 96;
    const bool inches_only = style == Style::inches ? magnitude < 2 * foot : magnitude < foot;
    if (inches_only) return fmt::format("{}{}", sign, inch_text(magnitude, false));
    return fmt::format("{}{} ft {}", sign, magnitude / foot, inch_text(magnitude % foot, true));
}

/// The moduli of soils are small beside those of resins: three digits of them as well.
int decimals_of(Show show, const Form& form, double value) {
    if (show != Show::modulus || std::abs(value) >= 99.95) return form.decimals;
    return std::abs(value) >= 9.995 ? 1 : 2;
}

std::string figure(Show show, double si, UnitSystem system, Rounding rounding) {
    const Form& form = form_of(show, system);
    const double value = displayed(show, si, form);
    switch (form.style) {
        case Style::fixed:
        case Style::trimmed: {
            const int decimals = decimals_of(show, form, value);
            const auto power = static_cast<double>(powers[static_cast<std::size_t>(decimals)]);
            return decimal(whole_steps(value * power, rounding), decimals, form.style == Style::trimmed);
        }
        case Style::money:
            return decimal(whole_steps(value, rounding), 2, false);
        case Style::feet_inches:
        case Style::inches:
        case Style::pounds_ounces:
        case Style::span:
            break;
    }
    return compound(whole_steps(value, rounding), form.style);
}

std::string with_unit(Show show, double si, UnitSystem system, Rounding rounding) {
    std::string text = figure(show, si, system, rounding);
    const std::string_view label = form_of(show, system).unit;
    if (label.empty()) return text;
    if (label != degree) text += ' ';
    text += label;
    return text;
}

}  // namespace

std::string format(Show show, double si, UnitSystem system) { return with_unit(show, si, system, Rounding::nearest); }
std::string format_down(Show show, double si, UnitSystem system) { return with_unit(show, si, system, Rounding::down); }
std::string format_up(Show show, double si, UnitSystem system) { return with_unit(show, si, system, Rounding::up); }
std::string format_bare(Show show, double si, UnitSystem system) { return figure(show, si, system, Rounding::nearest); }
std::string unit_label(Show show, UnitSystem system) { return std::string{form_of(show, system).unit}; }
std::string_view json_suffix(Show show) { return row_of(show).suffix; }

double json_value(Show show, double si) {
    if (!std::isfinite(si)) throw RangeError("a figure to be written is not finite");
    const double value = show == Show::temperature ? Temperature::kelvin(si).in_celsius() : si / row_of(show).json_one;
    std::array<char, 32> buffer{};
    const auto written =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::scientific, 11);
    double rounded = value;
    std::from_chars(buffer.data(), written.ptr, rounded);
    return rounded == 0.0 ? 0.0 : rounded;  // never -0
}

std::string format(Money amount) {
    const std::string plain = decimal_text(amount);
    const std::size_t first = plain.front() == '-' ? 1 : 0, point = plain.size() - 3;
    std::string text;
    for (std::size_t i = 0; i < plain.size(); ++i) {
        if (i > first && i < point && (point - i) % 3 == 0) text += ',';
        text += plain[i];
    }
    if (!amount.currency().none()) text.append(" ").append(amount.currency().code());
    return text;
}

std::string format(ClockTime t) {
    const int day = 24 * 60;
    const int minutes = ((t.minutes % day) + day) % day;
    const auto digit = [](int value) { return static_cast<char>('0' + value); };
    const int h = minutes / 60, m = minutes % 60;
    return {digit(h / 10), digit(h % 10), ':', digit(m / 10), digit(m % 10)};
}

std::string format(Date d) { return fmt::format("{:04}-{:02}-{:02}", d.year, d.month, d.day); }

std::string format(ClockRange c) {
    if (c.full_ring) return "12-12";
    return c.from == c.to ? fmt::format("{}", c.from) : fmt::format("{}-{}", c.from, c.to);
}

}  // namespace patchwright
