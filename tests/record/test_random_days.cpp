// Days of random jobs that went as they were planned.
#include <nlohmann/json.hpp>
#include <random>

#include "patchwright/io/read.hpp"
#include "patchwright/record/as_built.hpp"
#include "patchwright/sheet/record.hpp"
#include "record_of.hpp"
#include "support/jobs.hpp"

using namespace patchwright;

TEST_CASE("of any job the record of a perfect day says kept and nothing else", "[record][property]") {
    std::size_t patches = 0;
    for (std::uint32_t seed = 1; seed <= test::of_jobs(80); ++seed) {
        const auto text = test::line(test::random_job(seed));
        auto read = io::read_job(text, "job.json");
        if (!read || io::has_errors(io::cross_check(*read.value, io::builtin_yard()))) continue;
        test::Planned planned{std::move(*read.value), io::builtin_yard(), {}, UnitSystem::metric};
        plan::Options options;
        options.price = false;
        planned.plan = plan::make_plan(planned.job, planned.yard, options);
        const auto record = test::perfect_day(planned);
        const auto built = record::as_built(planned.plan, record);
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

namespace {

/// Anything that a record file may hold, drawn from its possible ranges.
class Noter {
public:
    explicit Noter(std::uint32_t seed) : engine_{seed} {}

    void change(job::PatchRecord& r) {
        for (auto* clock : {&r.mixed_at, &r.poured_at, &r.inflated_at, &r.creased_at, &r.deflated_at})
            maybe(*clock, time());
        for (auto* warmth : {&r.pipe_temperature, &r.resin_temperature, &r.air_temperature})
            maybe(*warmth, Temperature::celsius(between(-40, 60)));
        for (auto* mass : {&r.part_a, &r.part_b}) maybe(*mass, between(0.001, 1000) * unit::kg);
        for (auto* place : {&r.mark, &r.starts_at, &r.ends_at}) maybe(*place, between(0, 10000) * unit::m);
        maybe(r.bench_test.drop, between(0, 30) * unit::bar);
        maybe(r.witness.at, time());
        r.temperatures.clear();
        for (auto n = below(5); n > 0; --n)
            r.temperatures.push_back(
                {time(), Temperature::celsius(between(-30, 120)), static_cast<job::Probe>(below(3))});
        if (below(3) == 0) r.pressures.push_back({time(), between(0, 30) * unit::bar});
        if (below(4) == 0) r.outcome = static_cast<job::SleeveOutcome>(below(4));
    }

private:
    std::uint32_t below(std::uint32_t count) { return static_cast<std::uint32_t>(engine_()) % count; }
    double between(double low, double high) { return low + (high - low) * below(1000) / 999.0; }
    ClockTime time() { return {static_cast<int>(below(1440))}; }
    template <class T>
    void maybe(std::optional<T>& place, T value) {
        if (const auto way = below(4); way == 0)
            place = value;
        else if (way == 1)
            place.reset();
    }
    std::mt19937 engine_;
};

}  // namespace

TEST_CASE("whatever was noted, there are sheets with a verdict on every line", "[record][property]") {
    const auto planned = test::planned(test::project_file("examples/us-slab.json"));
    for (std::uint32_t seed = 1; seed <= test::of_jobs(150); ++seed) {
        CAPTURE(seed);
        auto record = test::perfect_day(planned);
        Noter noter{seed};
        for (auto& patch : record.patches) noter.change(patch);
        const auto built = record::as_built(planned.plan, record);
        const auto json = nlohmann::json::parse(sheet::as_built_json(planned.context(), {&record, &built}));
        for (const auto& patch : json.at("patches"))
            for (const auto& check : patch.at("checks")) {
                CAPTURE(check.dump());
                CHECK_FALSE(check.at("shown").at("verdict").get<std::string>().empty());
                // What was not noted is never kept.
                CHECK((check.at("done").is_null() || check.at("verdict") != "not noted"));
                CHECK((!check.at("done").is_null() || check.at("verdict") == "not noted"));
            }
        for (const auto& patch : built.patches) {
            if (!patch.cure) continue;
            CHECK(patch.cure->conversion >= 0.0);
            CHECK(patch.cure->conversion <= 1.0);
            CHECK(patch.cure->soft_probability >= 0.0);
            CHECK(patch.cure->soft_probability <= 1.0);
        }
        CHECK_FALSE(test::printed({sheet::guarantee_sheet(planned.context(), {&record, &built})}).empty());
    }
}
