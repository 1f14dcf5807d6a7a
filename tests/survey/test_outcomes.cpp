#include "patchwright/survey/outcomes.hpp"

#include <catch2/catch.hpp>

#include "runs.hpp"

using namespace patchwright;
using namespace patchwright::survey;
using job::DefectKind;

TEST_CASE("what wants another look is told up to where a patch mends it", "[survey]") {
    const auto run = runs::run(100.0);
    const auto limits = runs::limits();
    struct Row {
        DefectKind kind;
        const char *mended_if, *beyond_if;
    };
    // 0.3 of the bore; 0.10 of the bore, at most 15 mm; the least figures of runs::limits().
    for (const Row& row : {Row{DefectKind::missing_wall, "up to 30 mm wide, with sound wall round it", "larger"},
                           Row{DefectKind::displaced_joint, "up to 10 mm out of line", "more"},
                           Row{DefectKind::deformation, "up to 10 % out of round", "more"}}) {
        const auto defect = runs::defect(row.kind);
        CAPTURE(job::word(row.kind));
        REQUIRE(judge(run, defect, limits).verdict == Verdict::look_again);
        const auto told = outcomes(run, defect, limits);
        REQUIRE(told);
        CHECK(told->mended_if == row.mended_if);
        CHECK(told->beyond_if == row.beyond_if);
        CHECK(wants_patch(judge(run, told->mended, limits).verdict));
        CHECK(told->beyond.kind == DefectKind::collapse);
    }
}

TEST_CASE("a defect that has its verdict has no outcomes left open", "[survey]") {
    const auto run = runs::run(100.0);
    auto fissure = runs::defect(DefectKind::fissure);
    fissure.size = 3.0 * unit::mm;
    REQUIRE(judge(run, fissure, runs::limits()).verdict != Verdict::look_again);
    CHECK_FALSE(outcomes(run, fissure, runs::limits()));
    CHECK_FALSE(outcomes(run, runs::defect(DefectKind::collapse), runs::limits()));
}
