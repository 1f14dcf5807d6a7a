// The whole plan of the examples: every rule of the contract holds, twice with the same bytes.
#include <fmt/format.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/jobs.hpp"
#include "support/plan_rules.hpp"
#include "support/project_file.hpp"

using namespace patchwright;

namespace {

std::string json_of(const job::Job& job, const plan::Plan& plan, bool compact = false) {
    return sheet::plan_json({&plan, job.units}, compact);
}

// The job of the page that fixes the file's form, as it stands there (docs/job-file.md shows its keys).
constexpr const char* form_example = R"({
  "patchwright_job": 1,
  "reference": "Q-0412", "title": "Rear yard drain", "date": "2026-04-14",
  "units": "metric", "certainty": "survey",
  "site":  { "start": "08:00", "finish": "16:30", "travel": "35 min", "air_temperature": "11 C" },
  "runs": [
    { "id": "A", "from": "MH1", "to": "MH2", "length": "21.4 m", "bore": "100 mm", "material": "clay",
      "condition": "partially deteriorated", "ovality": "2 %",
      "depth": "1.35 m", "water_table": "0.85 m", "ground_temperature": "9 C",
      "access": ["MH1", "MH2"],
      "flow": { "inflow": "0.02 l/s", "storage": "60 l" },
      "fittings": [ { "at": "6.80 m", "kind": "bend", "angle": "45 deg", "radius": "150 mm" },
                    { "at": "11.20 m", "kind": "junction", "bore": "100 mm", "clock": "2", "live": true } ],
      "defects":  [ { "id": "A1", "at": "3.90 m", "to": "4.40 m", "kind": "fissure", "clock": "10-2", "size": "3 mm" },
                    { "id": "A2", "at": "9.10 m", "kind": "displaced joint", "size": "8 mm" } ] } ],
  "dig": { "surface": "concrete", "soil": "B" }
})";

}  // namespace

TEST_CASE("the examples' plans keep every rule", "[plan]") {
    const std::string file = GENERATE("examples/demo.json", "examples/us-slab.json");
    CAPTURE(file);
    const auto job = test::must_read(test::project_file(file));
    const auto plan = plan::make_plan(job, io::builtin_yard());
    const auto json = json_of(job, plan);
    const auto broken = test::broken_rules(job, io::builtin_yard(), plan, json);
    for (const auto& words : broken) UNSCOPED_INFO(words);
    CHECK(broken.empty());
    CHECK(plan.patches.size() >= 2);
    CHECK(plan.schedule.impossible.empty());

    const auto again = plan::make_plan(job, io::builtin_yard());
    CHECK(json_of(job, again) == json);
    CHECK(nlohmann::json::parse(json_of(job, plan, true)) == nlohmann::json::parse(json));
    CHECK(json_of(job, plan, true).find('\n') == std::string::npos);
}

TEST_CASE("the demonstration job holds one of everything that a job can meet", "[plan]") {
    // README and issue of the example: three runs, eight defects, a bend, a live junction, one defect that must be dug
    // and one that needs a better survey.
    const auto job = test::must_read(test::project_file("examples/demo.json"));
    const auto plan = plan::make_plan(job, io::builtin_yard());
    std::multiset<survey::Verdict> verdicts;
    for (const auto& run : plan.runs) {
        for (const auto& verdict : run.verdicts) verdicts.insert(verdict.assessment.verdict);
    }
    CHECK(plan.runs.size() == 3);
    CHECK(verdicts.size() == 8);
    CHECK(verdicts.count(survey::Verdict::dig) == 1);
    CHECK(verdicts.count(survey::Verdict::look_again) == 1);
    CHECK(verdicts.count(survey::Verdict::prepare) >= 1);
    CHECK_FALSE(plan.everything_patched);
    CHECK(plan.offer.bracket.bid);
    CHECK(std::is_sorted(plan.dates.begin(), plan.dates.end()));
    REQUIRE_FALSE(plan.dates.empty());
    CHECK(plan.dates.front() == *job.date);
}

TEST_CASE("the example of the file's form reads and gets a patch", "[plan]") {
    const auto job = test::must_read(form_example);
    const auto plan = plan::make_plan(job, io::builtin_yard());
    CHECK_FALSE(plan.patches.empty());
    CHECK(test::broken_rules(job, io::builtin_yard(), plan, json_of(job, plan)) == std::vector<std::string>{});
    for (const auto& verdict : plan.runs.front().verdicts) {
        CAPTURE(verdict.defect);
        CHECK(survey::wants_patch(verdict.assessment.verdict));
    }
}

TEST_CASE("a job with nothing to patch is an answer, not a fault", "[plan]") {
    const auto job = test::must_read(R"({"patchwright_job": 1, "reference": "none", "runs": [
        {"id": "A", "length": "12 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m"}]})");
    const auto plan = plan::make_plan(job, io::builtin_yard());
    CHECK(plan.patches.empty());
    CHECK(plan.schedule.days.empty());
    CHECK(plan.layout.cost.is_zero());
    CHECK(plan.everything_patched);
    CHECK(test::broken_rules(job, io::builtin_yard(), plan, json_of(job, plan)) == std::vector<std::string>{});
}

TEST_CASE("leaving the working out changes no figure", "[plan]") {
    const auto job = test::must_read(test::project_file("examples/us-slab.json"));
    plan::Options options;
    options.working = false;
    const auto quiet = plan::make_plan(job, io::builtin_yard(), options);
    CHECK(json_of(job, quiet) == json_of(job, plan::make_plan(job, io::builtin_yard())));
    for (const auto& p : quiet.patches) {
        for (const auto& working : p.workings) CHECK(working.empty());
    }
}
