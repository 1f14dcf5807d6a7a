#include <catch2/catch.hpp>

#include <numbers>

#include "patchwright/week/drive.hpp"
#include "support/dice.hpp"

using namespace patchwright;
using Catch::Matchers::Contains;

namespace {

job::Coordinates at(double latitude, double longitude) { return {latitude * unit::deg, longitude * unit::deg}; }
constexpr double mean_radius_km = 6371.0088;

}  // namespace

TEST_CASE("distances on a sphere as published", "[week][drive][reference]") {
    // Source:   Rosetta Code, task "Haversine formula": Nashville (BNA) to Los Angeles (LAX), 2886.44444283798 km on a
    //           sphere of 6371.0 km, 2887.25995060711 km on one of 6372.8 km; so by the angle between them.
    const double km = week::great_circle(at(36.12, -86.67), at(33.94, -118.40)).in(unit::km);
    CHECK(km / mean_radius_km * 6371.0 == Approx(2886.44444283798330).epsilon(1e-12));
    CHECK(km / mean_radius_km * 6372.8 == Approx(2887.25995060711034).epsilon(1e-12));
}

TEST_CASE("distances on a sphere by geometry", "[week][drive]") {
    const double quarter = mean_radius_km * std::numbers::pi / 2.0;
    CHECK(week::great_circle(at(0, 0), at(90, 0)).in(unit::km) == Approx(quarter));
    CHECK(week::great_circle(at(0, 10), at(0, 100)).in(unit::km) == Approx(quarter));
    CHECK(week::great_circle(at(40, 20), at(-40, -160)).in(unit::km) == Approx(2.0 * quarter));
    CHECK(week::great_circle(at(51.5, -0.1), at(51.5, -0.1)).si() == 0.0);
    // A metre apart: the formula keeps its digits where the law of cosines loses them.
    const double metre_deg = 1.0 / (1000.0 * mean_radius_km) * 180.0 / std::numbers::pi;
    CHECK(week::great_circle(at(50, 8), at(50 + metre_deg, 8)).in(unit::m) == Approx(1.0).epsilon(1e-6));
    test::Dice dice{3};
    for (int i = 0; i < 200; ++i) {
        const auto place = [&] { return at(dice.between(-90, 90), dice.between(-180, 180)); };
        const auto a = place(), b = place(), c = place();
        CHECK(week::great_circle(a, b).si() == Approx(week::great_circle(b, a).si()));
        CHECK(week::great_circle(a, c).si() <= week::great_circle(a, b).si() + week::great_circle(b, c).si() + 1e-3);
    }
}

TEST_CASE("minutes go upwards, by detour and pace", "[week][drive]") {
    const job::Drive drive{{}, 30.0 * unit::km, 1.25};
    CHECK(week::drive_minutes(12.0 * unit::km, drive) == 30);  // 15 km of road at 30 km an hour
    CHECK(week::drive_minutes(12.001 * unit::km, drive) == 31);
    CHECK(week::drive_minutes(Length{}, drive) == 0);
}

TEST_CASE("a table of drives", "[week][drive]") {
    const auto file = week::read_drives(
        "\xEF\xBB\xBF"
        "from,to,minutes\n# ours\n\nyard,A-1,12\r\nA-1,yard,15\n\"B, 2\" , A-1,7",
        "d.csv");
    CHECK(file.diagnostics.empty());
    CHECK(file.table.between("yard", "A-1") == 12);
    CHECK(file.table.between("A-1", "yard") == 15);
    CHECK(file.table.between("B, 2", "A-1") == 7);
    CHECK(file.table.between("A-1", "B, 2") == 7);  // a row holds both ways
    CHECK_FALSE(file.table.between("yard", "B, 2"));
    CHECK(file.table.names() == std::vector<std::string>{"A-1", "B, 2", "yard"});
}

TEST_CASE("every fault of a table is told with its place", "[week][drive][error]") {
    const auto file = week::read_drives(
        "yard,A,12\nyard,B\nyard,C,1.5\nyard,,5\nyard,A,13\nD,D,4\nyard,E,9999\n\"F,yard,3\n", "d.csv");
    std::vector<std::pair<int, std::string>> found;
    for (const auto& d : file.diagnostics) {
        CHECK(d.severity == io::Severity::error);
        CHECK(d.file == "d.csv");
        found.emplace_back(d.line, d.message);
    }
    REQUIRE(found.size() == 7);
    CHECK(found[0].first == 2);
    CHECK_THAT(found[0].second, Contains("three cells, not 2"));
    CHECK(found[1].first == 3);
    CHECK_THAT(found[1].second, Contains("whole minutes"));
    CHECK(file.diagnostics[1].column == 8);
    CHECK_THAT(found[2].second, Contains("needs a name"));
    CHECK_THAT(found[3].second, Contains("line 1 already"));
    CHECK_THAT(found[4].second, Contains("to itself"));
    CHECK_THAT(found[5].second, Contains("720"));
    CHECK_THAT(found[6].second, Contains("not closed"));
}
