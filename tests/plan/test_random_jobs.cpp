// Random jobs that read are planned, and every rule of the contract holds for the plan.
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/jobs.hpp"
#include "support/plan_rules.hpp"

using namespace patchwright;

namespace {

plan::Options quick() {
    plan::Options options;
    options.trials = 200;  // the quantiles' order and sums need no more
    return options;
}

void check_same_bytes(const job::Job& job) {
    const job::Yard& yard = io::builtin_yard();
    const auto once = plan::make_plan(job, yard, quick());
    const auto bytes = sheet::plan_json({&once, job.units}, true);
    const job::Job copy = job;
    for (const int threads : {1, 2, 5}) {
        auto options = quick();
        options.threads = threads;
        const auto again = plan::make_plan(copy, yard, options);
        CHECK(sheet::plan_json({&again, copy.units}, true) == bytes);
    }
}

}  // namespace

TEST_CASE("plans of random jobs keep every rule", "[plan][property]") {
    const job::Yard& yard = io::builtin_yard();
    int read = 0;
    std::size_t patches = 0, several_days = 0, shared = 0;
    for (std::uint32_t seed = 1; seed <= test::of_jobs(200); ++seed) {
        const auto text = test::line(test::random_job(seed));
        const auto job = io::read_job(text, "job.json");
        if (!job || io::has_errors(io::cross_check(*job.value, yard))) continue;
        ++read;
        const auto plan = plan::make_plan(*job.value, yard, quick());
        const sheet::Context context{&plan, job.value->units};
        const auto broken = test::broken_rules(*job.value, yard, plan, sheet::plan_json(context, true));
        if (!broken.empty()) {
            INFO("seed " << seed << "\n" << text);
            for (const auto& words : broken) UNSCOPED_INFO(words);
            CHECK(broken.empty());
        }
        patches += plan.patches.size();
        several_days += plan.schedule.days.size() > 1 ? 1 : 0;
        shared += plan.batches.size() < plan.patches.size() ? 1 : 0;
    }
    // The jobs must be worth the name: most read, and there is something to plan.
    CAPTURE(read, patches, several_days, shared);
    CHECK(read >= static_cast<int>(test::of_jobs(150)));
    CHECK(patches >= test::of_jobs(100));
    CHECK(several_days >= test::of_jobs(10));
}

TEST_CASE("the same random job gives the same bytes on any number of threads", "[plan][property]") {
    for (std::uint32_t seed = 301; seed <= 300 + test::of_jobs(40); ++seed) {
        const auto job = io::read_job(test::line(test::random_job(seed)), "job.json");
        if (!job) continue;
        CAPTURE(seed);
        check_same_bytes(*job.value);
    }
}

TEST_CASE("sleeves of one cure case have the same tables whichever comes first", "[plan]") {
    // Two lengths in one case, and a day that takes them in another order than the layout's list.
    check_same_bytes(test::must_read(R"({"patchwright_job": 1, "reference": "T-1", "date": "2026-05-04", "runs": [{
        "id": "A", "length": "10 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m", "access": ["start", "end"],
        "defects": [{"id": "1", "at": "0.1 m", "kind": "fissure", "size": "2 mm"},
                    {"id": "2", "at": "9.95 m", "kind": "fissure", "size": "2 mm"}]}]})"));
}

TEST_CASE("where joints leak every 0.6 m the cheapest layout is found and proven", "[plan]") {
    // Clay pipes of that length are common. The ways to lap sleeves over such joints are countless.
    const job::Yard& yard = io::builtin_yard();
    std::string defects;
    constexpr int joints = test::under_sanitizers ? 3 : 5;
    for (int i = 0; i < joints; ++i)
        defects += fmt::format(R"({}{{"id": "{}", "at": "{:.1f} m", "kind": "fissure", "size": "2 mm"}})",
                               i == 0 ? "" : ", ", i + 1, 0.7 + 0.6 * i);
    const auto job = test::must_read(R"({"patchwright_job": 1, "reference": "T-2", "date": "2026-05-04", "runs": [{
        "id": "A", "length": "6 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
        "access": ["start", "end"], "ground_temperature": "10 C", "defects": [)" +
                                     defects + "]}]}");
    const auto plan = plan::make_plan(job, yard, quick());
    CHECK(plan.whole.proven_optimal);
    CHECK(test::broken_rules(job, yard, plan, sheet::plan_json({&plan, job.units}, true)).empty());
    std::size_t mended = 0;
    for (const auto& patch : plan.patches) mended += patch.defects.size();
    CHECK(mended == joints);
}

TEST_CASE("a long run with many patches keeps every rule", "[plan]") {
    // A yard that reaches all of it and need not clean it: else the cleaning alone would fill the day.
    job::Yard yard = io::builtin_yard();
    yard.durations.clean_per_10_m.low = yard.durations.clean_per_10_m.likely = yard.durations.clean_per_10_m.high = {};
    yard.limits.push_reach = yard.limits.air_hose_length = yard.limits.strap_length = 1000.0 * unit::m;
    for (auto& packer : yard.packers) packer.hose_length = 1000.0 * unit::m;
    const auto job = test::must_read(test::line(test::long_run(24)));
    auto options = quick();
    options.k_best = 1;
    const auto plan = plan::make_plan(job, yard, options);
    std::size_t mended = 0;
    for (const auto& patch : plan.patches) mended += patch.defects.size();
    CHECK(mended == 24);
    CHECK(plan.patches.size() > 4);
    CHECK(test::broken_rules(job, yard, plan, sheet::plan_json({&plan, job.units}, true)) ==
          std::vector<std::string>{});
}

TEST_CASE("a run of ten thousand defects gets an answer for each", "[.slow]") {
    const auto job = test::must_read(test::line(test::long_run(10000)));
    plan::Options options;
    options.trials = 0;
    const auto plan = plan::make_plan(job, io::builtin_yard(), options);
    CHECK(plan.runs.front().verdicts.size() == 10000);
    // Twenty kilometres cannot be cleaned in a day: the plan says so of each defect, and does not fail.
    CHECK_FALSE(plan.everything_patched);
    CHECK(test::broken_layout_rules(job, io::builtin_yard(), plan) == std::vector<std::string>{});
    const sheet::Context context{&plan, job.units};
    CHECK(sheet::text(sheet::quote_sheet(context), {}).size() > 1000);
}

TEST_CASE("a job of five hundred runs gets a patch in each", "[.slow]") {
    std::string runs;
    for (int i = 0; i < 500; ++i)
        runs += fmt::format(R"({}{{"id": "R{}", "from": "M{}", "to": "N{}", "length": "12 m", "bore": "100 mm",
            "material": "clay", "depth": "1.2 m", "access": ["M{}", "N{}"],
            "defects": [{{"id": "D", "at": "5 m", "kind": "fissure", "size": "2 mm"}}]}})",
                            i == 0 ? "" : ",", i, i, i, i, i);
    const auto job = test::must_read(R"({"patchwright_job": 1, "reference": "500", "runs": [)" + runs + "]}");
    const auto plan = plan::make_plan(job, io::builtin_yard(), quick());
    CHECK(plan.patches.size() == 500);
}
