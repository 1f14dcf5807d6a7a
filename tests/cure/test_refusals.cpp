#include <catch2/catch.hpp>

#include <limits>

#include "calibrate.hpp"
#include "cases.hpp"
#include "patchwright/units/error.hpp"

// What the cure model takes and what it refuses, each limit from both sides. The limits are its header's own.

using namespace patchwright;
using namespace patchwright::cure;
using test::at;
using test::Case;
using test::usual;

namespace {

constexpr double no_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();

const Model& model() {
    static const Model made{test::standard()};
    return made;
}

template <class Change>
Answer ask_with(Change change) {
    Case c = usual(3.0, 10.0);
    change(c);
    return test::ask(model(), c);
}
template <class Change>
void refuse(Change change, const char* because) {
    CAPTURE(because);
    CHECK_THROWS_AS(ask_with(change), RangeError);
    CHECK_THROWS_WITH(ask_with(change), Catch::Contains(because));
}

}  // namespace

TEST_CASE("a sleeve and its pipe are held to what exists", "[cure][error]") {
    for (const double bad : {-1.0, no_number, infinite}) {
        CAPTURE(bad);
        refuse([&](Case& c) { c.sleeve.thickness = bad * unit::mm; }, "thickness");
        refuse([&](Case& c) { c.host.bore = bad * unit::mm; }, "bore");
        refuse([&](Case& c) { c.host.wall = bad * unit::mm; }, "wall");
        refuse([&](Case& c) { c.sleeve.resin_mass = bad * unit::kg; }, "must not be negative");
        refuse([&](Case& c) { c.sleeve.wet_density = bad * unit::kg_m3; }, "must not be negative");
        refuse([&](Case& c) { c.conditions.wet_out = bad * unit::minute; }, "must not be negative");
        refuse([&](Case& c) { c.conditions.load = bad * unit::minute; }, "must not be negative");
        refuse([&](Case& c) { c.conditions.position = bad * unit::minute; }, "must not be negative");
        refuse([&](Case& c) { c.conditions.inflate = bad * unit::minute; }, "must not be negative");
    }
    for (const double bad : {0.0, -0.1, 1.01, no_number})
        refuse([&](Case& c) { c.sleeve.resin_mass_fraction = bad; }, "share");
    for (const double bad : {0.99, 0.0, no_number}) refuse([&](Case& c) { c.sleeve.table_layers = bad; }, "table");
    // Half of 20 mm leaves 3 mm for the packer only under a sleeve of less than 7 mm.
    refuse([](Case& c) { c.host.bore = 20.0 * unit::mm, c.sleeve.thickness = 7.01 * unit::mm; }, "no room");
    CHECK_NOTHROW(ask_with([](Case& c) { c.host.bore = 20.0 * unit::mm, c.sleeve.thickness = 6.9 * unit::mm; }));
    CHECK_NOTHROW(ask_with([](Case& c) { c.host.wall = {}; }));
    CHECK_NOTHROW(ask_with([](Case& c) { c.sleeve.resin_mass_fraction = 1.0; }));
    CHECK_NOTHROW(ask_with([](Case& c) { c.conditions.inflate = {}; }));
}

TEST_CASE("temperatures no site has are refused", "[cure][error]") {
    for (const double bad : {-30.1, 80.1, no_number}) {
        refuse([&](Case& c) { c.conditions.pipe = at(bad); }, "temperature");
        refuse([&](Case& c) { c.conditions.air = at(bad); }, "temperature");
        refuse([&](Case& c) { c.conditions.resin = at(bad); }, "temperature");
        refuse([&](Case& c) { c.conditions.van = at(bad); }, "temperature");
    }
    // Inside the bounds it is the resin's own range that decides, and that is an answer.
    CHECK(ask_with([](Case& c) { c.conditions.pipe = at(-30.0); }).refused);
    CHECK(ask_with([](Case& c) { c.conditions.pipe = at(80.0); }).refused);
}

TEST_CASE("a heating profile rises from zero and stays within the bladder's means", "[cure][error]") {
    const auto heated = [](double first_minute, double first, double next_minute, double next) {
        return [=](Case& c) {
            c.conditions.heating.medium = Heating::Medium::water;
            c.conditions.heating.points = {{first_minute * unit::minute, Temperature::celsius(first)},
                                           {next_minute * unit::minute, Temperature::celsius(next)}};
        };
    };
    CHECK_NOTHROW(ask_with(heated(0, 20, 10, 40)));
    refuse(heated(0, 20, 0, 40), "rise from zero");
    refuse(heated(5, 20, 4, 40), "rise from zero");
    refuse(heated(-0.005, 20, 5, 40), "rise from zero");  // a third of a second early is early
    refuse(heated(-1, 20, 4, 40), "rise from zero");
    refuse(heated(no_number, 20, 4, 40), "rise from zero");
    refuse(heated(0, -31, 4, 40), "heating");
    refuse(heated(0, 20, 4, 101), "heating");
    refuse(heated(0, 20, 4, no_number), "heating");
    refuse([](Case& c) { c.conditions.heating.medium = Heating::Medium::air; }, "at least one temperature");
}

TEST_CASE("a bucket has a mass and stands in some air", "[cure][error]") {
    const job::Limits limits = test::usual_limits();
    const Temperature room = Temperature::celsius(20.0);
    for (const double bad : {0.0, -1.0, no_number, infinite})
        CHECK_THROWS_AS(model().pour_by(bad * unit::kg, room, room, limits), RangeError);
    for (const double bad : {-30.1, 80.1, no_number}) {
        CHECK_THROWS_AS(model().pour_by(unit::kg, Temperature::celsius(bad), room, limits), RangeError);
        CHECK_THROWS_AS(model().pour_by(unit::kg, room, Temperature::celsius(bad), limits), RangeError);
    }
}

TEST_CASE("temperatures noted on site are those of a sleeve", "[cure][error]") {
    const job::Limits limits = test::usual_limits();
    Working off = Working::off();
    const auto left = [&](std::vector<Note> notes, Duration elapsed) {
        return model().time_left(notes, elapsed, limits, off);
    };
    for (const double bad : {-30.1, 120.1, no_number})
        CHECK_THROWS_AS(left({{Duration{}, Temperature::celsius(bad)}}, unit::h), InputError);
    for (const double bad : {-1.0, no_number, infinite})
        CHECK_THROWS_AS(left({{Duration{}, Temperature::celsius(12.0)}}, bad * unit::h), InputError);
    CHECK_THROWS_AS(left({{61.0 * unit::minute, Temperature::celsius(12.0)}}, unit::h), InputError);
    CHECK_NOTHROW(left({{60.0 * unit::minute, Temperature::celsius(12.0)}}, unit::h));
    // A frozen sleeve is a figure outside the method, not a slip of the pen.
    CHECK_THROWS_AS(left({{Duration{}, Temperature::celsius(-30.0)}}, unit::h), RangeError);
}

TEST_CASE("a resin's own figures are refused one by one", "[cure][error]") {
    const auto refused = [](auto change, const char* part) {
        job::Resin r = test::standard();
        change(r);
        CHECK_THROWS_AS(Model{r}, InputError);
        CHECK_THROWS_WITH(Model{r}, Catch::Contains(part) && Catch::Contains(r.id));
    };
    for (const double bad : {0.0, -1.0, no_number, infinite}) {
        refused([&](job::Resin& r) { r.heat_of_reaction = bad * unit::J_g; }, "heat of reaction");
        refused([&](job::Resin& r) { r.specific_heat = bad * unit::J_kgK; }, "specific heat");
        refused([&](job::Resin& r) { r.conductivity = bad * unit::W_mK; }, "conductivity");
        refused([&](job::Resin& r) { r.parts_a = bad; }, "part A");
        refused([&](job::Resin& r) { r.parts_b = bad; }, "part B");
    }
    for (const double bad : {0.0, 0.95, no_number})
        refused([&](job::Resin& r) { r.gel_conversion = bad; }, "gel conversion");
    for (const double bad : {0.0, 1.01, no_number}) refused([&](job::Resin& r) { r.glass_lambda = bad; }, "lambda");
    refused([](job::Resin& r) { r.application_max = r.application_min; }, "application");
    job::Resin linear = test::standard();
    linear.glass_lambda = 1.0;
    CHECK_NOTHROW(Model{linear});
}

TEST_CASE("a resin of unknown density is taken as an epoxy's", "[cure]") {
    // 1120 kg/m3, usual for unfilled epoxies: common practice, no source. A density of one part alone does not help.
    for (const auto& [a, b] : {std::pair{0.0, 0.0}, std::pair{0.0, 990.0}, std::pair{1150.0, 0.0}}) {
        job::Resin r = test::standard();
        r.density_a = a * unit::kg_m3;
        r.density_b = b * unit::kg_m3;
        CHECK(detail::mixed_density(r) == 1120.0);
    }
    // Equal volumes of 1200 and 1000 kg/m3 weigh 1100: 6 parts and 5 parts by mass.
    job::Resin r = test::standard();
    r.parts_a = 6.0;
    r.parts_b = 5.0;
    r.density_a = 1200.0 * unit::kg_m3;
    r.density_b = 1000.0 * unit::kg_m3;
    CHECK(detail::mixed_density(r) == Approx(1100.0).epsilon(1e-12));
}

TEST_CASE("one test at one temperature has one time", "[cure][error]") {
    // Two times of one kind, of one thickness or mass: nobody can say which of them the data sheet means.
    using job::DataPointKind;
    const job::DataPoint strip{DataPointKind::strip, Temperature::celsius(20.0), 135.0 * unit::minute, {}, {}};
    for (const double minutes : {135.0, 150.0}) {
        job::Resin r = test::standard();
        std::erase_if(r.data, [](const job::DataPoint& p) { return p.kind == DataPointKind::strip; });
        r.data.push_back(strip);
        CHECK(resin_faults(r).empty());
        r.data.push_back(strip);
        r.data.back().time = minutes * unit::minute;
        const auto faults = resin_faults(r);
        REQUIRE(faults.size() == 1);
        CHECK(faults.front().key == "data");
        CHECK(faults.front().data == static_cast<int>(r.data.size()) - 1);
        CHECK_THAT(faults.front().message, Catch::Contains("strip time 135 min at 20 °C") && Catch::Contains("beside"));
        // Of another layer, or at another temperature, it is another test.
        r.data.back().thickness = 3.0 * unit::mm;
        for (const auto& fault : resin_faults(r)) CHECK_THAT(fault.message, !Catch::Contains("beside"));
    }
}
