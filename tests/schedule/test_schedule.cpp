#include <catch2/catch.hpp>

#include <cmath>
#include <numeric>
#include <random>

#include "patchwright/schedule/schedule.hpp"
#include "patchwright/units/error.hpp"
#include "scenario.hpp"

using namespace patchwright::schedule;
using Catch::Matchers::Contains;
using Catch::Matchers::VectorContains;

namespace {

std::pair<std::size_t, Minute> result(const Problem& problem) {
    const Schedule schedule = plan_days(problem);
    REQUIRE(violations(problem, schedule).empty());
    return {schedule.days.size(), schedule.days.empty() ? 0 : schedule.days.back().finish};
}

const Task& task(const Schedule& schedule, int patch, What what) {
    for (const Day& day : schedule.days)
        for (const Task& t : day.tasks)
            if (t.patch == patch && t.what == what) return t;
    throw std::runtime_error("no such task");
}

}  // namespace

TEST_CASE("the words of a task are those of the plan's contract", "[schedule]") {
    const char* words[] = {"travel",     "set up",   "clean",     "survey",   "flow control", "cut",
                           "bench test", "wet-out",  "load",      "position", "inflate",      "crease",
                           "cure",       "let down", "re-survey", "reopen",   "pack up"};
    for (int w = 0; w < 17; ++w) CHECK(word(static_cast<What>(w)) == words[w]);
}

TEST_CASE("one patch by hand", "[schedule][reference]") {
    // By hand from the minutes of trade_day: 08:00 away, 08:35 on site; set up 25, clean 20, survey 25, flow control 15
    // -> 10:00; cut 15, bench test 10 -> 10:25 mixing; 20 + 8 + 10 + 4 -> 11:07 inflated, 11:09 creased;
    // let down 120 min after mixing -> 12:25; 10 + 25 -> 13:00; pack up 15, travel 35 -> 13:50.
    const Problem problem = scenario::trade_day(1, 1, true, 120);
    const Schedule s = plan_days(problem);
    REQUIRE(s.days.size() == 1);
    CHECK(violations(problem, s).empty());
    CHECK(s.patches[0].mix == 625);
    CHECK(s.patches[0].inflate == 667);
    CHECK(task(s, 0, What::cure).start == 669);
    CHECK(s.patches[0].let_down == 745);
    CHECK(s.days[0].finish == 830);
    CHECK(s.proven_optimal);
    CHECK(s.bound == 830);
    // Back at 16:30 at the latest leaves 160 min.
    CHECK(s.patches[0].latest_mix == 625 + 160);
    CHECK(s.patches[0].last_let_down == 745 + 160);
    CHECK(s.blocked.size() == 1);
    CHECK(s.blocked[0].from == 585);  // flow control
    CHECK(s.blocked[0].to == 755);
    for (const Task& t : s.days[0].tasks) CHECK(t.critical);  // one patch: nothing has slack
}

TEST_CASE("a gauge with alarm lets two cures overlap, a watched cure does not", "[schedule]") {
    const Problem watched = scenario::trade_day(2, 2, true, 120);
    const Problem alarmed = scenario::trade_day(2, 2, false, 120);
    const auto [watched_days, watched_finish] = result(watched);
    const auto [alarmed_days, alarmed_finish] = result(alarmed);
    CHECK(alarmed_days == 1);
    CHECK(std::pair{alarmed_days, alarmed_finish} < std::pair{watched_days, watched_finish});
    const Schedule s = plan_days(alarmed);
    const Task &a = task(s, 0, What::cure), &b = task(s, 1, What::cure);
    CHECK(std::max(a.start, b.start) < std::min(a.finish, b.finish));
}

TEST_CASE("one more packer never finishes later", "[schedule][property]") {
    for (std::uint32_t seed = 1; seed <= 60; ++seed) {
        CAPTURE(seed);
        Problem problem = scenario::random_problem(100 + seed, {.patches = 4, .runs = 2, .day = 110});
        const auto before = result(problem);
        const std::size_t could = plan_days(problem).impossible.size();
        problem.packers[seed % problem.packers.size()].count += 1;
        const auto after = result(problem);
        const std::size_t can = plan_days(problem).impossible.size();
        CHECK(can <= could);
        // Only when the extra packer makes nothing newly possible are the two comparable.
        if (can == could) CHECK(after <= before);
    }
}

TEST_CASE("a longer cure never finishes earlier", "[schedule][property]") {
    for (std::uint32_t seed = 1; seed <= 60; ++seed) {
        CAPTURE(seed);
        Problem problem = scenario::random_problem(300 + seed, {.patches = 4, .runs = 2, .day = 140});
        const auto before = result(problem);
        const std::size_t could = plan_days(problem).impossible.size();
        problem.patches[seed % 4].mix_to_let_down += 1 + static_cast<Minute>(seed % 9);
        const auto after = result(problem);
        const std::size_t can = plan_days(problem).impossible.size();
        CHECK(can >= could);
        if (can == could) CHECK(before <= after);
    }
}

TEST_CASE("the same problem gives the same schedule", "[schedule][property]") {
    const Problem problem = scenario::random_problem(42, {.patches = 4, .runs = 2});
    const Schedule a = plan_days(problem), b = plan_days(problem);
    REQUIRE(a.days.size() == b.days.size());
    for (std::size_t d = 0; d < a.days.size(); ++d) {
        REQUIRE(a.days[d].tasks.size() == b.days[d].tasks.size());
        for (std::size_t k = 0; k < a.days[d].tasks.size(); ++k) {
            CHECK(a.days[d].tasks[k].start == b.days[d].tasks[k].start);
            CHECK(a.days[d].tasks[k].what == b.days[d].tasks[k].what);
        }
    }
}

TEST_CASE("two crews are no slower than one and keep every rule", "[schedule][property]") {
    for (std::uint32_t seed = 1; seed <= 25; ++seed) {
        CAPTURE(seed);
        Problem problem = scenario::random_problem(500 + seed, {.patches = 3, .runs = 2, .day = 140});
        problem.air_lines = 3;
        const auto one = result(problem);
        const std::size_t could = plan_days(problem).impossible.size();
        problem.crews = 2;
        const auto two = result(problem);
        const std::size_t can = plan_days(problem).impossible.size();
        CHECK(can <= could);
        if (can == could) CHECK(two <= one);
    }
}

TEST_CASE("whatever the job, every schedule keeps every rule", "[schedule][property]") {
    for (std::uint32_t seed = 1; seed <= 150; ++seed) {
        CAPTURE(seed);
        scenario::Size size;
        size.patches = 4 + static_cast<int>(seed % 5);
        size.runs = 1 + static_cast<int>(seed % 4);
        size.day = 60 + static_cast<Minute>(seed % 7) * 30;
        Problem problem = scenario::random_problem(20000 + seed, size);
        problem.crews = 1 + static_cast<int>(seed % 2);
        problem.overnight = seed % 3 == 0;
        const Schedule s = plan_days(problem, 3000);
        const auto broken = violations(problem, s);
        CAPTURE(broken);
        REQUIRE(broken.empty());
        CHECK(s.order.size() + s.impossible.size() == problem.patches.size());
        if (!s.days.empty()) {
            CHECK(s.bound <= s.days.back().finish);
            CHECK(s.fewest_days <= static_cast<int>(s.days.size()));
            if (s.proven_optimal) CHECK(s.bound == s.days.back().finish);
        }
    }
}

TEST_CASE("more crews than packers is said in plain words", "[schedule][error]") {
    Problem problem = scenario::trade_day(1, 1, true, 120);
    problem.crews = 3;
    const Schedule s = plan_days(problem);
    REQUIRE(s.warnings.size() == 1);
    CHECK_THAT(s.warnings[0], Contains("3 crews, but 1 packers"));
}

TEST_CASE("a day too short for one cure says what would make it possible", "[schedule][error]") {
    // trade_day with a let-down 400 min after mixing needs 230 + 400 min: back at 18:30, two hours late.
    const Problem problem = scenario::trade_day(1, 1, true, 400);
    const Schedule s = plan_days(problem);
    REQUIRE(s.impossible == std::vector<int>{0});
    CHECK_THAT(s.why_impossible[0], Contains("10 h 30 min"));
    CHECK_THAT(s.why_impossible[0], Contains("a start at 06:00"));
    CHECK_THAT(s.why_impossible[0], Contains("finish at 18:30"));
    CHECK_THAT(s.why_impossible[0], Contains("a let-down 2 h sooner"));
    CHECK(s.days.empty());
    CHECK(violations(problem, s).empty());

    // 230 + 730 min from 08:00 end at midnight, 450 min late.
    const Schedule later = plan_days(scenario::trade_day(1, 1, true, 730));
    CHECK_THAT(later.why_impossible.at(0), Contains("a start at 00:30") && Contains("finish at 00:00 next day"));

    Problem night = problem;
    night.overnight = true;
    const Schedule over = plan_days(night);
    CHECK(over.impossible.empty());
    CHECK(violations(night, over).empty());
    REQUIRE(over.days.size() == 2);
    CHECK(task(over, 0, What::cure).finish > 1440);
    CHECK(over.patches[0].let_down == task(over, 0, What::let_down).start + 1440);
}

TEST_CASE("overnight cures with other patches keep every rule", "[schedule][property]") {
    for (std::uint32_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        Problem problem = scenario::random_problem(900 + seed, {.patches = 4, .runs = 3, .day = 150});
        problem.overnight = true;
        problem.patches[seed % 4].mix_to_let_down = 200;
        const Schedule s = plan_days(problem);
        const auto broken = violations(problem, s);
        CAPTURE(broken);
        CHECK(broken.empty());
    }
}

TEST_CASE("what cannot be done is named with what is missing", "[schedule][error]") {
    Problem problem = scenario::trade_day(2, 1, true, 120);
    SECTION("no packer") {
        problem.patches[0].packer = -1;
        const Schedule s = plan_days(problem);
        REQUIRE(s.impossible == std::vector<int>{0});
        CHECK_THAT(s.why_impossible[0], Contains("no packer in the yard fits it"));
        CHECK(s.patches[1].day == 0);
    }
    SECTION("none in the yard") {
        problem.packers[0].count = 0;
        CHECK(plan_days(problem).impossible.size() == 2);
    }
    SECTION("hands too slow for the resin") {
        problem.patches[0].inflate_by = 41;
        CHECK_THAT(plan_days(problem).why_impossible.at(0), Contains("mixing to inflated takes 42 min"));
        problem.patches[0].inflate_by = 42;
        const Schedule s = plan_days(problem);
        CHECK(s.impossible.empty());
        CHECK(violations(problem, s).empty());  // inflated in the last minute that is in time
        problem.patches[0].inflate_by = 41;
        CHECK_THAT(violations(problem, s), VectorContains(std::string{"patch P1 is inflated too late"}));
    }
    SECTION("crease too late") {
        problem.patches[0].crease_by = 43;
        CHECK_THAT(plan_days(problem).why_impossible.at(0), Contains("creased takes 44 min"));
        problem.patches[0].crease_by = 44;
        const Schedule s = plan_days(problem);
        CHECK(s.impossible.empty());
        CHECK(violations(problem, s).empty());
        problem.patches[0].crease_by = 43;
        CHECK_THAT(violations(problem, s), VectorContains(std::string{"patch P1 is creased too late"}));
    }
    SECTION("bucket too hot") {
        problem.patches[0].pour = 6;
        problem.batches[0].pour_by = 5;
        CHECK_THAT(plan_days(problem).why_impossible.at(0), Contains("pouring takes 6 min"));
    }
    SECTION("shared mix with one packer") {
        problem.batches[0].patches = {0, 1};
        problem.batches.pop_back();
        problem.patches[1].batch = 0;
        const Schedule s = plan_days(problem);
        CHECK(s.impossible == std::vector<int>{0, 1});
        CHECK_THAT(s.why_impossible[0], Contains("mix of its own"));
        CHECK(mixes_to_divide(problem) == std::vector<int>{0});
    }
}

TEST_CASE("the checker sees every fault that is put in", "[schedule]") {
    const Problem problem = scenario::trade_day(4, 2, false, 100);
    const Schedule good = plan_days(problem);
    REQUIRE(violations(problem, good).empty());
    int caught = 0, tried = 0;
    for (std::size_t d = 0; d < good.days.size(); ++d) {
        for (std::size_t k = 0; k < good.days[d].tasks.size(); ++k) {
            for (const Minute shift : {-1, 1}) {
                Schedule bad = good;
                bad.days[d].tasks[k].start += shift;
                bad.days[d].tasks[k].finish += shift;
                const What what = bad.days[d].tasks[k].what;
                // A task with room on that side may move without harm: look only at those that bind.
                if (!good.days[d].tasks[k].critical && what != What::wet_out && what != What::cure) continue;
                if (what == What::pack_up || what == What::re_survey) continue;
                ++tried;
                caught += violations(problem, bad).empty() ? 0 : 1;
            }
            Schedule missing = good;
            missing.days[d].tasks.erase(missing.days[d].tasks.begin() + static_cast<std::ptrdiff_t>(k));
            ++tried;
            const What what = good.days[d].tasks[k].what;
            caught += what == What::pack_up || !violations(problem, missing).empty() ? 1 : 0;
        }
    }
    CHECK(tried > 80);
    CHECK(caught == tried);

    // What it says of a load of 8 min that ends a minute early.
    Schedule hasty = good;
    for (Day& day : hasty.days)
        for (Task& t : day.tasks)
            if (t.patch == 0 && t.what == What::load) t.finish -= 1;
    CHECK_THAT(violations(problem, hasty), VectorContains(std::string{"patch P1: 'load' takes 7 min instead of 8"}));

    Schedule false_times = good;
    false_times.patches[0].inflate_by += 1;
    CHECK_FALSE(violations(problem, false_times).empty());
    Problem fewer = problem;
    fewer.packers[0].count = 1;
    CHECK_FALSE(violations(fewer, good).empty());
    Problem watched = problem;
    watched.watch_cure = true;
    CHECK_FALSE(violations(watched, good).empty());
    Problem lines = problem;
    lines.air_lines = 1;
    CHECK_FALSE(violations(lines, good).empty());
    Problem same_side = problem;
    for (PatchWork& w : same_side.patches) w.from_far_end = false;
    CHECK_FALSE(violations(same_side, good).empty());
    Problem slower = problem;
    slower.patches[1].mix_to_let_down += 60;
    CHECK_FALSE(violations(slower, good).empty());
}

TEST_CASE("many patches still get a good answer with its bound", "[schedule]") {
    for (const int count : {14, 20}) {
        const Problem problem = scenario::trade_day(count, 2, false, 60);
        const Schedule s = plan_days(problem, 20000);
        CHECK(violations(problem, s).empty());
        CHECK(s.order.size() == static_cast<std::size_t>(count));
        CHECK(s.fewest_days >= 1);
        CHECK(s.fewest_days <= static_cast<int>(s.days.size()));
        CHECK(s.bound <= s.days.back().finish);
    }
}
