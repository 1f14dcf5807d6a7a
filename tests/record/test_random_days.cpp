// Days of random jobs that went as they were planned.
#include "patchwright/job/read.hpp"
#include "patchwright/record/as_built.hpp"
#include "patchwright/sheet/record.hpp"
#include "record_of.hpp"
#include "support/jobs.hpp"

using namespace patchwright;

TEST_CASE("of any job the record of a perfect day says kept and nothing else", "[record][property]") {
    std::size_t patches = 0;
    for (std::uint32_t seed = 1; seed <= test::of_jobs(80); ++seed) {
        const auto text = test::line(test::random_job(seed));
        auto read = job::read_job(text, "job.json");
        if (!read || job::has_errors(job::cross_check(*read.value, job::builtin_yard()))) continue;
        test::Planned planned{std::move(*read.value), job::builtin_yard(), {}, UnitSystem::metric};
        plan::Options options;
        options.price = false;
        planned.plan = plan::make_plan(planned.job, planned.yard, options);
        const auto record = test::perfect_day(planned);
        const auto built = record::as_built(planned.job, planned.yard, planned.plan, record);
        for (const auto& patch : built.patches)
            for (const auto& check : patch.checks) {
                if (check.verdict == record::Verdict::kept) continue;
                INFO("seed " << seed << "\n" << text);
                CAPTURE(planned.plan.patches[patch.patch].id, check.what, check.missed_by, check.limit_words);
                CHECK(check.verdict == record::Verdict::kept);
            }
        patches += built.patches.size();
        // The sheets of any record can be made.
        CHECK_FALSE(sheet::as_built_sheets(planned.context(), {&record, &built}).empty());
        CHECK_FALSE(sheet::as_built_json(planned.context(), {&record, &built}).empty());
        CHECK_FALSE(sheet::guarantee_sheet(planned.context(), {&record, &built}).blocks.empty());
    }
    CHECK(patches > test::of_jobs(80));
}
