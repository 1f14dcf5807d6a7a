// A clock never makes a dig: a patch that no day holds is told with what would make room for it, and that works.
#include <catch2/catch.hpp>

#include <algorithm>

#include "patchwright/job/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/jobs.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using Catch::Matchers::Contains;

TEST_CASE("a patch that the day is too short for is no dig, and its condition makes room for it", "[plan]") {
    auto job = test::must_read(test::project_file("examples/demo.json"));
    const auto& yard = job::builtin_yard();
    job.site.finish.minutes = job.site.start.minutes + 5 * 60;
    plan::Options options;
    options.trials = 0;
    const auto plan = plan::make_plan(job, yard, options);
    REQUIRE_FALSE(plan.not_planned.empty());
    CHECK_FALSE(plan.everything_patched);
    const auto& left = plan.not_planned.front();
    CHECK(left.minutes > 0);
    REQUIRE(left.extra_net);
    CHECK(*left.extra_net > Money{});
    CHECK_THAT(left.condition, Contains("min too short"));
    const auto said = std::count_if(plan.warnings.begin(), plan.warnings.end(),
                                    [](const auto& words) { return words.starts_with("Not planned: "); });
    CHECK(static_cast<std::size_t>(said) == plan.not_planned.size());
    const sheet::Context context{&job, &yard, &plan, job.units};
    const auto letter = sheet::text(sheet::quote_sheet(context), {});
    CHECK_THAT(letter, Contains("Possible on a longer working day; not in the total"));
    CHECK_THAT(letter, !Contains("a patch does not fit here"));

    auto longer = job;
    longer.site.finish.minutes += left.minutes;
    const auto then = plan::make_plan(longer, yard, options);
    CHECK(then.not_planned.size() < plan.not_planned.size());
    CHECK(std::any_of(then.patches.begin(), then.patches.end(), [&](const plan::Patch& patch) {
        return patch.run == left.patch.run && patch.defects == left.patch.defects;
    }));
}

TEST_CASE("a patch that takes longer than a day and a night says so", "[plan]") {
    auto job = test::must_read(test::project_file("examples/demo.json"));
    job.site.travel = 11.0 * unit::h;
    plan::Options options;
    options.trials = 0;
    const auto plan = plan::make_plan(job, job::builtin_yard(), options);
    REQUIRE_FALSE(plan.not_planned.empty());
    CHECK_THAT(plan.not_planned.front().condition, Contains("no day is long enough"));
    CHECK_FALSE(plan.not_planned.front().extra_net);
}

TEST_CASE("a pipe pressed flat is a verdict on it, not the end of the job", "[plan]") {
    const auto job = test::must_read(R"({"patchwright_job": 1, "reference": "flat", "runs": [
        {"id": "A", "from": "a", "to": "b", "length": "12 m", "bore": "100 mm", "material": "PVC-U", "depth": "1 m", "access": ["a", "b"],
         "defects": [{"id": "flat", "at": "3 m", "kind": "deformation", "size": "100 %"},
                     {"id": "crack", "at": "8 m", "kind": "fissure", "size": "2 mm"}]}]})");
    const auto plan = plan::make_plan(job, job::builtin_yard());
    REQUIRE(plan.runs.front().verdicts.size() == 2);
    CHECK(plan.runs.front().verdicts[0].judgement.verdict == survey::Verdict::dig);
    CHECK(plan.patches.size() == 1);
}
