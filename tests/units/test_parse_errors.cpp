#include <catch2/catch.hpp>

#include <string>

#include "patchwright/units/parse.hpp"

using namespace patchwright;
using Catch::Contains;

namespace {

/// The part of `text` that the error points at.
template <class T>
std::string pointed_at(std::string_view text, const Parsed<T>& parsed) {
    return std::string{text.substr(parsed.error().offset, parsed.error().length)};
}

}  // namespace

TEST_CASE("a length that cannot be read says where and what would be right", "[units][parse][error]") {
    struct Row {
        const char* text;
        const char* at;
        const char* message;
    };
    const auto row = GENERATE(
        Row{"", "", "give a length, such as \"100 mm\""},
        Row{"100", "100", "give a length with its unit, such as \"100 mm\""},
        Row{"4 1/2", "4 1/2", "give a length with its unit"}, Row{"1,5 m", ",", "point as the decimal mark"},
        Row{"1,000 mm", ",", "no mark between thousands"}, Row{"1_000 mm", "_", "no mark between thousands"},
        Row{"1 000 mm", "000", "no mark between thousands"}, Row{"1e3 mm", "e", "without an exponent"},
        Row{"1E-3 m", "E", "without an exponent"}, Row{"nan mm", "nan", "not a number"},
        Row{"inf mm", "inf", "not a number"}, Row{"-inf mm", "inf", "not a number"}, Row{"mm", "mm", "not a number"},
        Row{"1.5.2 m", ".", "one decimal point"}, Row{"5. mm", ".", "digits must follow"},
        Row{". mm", ".", "digits must follow"}, Row{"5 mmm", "mmm", "did you mean \"mm\"?"},
        Row{"5 MM", "MM", "did you mean \"mm\"?"}, Row{"5 metrs", "metrs", "did you mean \"metre"},
        Row{"5 mx", "mx", "give a length in mm, cm, m, in or ft"}, Row{"1e3", "e", "without an exponent"},
        Row{"5 mtre", "mtre", "did you mean \"metre\"?"}, Row{"5 meetre", "meetre", "did you mean \"metre\"?"},
        // Three letters away is a guess, and no hint.
        Row{"5 xxmetrex", "xxmetrex", "unknown unit \"xxmetrex\"; give a length in mm"},
        Row{"5 cubit", "cubit", "give a length in mm, cm, m, in or ft"}, Row{"5 kg", "kg", "\"kg\" is a unit of mass"},
        Row{"5 m2", "m2", "\"m2\" is a unit of area"}, Row{"6 ft3", "ft3", "\"ft3\" is a unit of volume"},
        Row{"5 bar", "bar", "unit of pressure"}, Row{"6 ft 30 mm", "mm", "\"mm\" cannot follow \"ft\""},
        Row{"3 in 6 ft", "ft", "the larger unit comes first"}, Row{"6 ft 2 ft", "ft", "the larger unit comes first"},
        Row{"6 ft 3", "3", "the last number has no unit"},
        Row{"6 ft -3 in", "-", "only the first number may carry a sign"},
        Row{"--3 in", "-", "only the first number may carry a sign"}, Row{"-", "-", "a number is missing"},
        Row{"4 3/2 in", "3/2", "must be below one"}, Row{"4 8/8 in", "8/8", "must be below one"},
        Row{"1/0 in", "0", "over zero"}, Row{"1.5/2 in", "1.5", "whole numbers"},
        Row{"10 x 20 mm", "x", "unknown unit"});
    CAPTURE(row.text);
    const auto parsed = parse_length(row.text);
    REQUIRE_FALSE(parsed);
    CHECK_THAT(parsed.error().message, Contains(row.message));
    CHECK(pointed_at(row.text, parsed) == row.at);
}

TEST_CASE("numbers that no double holds are refused", "[units][parse][error]") {
    const std::string huge(400, '9'), deep = "0." + std::string(400, '0') + "1";
    CHECK_THAT(parse_length(huge + " m").error().message, Contains("too large"));
    CHECK_THAT(parse_length(deep + " m").error().message, Contains("too small"));
    CHECK_THAT(parse_length(std::string(308, '9') + " km").error().message, Contains("too large"));
    for (const std::string& text : {"1/" + huge + " m", huge + "/2 m", "4 " + huge + "/2 in", "4 1/" + huge + " in"}) {
        const auto parsed = parse_length(text);
        REQUIRE_FALSE(parsed);
        CHECK_THAT(parsed.error().message, Contains("too large"));
    }
    CHECK_FALSE(parse_percent(huge + " %"));
    CHECK_FALSE(parse_temperature(std::string(309, '9') + " F"));
    CHECK_THAT(parse_money(huge + " EUR").error().message, Contains("too large"));
    CHECK_THAT(parse_money("90000000000.01 EUR").error().message, Contains("too large"));
    CHECK(pointed_at(" 90000000000.01 EUR", parse_money(" 90000000000.01 EUR")) == "90000000000.01");
    CHECK(pointed_at(" 900000000000 EUR", parse_money(" 900000000000 EUR")) == "900000000000");
}

TEST_CASE("hints for pressure, percent and temperature", "[units][parse][error]") {
    CHECK_THAT(parse_pressure("5 psig").error().message,
               Contains("write plain \"psi\"") && Contains("gauge or absolute"));
    CHECK_THAT(parse_pressure("5 bara").error().message, Contains("write plain \"bar\""));
    CHECK_THAT(parse_pressure("0.8").error().message, Contains("give a pressure with its unit, such as \"0.8 bar\""));
    CHECK_THAT(parse_percent("2").error().message, Contains("with its sign, such as \"2 %\""));
    CHECK_THAT(parse_percent("2 mm").error().message, Contains("not a percent sign"));
    CHECK_THAT(parse_temperature("9").error().message, Contains("give a temperature with its unit, such as \"9 C\""));
    CHECK_THAT(parse_temperature("9 c").error().message, Contains("did you mean \"C\"?"));
    CHECK_THAT(parse_volume("5 galons").error().message, Contains("did you mean \"gallons\"?"));
    CHECK_THAT(parse_duration("5 minuts").error().message, Contains("did you mean \"minute\"?"));
    CHECK_THAT(parse_percent("+").error().message, Contains("a number is missing"));
    CHECK_THAT(parse_number("2 mm").error().message, Contains("leave out \"mm\""));
    CHECK_THAT(parse_volume("5 oz").error().message, Contains("unit of mass"));
}

TEST_CASE("hints for money", "[units][parse][error][money]") {
    CHECK_THAT(parse_money("38.50").error().message, Contains("an amount with its currency, such as \"38.50 EUR\""));
    CHECK_THAT(parse_money("38,50 EUR").error().message, Contains("point as the decimal mark"));
    CHECK_THAT(parse_money("1,234.50 EUR").error().message, Contains("no mark between thousands"));
    CHECK_THAT(parse_money("38.505 EUR").error().message, Contains("at most two decimals"));
    CHECK_THAT(parse_money("EUR 38.50").error().message, Contains("write the amount first"));
    CHECK_THAT(parse_money("38.50 eur").error().message, Contains("three capital letters"));
    CHECK_THAT(parse_money("38.50 EURO").error().message, Contains("three capital letters"));
    CHECK_THAT(parse_money("38.50 EUR/h").error().message, Contains("nothing may follow"));
    CHECK_THAT(parse_money("1/2 EUR").error().message, Contains("decimal point"));
    CHECK_THAT(parse_rate<Duration>("62.00 EUR").error().message,
               Contains("a price per unit, such as \"62.00 EUR/h\""));
    CHECK_THAT(parse_rate<Duration>("62.00 EUR/").error().message, Contains("a unit must follow"));
    CHECK_THAT(parse_rate<Duration>("62.00 EUR/m").error().message, Contains("\"m\" is a unit of length"));
    CHECK_THAT(parse_rate<Length>("62.00 EUR/10 m").error().message, Contains("for one unit"));
    CHECK_THAT(parse_rate<Length>("62.00/m").error().message, Contains("three capital letters"));
}
