// Days of one crew keep every rule, and more to work with never makes them longer.
#include <catch2/catch.hpp>

#include "scenario.hpp"
#include "support/crew_day_rules.hpp"

using namespace patchwright::schedule;
using namespace patchwright;

namespace {

bool possible(const Finish& day) { return day.verdict.hindrance == Hindrance::none; }

}  // namespace

TEST_CASE("days of random work keep every rule", "[schedule][property]") {
    int days = 0, watched = 0, beside = 0;
    for (std::uint32_t seed = 1; seed <= 600; ++seed) {
        const DayWork work =
            scenario::random_day(seed, {1 + static_cast<int>(seed % 6), 1 + static_cast<int>(seed % 3)});
        const Day day = best_day(work);
        CAPTURE(seed);
        if (!possible(day)) continue;
        ++days;
        watched += work.alarm_gauge ? 0 : 1;
        const auto broken = test::broken_crew_day_rules(work, day);
        for (const auto& words : broken) UNSCOPED_INFO(words);
        REQUIRE(broken.empty());
        CHECK(day.proven);
        CHECK(day.bound == day.finish);
        CHECK(earliest_finish(work).finish == day.finish);
        CHECK(earliest_finish(work, default_budget, day.finish).finish == day.finish);
        const Finish none = earliest_finish(work, default_budget, day.finish - 1);
        CHECK(none.proven);
        CHECK(none.finish >= day.finish);
        for (std::size_t k = 1; k < day.tasks.size(); ++k)
            beside += day.tasks[k].what != What::cure && day.tasks[k - 1].what != What::cure &&
                              day.tasks[k].start < day.tasks[k - 1].finish
                          ? 1
                          : 0;
    }
    CHECK(days >= 400);
    CHECK(watched >= 100);
    CHECK(beside >= 300);  // persons do work beside each other
}

TEST_CASE("more to work with never makes a day longer", "[schedule][property]") {
    int compared = 0;
    const auto no_later = [&](const DayWork& work, const DayWork& richer, const char* what) {
        const Finish day = earliest_finish(work), other = earliest_finish(richer);
        CAPTURE(what);
        if (!possible(day)) return;
        ++compared;
        REQUIRE(possible(other));
        CHECK(other.finish <= day.finish);
    };
    for (std::uint32_t seed = 1001; seed <= 1500; ++seed) {
        CAPTURE(seed);
        const DayWork work =
            scenario::random_day(seed, {1 + static_cast<int>(seed % 5), 1 + static_cast<int>(seed % 3)});
        DayWork richer = work;
        ++richer.air_lines;
        no_later(work, richer, "air line");
        richer = work;
        ++richer.packers.front().count;
        no_later(work, richer, "packer");
        if (!work.heaters.empty()) {
            richer = work;
            ++richer.heaters.front().count;
            no_later(work, richer, "heater");
        }
        for (std::size_t k = 0; k < machine_kinds; ++k) {
            richer = work;
            ++richer.machines[k];
            no_later(work, richer, "jetter, camera or cutter");
        }
        richer = work;
        richer.alarm_gauge = true;
        no_later(work, richer, "alarm gauge");
        richer = work;
        richer.while_watching = WhileWatching::jobs_there;
        no_later(work, richer, "work while watching");
        richer = work;
        richer.ready_in_yard = true;
        no_later(work, richer, "made ready in the yard");
        // A person more: tasks that a small crew does with fewer hands must not take more for it.
        richer = work;
        richer.persons = std::min(4, work.persons + 1);
        if (work.persons >= 2) no_later(work, richer, "person");
    }
    CHECK(compared >= 1500);
}

TEST_CASE("with the ends of some patches undecided no day that may be made of it is back before the bound",
          "[schedule][property]") {
    int compared = 0, tight = 0;
    for (std::uint32_t seed = 4001; seed <= 4600; ++seed) {
        scenario::Dice dice{seed};
        DayWork work = scenario::random_day(seed, {2 + static_cast<int>(seed % 4), 1 + static_cast<int>(seed % 2)});
        for (PatchWork& p : work.patches) {
            p.after.clear();
            for (const RunWork& run : work.runs)
                if (run.place == p.run && run.access_to < 0) p.from_far_end = false;
        }
        // Runs may meet in an access, which is then opened once.
        for (RunWork& run : work.runs) run.open_access.minutes = 0;
        const Finish day = earliest_finish(work);
        CAPTURE(seed);
        if (!possible(day)) continue;
        REQUIRE(day.proven);
        DayWork open = work;
        int packers = 0;
        for (const Packers& kind : work.packers) packers += kind.count;
        open.packers.push_back({"any", packers});
        for (PatchWork& p : open.patches) {
            if (p.lying || dice.chance(30)) continue;
            p.from_any_end = true;
            p.packer = static_cast<int>(open.packers.size()) - 1;
        }
        const Finish searched = earliest_finish(open), at_once = earliest_finish(open, 1);
        REQUIRE(possible(searched));
        ++compared;
        tight += searched.bound == day.finish ? 1 : 0;
        CHECK(searched.bound <= day.finish);
        CHECK(at_once.bound <= searched.bound);
    }
    CHECK(compared >= 300);
    CHECK(tight >= 50);  // it says something
}

TEST_CASE("a patch less never makes a day longer", "[schedule][property]") {
    int compared = 0;
    for (std::uint32_t seed = 2001; seed <= 2500; ++seed) {
        CAPTURE(seed);
        DayWork work = scenario::random_day(seed, {2 + static_cast<int>(seed % 4), 1 + static_cast<int>(seed % 3)});
        for (PatchWork& p : work.patches) p.after.clear();
        // With two pairs one can set up at a run of the patch's while the other only opens: out of the question here.
        work.persons = std::min(work.persons, 3);
        for (RunWork& run : work.runs) run.set_up = work.runs.front().set_up;  // or another run is the dearer first
        const int last = work.mixes.back().patches.back();
        // Where two shared mixes stand against each other the far-first rule gives way, and without one it does not.
        const bool shared =
            std::any_of(work.mixes.begin(), work.mixes.end(), [](const Mix& mix) { return mix.patches.size() > 1; });
        if (shared || work.mixes.back().patches.size() > 1 || last + 1 != static_cast<int>(work.patches.size()))
            continue;
        DayWork less = work;
        less.patches.pop_back();
        less.mixes.pop_back();
        const Finish day = earliest_finish(work), shorter = earliest_finish(less);
        if (!possible(day)) continue;
        ++compared;
        CHECK(possible(shorter));
        CHECK(shorter.finish <= day.finish);
    }
    CHECK(compared >= 60);
}

TEST_CASE("two persons overlap two cures", "[schedule]") {
    // By hand, an alarm gauge, common durations: away 8:00, there 8:35, set up 20, the other access 8 and jetting 18 to
    // 9:21, survey and flow control 25 to 9:46, first mix to 10:05, second to 10:24 (17 by two, crease 2 by one).
    const Day day = best_day(scenario::trade_day(2, 2, true, 120));
    REQUIRE(day.patches.size() == 2);
    const Minute first = std::min(day.patches[0].mix, day.patches[1].mix);
    CHECK(first == 9 * 60 + 46);
    CHECK(std::max(day.patches[0].mix, day.patches[1].mix) <= first + 19);
    // The second is let down 125 or 120 min after its mixing at 10:05, seven minutes, re-survey of both in one go ten,
    // pack up 15, travel 35.
    CHECK(day.proven);
    CHECK(day.finish == 10 * 60 + 5 + 120 + 7 + 10 + 15 + 35);
}

TEST_CASE("one camera looks along one run after the other", "[schedule]") {
    // Two sleeves that come out at the same time, each in a run of its own: the second run waits ten minutes for the
    // camera, unless there are two of them.
    DayWork work = scenario::trade_day(3, 2, true, 300);
    work.patches[1] = work.patches[2];
    work.patches.pop_back();
    work.mixes.pop_back();
    work.patches[0].lying = work.patches[1].lying = 600;
    work.mixes.clear();
    const Day day = best_day(work);
    CHECK(day.finish == 600 + 7 + 10 + 10 + 15 + 35);
    work.machines[static_cast<std::size_t>(Machine::camera)] = 2;
    CHECK(best_day(work).finish == day.finish - 10);
}

TEST_CASE("far first, near last from one mouth", "[schedule]") {
    DayWork work = scenario::trade_day(2, 2, true, 60);
    for (PatchWork& p : work.patches) p.from_far_end = false;
    const Day far_first = best_day(work);
    CHECK(far_first.order == std::vector<int>{1, 0});
    work.patches[1].after = {0};  // a ledge would face the water
    CHECK(best_day(work).order == std::vector<int>{0, 1});
}

TEST_CASE("what is prepared ahead makes the day no longer", "[schedule]") {
    DayWork work = scenario::trade_day(2, 2, true, 180);
    const Day alone = best_day(work);
    RunWork next = work.runs.front();
    next.place = job::run_place(5);
    next.id = "next";
    next.access_from = 5;
    next.access_to = 6;
    work.runs.push_back(next);
    RunWork long_one = next;
    long_one.place = job::run_place(6);
    long_one.clean.minutes = 400;
    work.runs.push_back(long_one);
    work.prepare_ahead = {long_one.place, next.place};
    const Day day = best_day(work);
    CHECK(day.finish == alone.finish);
    CHECK(day.prepared_ahead == std::vector<job::RunPlace>{next.place});
    CHECK(test::broken_crew_day_rules(work, day) == std::vector<std::string>{});
}

TEST_CASE("work in the yard is paid and off the day's clock", "[schedule]") {
    DayWork work = scenario::trade_day(1, 1, true, 120);
    const Day yard = best_day(work);
    CHECK(yard.yard_minutes == 16);
    work.ready_in_yard = false;
    const Day site = best_day(work);
    CHECK(site.yard_minutes == 0);
    CHECK(site.finish >= yard.finish);
}

TEST_CASE("a day that is too short says by how much", "[schedule]") {
    DayWork work = scenario::trade_day(2, 1, true, 300);
    const Day day = best_day(work);
    REQUIRE(day.verdict.hindrance == Hindrance::none);
    CHECK(day.short_by(work) == day.finish - work.finish);
    work.overtime = day.short_by(work) - 26;
    CHECK(best_day(work).short_by(work) == 26);
    work.overtime += 26;
    CHECK(best_day(work).short_by(work) == 0);
}

TEST_CASE("latest times close the day and a minute more does not", "[schedule][property]") {
    // The day's finish moved up to its own end: what has no slack is critical, and something always is.
    for (std::uint32_t seed = 3001; seed <= 3100; ++seed) {
        CAPTURE(seed);
        DayWork work = scenario::random_day(seed, {1 + static_cast<int>(seed % 4), 2});
        Day day = best_day(work);
        if (!possible(day)) continue;
        bool critical = false;
        for (const Task& t : day.tasks) critical = critical || t.critical;
        CHECK(critical);
        for (const PatchTimes& t : day.patches) {
            if (t.let_down >= 1440) continue;
            CHECK(t.latest_mix >= t.mix);
            CHECK(t.last_let_down >= t.let_down);
        }
    }
}

TEST_CASE("a minute more on what has slack is no minute more on the day", "[schedule][property]") {
    int lengthened = 0;
    for (std::uint32_t seed = 5001; seed <= 5200; ++seed) {
        CAPTURE(seed);
        const DayWork work =
            scenario::random_day(seed, {1 + static_cast<int>(seed % 4), 1 + static_cast<int>(seed % 3)});
        const Day day = best_day(work);
        if (!possible(day)) continue;
        for (const Task& task : day.tasks) {
            DayWork longer = work;
            Labour* more = nullptr;
            if (task.patch && task.what == What::let_down)
                more = &longer.patches[static_cast<std::size_t>(*task.patch)].let_down;
            for (RunWork& run : longer.runs) {
                if (task.patch || task.run != run.place) continue;
                if (task.what == What::survey && !run.prepared) more = &run.survey;
                if (task.what == What::flow_control) more = &run.flow_control;
            }
            if (more == nullptr || task.critical || task.finish == task.start) continue;
            ++more->minutes;
            ++lengthened;
            CAPTURE(word(task.what), task.start);
            CHECK(earliest_finish(longer).finish <= day.finish);
        }
    }
    CHECK(lengthened > 100);
}
