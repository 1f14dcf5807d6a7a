#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "packer/yard_support.hpp"
#include "patchwright/packer/packer.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::packer;

namespace {

const Length felt = 3.0 * unit::mm;
const Length hair = 1e-3 * unit::mm;  // differences of positions miss round figures by the last digit

std::vector<Rigging> ways(const job::Run& run, const job::Yard& yard, const Option& option, double start, double end) {
    Working working;
    return riggings(run, yard, option, start * unit::m, end * unit::m, felt, working);
}

Option standing(const job::Yard& yard) { return options(yard).front(); }

}  // namespace

TEST_CASE("capstan equation", "[packer][reference]") {
    // Source: belt-friction tables of engineering handbooks, mu = 0.30: ratio 2.57 over 180 deg, 1.60 over 90 deg
    // (from memory, not sighted; exp(0.3 pi) = 2.5663).
    Working working;
    CHECK(capstan(100.0 * unit::N, 0.3, 180.0 * unit::deg, working).in(unit::N) == Approx(257).margin(0.5));
    CHECK(capstan(100.0 * unit::N, 0.3, 90.0 * unit::deg, working).in(unit::N) == Approx(160).margin(0.5));
    CHECK(capstan(100.0 * unit::N, 0.3, Angle{}, working).in(unit::N) == Approx(100));
    CHECK_THROWS_AS(capstan(-1.0 * unit::N, 0.3, Angle{}, working), RangeError);
    CHECK_THROWS_AS(capstan(1.0 * unit::N, std::numeric_limits<double>::quiet_NaN(), Angle{}, working), RangeError);
}

TEST_CASE("ways into a straight run, shortest mark first", "[packer]") {
    const job::Yard yard = test::small_yard();
    const job::Run run = test::straight_run();
    const std::vector<Rigging> all = ways(run, yard, standing(yard), 13.5, 14.3);
    REQUIRE(all.size() == 4);
    CHECK(all[0].from == "MH2");
    CHECK(all[0].method == Method::push);
    CHECK(all[0].mark.in(unit::m) == Approx(20.0 - 13.9));
    CHECK(all[1].from == "MH2");
    CHECK(all[1].method == Method::pull);
    CHECK(all[2].from == "MH1");
    CHECK(all[2].mark.in(unit::m) == Approx(13.9));
    CHECK_FALSE(all[1].notes.empty());
    // 50 N a metre over 1.4 m, no bend.
    CHECK(all[1].pull.in(unit::N) == Approx(70.0));
    CHECK(all[0].pull.in(unit::N) == 0.0);
    CHECK(word(Method::push) == "push");
}

TEST_CASE("one access gives pushes only", "[packer]") {
    const job::Yard yard = test::small_yard();
    job::Run run = test::straight_run();
    run.access = {"MH1"};
    const std::vector<Rigging> all = ways(run, yard, standing(yard), 13.5, 14.3);
    REQUIRE(all.size() == 1);
    CHECK(all[0].method == Method::push);
    CHECK(all[0].from == "MH1");
    run.access.clear();
    CHECK(ways(run, yard, standing(yard), 13.5, 14.3).empty());
}

TEST_CASE("a rod passes few bends, a strap several", "[packer]") {
    // Common practice, no source.
    job::Yard yard = test::small_yard();
    yard.limits.push_bends_most = 2;
    job::Run run = test::straight_run();
    run.access = {"MH1"};
    run.fittings = {test::bend(2, 45, 150), test::bend(4, 45, 150)};
    REQUIRE(ways(run, yard, standing(yard), 10, 10.8).size() == 1);
    CHECK(ways(run, yard, standing(yard), 10, 10.8)[0].bends == 2);
    run.fittings.push_back(test::bend(6, 45, 150));
    CHECK(ways(run, yard, standing(yard), 10, 10.8).empty());
    CHECK(ways(run, yard, standing(yard), 4.8, 5.4).size() == 1);

    run.access = {"MH1", "MH2"};
    const std::vector<Rigging> both = ways(run, yard, standing(yard), 10, 10.8);
    REQUIRE(both.size() == 3);  // push and pull from MH2, pull from MH1
    CHECK(both[0].from == "MH2");
    CHECK(both[2].from == "MH1");
    CHECK(both[2].method == Method::pull);
    CHECK(both[2].bends == 3);
    CHECK(both[2].pull.in(unit::N) == Approx(70.0 * std::exp(0.3 * 0.75 * std::numbers::pi)));

    yard.limits.strap_rating = 100.0 * unit::N;
    CHECK(ways(run, yard, standing(yard), 10, 10.8).size() == 1);
}

TEST_CASE("a fitting that stops the packer stops every way through it", "[packer]") {
    const job::Yard yard = test::small_yard();
    job::Run run = test::straight_run();
    Option core = standing(yard);
    core.packer.rigid_length = 300.0 * unit::mm;  // stiff, cannot turn
    run.fittings = {test::bend(8, 90, 100)};
    const std::vector<Rigging> all = ways(run, yard, core, 13.5, 14.3);
    REQUIRE_FALSE(all.empty());
    for (const Rigging& way : all) CHECK(way.from == "MH2");
    run.access = {"MH1"};
    CHECK(ways(run, yard, core, 13.5, 14.3).empty());
}

TEST_CASE("push reach and inner rod", "[packer]") {
    job::Yard yard = test::small_yard();
    job::Run run = test::straight_run();
    run.access = {"MH1"};
    yard.limits.push_reach = 12.0 * unit::m;
    // 12.00 less 1.35 of depth and 1.00 above ground reaches a sleeve's end at 9.65 m.
    CHECK(ways(run, yard, standing(yard), 8.85, 9.65).size() == 1);
    CHECK(ways(run, yard, standing(yard), 8.86, 9.66).empty());

    // Built to measure with an inner rod of 700 mm: sleeves to 500 mm can be pushed, longer ones only pulled.
    const Option to_build = options(yard)[1];
    REQUIRE(to_build.to_build);
    CHECK(ways(run, yard, to_build, 5.0, 5.45).size() == 1);
    CHECK(ways(run, yard, to_build, 5.0, 5.8).empty());
    run.access = {"MH1", "MH2"};
    for (const Rigging& way : ways(run, yard, to_build, 5.0, 5.8)) CHECK(way.method == Method::pull);
    CHECK(ways(run, yard, to_build, 5.0, 5.8).size() == 2);
    CHECK(ways(run, yard, to_build, 2.0, 15.0).empty());  // the roll is shorter
    yard.bladders[0].roll_length = 20.0 * unit::m;
    yard.limits.air_hose_length = 30.0 * unit::m;
    CHECK(ways(run, yard, options(yard)[1], 2.0, 15.0).size() == 2);
}

TEST_CASE("hose, rods and straps reach down the chamber and to the sleeve's far end", "[packer]") {
    // Length that a line takes: distance in the pipe, depth of the chamber, slack above ground. Geometry.
    job::Yard yard = test::small_yard();
    yard.packers.front().hose_length = 20.0 * unit::m;
    yard.limits.reach_slack = 1.0 * unit::m;
    job::Run run = test::straight_run();
    run.length = 40.0 * unit::m;
    run.depth = 3.0 * unit::m;
    run.access = {"MH1"};
    const Option option = standing(yard);
    CHECK(ways(run, yard, option, 28.6, 29.4).empty());  // mark at 29 m, 3 m deep, hose of 20 m
    // Hose and rods are both too short, and both are said.
    yard.limits.push_reach = 25.0 * unit::m;
    const auto lacking = short_lines(run, yard, option, 28.6 * unit::m, 29.4 * unit::m);
    REQUIRE(lacking);
    CHECK(lacking->from == "MH1");
    REQUIRE(lacking->lines.size() == 2);
    CHECK(lacking->lines[0].what == "air hose");
    CHECK(lacking->lines[0].length.in(unit::m) == Approx(20.0));
    CHECK(lacking->lines[0].needed.in(unit::m) == Approx(29.4 + 3.0 + 1.0));
    CHECK(lacking->lines[1].what == "push rods");
    CHECK(lacking->lines[1].needed.in(unit::m) == Approx(29.4 + 3.0 + 1.0));
    CHECK(lacking->wanting().in(unit::m) == Approx(13.4 + 8.4));
    yard.limits.push_reach = 30.0 * unit::m;
    CHECK(ways(run, yard, option, 15.2, 16.0).size() == 1);  // 16 + 3 + 1 = 20
    CHECK(ways(run, yard, option, 15.21, 16.01).empty());
    CHECK(short_lines(run, yard, option, 15.2 * unit::m, 16.0 * unit::m)->lines.empty());

    yard.packers.front().hose_length = 50.0 * unit::m;
    const Option long_hose = standing(yard);
    CHECK(short_lines(run, yard, long_hose, 28.6 * unit::m, 29.4 * unit::m)->lines.at(0).what == "push rods");
    // The strap that draws the packer in lies through all of the run: 40 + 3 + 1 m.
    run.access = {"MH1", "MH2"};
    yard.limits.push_reach = 5.0 * unit::m;
    yard.limits.strap_length = 44.0 * unit::m;
    CHECK(ways(run, yard, long_hose, 28.6, 29.4).size() == 2);
    yard.limits.strap_length = 43.9 * unit::m;
    CHECK(ways(run, yard, long_hose, 28.6, 29.4).empty());
    // Where too many bends stand against a push, it is the straps that are too short.
    for (int i = 0; i < 3; ++i) {
        job::Fitting bend;
        bend.kind = job::FittingKind::bend;
        bend.at = (20.0 + i) * unit::m;
        bend.angle = 10.0 * unit::deg;
        bend.radius = 500.0 * unit::mm;
        run.fittings.push_back(bend);
        bend.at = (32.0 + i) * unit::m;
        run.fittings.push_back(bend);
    }
    yard.limits.push_reach = 60.0 * unit::m;
    const auto straps = short_lines(run, yard, long_hose, 28.6 * unit::m, 29.4 * unit::m);
    REQUIRE(straps);
    REQUIRE(straps->lines.size() == 1);
    CHECK(straps->lines[0].what == "straps");
    CHECK(straps->lines[0].length.in(unit::m) == Approx(43.9));
    CHECK(straps->lines[0].needed.in(unit::m) == Approx(44.0));
}

TEST_CASE("a long stiff packer must turn in from its chamber", "[packer]") {
    const job::Yard yard = test::small_yard();
    job::Run run = test::straight_run();
    Option core = standing(yard);
    core.packer.rigid_length = 1300.0 * unit::mm;
    CHECK_FALSE(ways(run, yard, core, 8.0, 8.8).empty());  // nobody measured the chamber
    const Length wanted = opening_wanted(run, core, felt);
    run.chamber_opening = wanted;
    CHECK_FALSE(ways(run, yard, core, 8.0, 8.8).empty());
    run.chamber_opening = wanted - 2.0 * unit::mm;
    CHECK(ways(run, yard, core, 8.0, 8.8).empty());
    CHECK_FALSE(has_way(run, WallIndex{run}, yard, core, 8.0 * unit::m, 8.8 * unit::m, felt));
    CHECK(reach(run, yard, core, felt).empty());
    CHECK_FALSE(ways(run, yard, standing(yard), 8.0, 8.8).empty());  // 80 mm of stiff end turn anywhere
}

TEST_CASE("junction pieces are pushed and turned", "[packer]") {
    job::Yard yard = test::small_yard();
    yard.packers.front().shape = job::PackerShape::t_piece;
    job::Run run = test::straight_run();
    CHECK(ways(run, yard, standing(yard), 10.8, 11.6).empty());  // no connection there
    run.fittings = {test::junction(11.2)};
    const std::vector<Rigging> all = ways(run, yard, standing(yard), 10.8, 11.6);
    REQUIRE(all.size() == 2);
    for (const Rigging& way : all) {
        CHECK(way.method == Method::push);
        REQUIRE(way.turn_to);
        CHECK(way.turn_to->from == 2);
    }
    run.fittings[0].clock.reset();
    const std::vector<Rigging> blind = ways(run, yard, standing(yard), 10.8, 11.6);
    REQUIRE_FALSE(blind.empty());
    CHECK_FALSE(blind[0].turn_to);
    CHECK(blind[0].notes.back().find("camera") != std::string::npos);
}

TEST_CASE("nothing may balloon past the sleeve", "[packer]") {
    job::Yard yard = test::small_yard();
    job::Run run = test::straight_run();
    const Option option = standing(yard);  // 300 mm beyond an 800 mm sleeve, each end

    SECTION("at a mouth") {
        CHECK(lie(run, yard, option, 0.36 * unit::m, 1.16 * unit::m).in_pipe);
        const Lie out = lie(run, yard, option, 0.34 * unit::m, 1.14 * unit::m);
        CHECK_FALSE(out.in_pipe);
        CHECK_FALSE(out.restraint_needed);
        CHECK(ways(run, yard, option, 0.34, 1.14).empty());
        CHECK_FALSE(lie(run, yard, option, 18.86 * unit::m, 19.66 * unit::m).in_pipe);
        yard.limits.restraint_sleeve = true;
        const std::vector<Rigging> held = ways(run, yard, option, 0.34, 1.14);
        REQUIRE_FALSE(held.empty());
        CHECK(held[0].restraint_sleeve);
        CHECK(held[0].notes.back().find("restraint sleeve") != std::string::npos);
    }
    SECTION("over an open connection") {
        run.fittings = {test::junction(11.2)};
        CHECK_FALSE(lie(run, yard, option, 10.2 * unit::m, 11.0 * unit::m).in_pipe);
        CHECK(lie(run, yard, option, 10.0 * unit::m, 10.8 * unit::m).in_pipe);
        CHECK(lie(run, yard, option, 10.8 * unit::m, 11.6 * unit::m).in_pipe);  // under the sleeve
    }
    SECTION("over a hole") {
        run.defects = {test::defect("A3", job::DefectKind::missing_wall, 11.2, 11.3)};
        const Lie over = lie(run, yard, option, 10.2 * unit::m, 11.0 * unit::m);
        CHECK_FALSE(over.in_pipe);
        REQUIRE(over.troubles.size() == 1);
        CHECK(over.troubles[0].find("A3") != std::string::npos);
        run.defects[0].kind = job::DefectKind::fissure;
        CHECK(lie(run, yard, option, 10.2 * unit::m, 11.0 * unit::m).in_pipe);
    }
}

TEST_CASE("sleeves lie across bends only where the bladder may", "[packer]") {
    const job::Yard yard = test::small_yard();
    job::Run run = test::straight_run();
    run.fittings = {test::bend(6.8, 45, 150)};
    CHECK_FALSE(ways(run, yard, standing(yard), 6.4, 7.2).empty());
    run.fittings = {test::bend(6.8, 90, 100)};
    CHECK(ways(run, yard, standing(yard), 6.4, 7.2).empty());
    CHECK_FALSE(ways(run, yard, standing(yard), 7.0, 7.8).empty());
}

TEST_CASE("reach from each access", "[packer]") {
    job::Yard yard = test::small_yard();
    yard.packers.front().hose_length = 30.0 * unit::m;
    job::Run run = test::straight_run();
    const Option option = standing(yard);
    const std::vector<Reach> straight = reach(run, yard, option, felt);
    REQUIRE(straight.size() == 2);
    for (const Reach& span : straight) {
        CHECK(span.from.in(unit::m) == Approx(0.05));
        CHECK(span.to.in(unit::m) == Approx(19.95));
    }
    CHECK(straight[0].access == "MH1");
    CHECK(straight[1].access == "MH2");

    yard.limits.restraint_sleeve = true;
    CHECK(reach(run, yard, option, felt)[0].from.si() == 0.0);
    CHECK(reach(run, yard, option, felt)[0].to.in(unit::m) == Approx(20.0));
    yard.limits.restraint_sleeve = false;

    Option core = option;
    core.packer.rigid_length = 300.0 * unit::mm;
    run.fittings = {test::bend(8, 90, 100)};
    const double half_arc = 0.1 * std::numbers::pi / 4.0;
    const std::vector<Reach> split = reach(run, yard, core, felt);
    REQUIRE(split.size() == 2);
    CHECK(split[0].to.in(unit::m) == Approx(8.0 - half_arc));
    CHECK(split[1].from.in(unit::m) == Approx(8.0 + half_arc));

    run.access = {"MH2"};
    run.fittings = {test::bend(5, 45, 150), test::bend(7, 45, 150), test::bend(9, 45, 150)};
    const std::vector<Reach> pushed = reach(run, yard, option, felt);
    REQUIRE(pushed.size() == 1);
    CHECK(pushed[0].from.in(unit::m) == Approx(5.0 + 0.15 * std::numbers::pi / 8.0));
    yard.limits.push_reach = 6.0 * unit::m;
    // 6.00 - 1.35 - 1.00 = 3.65 m to the sleeve's far end, and (1.40 - 0.30)/2 of packer past the shortest sleeve.
    CHECK(reach(run, yard, option, felt)[0].from.in(unit::m) == Approx(20.0 - 3.65 - 0.55));

    run.measured_bore = 84.0 * unit::mm;  // too narrow with the wet sleeve
    CHECK(reach(run, yard, option, felt).empty());
}

TEST_CASE("what lies within reach has a way in, and what has a way in lies within reach", "[packer]") {
    job::Yard yard = test::small_yard();
    yard.packers.front().hose_length = 30.0 * unit::m;
    job::Run run = test::straight_run();
    run.fittings = {test::bend(3, 45, 150), test::bend(7, 45, 150), test::bend(12, 45, 150), test::junction(15)};
    for (const bool far_access : {false, true}) {
        run.access = far_access ? std::vector<std::string>{"MH1", "MH2"} : std::vector<std::string>{"MH1"};
        const Option option = standing(yard);
        const std::vector<Reach> spans = reach(run, yard, option, felt);
        for (int centimetre = 0; centimetre < 1900; centimetre += 13) {
            const Length start = centimetre * unit::cm, end = start + 0.8 * unit::m;
            const Length past = tail(option, end - start);
            const bool within = std::any_of(spans.begin(), spans.end(), [&](const Reach& span) {
                return start - past >= span.from - hair && end + past <= span.to + hair;
            });
            const bool lies = lie(run, yard, option, start, end).in_pipe;
            Working working;
            const bool has_way = !riggings(run, yard, option, start, end, felt, working).empty();
            CAPTURE(far_access, centimetre, within, lies);
            CHECK(has_way == (within && lies));
        }
    }
}

TEST_CASE("of the shortest sleeve, what hose and rods reach lies within reach, and nothing else", "[packer]") {
    job::Yard yard = test::small_yard();
    job::Run run = test::straight_run();
    for (const double rods : {9.0, 30.0}) {
        yard.limits.push_reach = rods * unit::m;
        for (const bool far_access : {false, true}) {
            run.access = far_access ? std::vector<std::string>{"MH2"} : std::vector<std::string>{"MH1"};
            const Option option = standing(yard);
            const std::vector<Reach> spans = reach(run, yard, option, felt);
            for (int centimetre = 60; centimetre < 1900; centimetre += 7) {
                const Length start = centimetre * unit::cm, end = start + option.packer.usable_min;
                const Length past = tail(option, end - start);
                const bool within = std::any_of(spans.begin(), spans.end(), [&](const Reach& span) {
                    return start - past >= span.from - hair && end + past <= span.to + hair;
                });
                CAPTURE(rods, far_access, centimetre);
                CHECK(!ways(run, yard, option, start.in(unit::m), end.in(unit::m)).empty() == within);
            }
        }
    }
}

TEST_CASE("the quick question has the same answer as the ways themselves", "[packer]") {
    job::Yard yard = test::small_yard();
    yard.limits.push_reach = 11.0 * unit::m;
    job::Run run = test::straight_run();
    run.fittings = {test::bend(3, 45, 150), test::bend(7, 90, 100), test::bend(12, 45, 150), test::junction(15)};
    run.defects = {test::defect("A1", job::DefectKind::missing_wall, 5.0, 5.1),
                   test::defect("A2", job::DefectKind::fissure, 9.0, 9.6),
                   test::defect("A3", job::DefectKind::collapse, 9.4, 10.0),
                   test::defect("A4", job::DefectKind::root_intrusion, 17.0, 17.0),
                   test::defect("A5", job::DefectKind::surface_damage, 17.5, 17.5)};
    const WallIndex walls{run};
    int with = 0, without = 0;
    for (const bool restraint : {false, true}) {
        yard.limits.restraint_sleeve = restraint;
        for (const int access : {1, 2, 3}) {
            run.access.clear();
            if ((access & 1) != 0) run.access.emplace_back("MH1");
            if ((access & 2) != 0) run.access.emplace_back("MH2");
            for (const Option& option : options(yard)) {
                for (int centimetre = 0; centimetre < 1930; centimetre += 7) {
                    const Length start = centimetre * unit::cm, end = start + 0.6 * unit::m;
                    Working working;
                    const bool ways_found = !riggings(run, yard, option, start, end, felt, working).empty();
                    CAPTURE(restraint, access, option.packer.id, centimetre);
                    CHECK(has_way(run, walls, yard, option, start, end, felt) == ways_found);
                    CHECK(walls.weak_within(start, end) == host_cracked(run, start, end));
                    ++(ways_found ? with : without);
                }
            }
        }
    }
    CHECK(with > 500);
    CHECK(without > 500);
    run.condition.value = job::Condition::fully_deteriorated;
    CHECK(WallIndex{run}.weak_within(18.0 * unit::m, 18.1 * unit::m));
}

TEST_CASE("rigging refuses a sleeve that ends before it starts", "[packer][error]") {
    const job::Yard yard = test::small_yard();
    CHECK_THROWS_AS(ways(test::straight_run(), yard, standing(yard), 5.0, 5.0), RangeError);
    CHECK_THROWS_AS(ways(test::straight_run(), yard, standing(yard), std::nan(""), 5.0), RangeError);
}
