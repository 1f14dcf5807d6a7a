// Warm air or water in the bladder: taken where it makes the job cheaper, on what stands it, paid for and said.
#include <algorithm>
#include <catch2/catch.hpp>
#include <utility>

#include "patchwright/cure/cure.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "patchwright/units/parse.hpp"
#include "support/jobs.hpp"
#include "support/plan_rules.hpp"
#include "support/without_trials.hpp"

using namespace patchwright;

namespace {

/// Three fissures in a cold clay drain.
job::Job cold_job(const std::string& finish = "16:30") {
    return test::must_read(R"({"patchwright_job": 1, "reference": "cold", "site": {"finish": ")" + finish + R"("},
        "runs": [{"id": "A", "from": "M1", "to": "M2", "length": "14 m", "bore": "100 mm", "material": "clay",
                  "depth": "1.2 m", "access": ["M1", "M2"], "ground_temperature": "7 C",
                  "defects": [{"id": "A1", "at": "3 m", "kind": "fissure", "size": "2 mm"},
                              {"id": "A2", "at": "7 m", "kind": "fissure", "size": "2 mm"},
                              {"id": "A3", "at": "11 m", "kind": "fissure", "size": "2 mm"}]}]})");
}

job::Yard with_heater(const std::string& hire) {
    job::Yard yard = io::builtin_yard();
    yard.heaters.resize(1);
    yard.heaters.front().hire_per_day = *parse_money(hire);
    return yard;
}

bool is_heated(const plan::Patch& p) { return p.heater >= 0; }

}  // namespace

TEST_CASE("a heater is taken along where its hire is less than the day it saves", "[plan][heater]") {
    const auto job = cold_job();
    auto none = io::builtin_yard();
    none.heaters.clear();
    const auto without = plan::make_plan(job, none, test::without_trials());
    const auto yard = with_heater("1.00 EUR");
    const auto heated = plan::make_plan(job, yard, test::without_trials());
    REQUIRE(heated.patches.size() == 3);
    CHECK(std::any_of(heated.patches.begin(), heated.patches.end(), is_heated));
    CHECK(heated.offer.bracket.own < without.offer.bracket.own);
    CHECK(test::broken_rules(job, yard, heated, sheet::plan_json({&heated, job.units}, true)) ==
          std::vector<std::string>{});
    // Dearer than any day: left in the yard, and the plan is the one without.
    const auto dear = with_heater("5000.00 EUR");
    const auto left = plan::make_plan(job, dear, test::without_trials());
    CHECK(std::none_of(left.patches.begin(), left.patches.end(), is_heated));
    CHECK(left.offer.bracket.own == without.offer.bracket.own);
}

TEST_CASE("a heater that saves a whole day is found in a job of seven sleeves", "[plan][heater]") {
    // Seven places at the far sides of two deep runs that are open at one end, and one more: three days by their own
    // warmth. Common practice, no source: a firm hires a heater rather than come a third day.
    const auto job =
        test::must_read(R"({"patchwright_job": 1, "reference": "warm", "site": {"air_temperature": "8 C"}, "runs": [
        {"id": "A", "from": "a0", "to": "b0", "length": "15 m", "bore": "150 mm", "material": "clay", "depth": "0.9 m",
         "ground_temperature": "18 C", "access": ["a0", "b0"],
         "defects": [{"id": "A1", "at": "3.3 m", "kind": "fissure", "size": "3 mm"}]},
        {"id": "B", "from": "a1", "to": "b1", "length": "35 m", "bore": "100 mm", "material": "clay", "depth": "1.8 m",
         "ground_temperature": "13 C", "access": ["a1"],
         "defects": [{"id": "B1", "at": "2.4 m", "kind": "root intrusion", "size": "10 %"},
                     {"id": "B2", "at": "6.4 m", "to": "6.7 m", "kind": "fissure", "size": "3 mm"},
                     {"id": "B3", "at": "11 m", "kind": "root intrusion", "size": "10 %"}]},
        {"id": "C", "from": "a2", "to": "b2", "length": "31 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
         "ground_temperature": "17 C", "access": ["a2"],
         "defects": [{"id": "C1", "at": "3.3 m", "kind": "displaced joint", "size": "8 mm"},
                     {"id": "C2", "at": "5.8 m", "kind": "fissure", "size": "3 mm"},
                     {"id": "C3", "at": "8.3 m", "kind": "fissure", "size": "3 mm"}]}]})");
    const auto yard = io::builtin_yard();
    auto none = yard;
    none.heaters.clear();
    const auto without = plan::make_plan(job, none, test::without_trials());
    const auto heated = plan::make_plan(job, yard, test::without_trials());
    REQUIRE(heated.patches.size() == 7);
    REQUIRE(without.patches.size() == 7);
    CHECK(without.schedule.days.size() == 3);
    CHECK(heated.schedule.days.size() == 2);
    CHECK(heated.offer.bracket.own < without.offer.bracket.own);
    CHECK(test::broken_rules(job, yard, heated, sheet::plan_json({&heated, job.units}, true)) ==
          std::vector<std::string>{});
}

TEST_CASE("a heated sleeve's times are those of the cure module for its heating", "[plan][heater]") {
    const auto job = cold_job();
    const auto yard = with_heater("1.00 EUR");
    const auto plan = plan::make_plan(job, yard, test::without_trials());
    for (const auto& p : plan.patches) {
        CAPTURE(p.id);
        if (!is_heated(p)) {
            for (const auto& row : p.tables.let_down)
                if (row.pipe == *p.conditions.pipe) CHECK(row.let_down >= 0.8 * p.cure.sheet.let_down);
            continue;
        }
        const auto& heater = yard.heaters.front();
        const cure::Model model{yard.resins[static_cast<std::size_t>(p.resin)]};
        auto conditions = p.conditions;
        conditions.heating = {};
        Working off = Working::off();
        const auto cold = model.answer(p.sleeve, p.surroundings, conditions, yard.limits, off);
        CHECK(p.let_down_unheated == cold.sheet.let_down);
        CHECK(p.cure.sheet.let_down < cold.sheet.let_down);
        // Site tables of its own: the row of the pipe as calculated is the card's.
        const auto& rows = p.tables.let_down;
        const auto row =
            std::find_if(rows.begin(), rows.end(), [&](const auto& r) { return r.pipe == *p.conditions.pipe; });
        REQUIRE(row != rows.end());
        CHECK(row->let_down <= p.cure.sheet.let_down);  // measured: the smaller doubt
        CHECK(row->let_down >= 0.9 * p.cure.sheet.let_down);
        // Nothing is warmed before the sleeve is shaped: the limits for the hands are no longer than without.
        CHECK(p.cure.sheet.inflate_by <= cold.sheet.inflate_by);
        CHECK(p.heater_on > p.conditions.wet_out + p.conditions.load + p.conditions.position + p.conditions.crease);
        // Warm from the first minute it could not be hard later.
        conditions.heating = cure::heating_of(heater, *conditions.pipe, Duration{});
        CHECK(model.answer(p.sleeve, p.surroundings, conditions, yard.limits, off).sheet.let_down <=
              p.cure.sheet.let_down);
    }
}

TEST_CASE("no heater where the bladder, the pipe or the air does not bear it", "[plan][heater]") {
    const auto count = [](const job::Job& job, const job::Yard& yard) {
        const auto plan = plan::make_plan(job, yard, test::without_trials());
        return std::count_if(plan.patches.begin(), plan.patches.end(), is_heated);
    };
    const auto job = cold_job();
    auto yard = with_heater("1.00 EUR");
    CHECK(count(job, yard) > 0);
    // Air that is shut in does not move through the bladder.
    yard.limits.air = job::AirSupply::shut_in;
    CHECK(count(job, yard) == 0);
    yard = with_heater("1.00 EUR");
    yard.heaters.front().temperature = Temperature::celsius(95.0);  // silicone bears it, the resin's 80 °C do not
    for (auto& resin : yard.resins) resin.highest_safe = Temperature::celsius(80.0);
    CHECK(count(job, yard) == 0);
}

TEST_CASE("a heater is hired, loaded, explained and said on every sheet that needs it", "[plan][heater]") {
    const auto job = cold_job();
    const auto yard = with_heater("1.00 EUR");
    const auto plan = plan::make_plan(job, yard, {});
    const auto& lines = plan.offer.patching.lines;
    CHECK(std::any_of(lines.begin(), lines.end(),
                      [](const auto& line) { return line.words == "Heater warm-air" && line.quantity >= 1.0; }));
    std::string text;
    for (const auto& s : sheet::day_sheets({&plan, job.units}, std::nullopt)) text += sheet::text(s, {});
    for (auto& c : text)
        if (c == '\n') c = ' ';
    CHECK(text.find("Heater warm-air (air 40 °C) for A-P") != std::string::npos);  // load list
    CHECK(text.find("Heater fails") != std::string::npos);                         // card
    CHECK(text.find("Heat: hoses") != std::string::npos);                          // dangers
    const auto json = sheet::plan_json({&plan, job.units}, false);
    CHECK(json.find("\"heating\": {") != std::string::npos);
}

TEST_CASE("a heater, or one more of them, never makes a job dearer", "[plan][heater]") {
    for (std::uint32_t seed = 1; seed <= test::of_jobs(40); ++seed) {
        auto job_file = test::random_job(seed);
        const auto read = io::read_job(job_file.dump(), "job");
        if (!read) continue;
        CAPTURE(seed);
        auto yard = io::builtin_yard();
        const auto net = [&](int kinds, int count) {
            yard.heaters = io::builtin_yard().heaters;
            yard.heaters.resize(static_cast<std::size_t>(kinds));
            for (auto& heater : yard.heaters) heater.count = count;
            const auto plan = plan::make_plan(*read.value, yard, test::without_trials());
            return std::pair{plan.patches.size(), plan.offer.bracket.own};
        };
        const auto none = net(0, 1), one = net(1, 1), two = net(2, 1), more = net(1, 2);
        CHECK(one.first >= none.first);
        const auto no_dearer = [](const auto& richer, const auto& poorer) {
            if (richer.first == poorer.first) CHECK(richer.second <= poorer.second);
        };
        no_dearer(one, none);
        no_dearer(two, one);
        no_dearer(more, one);
    }
}

TEST_CASE("where packers may stay overnight, a sleeve that no day holds is let down the next morning",
          "[plan][overnight]") {
    // From eight to noon: no resin of this yard cures in it.
    auto job = cold_job("12:00");
    auto yard = io::builtin_yard();
    yard.heaters.clear();
    const auto day = plan::make_plan(job, yard, test::without_trials());
    REQUIRE(day.patches.empty());
    yard.limits.overnight_cure = true;
    const auto night = plan::make_plan(job, yard, test::without_trials());
    REQUIRE(night.patches.size() == 3);
    for (std::size_t i = 0; i < night.patches.size(); ++i) {
        const auto& t = night.schedule.patches[i];
        // The clock runs on past midnight; hard for certain when the crew comes.
        CHECK(t.let_down - t.mix >= night.patches[i].cure.sheet.let_down.in(unit::minute)-1e-6);
    }
    const auto& lines = night.offer.patching.lines;
    CHECK(std::any_of(lines.begin(), lines.end(), [](const auto& line) { return line.words == "Cure overnight"; }));
    // The next morning's sheet says what is under air, since when, and when it may be let out.
    std::string text;
    for (const auto& s : sheet::day_sheets({&night, job.units}, 1)) text += sheet::text(s, {});
    CHECK(text.find("In the pipe since the day before") != std::string::npos);
    CHECK(text.find(night.patches.front().id + " in run A") != std::string::npos);
}
