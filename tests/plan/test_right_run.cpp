#include <catch2/catch.hpp>

#include <nlohmann/json.hpp>

#include "patchwright/job/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/jobs.hpp"

using namespace patchwright;

TEST_CASE("tasks name the run that is worked in, also where the job's first run gets no patch", "[plan]") {
    const auto job = test::must_read(R"({
      "patchwright_job": 1, "reference": "right run", "runs": [
      {"id": "A", "from": "M1", "to": "M2", "length": "10 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
       "access": ["M1", "M2"], "defects": []},
      {"id": "B", "from": "M2", "to": "M3", "length": "10 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
       "access": ["M2", "M3"], "defects": [{"id": "B1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]}]})");
    const auto& yard = job::builtin_yard();
    const auto plan = plan::make_plan(job, yard);
    REQUIRE(plan.patches.size() == 1);
    const sheet::Context context{&job, &yard, &plan, job.units, false};
    int named = 0;
    const auto json = nlohmann::json::parse(sheet::plan_json(context, true));
    for (const auto& day : json.at("schedule").at("days")) {
        for (const auto& task : day.at("tasks")) {
            if (!task.contains("run")) continue;
            CHECK(task.at("run") == "B");
            ++named;
        }
    }
    CHECK(named > 0);
    const auto sheets = sheet::day_sheets(context, 0);
    const auto text = sheet::text(sheets.front(), {});
    CHECK(text.find("run A") == std::string::npos);
    CHECK(text.find("run B") != std::string::npos);
}
