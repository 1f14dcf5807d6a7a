// The limits are common practice, no source: these tests fix which side of a limit a figure falls on and what is said.
#include <catch2/catch.hpp>

#include <limits>
#include <string>

#include "patchwright/units/error.hpp"
#include "patchwright/working/render.hpp"
#include "runs.hpp"

using namespace patchwright;
using namespace patchwright::survey;
using Catch::Contains;
using job::DefectKind;
using job::Inflow;

namespace {

Assessment judged(const job::Defect& defect, double bore_mm = 100.0) {
    return judge(runs::run(bore_mm), defect, runs::limits());
}

}  // namespace

TEST_CASE("a step is judged by the smaller of a tenth of the bore and 15 mm", "[survey]") {
    struct Row {
        double bore_mm, step_mm;
        Verdict verdict;
    };
    const auto row = GENERATE(Row{100, 8, Verdict::patch}, Row{100, 10, Verdict::patch}, Row{100, 10.1, Verdict::dig},
                              Row{150, 15, Verdict::patch}, Row{150, 15.1, Verdict::dig}, Row{200, 15, Verdict::patch},
                              Row{200, 16, Verdict::dig}, Row{100, 0, Verdict::patch}, Row{70, 7, Verdict::patch},
                              Row{70, 8, Verdict::dig});
    CAPTURE(row.bore_mm, row.step_mm);
    CHECK(judged(runs::sized(DefectKind::displaced_joint, row.step_mm), row.bore_mm).verdict == row.verdict);
}

TEST_CASE("the reason for a step names figure, limit and rule", "[survey]") {
    const Assessment fits = judged(runs::sized(DefectKind::displaced_joint, 8.0));
    CHECK_THAT(fits.reasons.front(),
               Contains("8 mm") && Contains("10 mm") && Contains("10 % of the bore") && Contains("15 mm"));
    const Assessment us =
        judge(runs::run(), runs::sized(DefectKind::displaced_joint, 12.0), runs::limits(), UnitSystem::us);
    CHECK_THAT(us.reasons.front(), Contains("0.47 in") && Contains("0.39 in") && !Contains(" mm"));
    CHECK_THAT(working_text(fits.working, UnitSystem::metric), Contains("10.0 mm") && Contains("80 %"));
}

TEST_CASE("a joint that stands open lengthwise has a limit of its own", "[survey]") {
    auto gap = runs::sized(DefectKind::displaced_joint, 30.0);
    CHECK(judged(gap).verdict == Verdict::dig);  // nothing says that it is not a step
    for (const char* code : {"BAJA", "BAJ A", "BAJ.A"}) {
        gap.code = code;
        CHECK(judged(gap).verdict == Verdict::patch);
    }
    gap.size = 41.0 * unit::mm;
    CHECK(judged(gap).verdict == Verdict::dig);
    gap.size.reset();
    CHECK(judged(gap).verdict == Verdict::look_again);
    auto bent = runs::sized(DefectKind::displaced_joint, 5.0);
    bent.code = "BAJ C";
    CHECK_THAT(judged(bent).reasons.back(), Contains("dry packer"));
}

TEST_CASE("missing wall: up to 0.3 of the bore with sound wall round it", "[survey]") {
    struct Row {
        double bore_mm, hole_mm;
        Verdict verdict;
    };
    const auto row = GENERATE(Row{100, 30, Verdict::patch}, Row{100, 31, Verdict::dig}, Row{150, 45, Verdict::patch},
                              Row{150, 46, Verdict::dig}, Row{200, 60, Verdict::patch});
    CAPTURE(row.bore_mm, row.hole_mm);
    auto hole = runs::sized(DefectKind::missing_wall, row.hole_mm);
    hole.surrounding_sound = true;
    const Assessment j = judged(hole, row.bore_mm);
    CHECK(j.verdict == row.verdict);
    CHECK(j.wall_missing == (row.verdict == Verdict::patch));
}

TEST_CASE("missing wall: what is not known is asked, what is known to be bad is dug", "[survey]") {
    auto hole = runs::sized(DefectKind::missing_wall, 20.0);
    CHECK(judged(hole).verdict == Verdict::look_again);  // is the wall round it sound?
    CHECK_THAT(judged(hole).reasons.front(), Contains("must still tell") && Contains("void"));
    hole.surrounding_sound = false;
    CHECK(judged(hole).verdict == Verdict::dig);
    CHECK_THAT(judged(hole).reasons.front(), Contains("void"));

    auto unmeasured = runs::defect(DefectKind::missing_wall);
    unmeasured.surrounding_sound = true;
    CHECK(judged(unmeasured).verdict == Verdict::look_again);
    CHECK_THAT(judged(unmeasured).reasons.front(), Contains("size of the hole") && Contains("30 mm"));
    unmeasured.surrounding_sound = false;
    CHECK(judged(unmeasured).verdict == Verdict::dig);

    auto round = runs::sized(DefectKind::missing_wall, 20.0);
    round.surrounding_sound = true;
    round.clock = ClockRange{10, 2, false};  // a third
    CHECK(judged(round).verdict == Verdict::dig);
    CHECK_THAT(judged(round).reasons.front(), Contains("10-2") && Contains("33.3 %") && Contains("25 %"));
    round.clock = ClockRange{11, 2, false};  // a quarter
    CHECK(judged(round).verdict == Verdict::patch);
}

TEST_CASE("deformation", "[survey]") {
    CHECK(judged(runs::percented(DefectKind::deformation, 10.0)).verdict == Verdict::patch);
    CHECK(judged(runs::percented(DefectKind::deformation, 10.1)).verdict == Verdict::dig);
    CHECK(judged(runs::sized(DefectKind::deformation, 8.0)).ovality_percent == Approx(8.0));
    CHECK(judged(runs::percented(DefectKind::deformation, 6.0)).ovality_percent == Approx(6.0));
    CHECK(judged(runs::defect(DefectKind::deformation)).verdict == Verdict::look_again);
    CHECK_FALSE(judged(runs::percented(DefectKind::deformation, 12.0)).ovality_percent.has_value());
}

TEST_CASE("a break hangs on how far it stands open and how far it has lost its shape", "[survey]") {
    CHECK(judged(runs::defect(DefectKind::fracture_break)).verdict == Verdict::look_again);
    CHECK(judged(runs::sized(DefectKind::fracture_break, 30.0)).verdict == Verdict::patch);
    CHECK(judged(runs::sized(DefectKind::fracture_break, 31.0)).verdict == Verdict::dig);
    CHECK(judged(runs::sized(DefectKind::fracture_break, 20.0), 150.0).wall_missing);
    CHECK_FALSE(judged(runs::sized(DefectKind::fracture_break, 0.0)).wall_missing);
    CHECK_FALSE(judged(runs::sized(DefectKind::fracture_break, 31.0)).wall_missing);
    CHECK(judged(runs::percented(DefectKind::fracture_break, 6.0)).verdict == Verdict::patch);
    CHECK(judged(runs::percented(DefectKind::fracture_break, 14.0)).verdict == Verdict::dig);
    auto both = runs::percented(DefectKind::fracture_break, 14.0);
    both.size = 2.0 * unit::mm;
    CHECK(judged(both).verdict == Verdict::dig);
    both = runs::percented(DefectKind::fracture_break, 4.0);
    both.size = 32.0 * unit::mm;
    CHECK(judged(both).verdict == Verdict::dig);
    both.size = 2.0 * unit::mm;
    CHECK(judged(both).verdict == Verdict::patch);
    CHECK(judged(both).ovality_percent == Approx(4.0));
    CHECK_THAT(judged(both).reasons.back(), Contains("void"));
    both.surrounding_sound = true;
    CHECK_THAT(judged(both).reasons.back(), !Contains("void"));
    both.surrounding_sound = false;
    CHECK(judged(both).verdict == Verdict::dig);
}

TEST_CASE("kinds that need no figure", "[survey]") {
    CHECK(judged(runs::defect(DefectKind::collapse)).verdict == Verdict::dig);
    CHECK(judged(runs::defect(DefectKind::fissure)).verdict == Verdict::patch);
    CHECK(judged(runs::sized(DefectKind::fissure, 3.0)).verdict == Verdict::patch);
    CHECK(judged(runs::sized(DefectKind::fissure, 31.0)).verdict == Verdict::dig);
    CHECK(judged(runs::defect(DefectKind::surface_damage)).verdict == Verdict::patch);
    CHECK(judged(runs::defect(DefectKind::exfiltration)).verdict == Verdict::patch);
}

TEST_CASE("roots, deposits and protrusions are cut first", "[survey]") {
    const Assessment roots = judged(runs::percented(DefectKind::root_intrusion, 20.0));
    CHECK(roots.verdict == Verdict::prepare);
    REQUIRE(roots.preparations.size() == 2);
    CHECK_THAT(roots.preparations[0], Contains("cut the roots back"));
    CHECK(judged(runs::defect(DefectKind::root_intrusion)).verdict == Verdict::prepare);
    CHECK(judged(runs::percented(DefectKind::root_intrusion, 5.0)).verdict == Verdict::patch);
    CHECK(judged(runs::percented(DefectKind::attached_deposit, 20.0)).verdict == Verdict::patch);
    CHECK(judged(runs::percented(DefectKind::attached_deposit, 25.0)).verdict == Verdict::prepare);

    const Assessment out = judged(runs::sized(DefectKind::intruding_connection, 20.0));
    CHECK(out.verdict == Verdict::prepare);
    CHECK_THAT(out.preparations.front(), Contains("cut the protruding connection back"));
    CHECK(judged(runs::percented(DefectKind::intruding_connection, 20.0)).verdict == Verdict::prepare);
    CHECK(judged(runs::defect(DefectKind::intruding_connection)).verdict == Verdict::prepare);
    CHECK(judged(runs::sized(DefectKind::intruding_connection, 5.0)).verdict == Verdict::patch);
}

TEST_CASE("water that runs through a defect is stopped first, whatever the kind", "[survey]") {
    struct Row {
        Inflow inflow;
        Verdict verdict;
    };
    const auto row = GENERATE(Row{Inflow::none, Verdict::look_again}, Row{Inflow::sweating, Verdict::patch},
                              Row{Inflow::dripping, Verdict::patch}, Row{Inflow::running, Verdict::prepare},
                              Row{Inflow::gushing, Verdict::prepare});
    auto leak = runs::defect(DefectKind::infiltration);
    leak.inflow = row.inflow;
    CAPTURE(job::word(row.inflow));
    CHECK(judged(leak).verdict == row.verdict);

    auto crack = runs::sized(DefectKind::fissure, 2.0);
    crack.inflow = Inflow::running;
    const Assessment j = judged(crack);
    CHECK(j.verdict == Verdict::prepare);
    CHECK_THAT(j.reasons.front(), Contains("running"));
    CHECK_THAT(j.preparations.front(), Contains("stop the water"));

    auto roots = runs::percented(DefectKind::root_intrusion, 30.0);
    roots.inflow = Inflow::gushing;
    const Assessment both = judged(roots);
    REQUIRE(both.preparations.size() == 3);
    CHECK_THAT(both.preparations[0], Contains("roots"));
    CHECK_THAT(both.preparations[2], Contains("water"));

    auto collapse = runs::defect(DefectKind::collapse);
    collapse.inflow = Inflow::gushing;
    CHECK(judged(collapse).preparations.empty());
}

TEST_CASE("flow in the pipe is no reason to prepare", "[survey]") {
    auto run = runs::run();
    run.flow = job::Flow{0.02 * unit::litre_s, 60.0 * unit::litre};
    CHECK(judge(run, runs::sized(DefectKind::fissure, 3.0), runs::limits()).verdict == Verdict::patch);
}

TEST_CASE("connections", "[survey]") {
    auto run = runs::run();
    const auto bad = runs::defect(DefectKind::defective_connection, 11.2, 11.2);
    CHECK(judge(run, bad, runs::limits()).verdict == Verdict::junction_piece);
    CHECK_THAT(judge(run, bad, runs::limits()).reasons.back(), Contains("No connection is listed"));
    run.fittings = {runs::junction(11.2, true)};
    CHECK(judge(run, bad, runs::limits()).verdict == Verdict::junction_piece);
    CHECK(judge(run, bad, runs::limits()).reasons.size() == 1);
    run.fittings = {runs::junction(11.2, false)};
    CHECK(judge(run, bad, runs::limits()).verdict == Verdict::patch);
    auto torn = bad;
    torn.size = 35.0 * unit::mm;
    CHECK(judge(run, torn, runs::limits()).verdict == Verdict::dig);

    // A fissure from 11.0 to 11.3 m: across the opening at 11.2 m, which reaches from 11.15 to 11.25 m.
    auto crack = runs::defect(DefectKind::fissure, 11.0, 11.3);
    run.fittings = {runs::junction(11.2, true)};
    CHECK(judge(run, crack, runs::limits()).verdict == Verdict::junction_piece);
    CHECK_THAT(judge(run, crack, runs::limits()).reasons.front(), Contains("11.20 m"));
    crack.to = 11.14 * unit::m;
    CHECK(judge(run, crack, runs::limits()).verdict == Verdict::patch);
    crack.to = 11.16 * unit::m;
    CHECK(judge(run, crack, runs::limits()).verdict == Verdict::junction_piece);
    run.reopening_allowed = true;
    CHECK(judge(run, crack, runs::limits()).verdict == Verdict::patch);
    CHECK_THAT(judge(run, crack, runs::limits()).reasons.back(), Contains("cut open again"));
    run.reopening_allowed = false;
    run.fittings = {runs::junction(11.2, false)};
    CHECK(judge(run, crack, runs::limits()).verdict == Verdict::patch);

    // Cutting comes before the junction piece, and water before both stays listed.
    auto intruding = runs::defect(DefectKind::intruding_connection, 11.2, 11.2);
    intruding.size = 25.0 * unit::mm;
    run.fittings = {runs::junction(11.22, true)};
    const Assessment j = judge(run, intruding, runs::limits());
    CHECK(j.verdict == Verdict::junction_piece);
    CHECK(j.preparations.size() == 1);
    // A dug defect stays dug.
    CHECK(judge(run, runs::defect(DefectKind::collapse, 11.0, 11.4), runs::limits()).verdict == Verdict::dig);
}

TEST_CASE("a change of bore inside the defect", "[survey]") {
    auto run = runs::run();
    job::Fitting change;
    change.kind = job::FittingKind::size_change;
    change.at = 9.2 * unit::m;
    change.bore = 150.0 * unit::mm;
    run.fittings = {change};
    CHECK(judge(run, runs::defect(DefectKind::fissure, 9.0, 9.4), runs::limits()).verdict == Verdict::dig);
    CHECK(judge(run, runs::defect(DefectKind::fissure, 9.0, 9.2), runs::limits()).verdict == Verdict::patch);
}

TEST_CASE("the bore that counts is the measured one", "[survey]") {
    auto run = runs::run(100.0);
    CHECK(judge(run, runs::sized(DefectKind::displaced_joint, 9.5), runs::limits()).verdict == Verdict::patch);
    run.measured_bore = 92.0 * unit::mm;
    CHECK(judge(run, runs::sized(DefectKind::displaced_joint, 9.5), runs::limits()).verdict == Verdict::dig);
}

TEST_CASE("bores below the standards' scope are marked", "[survey]") {
    CHECK_FALSE(judged(runs::defect(DefectKind::fissure), 75.0).below_scope);
    const Assessment small = judged(runs::defect(DefectKind::fissure), 70.0);
    CHECK(small.below_scope);
    CHECK_THAT(small.reasons.back(), Contains("70 mm") && Contains("75 mm"));
}

TEST_CASE("asbestos cement that must be cut is not cut dry", "[survey]") {
    auto run = runs::run();
    run.material = job::Material::asbestos_cement;
    CHECK_THAT(judge(run, runs::percented(DefectKind::root_intrusion, 20.0), runs::limits()).reasons.back(),
               Contains("asbestos"));
    CHECK(judge(run, runs::sized(DefectKind::fissure, 2.0), runs::limits()).reasons.size() == 1);
}

TEST_CASE("words of the verdicts", "[survey]") {
    CHECK(word(Verdict::patch) == "patch");
    CHECK(word(Verdict::prepare) == "prepare");
    CHECK(word(Verdict::junction_piece) == "junction piece");
    CHECK(word(Verdict::dig) == "dig");
    CHECK(word(Verdict::look_again) == "look again");
    CHECK(wants_patch(Verdict::patch));
    CHECK(wants_patch(Verdict::prepare));
    CHECK(wants_patch(Verdict::junction_piece));
    CHECK_FALSE(wants_patch(Verdict::dig));
    CHECK_FALSE(wants_patch(Verdict::look_again));
}

TEST_CASE("figures that cannot be are refused", "[survey][error]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(judged(runs::sized(DefectKind::fissure, nan)), RangeError);
    CHECK_THROWS_AS(judged(runs::sized(DefectKind::fissure, -1.0)), RangeError);
    CHECK_THROWS_AS(judged(runs::percented(DefectKind::deformation, nan)), RangeError);
    CHECK_THROWS_AS(judged(runs::defect(DefectKind::fissure), 0.0), RangeError);
    CHECK_THROWS_AS(judged(runs::defect(DefectKind::fissure), nan), RangeError);
    CHECK_THROWS_AS(judged(runs::defect(DefectKind::fissure, 5.0, 4.0)), RangeError);
    CHECK_THROWS_AS(judged(runs::defect(DefectKind::fissure, nan, 4.0)), RangeError);
}
