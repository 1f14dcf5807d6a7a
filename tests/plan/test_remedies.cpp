// What is said to make room for a patch does, when the files are changed as it says.
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <string>
#include <vector>

#include "patchwright/cure/cure.hpp"
#include "patchwright/io/change.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/jobs.hpp"
#include "support/project_file.hpp"
#include "support/share.hpp"

using namespace patchwright;
using Catch::Matchers::Contains;

namespace {

struct Given {
    std::string job, yard;
};

plan::Plan planned_of(const Given& files, const std::vector<job::Change>& changes) {
    const auto job = io::read_job(io::with_changes(files.job, job::FileKind::job, changes), "job.json");
    const auto yard =
        io::read_yard(io::with_changes(files.yard, job::FileKind::yard, changes), "yard.json", cure::resin_faults);
    REQUIRE(job);
    for (const auto& d : yard.diagnostics) UNSCOPED_INFO(d.message);
    REQUIRE(yard);
    plan::Options options;
    options.trials = 0;
    options.tables = options.working = false;
    return plan::make_plan(*job.value, *yard.value, options);
}

bool has_mended(const plan::Plan& plan, const plan::Patch& patch) {
    return std::all_of(patch.defects.begin(), patch.defects.end(), [&](int defect) {
        return std::any_of(plan.patches.begin(), plan.patches.end(), [&](const plan::Patch& p) {
            return p.run == patch.run && std::find(p.defects.begin(), p.defects.end(), defect) != p.defects.end();
        });
    });
}

struct RemediesTried {
    int longer_day = 0;
    std::set<plan::Remedy::Kind> remedies;
};

/// Every remedy that the plan of those files names, tried.
void try_all(const Given& files, RemediesTried& counts) {
    const auto plan = planned_of(files, {});
    for (const auto& left : plan.not_planned) {
        CAPTURE(left.patch.id, left.condition);
        const auto waits = [&](const plan::Plan& other) {
            std::size_t sum = 0;
            for (const auto& run : other.runs) sum += run.waiting.size();
            return sum;
        };
        if (left.minutes > 0 && left.extra_net) {
            const auto job = io::read_job(files.job, "job.json");
            const ClockTime later{job.value->site.finish.minutes + left.minutes};
            const auto then = planned_of(files, {job::set_text(job::FileKind::job, {"site", "finish"}, format(later))});
            CHECK(has_mended(then, left.patch));
            CHECK(then.offer.patch.net - plan.offer.patch.net == *left.extra_net);
            ++counts.longer_day;
        }
        if (!left.otherwise || !left.otherwise->extra_net) continue;
        CAPTURE(left.otherwise->words);
        // As typed for `whatif --try`.
        for (const auto& change : left.otherwise->changes)
            CHECK(std::any_of(plan.warnings.begin(), plan.warnings.end(), [&](const std::string& warning) {
                return warning.find(io::text(change)) != std::string::npos;
            }));
        const auto then = planned_of(files, left.otherwise->changes);
        CHECK(has_mended(then, left.patch));
        CHECK(waits(then) < waits(plan));
        CHECK(then.offer.patch.net - plan.offer.patch.net == *left.otherwise->extra_net);
        counts.remedies.insert(left.otherwise->kind);
    }
}

std::string one_place(const std::string& site, const std::string& run) {
    return R"({"patchwright_job": 1, "reference": "one", "site": {)" + site +
           R"(}, "runs": [{"id": "A", "from": "M1", "to": "M2", "length": "12 m", "bore": "100 mm", "material": "clay",
        "depth": "1.3 m", "access": ["M1", "M2"], )" +
           run + R"(, "defects": [{"id": "1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]}]})";
}

const std::string plain_yard = R"({"patchwright_yard": 1, "extends": "builtin", "name": "as built in"})";

/// Random jobs with a day too short for most of them.
void try_random(std::uint32_t first, std::uint32_t last, RemediesTried& counts) {
    for (std::uint32_t seed = first; seed <= last; ++seed) {
        auto job = test::random_job(seed);
        job["site"]["finish"] = "11:30";
        const auto text = test::line(job);
        const auto read = io::read_job(text, "job.json");
        if (!read || io::has_errors(io::cross_check(*read.value, io::builtin_yard()))) continue;
        CAPTURE(seed);
        try_all({text, plain_yard}, counts);
    }
}

}  // namespace

TEST_CASE("every remedy that a plan names works when it is tried", "[plan]") {
    RemediesTried counts;
    const auto demo = nlohmann::ordered_json::parse(test::project_file("examples/demo.json"));
    for (const char* finish : {"12:00", "12:45"}) {
        if (test::under_sanitizers) break;  // some twenty whole plans each
        auto job = demo;
        job["site"]["finish"] = finish;
        try_all({job.dump(), plain_yard}, counts);
    }
    // Another clock, resin, warmth of resin, air or pipe each.
    try_all({one_place(R"("finish": "12:30")", R"("ground_temperature": "10 C")"), plain_yard}, counts);
    try_all({one_place(R"("finish": "13:00")", R"("resin": "slow", "ground_temperature": "10 C")"), plain_yard},
            counts);
    try_all({one_place(R"("start": "08:00")", R"("resin": "polyester", "ground_temperature": "12 C")"), plain_yard},
            counts);
    try_all({one_place(R"("air_temperature": "30 C")", R"("resin": "fast", "ground_temperature": "17 C")"), plain_yard},
            counts);
    try_all({one_place(R"("air_temperature": "12 C")", R"("ground_temperature": "2 C")"), plain_yard}, counts);
    try_all({one_place(R"("air_temperature": "38 C", "van_temperature": "40 C")", R"("ground_temperature": "20 C")"),
             plain_yard},
            counts);
    auto one_resin = nlohmann::ordered_json::parse(io::builtin_yard_text());
    for (auto resin = one_resin["resins"].begin(); resin != one_resin["resins"].end();)
        resin = (*resin)["id"] == "fast" ? resin + 1 : one_resin["resins"].erase(resin);
    one_resin.erase("conditioning");
    try_all({one_place(R"("resin_temperature": "26 C", "air_temperature": "18 C")", R"("ground_temperature": "16 C")"),
             one_resin.dump()},
            counts);
    if (!test::under_sanitizers) try_random(701, 705, counts);
    using Kind = plan::Remedy::Kind;
    CHECK(counts.longer_day > 0);
    CHECK(counts.remedies.count(Kind::any_resin) == 1);
    CHECK(counts.remedies.count(Kind::overtime) + counts.remedies.count(Kind::overnight) >= 1);
    CHECK(counts.remedies.size() >= 4);
}

// Minutes; DEVELOPERS.md.
TEST_CASE("every remedy of thirty random short days works when it is tried", "[.freedoms]") {
    RemediesTried counts;
    try_random(701, 730, counts);
    CHECK(counts.longer_day > 0);
}

TEST_CASE("a resin that does not suit the day is no dig", "[plan]") {
    // A dig is said of the pipe. Named on the run, this resin may not be used at that warmth; another would.
    const Given files{one_place(R"("start": "08:00")", R"("resin": "polyester", "ground_temperature": "12 C")"),
                      plain_yard};
    const auto plan = planned_of(files, {});
    CHECK(plan.patches.empty());
    CHECK(plan.offer.unavoidable_works.places == 0);
    CHECK_FALSE(plan.everything_patched);
    REQUIRE(plan.not_planned.size() == 1);
    const auto& left = plan.not_planned.front();
    CHECK(left.minutes == 0);
    CHECK_THAT(left.condition, Contains("runs.A.resin=null"));
    REQUIRE(left.extra_net);
    CHECK(*left.extra_net > Money{});
    // What no change of the day or the resin helps with stays a dig: nothing goes through a pipe of 30 mm.
    auto tight = nlohmann::ordered_json::parse(files.job);
    tight["runs"][0]["bore"] = "30 mm";
    CHECK(planned_of({tight.dump(), plain_yard}, {}).offer.unavoidable_works.places == 1);
}
