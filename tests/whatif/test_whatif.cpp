// Other conditions for a job: every line is the plan of files that were changed by hand.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <nlohmann/json.hpp>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/outlook.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/whatif/whatif.hpp"
#include "support/jobs.hpp"
#include "support/project_file.hpp"
#include "support/share.hpp"

using namespace patchwright;
using nlohmann::json;
using whatif::Lever;

namespace {

plan::Options bare(int threads = 2) {
    plan::Options options;
    options.trials = 0;
    options.working = options.tables = false;
    options.threads = threads;
    return options;
}

job::Yard must_read_yard(const std::string& text) {
    auto yard = io::read_yard(text, "yard.json");
    for (const auto& d : yard.diagnostics) UNSCOPED_INFO(io::text(d));
    REQUIRE(yard);
    return *yard.value;
}

/// Files as they stand, and the other conditions of their job.
struct Looked {
    json job, yard;
    plan::Plan made;
    whatif::WhatIf whatif;
    explicit Looked(const std::string& job_text,
                    const std::string& yard_text = R"({"patchwright_yard": 1, "extends": "builtin"})")
        : job(json::parse(job_text)), yard(json::parse(yard_text)) {
        made = plan::make_plan(test::must_read(job_text), must_read_yard(yard_text), bare());
        whatif = whatif::what_if(files(), bare(), made);
    }
    whatif::Files files() const { return {job.dump(), yard.dump(), std::nullopt}; }
    const whatif::Alternative* find(Lever lever, const std::string& words = "") const {
        for (const auto& a : whatif.list)
            if (a.lever == lever && a.words.find(words) != std::string::npos) return &a;
        return nullptr;
    }
    const whatif::NotListed* not_listed(const std::string& words) const {
        for (const auto& item : whatif.not_listed)
            if (item.words.find(words) != std::string::npos) return &item;
        return nullptr;
    }
};

/// The line says what the plan of these files comes to.
void check_line(const Looked& looked, const whatif::Alternative* line, const json& job, const json& yard) {
    REQUIRE(line != nullptr);
    CAPTURE(line->words);
    const auto other = plan::make_plan(test::must_read(job.dump()), must_read_yard(yard.dump()), bare());
    CHECK(line->upshot.own == other.offer.bracket.own);
    if (line->places_more == 0) CHECK(line->saves == looked.made.offer.bracket.own - other.offer.bracket.own);
    CHECK(line->upshot.days == static_cast<int>(other.schedule.days.size()));
    CHECK(line->upshot.patches == static_cast<int>(other.patches.size()));
    CHECK(line->upshot.late_probability == plan::late_probability(other));
    CHECK(line->upshot.overtime == other.works.overtime);
    CHECK(line->upshot.helper_days == other.works.helper_days);
}

constexpr const char* two_runs =
    R"({"patchwright_job": 1, "reference": "two", "site": {"start": "08:00", "finish": "15:30",
  "travel": "40 min"}, "runs": [
 {"id": "A", "from": "a", "to": "b", "length": "14 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m", "access": ["a"],
  "resin": "standard",
  "defects": [{"id": "A1", "at": "3 m", "kind": "fissure", "size": "2 mm"},
              {"id": "A2", "at": "8 m", "kind": "fissure", "size": "2 mm"},
              {"id": "A3", "at": "11 m", "kind": "missing wall", "clock": "11"}]},
 {"id": "B", "from": "b", "to": "c", "length": "10 m", "bore": "150 mm", "material": "clay", "depth": "1.5 m", "access": ["b", "c"],
  "defects": [{"id": "B1", "at": "4 m", "kind": "break", "size": "12 mm"}]}]})";

/// A yard of few things: nobody may stay long, packers go home at night, and whoever cures is watched.
constexpr const char* bare_yard = R"({"patchwright_yard": 1, "extends": "builtin",
  "limits": {"alarm_gauge": false, "watcher_may_work": false, "overnight_cure": false, "overtime": "0 min", "helpers": 0},
  "rates": {"helper_per_day": "210.00 EUR"},
  "heaters": [{"id": "warm-air", "count": 0}, {"id": "warm-water", "count": 0}]})";

}  // namespace

TEST_CASE("hours, overtime, a helper, an alarm, a night: each line is the plan of the changed file", "[plan][whatif]") {
    const Looked looked(two_runs, bare_yard);
    json job = looked.job, yard = looked.yard;
    job["site"]["finish"] = "16:30";
    check_line(looked, looked.find(Lever::longer_day), job, looked.yard);
    job = looked.job;
    job["site"]["start"] = "07:30";
    check_line(looked, looked.find(Lever::earlier_start), job, looked.yard);
    yard["limits"]["overtime"] = "1 h";
    check_line(looked, looked.find(Lever::overtime), looked.job, yard);
    yard = looked.yard;
    yard["limits"]["helpers"] = 1;
    check_line(looked, looked.find(Lever::helper), looked.job, yard);
    yard = looked.yard;
    yard["limits"]["alarm_gauge"] = true;
    check_line(looked, looked.find(Lever::alarm_gauge), looked.job, yard);
    yard = looked.yard;
    yard["limits"]["overnight_cure"] = true;
    check_line(looked, looked.find(Lever::overnight), looked.job, yard);
}

TEST_CASE("where a day is a little too short for all of it, an hour saves a day", "[plan][whatif]") {
    const Looked looked(test::project_file("examples/us-slab.json"), bare_yard);
    const auto* line = looked.find(Lever::longer_day);
    json job = looked.job;
    job["site"]["finish"] = "18:00";
    check_line(looked, line, job, looked.yard);
    CHECK(line->upshot.days < looked.whatif.as_is.days);
    REQUIRE(line->saves);
    CHECK(*line->saves > Money{});
}

TEST_CASE("prices of other places are not compared", "[plan][whatif]") {
    const Looked looked(two_runs, bare_yard);
    REQUIRE(looked.whatif.as_is.waiting > 0);
    const auto* all = looked.find(Lever::free_resin);  // the resin that run A names is too slow for the day
    REQUIRE(all != nullptr);
    CHECK(all->places_more == looked.whatif.as_is.waiting);
    CHECK_FALSE(all->saves);
    // A night in the pipe would do it too: what mends more places comes first, and none of it is called a saving.
    const auto& first = looked.whatif.list.front();
    CHECK((&first == all || first.lever == Lever::overnight));
    CHECK(first.places_more == looked.whatif.as_is.waiting);
    CHECK_FALSE(first.saves);
    const auto saving = whatif::what_if(looked.files(), bare(), looked.made, whatif::Rows::that_may_save);
    CHECK(saving.list.front().lever == first.lever);
    for (const auto& line : saving.list) CHECK((line.lever != Lever::resin && !whatif::changes_work(line.lever)));
}

TEST_CASE("packers, resins, an access, less work: each line is the plan of the changed file", "[plan][whatif]") {
    const Looked looked(two_runs, bare_yard);
    const auto& built_in = io::builtin_yard();
    int packers = 0;
    for (const auto& line : looked.whatif.list) {
        if (line.lever != Lever::packer) continue;
        ++packers;
        REQUIRE(line.changes.size() == 1);
        const auto& path = line.changes.front().path;
        json yard = looked.yard;
        int count = -1;
        for (const auto& p : built_in.packers) count = path[0] == "packers" && p.id == path[1] ? p.count : count;
        for (const auto& c : built_in.chassis) count = path[0] == "chassis" && c.id == path[1] ? c.count : count;
        REQUIRE(count > 0);
        yard[path[0]] = json::array({{{"id", path[1]}, {"count", count + 1}}});
        check_line(looked, &line, looked.job, yard);
    }
    CHECK(packers > 0);
    for (const auto& resin : built_in.resins) {
        const auto* line = looked.find(Lever::resin, " " + resin.id);
        if (line == nullptr) continue;
        json job = looked.job;
        for (auto& run : job["runs"]) run["resin"] = resin.id;
        check_line(looked, line, job, looked.yard);
    }
    json job = looked.job;
    job["runs"][0].erase("resin");
    check_line(looked, looked.find(Lever::free_resin), job, looked.yard);
    job = looked.job;
    job["runs"][0]["access"] = {"a", "b"};
    check_line(looked, looked.find(Lever::access, "run A opened at b"), job, looked.yard);
    job = looked.job;
    job["site"]["resin_temperature"] = "10 C";  // 15 C less five
    check_line(looked, looked.find(Lever::resin_temperature, "cooled"), job, looked.yard);
    job["site"]["resin_temperature"] = "20 C";
    check_line(looked, looked.find(Lever::resin_temperature, "warmed"), job, looked.yard);
    job = looked.job;
    job["runs"].erase(1);
    check_line(looked, looked.find(Lever::run_less, "run B"), job, looked.yard);
    job = looked.job;
    job["runs"][1]["defects"][0].erase("size");
    check_line(looked, looked.find(Lever::size_unknown, "B1"), job, looked.yard);
}

TEST_CASE("what job and yard leave no room for is named with the reason", "[plan][whatif]") {
    const Looked looked(test::project_file("examples/demo.json"), R"({"patchwright_yard": 1, "extends": "builtin",
      "limits": {"alarm_gauge": true, "overnight_cure": true}, "rates": {"helper_per_day": "0.00 EUR"},
      "conditioning": {"from": "15 C", "to": "15 C"}})");
    CHECK(looked.find(Lever::alarm_gauge) == nullptr);
    CHECK(looked.find(Lever::overnight) == nullptr);
    CHECK(looked.find(Lever::helper) == nullptr);
    CHECK(looked.find(Lever::resin_temperature) == nullptr);
    for (const char* words :
         {"a gauge with alarm", "a cure overnight", "a helper", "cooled or warmed resin", "a heater"}) {
        CAPTURE(words);
        REQUIRE(looked.not_listed(words) != nullptr);
        CHECK_FALSE(looked.not_listed(words)->why.empty());
    }
    if (test::under_sanitizers) return;  // each look at the demonstration takes half a minute there
    auto late = looked.job;
    late["site"]["start"] = "00:15";
    late["site"]["finish"] = "23:15";
    const Looked round_the_clock(late.dump());
    CHECK(round_the_clock.find(Lever::longer_day) == nullptr);
    CHECK(round_the_clock.find(Lever::earlier_start) == nullptr);
    CHECK(round_the_clock.not_listed("an hour more") != nullptr);
    CHECK(round_the_clock.not_listed("half an hour earlier") != nullptr);
}

TEST_CASE("of a job with many runs the dearest are worked out, and how many are not is said", "[plan][whatif]") {
    json job{{"patchwright_job", 1}, {"reference", "many"}, {"runs", json::array()}};
    for (int r = 0; r < 8; ++r) {
        const auto id = std::to_string(r);
        job["runs"].push_back({{"id", id},
                               {"from", "m" + id},
                               {"to", "n" + id},
                               {"length", "8 m"},
                               {"bore", "100 mm"},
                               {"material", "clay"},
                               {"depth", "1.2 m"},
                               {"access", {"m" + id}},
                               {"defects", {{{"id", "D"}, {"at", "3 m"}, {"kind", "collapse"}}}}});
    }
    job["runs"][7]["defects"][0] = {{"id", "D"}, {"at", "3 m"}, {"kind", "fissure"}, {"size", "2 mm"}};
    const Looked looked(job.dump());
    for (const auto lever : {Lever::access, Lever::run_less}) {
        const auto count = std::count_if(looked.whatif.list.begin(), looked.whatif.list.end(),
                                         [&](const auto& line) { return line.lever == lever; });
        CHECK(count == 6);
    }
    CHECK(looked.find(Lever::run_less, "run 7") != nullptr);  // the one with a sleeve
    CHECK(looked.not_listed("the other access, 2 others") != nullptr);
    CHECK(looked.not_listed("a run less, 2 others") != nullptr);
}

TEST_CASE("what leaves more freedom is never dearer", "[plan][whatif]") {
    std::vector<std::pair<std::string, std::string>> jobs{{two_runs, bare_yard},
                                                          {test::project_file("examples/demo.json"), bare_yard},
                                                          {test::project_file("examples/us-slab.json"), bare_yard}};
    for (std::uint32_t seed = 1; seed <= test::of_jobs(30); ++seed) {
        const auto text = test::random_job(seed).dump();
        const auto job = io::read_job(text, "job.json");
        if (job && !io::has_errors(io::cross_check(*job.value, io::builtin_yard()))) jobs.emplace_back(text, bare_yard);
    }
    int lines = 0;
    for (const auto& [job, yard] : jobs) {
        const Looked looked(job, yard);
        for (const auto& line : looked.whatif.list) {
            if (!whatif::adds_freedom(line.lever)) continue;
            const auto before = decimal_text(looked.whatif.as_is.own), after = decimal_text(line.upshot.own);
            CAPTURE(job, line.words, before, after, line.places_more);
            ++lines;
            // A place that had to be dug may now be one that waits for a longer day.
            CHECK((line.places_more >= 0 || line.upshot.digs < looked.whatif.as_is.digs));
            if (line.places_more != 0) continue;
            // Each sleeve takes the way in that is cheaper for it, which may open an access that the other way would
            // spare: a few minutes of the crew, with the price's step.
            const auto opening =
                line.lever == Lever::access ? Money::cents(1500, looked.whatif.as_is.own.currency()) : Money{};
            CHECK(line.upshot.own <= looked.whatif.as_is.own + opening);
        }
    }
    CHECK(lines > 30);
}

TEST_CASE("what saves most comes first, other work last, the same with any number of threads", "[plan][whatif]") {
    const Looked looked(test::project_file("examples/demo.json"));
    const auto& list = looked.whatif.list;
    REQUIRE(list.size() > 5);
    for (std::size_t i = 1; i < list.size(); ++i) {
        const bool before = whatif::changes_work(list[i - 1].lever), here = whatif::changes_work(list[i].lever);
        CHECK(before <= here);
        if (before == here && list[i - 1].saves && list[i].saves) CHECK(*list[i - 1].saves >= *list[i].saves);
    }
    if (test::under_sanitizers) return;
    const auto alone = whatif::what_if(looked.files(), bare(1), looked.made);
    REQUIRE(alone.list.size() == list.size());
    for (std::size_t i = 0; i < list.size(); ++i) {
        CHECK(alone.list[i].words == list[i].words);
        CHECK(alone.list[i].upshot.own == list[i].upshot.own);
    }
}

TEST_CASE("what can still be changed this morning comes to what the whole table says", "[plan][whatif]") {
    const Looked looked(test::project_file("examples/us-slab.json"));
    const auto morning = whatif::what_if(looked.files(), bare(), looked.made, whatif::Rows::this_morning);
    CHECK(morning.not_listed.empty());
    std::size_t due = 0;
    for (const auto& line : looked.whatif.list) due += whatif::can_still_be_done(line.lever) ? 1 : 0;
    CHECK(due >= 4);
    CHECK(morning.list.size() == due);
    for (const auto& line : morning.list) {
        CAPTURE(line.words);
        const auto* same = looked.find(line.lever, line.words);
        REQUIRE(same != nullptr);
        CHECK(line.upshot.back == same->upshot.back);
        CHECK(line.upshot.own == same->upshot.own);
        CHECK(line.upshot.late_probability == same->upshot.late_probability);
        CHECK((line.lever == Lever::longer_day || line.lever == Lever::earlier_start || line.lever == Lever::overtime ||
               line.lever == Lever::helper || line.lever == Lever::resin_temperature));
    }
}

TEST_CASE("every line can be tried by the changes that it names", "[plan][whatif]") {
    const Looked looked(two_runs, bare_yard);
    for (const auto& line : looked.whatif.list) {
        std::vector<std::string> given;
        for (const auto& change : line.changes) given.push_back(io::text(change));
        CAPTURE(given);
        const auto tried = whatif::what_if_tried(looked.files(), given, bare(), looked.made);
        REQUIRE_FALSE(tried.list.empty());
        CHECK(tried.list.back().upshot.own == line.upshot.own);  // of several: all of them together
        CHECK(tried.list.back().upshot.days == line.upshot.days);
    }
}

TEST_CASE("changes that were tried stand in their order, and together where they can", "[plan][whatif]") {
    const Looked looked(two_runs, bare_yard);
    const auto tried = [&](const std::vector<std::string>& given) {
        return whatif::what_if_tried(looked.files(), given, bare(), looked.made);
    };
    const auto both = tried({"site.finish=18:00", "limits.helpers=1"});
    REQUIRE(both.list.size() == 3);
    CHECK(both.list[0].words == "site.finish=18:00");
    CHECK(both.list[1].words == "limits.helpers=1");
    json job = looked.job, yard = looked.yard;
    job["site"]["finish"] = "18:00";
    check_line(looked, &both.list[0], job, looked.yard);
    yard["limits"]["helpers"] = 1;
    check_line(looked, &both.list[2], job, yard);
    // The same key twice: two ways to set it, which cannot both hold.
    CHECK(tried({"site.finish=17:00", "site.finish=18:00"}).list.size() == 2);
    CHECK(tried({"runs.A.depth=2 m"}).list.size() == 1);
}

TEST_CASE("all that is wrong with what is tried is said at once, in the reader's words", "[plan][whatif]") {
    const Looked looked(two_runs, bare_yard);
    const auto said = [&](const std::vector<std::string>& given) -> std::string {
        try {
            static_cast<void>(whatif::what_if_tried(looked.files(), given, bare(), looked.made));
            return {};
        } catch (const InputError& error) {
            return error.what();
        }
    };
    const auto all = said({"site.finish=25:00", "limits.helpers=1", "limits.helprs=1", "runs.A.resin=nonesuch",
                           "runs.A.bore=100", "rusn.A.bore=100 mm"});
    CAPTURE(all);
    for (const char* words :
         {"--try site.finish=25:00: ", "[at /site/finish]", "--try limits.helprs=1: ", "did you mean \"helpers\"",
          "--try runs.A.resin=nonesuch: run A: the yard has no resin", "--try runs.A.bore=100: ", "[at /runs/0/bore]",
          "--try rusn.A.bore=100 mm: ", "did you mean runs"})
        CHECK(all.find(words) != std::string::npos);
    CHECK(all.find("--try limits.helpers=1") == std::string::npos);
    // Each by itself is fine, together they are not: the day would end before it begins.
    const auto apart =
        whatif::what_if_tried(looked.files(), {"site.start=14:00", "site.finish=09:00"}, bare(), looked.made);
    CHECK(apart.list.size() == 2);
    REQUIRE(apart.not_listed.size() == 1);
    CHECK(apart.not_listed[0].words == "all of these together");
    CHECK(apart.not_listed[0].why.find("[at /site") != std::string::npos);
}
