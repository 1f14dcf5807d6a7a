// Whole weeks, from job files to moved plans.
#include <catch2/catch.hpp>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "patchwright/units/error.hpp"
#include "support/cutting_rules.hpp"
#include "support/share.hpp"
#include "week_rules.hpp"
#include "weeks.hpp"

using namespace patchwright;
using namespace patchwright::test;
using Catch::Matchers::Contains;

namespace {

const std::vector<std::string> no_fault;

sheet::WeekContext context_of(const week::Input& input, const week::Week& week) {
    return {&week, &input.yard, UnitSystem::metric, false, std::nullopt};
}

const week::CrewDay* day_of(const week::Week& week, const std::string& reference, int part = 0) {
    for (const auto& day : week.days)
        for (const auto& visit : day.stops)
            if (week.jobs[static_cast<std::size_t>(visit.job)].job.reference == reference && visit.part == part)
                return &day;
    return nullptr;
}

}  // namespace

TEST_CASE("the example week keeps every rule and is proven", "[week]") {
    const auto input = example_week();
    const auto week = week::plan_week(input);
    CHECK(broken_week_rules(input, week) == no_fault);
    CHECK(week.proven_optimal);
    CHECK(week.everything_placed);
    CHECK(std::any_of(week.days.begin(), week.days.end(), [](const auto& day) { return day.stops.size() > 1; }));
    CHECK(week.jobs[5].plan.schedule.days.size() > 1);  // the long drain takes days
    CHECK(format(day_of(week, "W-103")->date) == "2026-07-15");
}

TEST_CASE("random weeks keep every rule", "[week][properties]") {
    for (std::uint32_t seed = 1; seed <= of_jobs(10); ++seed) {
        Dice dice{seed};
        week::Input input = example_week(1);
        input.jobs.clear();
        const int jobs = dice.between(2, 9);
        for (int j = 0; j < jobs; ++j) input.jobs.push_back(small_job(dice, j + 1));
        input.crews = dice.between(1, 3);
        input.dates = dice.between(2, 5);
        const auto week = week::plan_week(input);
        CAPTURE(seed);
        CHECK(broken_week_rules(input, week) == no_fault);
    }
}

TEST_CASE("no plan is touched but for its times", "[week]") {
    const auto input = example_week();
    const auto week = week::plan_week(input);
    for (const auto& address : week.jobs) {
        job::Yard yard = input.yard;
        yard.limits.crews = 1;
        yard.limits.overnight_cure = false;
        if (address.job.site.window) continue;  // planned for the window's hours
        plan::Options options;
        options.working = false;
        options.trials = 0;
        options.tables = false;
        const auto alone = plan::make_plan(address.job, yard, options);
        REQUIRE(alone.patches.size() == address.plan.patches.size());
        for (std::size_t p = 0; p < alone.patches.size(); ++p) {
            const auto &a = alone.schedule.patches[p], &b = address.plan.schedule.patches[p];
            CHECK(a.day == b.day);
            CHECK(a.inflate - a.mix == b.inflate - b.mix);
            CHECK(a.inflate_by - a.mix == b.inflate_by - b.mix);
            CHECK(a.let_down - a.mix == b.let_down - b.mix);
            CHECK(b.if_missed.find("mix") != std::string::npos);
        }
        for (std::size_t b = 0; b < alone.batches.size(); ++b) {
            const auto& first = address.plan.batches[b].batch.patches.front();
            CHECK(address.plan.batches[b].mix_at.minutes ==
                  address.plan.schedule.patches[static_cast<std::size_t>(first)].mix);
        }
    }
}

TEST_CASE("a day alone with its job costs what the job costs; sharing never costs more in all", "[week]") {
    const auto input = example_week(5);
    const auto week = week::plan_week(input);
    Money alone, shared;
    for (const auto& address : week.jobs) {
        REQUIRE(address.cost);
        CHECK(address.cost->alone == address.plan.offer.patching.net);
        const bool by_itself = std::all_of(week.days.begin(), week.days.end(), [&](const auto& day) {
            return day.stops.size() == 1 || std::none_of(day.stops.begin(), day.stops.end(), [&](const auto& visit) {
                       return &week.jobs[static_cast<std::size_t>(visit.job)] == &address;
                   });
        });
        if (by_itself && !address.job.site.window) CHECK(address.cost->shared == address.cost->alone);
        alone += address.cost->alone;
        shared += address.cost->shared;
    }
    CHECK(shared < alone);
}

TEST_CASE("what is promised stays when a job comes in on Wednesday", "[week]") {
    auto input = example_week();
    const auto before = week::plan_week(input);
    const auto given_out = sheet::week_json(context_of(input, before));
    input.kept = week::read_kept(given_out, "week.json");
    input.from = {2026, 7, 15};
    input.dates = 3;
    input.jobs.push_back(example_job("107-wednesday-call"));
    const auto after = week::plan_week(input);
    CHECK(broken_week_rules(input, after) == no_fault);
    for (const auto& stop : input.kept->stops) {
        const auto* day = day_of(after, stop.job, stop.part);
        CAPTURE(stop.job, stop.part);
        CHECK((day != nullptr) == (stop.date >= input.from));
        if (day != nullptr) CHECK(day->date == stop.date);
    }
    REQUIRE(day_of(after, "W-107") != nullptr);
    const auto fresh =
        std::find_if(after.moves.begin(), after.moves.end(), [](const auto& m) { return m.job == "W-107"; });
    REQUIRE(fresh != after.moves.end());
    CHECK_FALSE(fresh->was);
    CHECK(fresh->now);
    for (const auto& move : after.moves)
        if (move.was && move.now) CHECK((move.was->arrive != move.now->arrive || move.was->crew != move.now->crew));
    // What was done stays known to whoever keeps this one in turn.
    const auto again = week::read_kept(sheet::week_json(context_of(input, after)), "again.json");
    for (const auto& stop : input.kept->stops) CHECK(again.find(stop.job, stop.part) != nullptr);
}

TEST_CASE("nothing moves when nothing is new; a freed stop may", "[week]") {
    auto input = example_week(4);
    const auto before = week::plan_week(input);
    input.kept = week::read_kept(sheet::week_json(context_of(input, before)), "week.json");
    CHECK(week::plan_week(input).moves.empty());
    for (auto& stop : input.kept->stops) stop.promised = false;
    const auto free = week::plan_week(input);
    CHECK(free.moves.empty());  // as good as before, and moving is worse
    input.jobs[0].site.latest = Date{2026, 7, 13};
    input.jobs[0].site.earliest = Date{2026, 7, 13};
    for (auto& stop : input.kept->stops)
        if (stop.job == "W-101") stop.date = {2026, 7, 17};
    const auto moved = week::plan_week(input);
    const auto move =
        std::find_if(moved.moves.begin(), moved.moves.end(), [](const auto& m) { return m.job == "W-101"; });
    REQUIRE(move != moved.moves.end());
    CHECK(format(move->now->date) == "2026-07-13");
    CHECK(move->now->revision == 1);
}

TEST_CASE("what cannot be placed says why", "[week]") {
    auto input = example_week();
    input.jobs[0].site.latest = Date{2026, 7, 10};
    input.jobs[1].date = Date{2026, 5, 4};
    input.jobs[3].site.window = job::Hours{{600}, {630}};
    input.dates = 1;
    const auto week = week::plan_week(input);
    CHECK(broken_week_rules(input, week) == no_fault);
    CHECK_FALSE(week.everything_placed);
    CHECK_THAT(week.jobs[0].left_out, Contains("earliest"));
    CHECK_THAT(week.jobs[1].left_out, Contains("2026-05-04"));
    CHECK_FALSE(week.jobs[3].left_out.empty());
    CHECK_FALSE(week.jobs[5].left_out.empty());  // more days than are planned
}

TEST_CASE("a week refuses what it cannot be", "[week][error]") {
    auto input = example_week(2);
    input.jobs[1].reference = input.jobs[0].reference;
    CHECK_THROWS_AS(week::plan_week(input), InputError);
    input = example_week(2);
    input.jobs[1].reference = "yard";
    CHECK_THROWS_AS(week::plan_week(input), InputError);
    input.jobs.clear();
    CHECK_THROWS_AS(week::plan_week(input), InputError);
    input = example_week(2);
    input.dates = 0;
    CHECK_THROWS_AS(week::plan_week(input), InputError);
    input = example_week(2);
    input.crews = 0;
    CHECK_THROWS_AS(week::plan_week(input), InputError);
}

TEST_CASE("a yard that says nothing of drives drives as the built-in one", "[week][drive]") {
    auto json = nlohmann::json::parse(project_file("data/yard.json"));
    json.erase("drive");
    const auto yard = io::read_yard(json.dump(), "yard");
    REQUIRE(yard);
    CHECK(yard.value->drive.in_an_hour == io::builtin_yard().drive.in_an_hour);
    CHECK(yard.value->drive.detour == io::builtin_yard().drive.detour);
    CHECK_FALSE(yard.value->drive.from.has_value());
}

TEST_CASE("drives that nobody states are assumed, and said", "[week][drive]") {
    auto input = example_week(3);
    input.drives = {};
    input.jobs[1].site.coordinates.reset();
    input.jobs[2].site.travel = 40.0 * unit::minute;
    const auto week = week::plan_week(input);
    CHECK(broken_week_rules(input, week) == no_fault);
    std::string said;
    for (const auto& a : week.assumptions) said += a.what + ": " + a.value + "\n";
    CHECK_THAT(said, Contains("drives by coordinates: 35 km of road in an hour, road 1.30 times the straight line"));
    CHECK_THAT(said, Contains("drive from the yard to W-102: 35 min"));
    CHECK_THAT(said, Contains("drives between W-102 and others: by way of the yard"));
}

TEST_CASE("a week that is kept is checked in full", "[week][error]") {
    const auto fault = [](const std::string& text) {
        try {
            week::read_kept(text, "k.json");
        } catch (const InputError& error) {
            return std::string{error.what()};
        }
        return std::string{};
    };
    CHECK_THAT(fault("{"), Contains("no JSON"));
    CHECK_THAT(fault("[]"), Contains("patchwright_week"));
    CHECK_THAT(fault(R"({"patchwright_week": 2, "days": []})"), Contains("patchwright_week"));
    CHECK_THAT(fault(R"({"patchwright_week": 1})"), Contains("\"days\" must be a list"));
    const auto all = fault(R"({"patchwright_week": 1, "days": [ 3, {"date": "2026-02-30", "crew": 0, "stops": [
        {"job": 7, "arrive": "25:00", "leave": "10:00", "promised": "yes"} ]} ]})");
    for (const char* words : {"days[0]: must be an object", "2026-02 has 28 days", "\"crew\" must be a whole number",
                              "days[1].stops[0]: \"job\" must be a text", "\"arrive\"", "\"promised\" must be true"})
        CHECK_THAT(all, Contains(words));
    CHECK_THAT(fault(R"({"patchwright_week": 1, "days": [ {"date": "2026-07-13", "crew": 1, "stops": [
        {"job": "A", "arrive": "09:00", "leave": "10:00"}, {"job": "A", "arrive": "09:00", "leave": "10:00"} ]} ]})"),
               Contains("already"));
}

TEST_CASE("JSON of a week: every key of docs/week.md", "[week][json]") {
    using Json = nlohmann::json;
    const auto input = example_week(3);
    const auto week = week::plan_week(input);
    const auto json = Json::parse(sheet::week_json(context_of(input, week)));
    for (const char* key : {"patchwright_week", "yard", "currency", "dates", "crews", "crew_days", "drive_min",
                            "overtime_min", "proven_optimal", "bound_crew_days", "days", "jobs", "moves", "purchases",
                            "cutting", "assumptions", "warnings", "earlier"})
        CHECK(json.contains(key));
    CHECK(json["crew_days"] == json["days"].size());
    int drive = 0;
    for (const auto& day : json["days"]) {
        for (const char* key : {"date", "crew", "leave", "back", "drive_min", "overtime_min", "helpers", "stops"})
            CHECK(day.contains(key));
        drive += day["drive_min"].get<int>();
        for (const auto& stop : day["stops"])
            for (const char* key : {"job", "title", "part", "parts", "drive_min", "arrive", "leave", "wait_min",
                                    "promised", "revision", "patches"})
                CHECK(stop.contains(key));
    }
    CHECK(json["drive_min"] == drive);
    for (const auto& job : json["jobs"]) {
        for (const char* key : {"reference", "title", "parts", "patches", "done", "cost"}) CHECK(job.contains(key));
        for (const char* key : {"alone", "shared", "saving", "offered", "offered_shared"})
            CHECK(job["cost"].contains(key));
    }
    CHECK(sheet::week_json(context_of(input, week)) == sheet::week_json(context_of(input, week::plan_week(input))));
}

TEST_CASE("one felt cutting holds every piece of the week, and the resin is counted", "[week]") {
    const auto input = example_week();
    const auto week = week::plan_week(input);
    std::size_t pieces = 0, cut = 0;
    for (const auto& address : week.jobs)
        for (const auto& patch : address.plan.patches) pieces += patch.cut.pieces.size();
    for (const auto& felt : week.cutting) {
        CHECK(test::broken_cutting_rules(felt.pieces, felt.stock, 5, felt.plan).empty());
        cut += felt.plan.placements.size();
    }
    CHECK(cut == pieces);
    for (std::size_t i = 1; i < week.purchases.size(); ++i)
        CHECK(week.purchases[i - 1].needed <= week.purchases[i].needed);
}

TEST_CASE("sixty jobs and four crews keep every rule", "[week][.slow]") {
    Dice dice{2026};
    week::Input input = example_week(1);
    input.jobs.clear();
    for (int j = 0; j < 60; ++j) input.jobs.push_back(small_job(dice, j + 1));
    input.crews = 4;
    input.dates = 15;
    const auto week = week::plan_week(input);
    CHECK(broken_week_rules(input, week) == no_fault);
    CHECK(week.bound_crew_days <= static_cast<int>(week.days.size()));
}
