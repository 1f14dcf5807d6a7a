// Jobs too large for a proof are planned a few sleeves at a time: more freedom must not make them dearer all the same.
#include <catch2/catch.hpp>

#include <fmt/format.h>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/jobs.hpp"

using namespace patchwright;

namespace {

/// Runs of three fissures that can be reached from one end alone: one sleeve of a run cures at a time.
job::Job one_mouth_each(int runs) {
    std::string list;
    for (int i = 0; i < runs; ++i)
        list += fmt::format(R"({}{{"id": "R{}", "from": "M{}", "to": "N{}", "length": "12 m", "bore": "100 mm",
            "material": "clay", "depth": "1.2 m", "access": ["M{}"], "defects": [
            {{"id": "D1", "at": "3 m", "kind": "fissure", "size": "2 mm"}},
            {{"id": "D2", "at": "6 m", "kind": "fissure", "size": "2 mm"}},
            {{"id": "D3", "at": "9 m", "kind": "fissure", "size": "2 mm"}}]}})",
                            i == 0 ? "" : ", ", i, i, i, i);
    return test::must_read(R"({"patchwright_job": 1, "reference": "large", "site": {"start": "08:00"}, "runs": [)" +
                           list + "]}");
}

}  // namespace

TEST_CASE("a large job works runs side by side where one sleeve of a run cures at a time", "[plan]") {
    constexpr int runs = test::under_sanitizers ? 5 : 6;
    auto job = one_mouth_each(runs);
    plan::Options options;
    options.trials = 0;
    const auto planned = [&](ClockTime finish) {
        job.site.finish = finish;
        return plan::make_plan(job, io::builtin_yard(), options);
    };
    const auto usual = planned({990}), longer = planned({1050});  // 16:30, 17:30
    REQUIRE(usual.patches.size() == 3U * runs);
    // Three packers of that bore and air lines serve three runs at a time: three sleeves a day, as a crew would.
    CHECK(usual.schedule.days.size() <= static_cast<std::size_t>(runs) + 1);
    CHECK(longer.offer.bracket.own <= usual.offer.bracket.own);
    CHECK(longer.schedule.days.size() <= usual.schedule.days.size());
}
