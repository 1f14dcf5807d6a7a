#include "patchwright/leaktest/leaktest.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::leaktest {
namespace {

constexpr std::string_view page = "leaktest";
constexpr std::string_view en_air = "EN 1610, 13.2, air test";
constexpr std::string_view en_water = "EN 1610, 13.3, water test";
constexpr std::string_view astm = "ASTM F1417, time for 0.5 psi drop";

constexpr std::array rate_inputs{Symbol{"c", "12 mm/min; dry concrete 16 mm/min", Show::ratio},
                                 Symbol{"D", "bore", Show::tape}};
constexpr Formula rate_formula{"en1610.kp",
                               {"Kp", "rate of pressure loss, 1/min", Show::conversion},
                               "Kp = min(0.058, c / D), D in mm",
                               rate_inputs,
                               en_air,
                               page};
constexpr std::array en_time_inputs{Symbol{"Kp", "rate of pressure loss, 1/min", Show::conversion},
                                    Symbol{"p0", "test pressure", Show::test_pressure},
                                    Symbol{"dp", "allowed drop", Show::test_pressure}};
constexpr Formula en_time_formula{"en1610.time",
                                  {"t", "test time, computed", Show::seconds},
                                  "t = (1 / Kp) ln(p0 / (p0 - dp)) min",
                                  en_time_inputs,
                                  en_air,
                                  page};
constexpr std::array rounding_inputs{Symbol{"t", "test time, computed", Show::seconds}};
constexpr Formula rounding_formula{"en1610.rounded",
                                   {"t", "test time", Show::seconds},
                                   "to half a minute up to 5 min, to the minute above",
                                   rounding_inputs,
                                   en_air,
                                   page};

constexpr std::array length_factor_inputs{Symbol{"D", "bore, in", Show::ratio}, Symbol{"L", "length, ft", Show::ratio}};
constexpr Formula length_factor_formula{
    "f1417.k", {"K", "length factor", Show::ratio}, "K = max(1, 0.000419 D L)", length_factor_inputs, astm, page};
constexpr std::array f1417_inputs{Symbol{"D", "bore, in", Show::ratio}, Symbol{"K", "length factor", Show::ratio},
                                  Symbol{"Q", "leakage rate in thousandths of cfm/ft2", Show::ratio}};
constexpr Formula f1417_formula{
    "f1417.time", {"T", "test time", Show::seconds}, "T = 0.085 D K / (Q/1000) / 2 s", f1417_inputs, astm, page};

constexpr std::array wetted_inputs{Symbol{"D", "bore", Show::tape}, Symbol{"L", "length", Show::run_distance}};
constexpr Formula wetted_formula{
    "en1610.wetted", {"A", "wetted wall", Show::area}, "A = pi D L", wetted_inputs, "geometry", page};
constexpr std::array allowed_inputs{Symbol{"A", "wetted wall", Show::area}};
constexpr Formula allowed_formula{"en1610.water",    {"V", "water that may be added in 30 min", Show::litres},
                                  "V = 0.15 l/m2 A", allowed_inputs,
                                  en_water,          page};
constexpr Formula fill_formula{
    "en1610.fill", {"F", "water to fill the pipe", Show::litres}, "F = pi D^2 / 4 L", wetted_inputs, "geometry", page};

void require_pipe(Length bore, Length length, Length greatest_bore, std::string_view instead) {
    if (!is_finite(bore) || !is_finite(length) || bore <= Length{} || length <= Length{})
        throw RangeError("leak test: bore and length must be above zero");
    if (bore > greatest_bore)
        throw RangeError(fmt::format(
            "leak test: the bore of {:.0f} mm lies beyond the standard's table, which ends at {:.0f} mm; {}",
            bore.in(unit::mm), greatest_bore.in(unit::mm), instead));
}

struct EnLevel {
    Pressure start, drop;
};
EnLevel en_level(AirMethod method) {
    switch (method) {
        case AirMethod::la:
            return {10.0 * unit::mbar, 2.5 * unit::mbar};
        case AirMethod::lb:
            return {50.0 * unit::mbar, 10.0 * unit::mbar};
        case AirMethod::lc:
            return {100.0 * unit::mbar, 15.0 * unit::mbar};
        case AirMethod::ld:
        case AirMethod::f1417:
            break;
    }
    return {200.0 * unit::mbar, 15.0 * unit::mbar};
}

AirTest en_1610(AirMethod method, Length bore, Length length, Wall wall, Working& working) {
    require_pipe(bore, length, 1000.0 * unit::mm, "test with water instead");
    const EnLevel level = en_level(method);
    const double numerator = wall == Wall::dry_concrete ? 16.0 : 12.0;
    const double dn_mm = bore.in(unit::mm);
    const double rate_per_min = std::min(0.058, numerator / dn_mm);
    working.add(rate_formula, {numerator, {bore, Origin::given}}, rate_per_min);

    const double minutes = std::log(level.start / (level.start - level.drop)) / rate_per_min;
    working.add(en_time_formula, {rate_per_min, {level.start, Origin::looked_up}, {level.drop, Origin::looked_up}},
                minutes * unit::minute);
    const double rounded = minutes <= 5.0 ? std::round(2.0 * minutes) / 2.0 : std::round(minutes);
    working.add(rounding_formula, {minutes * unit::minute}, rounded * unit::minute);

    const double settling = std::max(5.0, dn_mm / 100.0);
    return {level.start, level.drop, rounded * unit::minute, settling * unit::minute};
}

AirTest astm_f1417(Length bore, Length length, Working& working) {
    require_pipe(bore, length, 36.0 * unit::in, "test the joints one by one instead");
    const double d_in = bore.in(unit::in), l_ft = length.in(unit::ft);
    const double k = std::max(1.0, 0.000419 * d_in * l_ft);
    working.add(length_factor_formula, {{d_in, Origin::given}, {l_ft, Origin::given}}, k);
    const double q_cfm_ft2 = 0.0015;
    const Duration time = 0.085 * d_in * k / q_cfm_ft2 / 2.0 * unit::s;
    working.add(f1417_formula, {{d_in, Origin::given}, k, {1e3 * q_cfm_ft2, Origin::looked_up}}, time);
    return {3.5 * unit::psi, 0.5 * unit::psi, time, 2.0 * unit::minute};
}

}  // namespace

AirTest air_test(AirMethod method, Length bore, Length length, Working& working, Wall wall) {
    if (method == AirMethod::f1417) return astm_f1417(bore, length, working);
    return en_1610(method, bore, length, wall, working);
}

WaterTest water_test(Length bore, Length length, Working& working) {
    require_pipe(bore, length, bore, "");
    WaterTest test;
    test.min_pressure = 100.0 * unit::mbar;
    test.max_pressure = 500.0 * unit::mbar;
    test.soaking = 1.0 * unit::h;
    test.time = 30.0 * unit::minute;
    test.wetted = std::numbers::pi * (bore * length);
    working.add(wetted_formula, {{bore, Origin::given}, {length, Origin::given}}, test.wetted);
    test.allowed = (0.15 * unit::litre / unit::m2) * test.wetted;
    working.add(allowed_formula, {test.wetted}, test.allowed);
    test.fill = std::numbers::pi / 4.0 * (bore * bore * length);
    working.add(fill_formula, {{bore, Origin::given}, {length, Origin::given}}, test.fill);
    return test;
}

}  // namespace patchwright::leaktest
