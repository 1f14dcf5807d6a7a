#include <catch2/catch.hpp>

#include <string>

#include "patchwright/units/format.hpp"
#include "patchwright/units/parse.hpp"

using namespace patchwright;

TEST_CASE("forms of numbers and compounds", "[units]") {
    struct Row {
        const char* text;
        double mm;
    };
    const auto row =
        GENERATE(Row{"100 mm", 100.0}, Row{"100mm", 100.0}, Row{" 100  mm ", 100.0}, Row{".5 in", 12.7},
                 Row{"4 1/2 in", 114.3}, Row{"4-1/2 in", 114.3}, Row{"3/8 in", 9.525}, Row{"6 ft 3 in", 1905.0},
                 Row{"6ft3in", 1905.0}, Row{"6'3\"", 1905.0}, Row{"6 ft 3 1/2 in", 1917.7}, Row{"-6 ft 3 in", -1905.0},
                 Row{"\u22124 in", -101.6}, Row{"1 m 20 cm", 1200.0}, Row{"0 mm", 0.0}, Row{"2 yd 1 ft", 2133.6});
    CAPTURE(row.text);
    const auto parsed = parse_length(row.text);
    REQUIRE(parsed);
    CHECK(parsed->in(unit::mm) == Approx(row.mm).epsilon(1e-14));
}
