#include <catch2/catch.hpp>

#include <cmath>
#include <numeric>
#include <random>

#include "patchwright/schedule/schedule.hpp"
#include "patchwright/units/error.hpp"
#include "scenario.hpp"

using namespace patchwright::schedule;
using Catch::Matchers::Contains;

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
        // Only when the extra packer makes nothing newly possible are the two comparable.
        if (plan_days(problem).impossible.size() == could) CHECK(after <= before);
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
        if (plan_days(problem).impossible.size() == could) CHECK(before <= after);
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
        if (plan_days(problem).impossible.size() == could) CHECK(two <= one);
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
        CHECK(plan_days(problem).impossible.empty());
    }
    SECTION("crease too late") {
        problem.patches[0].crease_by = 43;
        CHECK_THAT(plan_days(problem).why_impossible.at(0), Contains("creased takes 44 min"));
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

TEST_CASE("nonsense is refused", "[schedule][error]") {
    const Problem good = scenario::trade_day(2, 1, true, 120);
    const auto refuse = [&](auto spoil) {
        Problem bad = good;
        spoil(bad);
        CHECK_THROWS_AS(plan_days(bad), patchwright::InputError);
    };
    refuse([](Problem& p) { p.finish = p.start; });
    refuse([](Problem& p) { p.patches[0].wet_out = -1; });
    refuse([](Problem& p) { p.patches[0].run = 9; });
    refuse([](Problem& p) { p.patches[0].packer = 9; });
    refuse([](Problem& p) { p.patches[0].batch = 1; });
    refuse([](Problem& p) { p.batches[1].patches = {0}; });
    refuse([](Problem& p) { p.batches[1].patches = {}; });
    refuse([](Problem& p) { p.patches[0].inflate_by = 0; });
    refuse([](Problem& p) { p.patches[0].at_start = std::nan(""); });
    refuse([](Problem& p) { p.crew_size = 0; });
    refuse([](Problem& p) {
        p.patches[0].after = {1};
        p.patches[1].after = {0};
    });
    CHECK_THROWS_AS(plan_days(good, 0), patchwright::InputError);
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

TEST_CASE("the chance of being late follows the Irwin-Hall distribution", "[schedule][reference]") {
    // A symmetric triangular time is the sum of two uniform ones, so four of them from 0 to 2u sum to u times the sum
    // of eight uniforms: Irwin (1927), Hall (1927); F(x) = 1/n! sum_k (-1)^k C(n,k) (x-k)^n, n = 8.
    // A low of 0 stands for "as likely", so every time here runs from 10 to 10 + 2u instead.
    const int u = 10;
    Problem problem = scenario::trade_day(1, 1, true, 120);
    PatchWork& w = problem.patches[0];
    w.wet_out_low = w.load_low = w.position_low = w.inflate_low = 10;
    w.wet_out = w.load = w.position = w.inflate = 10 + u;
    w.wet_out_high = w.load_high = w.position_high = w.inflate_high = 10 + 2 * u;
    const auto irwin_hall = [](double x) {
        double sum = 0, choose = 1;
        for (int k = 0; k <= 8 && k <= x; ++k) {
            sum += (k % 2 == 0 ? 1 : -1) * choose * std::pow(x - k, 8);
            choose = choose * (8 - k) / (k + 1);
        }
        return sum / 40320.0;
    };
    for (int limit = 60; limit <= 110; limit += 5) {
        CAPTURE(limit);
        w.inflate_by = limit;
        const double exact = 1.0 - irwin_hall((limit - 40.0) / u);
        CHECK(late_probability(problem, 0, {0}) == Approx(exact).margin(0.002));
    }
    w.inflate_by = 120;
    CHECK(late_probability(problem, 0, {0}) == 0.0);
    w.inflate_by = 39;
    CHECK(late_probability(problem, 0, {0}) == 1.0);
}

TEST_CASE("one skewed triangular time has its own distribution function", "[schedule][reference]") {
    // practice of three-point estimates: triangular (2, 3, 7) has P50 3.83772 and P80 5.00000 (work: F = 0.2 at the
    // mode, 1 - (b - x)^2 / ((b - a)(b - m)) above it). In minutes times ten: 20, 30, 70; the rest of the times are
    // fixed.
    Problem problem = scenario::trade_day(1, 1, true, 120);
    PatchWork& w = problem.patches[0];
    w.wet_out_low = 20;
    w.wet_out = 30;
    w.wet_out_high = 70;
    w.inflate_by = 50 + w.load + w.position + w.inflate;
    CHECK(late_probability(problem, 0, {0}) == Approx(0.20).margin(0.002));
    w.inflate_by = 38 + w.load + w.position + w.inflate;
    CHECK(late_probability(problem, 0, {0}) == Approx(0.512).margin(0.002));
}

TEST_CASE("a blocked pipe fills what stands behind it", "[schedule][flow][reference]") {
    // By hand: 60 l at 0.02 l/s last 3000 s = 50 min. Shut for 4 h = 14400 s, 288 l come; 228 l must be pumped over
    // 14400 s: 0.0158333 l/s.
    using namespace patchwright;
    Working working;
    const FlowVerdict v = flow_while_blocked(0.02 * unit::litre_s, 60.0 * unit::litre, 4.0 * unit::h, working);
    CHECK_FALSE(v.holds);
    CHECK(v.fills_in.in(unit::minute) == Approx(50.0));
    CHECK(v.pump.in(unit::litre_s) == Approx(228.0 / 14400.0));
    CHECK(working.steps().size() == 2);
    CHECK(flow_while_blocked(0.02 * unit::litre_s, 60.0 * unit::litre, 50.0 * unit::minute, working).holds);
    CHECK(flow_while_blocked(VolumeFlow{}, Volume{}, 4.0 * unit::h, working).holds);
    CHECK_THROWS_AS(flow_while_blocked(-1.0 * unit::litre_s, Volume{}, unit::h, working), RangeError);
    // 1 m of water on a 100 mm stopper: 9806.65 * pi/4 * 0.01 = 77.02 N.
    CHECK(push_on_stopper(100.0 * unit::mm, 1.0 * unit::m, working).in(unit::N) == Approx(77.02).epsilon(1e-4));
    CHECK_THROWS_AS(push_on_stopper(-1.0 * unit::mm, unit::m, working), RangeError);
}

TEST_CASE("a run that is shut longer than its storage lasts is warned of", "[schedule][flow]") {
    Problem problem = scenario::trade_day(1, 1, true, 120);
    problem.runs[0].blocked_at_most = 170;
    CHECK(plan_days(problem).warnings.empty());
    problem.runs[0].blocked_at_most = 169;
    const Schedule s = plan_days(problem);
    REQUIRE(s.warnings.size() == 1);
    CHECK_THAT(s.warnings[0], Contains("shut from 09:45 to 12:35") && Contains("pump over"));
    CHECK_FALSE(s.blocked[0].holds);
    CHECK(violations(problem, s).empty());
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
