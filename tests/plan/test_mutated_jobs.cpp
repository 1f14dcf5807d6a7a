// Jobs changed at random never bring the program down: what reads is planned, and every sheet of it can be made.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/all_sheets.hpp"
#include "support/jobs.hpp"
#include "support/plan_rules.hpp"
#include "support/project_file.hpp"

using namespace patchwright;

TEST_CASE("changed examples that still read are planned and printed", "[plan][robust]") {
    const job::Yard& yard = io::builtin_yard();
    const auto demo = nlohmann::ordered_json::parse(test::project_file("examples/demo.json"));
    const auto slab = nlohmann::ordered_json::parse(test::project_file("examples/us-slab.json"));
    int read = 0;
    for (std::uint32_t seed = 1; seed <= test::of_jobs(150); ++seed) {
        const auto text = test::line(test::mutated(seed % 3 == 0 ? demo : slab, seed));
        const auto job = io::read_job(text, "job.json");
        if (!job || io::has_errors(io::cross_check(*job.value, yard))) continue;
        ++read;
        INFO("seed " << seed << "\n" << text);
        plan::Options options;
        options.trials = 100;
        options.k_best = 4;
        try {
            const auto plan = plan::make_plan(*job.value, yard, options);
            const sheet::Context context{&plan, job.value->units};
            const auto broken = test::broken_rules(*job.value, yard, plan, sheet::plan_json(context, true));
            for (const auto& words : broken) UNSCOPED_INFO(words);
            if (!broken.empty()) CHECK(broken.empty());
            if (test::make_all_sheets(context) == 0) FAIL_CHECK("no sheet");
        } catch (const std::exception& error) {
            FAIL_CHECK(error.what());
        }
    }
    CHECK(read >= static_cast<int>(test::of_jobs(50)));
}

TEST_CASE("two sleeves that hardly pass each other keep gap or lap on whatever packer each comes", "[plan][robust]") {
    // The layout laps them; another packer would have had its cheapest place 2 cm from the other sleeve.
    const auto job = test::must_read(R"({"patchwright_job": 1, "reference": "near", "runs": [{"id": "R", "from": "up",
        "to": "down", "length": "31.69 m", "bore": "150 mm", "material": "cast iron", "depth": "0.96 m",
        "ground_temperature": "17 C", "access": ["up", "down"], "defects": [
        {"id": "D1", "at": "10.00 m", "to": "10.61 m", "kind": "fissure", "clock": "9-1", "size": "2 mm"},
        {"id": "D2", "at": "8.01 m", "to": "9.48 m", "kind": "fissure", "clock": "4-6", "size": "2 mm"}]}]})");
    const job::Yard& yard = io::builtin_yard();
    plan::Options options;
    options.trials = 30;
    const auto plan = plan::make_plan(job, yard, options);
    REQUIRE(plan.patches.size() == 2);
    const sheet::Context context{&plan, job.units};
    CHECK(test::broken_rules(job, yard, plan, sheet::plan_json(context, true)).empty());
}
