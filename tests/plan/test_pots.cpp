// Where the resin stands while it is in the pot: in the warmer of the air outside and the van.
#include <catch2/catch.hpp>

#include <algorithm>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/jobs.hpp"
#include "support/project_file.hpp"

using namespace patchwright;

TEST_CASE("a pot in a warm van gels as soon as one in air as warm", "[plan]") {
    const job::Yard& yard = io::builtin_yard();
    auto job = test::must_read(test::project_file("examples/demo.json"));
    job.runs.resize(1);
    job.runs.front().resin = "standard";
    job.runs.front().ground_temperature = {Temperature::celsius(15.0), Origin::given};
    const auto planned = [&](double air, double van) {
        job.site.air_temperature = {Temperature::celsius(air), Origin::given};
        job.site.van_temperature = Temperature::celsius(van);
        job.site.resin_temperature = Temperature::celsius(15.0);
        auto plan = plan::make_plan(job, yard);
        // Which is mixed first hangs on the cure, and so on the air.
        std::sort(plan.batches.begin(), plan.batches.end(),
                  [](const auto& a, const auto& b) { return a.pot.total < b.pot.total; });
        return plan;
    };
    const plan::Plan cool = planned(10.0, 10.0), in_van = planned(10.0, 22.0), in_air = planned(22.0, 10.0);
    REQUIRE_FALSE(cool.batches.empty());
    REQUIRE(in_van.batches.size() == in_air.batches.size());
    for (std::size_t i = 0; i < in_van.batches.size(); ++i) {
        REQUIRE(in_van.batches[i].pot.total == in_air.batches[i].pot.total);
        CHECK(in_van.batches[i].bucket.pot_life == in_air.batches[i].bucket.pot_life);
        CHECK(in_van.batches[i].batch.pour_by == in_air.batches[i].batch.pour_by);
        if (in_van.batches[i].pot.total == cool.batches[i].pot.total)
            CHECK(in_van.batches[i].bucket.pot_life < 0.95 * cool.batches[i].bucket.pot_life);
    }
}
