#include <nlohmann/json.hpp>

#include "patchwright/io/read_record.hpp"
#include "patchwright/sheet/record.hpp"
#include "sheet/planned.hpp"

using namespace patchwright;

TEST_CASE("the blank record of a plan reads as one in which nothing was noted", "[record][starter]") {
    const auto units = GENERATE(UnitSystem::metric, UnitSystem::us);
    const auto demo = test::planned(test::project_file("examples/demo.json"), units);
    io::RecordNames names{demo.job.reference, {}, {}};
    for (const auto& patch : demo.plan.patches) names.patches.push_back(patch.id);
    const auto text = sheet::record_starter(demo.context());
    const auto read = io::read_record(text, "starter", &names);
    REQUIRE(read.diagnostics.empty());
    REQUIRE(read);
    REQUIRE(read.value->patches.size() == demo.plan.patches.size());
    for (std::size_t i = 0; i < names.patches.size(); ++i) {
        const job::PatchRecord& patch = read.value->patches[i];
        CHECK(patch.id == names.patches[i]);  // in order of work
        CHECK_FALSE(patch.outcome);
        CHECK_FALSE(patch.mixed_at);
        CHECK(patch.pressures.empty());
        CHECK(patch.temperatures.empty());
    }
    CHECK(read.value->tests.empty());
    CHECK(read.value->days.size() == demo.plan.schedule.days.size());
}

TEST_CASE("the blank record offers every key of a patch, and says what was planned", "[record][starter]") {
    const auto demo = test::planned(test::project_file("examples/demo.json"));
    const auto form = nlohmann::json::parse(sheet::record_starter(demo.context()));
    const auto schema = nlohmann::json::parse(test::project_file("data/schema/record.schema.json"));
    const auto& patch = form.at("patches").at(0);
    for (const auto& [key, value] : schema.at("definitions").at("patch").at("properties").items()) {
        CAPTURE(key);
        // What the crew needs only now and then, and what a browser's page saves, is not on the form.
        const bool rare = key == "deflated_on" || key == "measured_bore" || key == "noted" || key == "ticked";
        CHECK(patch.contains(key) != rare);
    }
    const auto& first = demo.plan.patches.front();
    const auto plan = patch.at("_help_plan").dump();
    CHECK(plan.find(format(Show::gauge_pressure, first.pressure.set, UnitSystem::metric)) != std::string::npos);
    CHECK(plan.find(format(ClockTime{demo.plan.schedule.patches.front().mix})) != std::string::npos);
}
