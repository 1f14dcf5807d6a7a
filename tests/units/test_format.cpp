#include <catch2/catch.hpp>

#include <limits>
#include <string>

#include "patchwright/units/error.hpp"
#include "patchwright/units/format.hpp"

using namespace patchwright;

namespace {
constexpr UnitSystem metric = UnitSystem::metric, us = UnitSystem::us;
std::string tape_us(double inches) { return format(Show::tape, inches * unit::in, us); }
std::string run_us(double inches) { return format(Show::run_distance, inches * unit::in, us); }
std::string mm(double millimetres) { return format(Show::tape, millimetres * unit::mm, metric); }
}  // namespace

TEST_CASE("each kind of figure in both systems", "[units][format]") {
    struct Row {
        Show show;
        double si;
        const char* metric;
        const char* us;
    };
    const double c9 = Temperature::celsius(9.0).in_kelvin();
    // Second forms computed with NIST SP 811 factors.
    const auto row = GENERATE_COPY(
        Row{Show::ratio, 0.836, "0.836", "0.836"}, Row{Show::ratio, 7.0, "7", "7"},
        Row{Show::percent, 0.02, "2 %", "2 %"}, Row{Show::percent, 0.125, "12.5 %", "12.5 %"},
        Row{Show::count, 3.0, "3", "3"}, Row{Show::run_distance, 6.8, "6.80 m", "22 ft 3 3/4 in"},
        Row{Show::tape, 0.345, "345 mm", "13 5/8 in"}, Row{Show::thickness, 0.003, "3.0 mm", "0.12 in"},
        Row{Show::thin, 0.001203, "1.203 mm", "0.0474 in"}, Row{Show::gauge_pressure, 65000.0, "0.65 bar", "9.4 psi"},
        Row{Show::test_pressure, 10000.0, "100.0 mbar", "1.45 psi"},
        Row{Show::soil_pressure, 12300.0, "12.3 kPa", "257 psf"},
        Row{Show::modulus, 250000 * unit::psi.si(), "1724 MPa", "250000 psi"},
        Row{Show::modulus, 1000 * unit::psi.si(), "6.89 MPa", "1000 psi"},
        Row{Show::modulus, 13.8e6, "13.8 MPa", "2002 psi"}, Row{Show::force, 785.0, "785 N", "176 lbf"},
        Row{Show::scale_mass, 1.25, "1250 g", "2 lb 12.1 oz"}, Row{Show::big_mass, 1.25, "1.25 kg", "2.8 lb"},
        Row{Show::spoil_mass, 4200.0, "4.2 t", "4.6 US tons"}, Row{Show::litres, 0.00112, "1.12 l", "0.30 gal"},
        Row{Show::millilitres, 0.00025, "250 ml", "8.5 fl oz"}, Row{Show::big_volume, 2.7, "2.70 m3", "3.53 yd3"},
        Row{Show::area, 1.8, "1.80 m2", "19.4 ft2"}, Row{Show::minutes, 1500.0, "25 min", "25 min"},
        Row{Show::span, 12000.0, "3 h 20 min", "3 h 20 min"}, Row{Show::seconds, 113.3, "113 s", "113 s"},
        Row{Show::temperature, c9, "9 °C", "48 °F"}, Row{Show::temperature_step, 3.0, "3 K", "5 °F"},
        Row{Show::energy, 704.0, "704 J", "519 ft lbf"}, Row{Show::angle, unit::deg.si() * 45.0, "45°", "45°"},
        Row{Show::density, 1120.0, "1120 kg/m3", "69.9 lb/ft3"},
        Row{Show::unit_weight, 18850.0, "18.9 kN/m3", "120 lb/ft3"},
        Row{Show::areal_mass, 0.62, "620 g/m2", "2.03 oz/ft2"}, Row{Show::flow, 2e-5, "0.02 l/s", "0.32 gal/min"},
        Row{Show::conversion, 0.577, "0.577", "0.577"}, Row{Show::molar_energy, 57000.0, "57.0 kJ/mol", "57.0 kJ/mol"},
        Row{Show::specific_energy, 4e5, "400 J/g", "400 J/g"}, Row{Show::money, 123450.0, "1234.50", "1234.50"});
    CAPTURE(row.metric);
    CHECK(format(row.show, row.si, metric) == row.metric);
    CHECK(format(row.show, row.si, us) == row.us);
}

TEST_CASE("a tape in feet, inches and eighths carries over", "[units][format]") {
    CHECK(tape_us(0.0) == "0 in");
    CHECK(tape_us(0.125) == "1/8 in");
    CHECK(tape_us(0.25) == "1/4 in");
    CHECK(tape_us(0.5) == "1/2 in");
    CHECK(tape_us(11.99) == "12 in");
    CHECK(tape_us(23.9) == "23 7/8 in");
    CHECK(tape_us(23.95) == "2 ft 0 in");
    CHECK(tape_us(75.25) == "6 ft 3 1/4 in");
    CHECK(tape_us(72.25) == "6 ft 0 1/4 in");
    CHECK(tape_us(71.99) == "6 ft 0 in");
    CHECK(tape_us(-75.25) == "-6 ft 3 1/4 in");
    CHECK(tape_us(-0.05) == "0 in");
    CHECK(run_us(11.93) == "11 7/8 in");
    CHECK(run_us(11.94) == "1 ft 0 in");
    CHECK(run_us(6.0) == "6 in");
    CHECK(format(Show::scale_mass, 15.97 * unit::oz, us) == "1 lb 0.0 oz");
    CHECK(format(Show::scale_mass, 15.94 * unit::oz, us) == "15.9 oz");
    CHECK(format(Show::scale_mass, 31.96 * unit::oz, us) == "2 lb 0.0 oz");
    CHECK(format(Show::span, 59.6 * unit::minute, metric) == "1 h");
    CHECK(format(Show::span, 25.0 * unit::minute, metric) == "25 min");
    CHECK(format(Show::span, 119.9 * unit::minute, metric) == "2 h");
    CHECK(format(Show::span, 187.0 * unit::minute, metric) == "3 h 07 min");
    CHECK(format(Show::span, 7.0 * unit::minute, metric) == "7 min");
    CHECK(format(Show::span, -80.0 * unit::minute, metric) == "-1 h 20 min");
}

TEST_CASE("rounding is half away from zero and never gives -0", "[units][format]") {
    CHECK(mm(0.5) == "1 mm");
    CHECK(mm(2.5) == "3 mm");
    CHECK(mm(-2.5) == "-3 mm");
    CHECK(mm(345.5) == "346 mm");  // 0.3455 m / 0.001 m is 345.49999999999994
    // 63,663,336 in x 25.4: thirteen digits are still right to the last.
    CHECK(format(Show::thin, 1617048.7344 * unit::m, UnitSystem::metric) == "1617048734.400 mm");
    CHECK(mm(-0.4) == "0 mm");
    CHECK(mm(0.499999) == "0 mm");
    CHECK(format(Show::thickness, -0.04 * unit::mm, metric) == "0.0 mm");
    CHECK(format(Show::thickness, 1.05 * unit::mm, metric) == "1.1 mm");
    CHECK(format(Show::gauge_pressure, 0.005 * unit::bar, metric) == "0.01 bar");
    CHECK(format(Show::percent, 0.0005, metric) == "0.1 %");
    CHECK(format(Show::temperature, Temperature::celsius(-0.04), metric) == "0 °C");
    CHECK(format(Show::temperature, Temperature::celsius(9.44), metric) == "9.4 °C");
    CHECK(format(Show::temperature, Temperature::fahrenheit(-0.4), us) == "0 °F");
}

TEST_CASE("limits are shown on the safe side", "[units][format]") {
    CHECK(format_down(Show::gauge_pressure, 0.699 * unit::bar, metric) == "0.69 bar");
    CHECK(format_down(Show::gauge_pressure, 0.70 * unit::bar, metric) == "0.70 bar");
    CHECK(format_down(Show::gauge_pressure, 0.8 * unit::bar, us) == "11.6 psi");   // 11.603
    CHECK(format_down(Show::gauge_pressure, 0.89 * unit::bar, us) == "12.9 psi");  // 12.908
    CHECK(format_up(Show::gauge_pressure, 0.301 * unit::bar, metric) == "0.31 bar");
    CHECK(format_up(Show::gauge_pressure, 0.30 * unit::bar, metric) == "0.30 bar");
    CHECK(format_up(Show::gauge_pressure, 0.3 * unit::bar, us) == "4.4 psi");  // 4.351
    CHECK(format_up(Show::span, 61.0 * unit::s, metric) == "2 min");
    CHECK(format_down(Show::span, 119.0 * unit::s, metric) == "1 min");
    CHECK(format_down(Show::thickness, -1.01 * unit::mm, metric) == "-1.1 mm");
}

TEST_CASE("column form: figure and unit apart", "[units][format]") {
    CHECK(format_bare(Show::gauge_pressure, 65000.0, metric) == "0.65");
    CHECK(unit_label(Show::gauge_pressure, metric) == "bar");
    CHECK(unit_label(Show::gauge_pressure, us) == "psi");
    CHECK(format_bare(Show::tape, 1.0, us) == "3 ft 3 3/8 in");
    CHECK(unit_label(Show::tape, us).empty());
    CHECK(format_bare(Show::angle, unit::deg.si() * 22.5, metric) == "22.5");
}

TEST_CASE("JSON numbers are clean and in the unit of their key", "[units][format]") {
    CHECK(json_suffix(Show::run_distance) == "_m");
    CHECK(json_suffix(Show::tape) == "_mm");
    CHECK(json_suffix(Show::span) == "_min");
    CHECK(json_suffix(Show::litres) == "_litre");
    CHECK(json_suffix(Show::ratio).empty());
    CHECK(json_value(Show::thin, 0.001203) == 1.203);
    CHECK(json_value(Show::tape, 0.0695) == 69.5);
    CHECK(json_value(Show::gauge_pressure, 65000.0) == 0.65);
    CHECK(json_value(Show::temperature, Temperature::celsius(9.4).in_kelvin()) == 9.4);
    CHECK(json_value(Show::money, 123450.0) == 1234.5);
    CHECK_FALSE(std::signbit(json_value(Show::tape, -0.0)));
}

TEST_CASE("money, clock and date on paper", "[units][format][money]") {
    const Currency eur{"EUR"};
    CHECK(format(Money::cents(123450, eur)) == "1,234.50 EUR");
    CHECK(format(Money::cents(123456789012, eur)) == "1,234,567,890.12 EUR");
    CHECK(format(Money::cents(-123450, eur)) == "-1,234.50 EUR");
    CHECK(format(Money::cents(-12345, eur)) == "-123.45 EUR");
    CHECK(format(Money::cents(99999, eur)) == "999.99 EUR");
    CHECK(format(Money{}) == "0.00");
    CHECK(decimal_text(Money::cents(-5, eur)) == "-0.05");
    CHECK(decimal_text(Money::cents(std::numeric_limits<std::int64_t>::min(), eur)) == "-92233720368547758.08");
    CHECK(format(ClockTime{485}) == "08:05");
    CHECK(format(ClockTime{24 * 60 + 5}) == "00:05");
    CHECK(format(Date{2026, 4, 14}) == "2026-04-14");
    CHECK(format(ClockRange{10, 2, false}) == "10-2");
    CHECK(format(ClockRange{2, 2, false}) == "2");
    CHECK(format(ClockRange{12, 12, true}) == "12-12");
}

TEST_CASE("no figure is made of what is not a number", "[units][format][error]") {
    const double bad =
        GENERATE(std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(), 1e18);
    CHECK_THROWS_AS(format(Show::tape, bad, metric), RangeError);
    CHECK_THROWS_AS(format(Show::tape, bad, us), RangeError);
    if (bad != 1e18) CHECK_THROWS_AS(json_value(Show::tape, bad), RangeError);
    // Fifteen digits and no more: 999,999,999,999,999 mm.
    CHECK(format(Show::tape, 999'999'999'999.999, metric) == "999999999999999 mm");
    CHECK_THROWS_AS(format(Show::tape, 1'000'000'000'000.0, metric), RangeError);
}
