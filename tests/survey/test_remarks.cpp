#include <catch2/catch.hpp>

#include <stdexcept>

#include "runs.hpp"

using namespace patchwright;
using namespace patchwright::survey;
using Catch::Contains;
using job::DefectKind;

namespace {

std::vector<std::string> remarks(job::Run run) {
    std::vector<Assessment> assessments;
    for (const job::Defect& defect : run.defects) assessments.push_back(judge(run, defect, runs::limits()));
    return run_remarks(run, assessments, runs::limits());
}

}  // namespace

TEST_CASE("three defects within four metres are better lined as a whole", "[survey]") {
    auto run = runs::run();
    run.defects = {runs::defect(DefectKind::fissure, 14.0, 14.1), runs::defect(DefectKind::fissure, 11.0, 11.2),
                   runs::defect(DefectKind::fissure, 12.0, 12.1)};
    REQUIRE(remarks(run).size() == 1);
    CHECK_THAT(remarks(run).front(), Contains("3 defects") && Contains("11.00 m") && Contains("14.10 m"));
    run.defects[0].at = 15.1 * unit::m;
    run.defects[0].to = 15.2 * unit::m;
    CHECK(remarks(run).empty());
    run.defects[0] = runs::defect(DefectKind::collapse, 13.0, 13.4);  // a dig is no patch
    CHECK(remarks(run).empty());
}

TEST_CASE("much of a short run under sleeves", "[survey]") {
    auto run = runs::run();
    run.length = 3.0 * unit::m;
    CHECK_FALSE(lined_remark(run, 1.2 * unit::m, runs::limits()));  // 40 %, the limit itself
    const auto remark = lined_remark(run, 1.3 * unit::m, runs::limits());
    REQUIRE(remark);
    CHECK_THAT(*remark, Contains("43.3 %") && Contains("40 %"));
}

TEST_CASE("hosts that need care, bores below scope", "[survey]") {
    auto run = runs::run();
    CHECK(remarks(run).empty());
    run.material = job::Material::asbestos_cement;
    CHECK_THAT(remarks(run).front(), Contains("asbestos cement"));
    run.material = job::Material::pitch_fibre;
    CHECK_THAT(remarks(run).front(), Contains("pitch fibre"));
    run = runs::run(50.0);
    CHECK_THAT(remarks(run).front(), Contains("50 mm") && Contains("75 mm"));
}

TEST_CASE("one assessment a defect", "[survey][error]") {
    auto run = runs::run();
    run.defects = {runs::defect(DefectKind::fissure)};
    CHECK_THROWS_AS(run_remarks(run, {}, runs::limits()), std::logic_error);
}
