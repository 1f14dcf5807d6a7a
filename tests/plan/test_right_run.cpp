// Every task stands in the run where the work is, on the sheet and in the JSON.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <string>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/jobs.hpp"
#include "support/plan_rules.hpp"

using namespace patchwright;

TEST_CASE("a first run without a patch is not set up for the second one's", "[plan]") {
    const auto job = test::must_read(R"({"patchwright_job": 1, "reference": "T-9", "date": "2026-05-04", "runs": [
        {"id": "sound", "from": "M1", "to": "M2", "length": "10 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
         "access": ["M1", "M2"], "defects": []},
        {"id": "broken", "from": "M2", "to": "M3", "length": "12 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
         "access": ["M2", "M3"], "ground_temperature": "12 C",
         "defects": [{"id": "1", "at": "4 m", "kind": "fissure", "size": "2 mm"}]}]})");
    const job::Yard& yard = io::builtin_yard();
    const auto plan = plan::make_plan(job, yard);
    REQUIRE(plan.patches.size() == 1);
    const sheet::Context context{&plan, job.units};

    int placed = 0;
    const auto json = nlohmann::json::parse(sheet::plan_json(context, true));
    for (const auto& day : json["schedule"]["days"])
        for (const auto& task : day["tasks"]) {
            if (!task.contains("run")) continue;
            CHECK(task["run"] == "broken");
            CHECK(task["persons"].get<int>() >= 0);
            ++placed;
        }
    CHECK(placed >= 10);
    for (const auto& blocked : plan.schedule.blocked) CHECK(job::index(blocked.run) == 1);

    std::string text;
    for (const auto& sheet : sheet::day_sheets(context, 0)) text += sheet::text(sheet, {});
    CHECK(text.find("run broken") != std::string::npos);
    CHECK(text.find("run sound") == std::string::npos);
}

TEST_CASE("random jobs have runs without a patch before runs with one", "[plan][property]") {
    int before = 0;
    for (std::uint32_t seed = 1; seed <= 200 && before < 10; ++seed) {
        const auto job = io::read_job(test::line(test::random_job(seed)), "job.json");
        if (!job || io::has_errors(io::cross_check(*job.value, io::builtin_yard()))) continue;
        plan::Options options;
        options.trials = 0;
        options.price = false;
        const auto plan = plan::make_plan(*job.value, io::builtin_yard(), options);
        int first = 1 << 30;
        for (const auto& patch : plan.patches) first = std::min(first, patch.run);
        before += !plan.patches.empty() && first > 0 ? 1 : 0;
    }
    CHECK(before >= 10);  // the rule of places in plan_rules_day.cpp has something to find
}
