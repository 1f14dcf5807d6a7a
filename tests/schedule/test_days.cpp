// Several days, one after the other.
#include <catch2/catch.hpp>
#include <set>

#include "scenario.hpp"

using namespace patchwright::schedule;
using Catch::Matchers::Contains;

namespace {

Problem job_of(int patches, int packers, bool alarm, Minute cure) {
    Problem problem;
    problem.work = scenario::trade_day(patches, packers, alarm, cure);
    return problem;
}

}  // namespace

TEST_CASE("what one day does not hold goes to the next, and a run is cleaned in full once", "[schedule]") {
    const Schedule schedule = plan_days(job_of(4, 1, true, 180));
    REQUIRE(schedule.days.size() >= 2);
    CHECK(schedule.impossible.empty());
    CHECK(schedule.order.size() == 4);
    std::set<patchwright::job::RunPlace> cleaned;
    for (const Day& day : schedule.days) {
        CHECK(day.finish <= 990);
        for (const Task& task : day.tasks) {
            if (task.what != What::clean) continue;
            const bool fresh = cleaned.insert(*task.run).second;
            CHECK(task.finish - task.start == (fresh ? 18 : 12));
        }
    }
}

TEST_CASE("a patch that no day holds is left out, with the minutes that are missing", "[schedule]") {
    Problem problem = job_of(2, 1, true, 120);
    problem.work.patches[1].mix_to_let_down = 600;
    const Schedule schedule = plan_days(problem);
    CHECK(schedule.impossible == std::vector<int>{1});
    REQUIRE(schedule.why_impossible.size() == 1);
    CHECK_THAT(schedule.why_impossible[0], Contains("too short"));
    CHECK(schedule.patches[1].day == -1);
    problem.overnight = true;
    const Schedule night = plan_days(problem);
    CHECK(night.impossible.empty());
    CHECK(night.patches[1].let_down > 1440);
    REQUIRE(night.days.size() == 2);
    CHECK(std::any_of(night.days[1].tasks.begin(), night.days[1].tasks.end(),
                      [](const Task& task) { return task.patch == 1 && task.what == What::let_down; }));
    CHECK_FALSE(night.warnings.empty());
}

TEST_CASE("what waits for another is done on no earlier day", "[schedule]") {
    Problem problem = job_of(3, 1, true, 240);
    problem.work.patches[0].after = {2};
    const Schedule schedule = plan_days(problem);
    REQUIRE(schedule.impossible.empty());
    const PatchTimes &first = schedule.patches[2], &then = schedule.patches[0];
    CHECK(std::pair{first.day, first.let_down} < std::pair{then.day, then.mix});
    problem.work.patches[2].mix_to_let_down = 700;
    CHECK(plan_days(problem).impossible == std::vector<int>{2, 0});
}

TEST_CASE("two crews share packers and never a run", "[schedule]") {
    Problem problem = job_of(4, 2, true, 200);
    problem.work.air_lines = 4;
    problem.crews = 2;
    const Schedule two = plan_days(problem);
    problem.crews = 1;
    CHECK(two.days.size() <= plan_days(problem).days.size());
    for (const Day& day : two.days)
        for (const Task& a : day.tasks)
            for (const Task& b : day.tasks)
                if (a.run && b.run && a.crew != b.crew) CHECK(*a.run != *b.run);
}

TEST_CASE("a pipe that is shut longer than its storage lasts is said", "[schedule]") {
    Problem problem = job_of(1, 1, true, 180);
    problem.work.runs[0].storage = 60;
    const Schedule schedule = plan_days(problem);
    REQUIRE(schedule.blocked.size() == 1);
    CHECK_FALSE(schedule.blocked[0].holds);
    CHECK_THAT(schedule.warnings.front(), Contains("pump over"));
    problem.work.patches[0].flow_through = true;
    CHECK(plan_days(problem).blocked.empty());
}
