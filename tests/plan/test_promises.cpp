// The two promises on whole plans of random jobs, counted over ten thousand drawn days of each sleeve.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/jobs.hpp"
#include "support/simulated_days.hpp"

using namespace patchwright;

TEST_CASE("of ten thousand drawn days as many are late or soft as the plan says", "[plan][property]") {
    const auto& yard = io::builtin_yard();
    constexpr int days = test::under_sanitizers ? 2000 : 10000;
    // The sums of the hands lie within 0.0015, and ln t is not quite straight in the warmth.
    constexpr double of_the_method = 0.005;
    const auto within = [](double share, double chance) {
        const double p = std::max(chance, 0.002);
        return std::abs(share - chance) <= of_the_method + 4.0 * std::sqrt(p * (1.0 - p) / days);
    };
    plan::Options options;
    options.trials = 0;
    options.tables = options.working = false;
    int sleeves = 0, risky = 0, heated = 0;
    for (std::uint32_t seed = 501; seed <= 500 + test::of_jobs(60); ++seed) {
        const auto job = io::read_job(test::line(test::random_job(seed)), "job.json");
        if (!job || io::has_errors(io::cross_check(*job.value, yard))) continue;
        const auto plan = plan::make_plan(*job.value, yard, options);
        for (std::size_t p = 0; p < plan.patches.size(); ++p) {
            const auto& patch = plan.patches[p];
            const auto counted = test::simulated_days(yard, plan, p, days, seed);
            CAPTURE(seed, patch.id, patch.late_probability, counted.late, patch.cure.soft_probability, counted.soft);
            CHECK(within(counted.late, patch.late_probability));
            CHECK(counted.late <= yard.limits.late_at_most + of_the_method + 4.0 * std::sqrt(0.05 / days));
            CHECK(within(counted.soft, patch.cure.soft_probability));
            CHECK(counted.soft <= yard.limits.soft_at_most + of_the_method + 4.0 * std::sqrt(0.02 / days));
            ++sleeves;
            risky += patch.late_probability > 0.01 ? 1 : 0;
            heated += patch.heater >= 0 ? 1 : 0;
        }
    }
    CAPTURE(sleeves, risky, heated);
    CHECK(sleeves >= static_cast<int>(test::of_jobs(30)));
    CHECK(risky > 0);
    CHECK(heated > 0);
}
