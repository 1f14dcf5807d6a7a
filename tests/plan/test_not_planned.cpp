// A clock never makes a dig: a patch that no day holds is told with what would make room for it, and that works.
#include <catch2/catch.hpp>

#include <algorithm>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/jobs.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using Catch::Matchers::Contains;

TEST_CASE("a patch that the day is too short for is no dig, and its condition makes room for it", "[plan]") {
    auto job = test::must_read(test::project_file("examples/demo.json"));
    const auto& yard = io::builtin_yard();
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
    const sheet::Context context{&plan, job.units};
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
    const auto plan = plan::make_plan(job, io::builtin_yard(), options);
    REQUIRE_FALSE(plan.not_planned.empty());
    CHECK_THAT(plan.not_planned.front().condition, Contains("no day is long enough"));
    CHECK_FALSE(plan.not_planned.front().extra_net);
}

TEST_CASE("a pipe pressed flat is a verdict on it, not the end of the job", "[plan]") {
    const auto job = test::must_read(R"({"patchwright_job": 1, "reference": "flat", "runs": [
        {"id": "A", "from": "a", "to": "b", "length": "12 m", "bore": "100 mm", "material": "PVC-U", "depth": "1 m", "access": ["a", "b"],
         "defects": [{"id": "flat", "at": "3 m", "kind": "deformation", "size": "100 %"},
                     {"id": "crack", "at": "8 m", "kind": "fissure", "size": "2 mm"}]}]})");
    const auto plan = plan::make_plan(job, io::builtin_yard());
    REQUIRE(plan.runs.front().verdicts.size() == 2);
    CHECK(plan.runs.front().verdicts[0].assessment.verdict == survey::Verdict::dig);
    CHECK(plan.patches.size() == 1);
}

TEST_CASE("a cure that no day holds runs on overnight, where the yard lets packers stay", "[plan]") {
    auto job =
        test::must_read(R"({"patchwright_job": 1, "reference": "night", "site": {"start": "06:00", "finish": "13:00",
        "travel": "10 min", "air_temperature": "12 C"}, "runs": [{"id": "A", "from": "M1", "to": "M2", "length": "30 m",
        "bore": "100 mm", "material": "clay", "depth": "1.4 m", "ground_temperature": "10 C", "access": ["M1", "M2"],
        "resin": "standard", "defects": [{"id": "A1", "at": "10 m", "kind": "fissure", "size": "2 mm"}]}]})");
    auto yard = io::builtin_yard();
    yard.heaters.clear();  // a heater would do it in one day
    plan::Options options;
    options.trials = 0;
    REQUIRE_FALSE(plan::make_plan(job, yard, options).not_planned.empty());
    yard.limits.overnight_cure = true;
    const auto plan = plan::make_plan(job, yard, options);
    CHECK(plan.not_planned.empty());
    CHECK(plan.everything_patched);
    REQUIRE(plan.patches.size() == 1);
    REQUIRE(plan.schedule.days.size() == 2);
    const auto begin = [&](std::size_t day, schedule::What what) {
        for (const auto& task : plan.schedule.days[day].tasks)
            if (task.what == what) return task.start;
        return -1;
    };
    const auto mixed = begin(0, schedule::What::wet_out), let_down = begin(1, schedule::What::let_down);
    CHECK(mixed > 0);
    CHECK(begin(0, schedule::What::let_down) < 0);
    // Hard, but for the promised chance, when it is let down the next morning.
    CHECK(1440 + let_down - mixed >= plan.patches.front().cure.sheet.let_down.in(unit::minute));
    const auto& lines = plan.offer.patching.lines;
    CHECK(std::any_of(lines.begin(), lines.end(), [&](const price::Line& line) {
        return line.words == "Cure overnight" && line.amount == yard.rates.premium_overnight;
    }));
    // A day that holds it needs no night.
    job.site.finish.minutes = 20 * 60;
    CHECK(plan::make_plan(job, yard, options).schedule.days.size() == 1);
    // One that is not hard by the next morning if it is mixed last thing waits for a longer day.
    job.site.finish.minutes = 13 * 60;
    job.runs.front().ground_temperature.value = Temperature::celsius(5.0);
    job.runs.front().resin = "slow";
    const auto cold = plan::make_plan(job, yard, options);
    for (const auto& patch : cold.patches) CHECK(patch.cure.sheet.let_down <= 17.0 * unit::h);
}

TEST_CASE("of several sleeves that stay overnight each is mixed once, and let down once it is hard", "[plan]") {
    auto job = test::must_read(test::project_file("examples/demo.json"));
    auto yard = io::builtin_yard();
    yard.limits.overnight_cure = true;
    plan::Options options;
    options.trials = 0;
    int nights = 0;
    for (const int hours : {4, 5}) {
        job.site.finish.minutes = job.site.start.minutes + hours * 60;
        const auto plan = plan::make_plan(job, yard, options);
        CAPTURE(hours);
        for (std::size_t i = 0; i < plan.patches.size(); ++i) {
            int mixed = -1, let_down = -1, mixes = 0, let_downs = 0;
            for (std::size_t day = 0; day < plan.schedule.days.size(); ++day)
                for (const auto& task : plan.schedule.days[day].tasks) {
                    if (task.patch != static_cast<int>(i)) continue;
                    const int at = static_cast<int>(day) * 1440 + task.start;
                    if (task.what == schedule::What::wet_out) mixed = at, ++mixes;
                    if (task.what == schedule::What::let_down) let_down = at, ++let_downs;
                }
            CAPTURE(plan.patches[i].id);
            CHECK(mixes == 1);
            CHECK(let_downs == 1);
            CHECK(let_down - mixed >= plan.patches[i].cure.sheet.let_down.in(unit::minute)-1e-9);
            nights += let_down / 1440 > mixed / 1440 ? 1 : 0;
        }
    }
    CHECK(nights > 0);
}
