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
