// A memory of days only saves work: with it and without it the schedules are the same, step for step.
#include <algorithm>
#include <tuple>
#include <vector>

#include <catch2/catch.hpp>

#include "patchwright/schedule/schedule.hpp"
#include "scenario.hpp"

using namespace patchwright::schedule;

namespace {

using TaskRow = std::tuple<std::optional<int>, std::optional<int>, What, Minute, Minute, int, bool>;
std::vector<TaskRow> rows(const Schedule& s) {
    std::vector<TaskRow> out;
    for (const Day& day : s.days)
        for (const Task& t : day.tasks) out.emplace_back(t.patch, t.run, t.what, t.start, t.finish, t.crew, t.critical);
    return out;
}

void check_same(const Schedule& a, const Schedule& b) {
    REQUIRE(a.days.size() == b.days.size());
    CHECK(rows(a) == rows(b));
    CHECK(a.order == b.order);
    CHECK(a.proven_optimal == b.proven_optimal);
    CHECK(a.bound == b.bound);
    CHECK(a.fewest_days == b.fewest_days);
    CHECK(a.impossible == b.impossible);
    CHECK(a.why_impossible == b.why_impossible);
    CHECK(a.warnings == b.warnings);
}

void check_same(const Outline& outline, const Schedule& s) {
    std::vector<Minute> finishes;
    for (const Day& day : s.days) finishes.push_back(day.finish);
    CHECK(outline.finishes == finishes);
    CHECK(outline.order == s.order);
    CHECK(outline.impossible == s.impossible);
    CHECK(outline.proven_optimal == s.proven_optimal);
}

/// The same work with its runs and kinds of packer counted from the other end.
Problem renumbered(Problem problem) {
    std::reverse(problem.runs.begin(), problem.runs.end());
    std::reverse(problem.packers.begin(), problem.packers.end());
    for (PatchWork& p : problem.patches) {
        p.run = static_cast<int>(problem.runs.size()) - 1 - p.run;
        p.packer = static_cast<int>(problem.packers.size()) - 1 - p.packer;
    }
    return problem;
}

/// Neighbours of a job, as a search over whole jobs asks for them: one sleeve quicker, slower, or on another packer.
std::vector<Problem> neighbours(const Problem& problem) {
    std::vector<Problem> list{problem, renumbered(problem)};
    for (std::size_t i = 0; i < problem.patches.size(); ++i) {
        list.push_back(problem);
        list.back().patches[i].mix_to_let_down += 1;
        list.push_back(problem);
        list.back().patches[i].packer = static_cast<int>(i % problem.packers.size());
        list.push_back(problem);
        list.back().patches[i].from_far_end = !problem.patches[i].from_far_end;
        list.push_back(list.back());  // ... and so far along that others no longer stand in its way
        list.back().patches[i].at_start += 1000.0;
        list.back().patches[i].at_end += 1000.0;
    }
    list.push_back(problem);
    list.back().finish += 7;
    return list;
}

}  // namespace

TEST_CASE("what is remembered is what a search finds", "[schedule][property]") {
    for (std::uint32_t seed = 1; seed <= 30; ++seed) {
        scenario::Size size;
        size.patches = 3 + static_cast<int>(seed % 3);
        size.runs = 1 + static_cast<int>(seed % 3);
        size.day = 50 + static_cast<Minute>(seed % 7) * 25;
        Problem problem = scenario::random_problem(70000 + seed, size);
        problem.crews = 1 + static_cast<int>(seed % 2);
        problem.overnight = seed % 3 == 0;
        Memory memory;
        for (const Problem& job : neighbours(problem)) {
            // Few steps first: what a short search left open must not stand for what a long one finds.
            for (const std::int64_t steps : {20, 2000, 60}) {
                CAPTURE(seed, steps);
                const Schedule fresh = plan_days(job, steps);
                check_same(outline_days(job, steps, memory), fresh);
                check_same(plan_days(job, steps, memory), fresh);
            }
        }
    }
}
