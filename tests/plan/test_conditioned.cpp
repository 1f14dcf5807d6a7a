// Resin cooled or warmed before it is mixed: done where a promise hangs on it, no further than that, and paid for.
#include <algorithm>
#include <catch2/catch.hpp>

#include "patchwright/cure/cure.hpp"
#include "patchwright/cure/promise.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/jobs.hpp"
#include "support/plan_rules.hpp"
#include "support/without_trials.hpp"

using namespace patchwright;

namespace {

/// Three fissures in a clay drain on a hot day: resin from the van at 26 °C.
job::Job hot_job() {
    return test::must_read(R"({"patchwright_job": 1, "reference": "hot",
        "site": {"air_temperature": "28 C", "resin_temperature": "26 C"},
        "runs": [{"id": "A", "from": "M1", "to": "M2", "length": "14 m", "bore": "100 mm", "material": "clay",
                  "depth": "1.2 m", "access": ["M1", "M2"], "ground_temperature": "17 C",
                  "defects": [{"id": "A1", "at": "3 m", "kind": "fissure", "size": "2 mm"},
                              {"id": "A2", "at": "7 m", "kind": "fissure", "size": "2 mm"},
                              {"id": "A3", "at": "11 m", "kind": "fissure", "size": "2 mm"}]}]})");
}

job::Yard only(std::initializer_list<std::string_view> resins) {
    job::Yard yard = io::builtin_yard();
    std::erase_if(yard.resins,
                  [&](const job::Resin& r) { return std::find(resins.begin(), resins.end(), r.id) == resins.end(); });
    return yard;
}

}  // namespace

TEST_CASE("a resin that sets too soon as it comes is cooled no further than it must be", "[plan][conditioning]") {
    const auto job = hot_job();
    auto yard = only({"standard"});
    const auto plan = plan::make_plan(job, yard, test::without_trials());
    REQUIRE(plan.patches.size() == 3);
    CHECK(test::broken_rules(job, yard, plan, sheet::plan_json({&plan, job.units}, true)) ==
          std::vector<std::string>{});
    const cure::Model model{yard.resins.front()};
    for (const auto& patch : plan.patches) {
        CHECK(patch.conditioned);
        const Temperature at = *patch.conditions.resin;
        CHECK(at >= yard.conditioning.from);
        CHECK(at < Temperature::celsius(26.0));
        CHECK(patch.late_probability <= yard.limits.late_at_most);
        // The cure module asked again, with the case of the sleeve alone: at that warmth it holds, 2 K warmer it does
        // not.
        const auto late = [&](Temperature resin) {
            auto conditions = patch.conditions;
            conditions.resin.value = resin;
            Working off = Working::off();
            const auto answer =
                model.answer_without_pot(patch.sleeve, patch.surroundings, conditions, yard.limits, off);
            return cure::late_probability(cure::hands_of(patch.tasks, yard.limits), answer);
        };
        CHECK(late(at) <= yard.limits.late_at_most);
        CHECK(late(at + 2.5 * unit::K) > 0.9 * yard.limits.late_at_most);
    }
    // Without the means the sleeves wait for a resin or a day that holds them.
    yard.conditioning = {};
    CHECK(plan::make_plan(job, yard, test::without_trials()).patches.empty());
}

TEST_CASE("conditioning is paid for, loaded and said on the card", "[plan][conditioning]") {
    const auto job = hot_job();
    auto yard = only({"standard"});
    const auto plan = plan::make_plan(job, yard, test::without_trials());
    const auto& lines = plan.offer.patching.lines;
    const auto line = std::find_if(lines.begin(), lines.end(),
                                   [](const auto& l) { return l.words == "Resin cooled or warmed before mixing"; });
    REQUIRE(line != lines.end());
    CHECK(line->amount == scaled(yard.conditioning.cost_per_patch, 3.0));
    std::string text;
    for (const auto& s : sheet::day_sheets({&plan, job.units}, std::nullopt)) text += sheet::text(s, {});
    CHECK(text.find("Cool box with ice packs for resin standard") != std::string::npos);
    CHECK(text.find("before they are mixed: cooled beforehand") != std::string::npos);
    // Dearer by what it costs and what hangs on that, never cheaper.
    const auto before = plan.offer.bracket.own;
    yard.conditioning.cost_per_patch = scaled(yard.conditioning.cost_per_patch, 20.0);
    CHECK(plan::make_plan(job, yard, test::without_trials()).offer.bracket.own > before);
}

TEST_CASE("sleeves share a pot only with resin of the same warmth", "[plan][conditioning]") {
    // The long sleeve takes longer to set in place: its resin is cooled, the short one's serves as it comes.
    const auto job = test::must_read(R"({"patchwright_job": 1, "reference": "two warmths",
        "site": {"start": "06:00", "finish": "20:00", "air_temperature": "24 C", "resin_temperature": "20 C"},
        "runs": [{"id": "A", "from": "M1", "to": "M2", "length": "14 m", "bore": "100 mm", "material": "clay",
                  "depth": "1.2 m", "access": ["M1", "M2"], "ground_temperature": "12 C", "resin": "standard",
                  "defects": [{"id": "A1", "at": "3 m", "kind": "fissure", "size": "2 mm"},
                              {"id": "A2", "at": "7 m", "to": "8.3 m", "kind": "fissure", "size": "2 mm"}]}]})");
    const auto& yard = io::builtin_yard();
    const auto plan = plan::make_plan(job, yard, test::without_trials());
    REQUIRE(plan.patches.size() == 2);
    CHECK(plan.patches[0].conditioned != plan.patches[1].conditioned);
    for (const auto& mix : plan.batches) CHECK(mix.batch.patches.size() == 1);
    CHECK(test::broken_rules(job, yard, plan, sheet::plan_json({&plan, job.units}, true)) ==
          std::vector<std::string>{});
}

TEST_CASE("means to condition resin, or more of them, never make a job dearer", "[plan][conditioning]") {
    for (std::uint32_t seed = 1; seed <= test::of_jobs(40); ++seed) {
        auto job_file = test::random_job(seed);
        job_file["site"]["air_temperature"] = "27 C";
        job_file["site"]["resin_temperature"] = seed % 2 == 0 ? "25 C" : "3 C";
        const auto read = io::read_job(job_file.dump(), "job");
        if (!read) continue;
        CAPTURE(seed);
        auto yard = io::builtin_yard();
        const auto net = [&](Temperature from, Temperature to) {
            yard.conditioning.from = from;
            yard.conditioning.to = to;
            const auto plan = plan::make_plan(*read.value, yard, test::without_trials());
            std::size_t mended = 0;
            for (const auto& patch : plan.patches) mended += patch.defects.size();
            return std::pair{mended, plan.offer.bracket.own};
        };
        using T = Temperature;
        const auto none = net(T::celsius(20.0), T::celsius(20.0));
        const auto narrow = net(T::celsius(14.0), T::celsius(18.0));
        const auto wide = net(T::celsius(8.0), T::celsius(28.0));
        // A defect that is mended only so is a dig less, or an option that got its day: no prices to compare.
        CHECK(narrow.first >= none.first);
        CHECK(wide.first >= narrow.first);
        if (narrow.first == none.first) CHECK(narrow.second <= none.second);
        if (wide.first == narrow.first) CHECK(wide.second <= narrow.second);
    }
}
