#include <catch2/catch.hpp>

#include "patchwright/units/parse.hpp"

using namespace patchwright;

TEST_CASE("forms of numbers and compounds", "[units][parse]") {
    struct Row {
        const char* text;
        double mm;
    };
    const auto row = GENERATE(
        Row{"100 mm", 100.0}, Row{"100mm", 100.0}, Row{" 100  mm ", 100.0}, Row{".5 in", 12.7}, Row{"4 1/2 in", 114.3},
        Row{"4-1/2 in", 114.3}, Row{"3/8 in", 9.525}, Row{"9/8 in", 28.575}, Row{"6 ft 3 in", 1905.0},
        Row{"6ft3in", 1905.0}, Row{"6'3\"", 1905.0}, Row{"6' 3 1/2\"", 1917.7}, Row{"6 ft 0 1/4 in", 1835.15},
        Row{"-6 ft 3 in", -1905.0}, Row{"\u22124 in", -101.6}, Row{"+4 in", 101.6}, Row{"1 m 20 cm", 1200.0},
        Row{"0 mm", 0.0}, Row{"2 yd 1 ft", 2133.6}, Row{"007 mm", 7.0}, Row{"0.000001 km", 1.0}, Row{"1/3 ft", 101.6});
    CAPTURE(row.text);
    const auto parsed = parse_length(row.text);
    REQUIRE(parsed);
    CHECK(parsed->in(unit::mm) == Approx(row.mm).epsilon(1e-14));
}

TEST_CASE("compounds of time and mass", "[units][parse]") {
    CHECK(parse_duration("1 h 30 min")->in(unit::minute) == Approx(90.0));
    CHECK(parse_duration("1h30min")->in(unit::minute) == Approx(90.0));
    CHECK(parse_duration("1 day 2 h 3 min 4 s")->in(unit::s) == Approx(93784.0));
    CHECK(parse_duration("90 min")->in(unit::h) == Approx(1.5));
    CHECK(parse_mass("2 lb 3 oz")->in(unit::oz) == Approx(35.0));
    CHECK(parse_mass("2 lb 12.1 oz")->in(unit::oz) == Approx(44.1));
    CHECK(parse_mass("1 kg 250 g")->in(unit::g) == Approx(1250.0));
}

TEST_CASE("spellings of a unit mean one unit", "[units][parse]") {
    CHECK(parse_area("2 m²")->in(unit::m2) == Approx(2.0));
    CHECK(parse_area("2 m^2")->in(unit::m2) == Approx(2.0));
    CHECK(parse_volume("2 m³")->in(unit::m3) == Approx(2.0));
    CHECK(parse_volume("8.5 fl oz")->in(unit::fluid_ounce) == Approx(8.5));
    CHECK(parse_specific_heat("1800 J/(kg K)")->si() == Approx(1800.0));
    CHECK(parse_specific_heat("1800 J/(kg·K)")->si() == Approx(1800.0));
    CHECK(parse_specific_heat("1800 J / (kg*K)")->si() == Approx(1800.0));
    CHECK(parse_conductivity("0.2 W/(m·K)")->si() == Approx(0.2));
    CHECK(parse_volume_flow("5 gpm")->si() == parse_volume_flow("5 gal/min")->si());
    CHECK(parse_angle("45°")->si() == parse_angle("45 deg")->si());
    CHECK(parse_mass("3 US tons")->in(unit::lb) == Approx(6000.0));
}

TEST_CASE("temperature points are no differences", "[units][parse]") {
    CHECK(parse_temperature("9 C")->in_celsius() == Approx(9.0));
    CHECK(parse_temperature("9 °C")->in_celsius() == Approx(9.0));
    CHECK(parse_temperature("-5.5 °C")->in_celsius() == Approx(-5.5));
    CHECK(parse_temperature("48 F")->in_celsius() == Approx(80.0 / 9.0));
    CHECK(parse_temperature("212 °F")->in_celsius() == Approx(100.0));
    CHECK(parse_temperature("-40 F")->in_celsius() == Approx(-40.0));
    CHECK(parse_temperature("282.15 K")->in_celsius() == Approx(9.0));
    CHECK(parse_temperature("0 K")->in_kelvin() == 0.0);
    CHECK(parse_temperature_difference("9 C")->in(unit::K) == Approx(9.0));
    CHECK(parse_temperature_difference("9 F")->in(unit::K) == Approx(5.0));
    CHECK_FALSE(parse_temperature("-274 C"));
    CHECK_FALSE(parse_temperature("-1 K"));
}

TEST_CASE("percentages and plain numbers", "[units][parse]") {
    CHECK(*parse_percent("2 %") == 2.0);
    CHECK(*parse_percent("2%") == 2.0);
    CHECK(*parse_percent("12.5 percent") == 12.5);
    CHECK(*parse_percent("1/2 %") == 0.5);
    CHECK(*parse_percent("-3 %") == -3.0);
    CHECK(*parse_number("0.5") == 0.5);
    CHECK(*parse_number("3/4") == 0.75);
    CHECK(*parse_number(" -2 ") == -2.0);
}

TEST_CASE("money and rates", "[units][parse][money]") {
    CHECK(parse_money("38.50 EUR")->in_cents() == 3850);
    CHECK(parse_money("38.5 EUR")->in_cents() == 3850);
    CHECK(parse_money("38 EUR")->in_cents() == 3800);
    CHECK(parse_money("-0.07 USD")->in_cents() == -7);
    CHECK(parse_money("0.29 GBP")->in_cents() == 29);  // 0.29 * 100 is 28.999… in binary
    CHECK(parse_money("90000000000.00 EUR")->in_cents() == 9'000'000'000'000);
    CHECK(parse_money("38.50 EUR")->currency() == Currency{"EUR"});

    CHECK(cost(*parse_rate<Duration>("62.00 EUR/h"), 90.0 * unit::minute).in_cents() == 9300);
    CHECK(cost(*parse_rate<Length>("10.00 EUR/ft"), 2.0 * unit::yd).in_cents() == 6000);
    CHECK(cost(*parse_rate<Area>("24.00 EUR/m2"), 0.38 * unit::m2).in_cents() == 912);
    CHECK(cost(*parse_rate<Mass>("18 EUR / kg"), 1250.0 * unit::g).in_cents() == 2250);
    CHECK(cost(*parse_rate<Volume>("45.00 EUR/m³"), 2.7 * unit::m3).in_cents() == 12150);
}
