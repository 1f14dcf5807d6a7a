// What an offer says besides its price: every figure is that of a whole plan of a changed job.
#include <catch2/catch.hpp>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/outlook.hpp"
#include "support/jobs.hpp"
#include "support/project_file.hpp"
#include "support/share.hpp"

using namespace patchwright;

namespace {

plan::Options bare() {
    plan::Options options;
    options.trials = 0;
    options.working = false;
    options.tables = false;
    return options;
}

struct Looked {
    job::Job job;
    plan::Plan plan;
    explicit Looked(const std::string& text) : job{test::must_read(text)} {
        plan = plan::make_plan(job, io::builtin_yard(), bare());
        plan::add_outlook(bare(), plan);
    }
    const price::BreakEven& table(std::string_view what) const {
        for (const auto& t : plan.break_even)
            if (t.what == what) return t;
        throw std::logic_error("no such table");
    }
    price::Bracket bracket_of(const job::Job& changed) const {
        return plan::make_plan(changed, io::builtin_yard(), bare()).offer.bracket;
    }
};

constexpr const char* two_places = R"({"patchwright_job": 1, "reference": "two", "runs": [
 {"id": "A", "from": "a", "to": "b", "length": "12 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m", "access": ["a", "b"],
  "defects": [{"id": "A1", "at": "3 m", "kind": "fissure", "size": "2 mm"},
              {"id": "A2", "at": "8 m", "kind": "fissure", "size": "2 mm"},
              {"id": "A3", "at": "10.5 m", "kind": "missing wall", "clock": "11"}]}]})";

}  // namespace

TEST_CASE("break-even by number is the job planned anew with so many of its defects", "[plan][outlook]") {
    const Looked looked(two_places);
    const auto& table = looked.table("number of patches");
    REQUIRE(table.points.size() == 2);
    for (std::size_t n = 1; n <= 2; ++n) {
        job::Job changed = looked.job;
        changed.runs[0].defects.resize(n);
        const auto bracket = looked.bracket_of(changed);
        CHECK(table.points[n - 1].patch == bracket.own);
        CHECK(table.points[n - 1].dig == bracket.ceiling);
    }
    CHECK(table.points[1].patch >= table.points[0].patch);
    CHECK(table.points[1].dig >= table.points[0].dig);
}

TEST_CASE("break-even by depth and surface is the job planned there", "[plan][outlook]") {
    const Looked looked(two_places);
    const auto& depth = looked.table("depth");
    for (const auto& point : depth.points) {
        CAPTURE(point.at);
        job::Job changed = looked.job;
        changed.runs[0].depth = point.at * unit::m;
        const auto bracket = looked.bracket_of(changed);
        CHECK(point.patch == bracket.own);
        CHECK(point.dig == bracket.ceiling);
    }
    for (const auto& point : looked.table("surface").points) {
        job::Job changed = looked.job;
        const auto& rows = io::builtin_yard().dig_rates.surfaces;
        changed.dig.surface.value = rows[static_cast<std::size_t>(point.at)].surface;
        const auto bracket = looked.bracket_of(changed);
        CAPTURE(point.label);
        CHECK(point.patch == bracket.own);  // with what a lost sleeve costs under that surface
        CHECK(point.dig == bracket.ceiling);
    }
}

TEST_CASE("break-even by depth is at most half a hundredth above the job planned there", "[plan][outlook]") {
    const Looked looked(test::project_file("examples/demo.json"));
    for (const auto& point : looked.table("depth").points) {
        if (test::under_sanitizers && point.at > 1.0 && point.at < 6.0) continue;  // each is a whole plan
        CAPTURE(point.at);
        job::Job changed = looked.job;
        for (auto& run : changed.runs) run.depth = point.at * unit::m;
        const auto bracket = looked.bracket_of(changed);
        CHECK(point.patch >= bracket.own);  // the demonstration's plans are proven: none is cheaper
        CHECK((point.patch - bracket.own) * 200 <= bracket.own);
        CHECK(point.dig == bracket.ceiling);
    }
}

TEST_CASE("a place to look at again is priced mended and dug, neither in the sum", "[plan][outlook]") {
    const Looked looked(two_places);
    REQUIRE(looked.plan.look_again.size() == 1);
    const auto& item = looked.plan.look_again.front();
    CHECK(looked.job.runs[0].defects[static_cast<std::size_t>(item.defect)].id == "A3");
    // Hole limit of the yard: 30 % of a bore of 100 mm.
    CHECK(item.mended_if == "up to 30 mm wide, with sound wall round it");
    CHECK(item.beyond_if == "larger");
    CHECK(item.mended > Money{});
    CHECK(item.beyond > Money{});
    job::Job mended = looked.job;
    mended.runs[0].defects[2].size = 30.0 * unit::mm;
    mended.runs[0].defects[2].surrounding_sound = true;
    const auto other = plan::make_plan(mended, io::builtin_yard(), bare());
    CHECK(item.mended == other.offer.offered.total - looked.plan.offer.offered.total);
    job::Job without = looked.job;
    without.runs[0].defects.resize(2);
    CHECK(plan::make_plan(without, io::builtin_yard(), bare()).offer.bracket.own == looked.plan.offer.bracket.own);
}

TEST_CASE("variants are whole plans that patch as much; the first is the plan as made", "[plan][outlook]") {
    const auto job = test::must_read(test::project_file("examples/demo.json"));
    const auto& yard = io::builtin_yard();
    const auto made = plan::make_plan(job, yard, bare());
    const auto list = plan::variants(bare(), made);
    REQUIRE_FALSE(list.empty());
    CHECK(list.size() <= 3);
    CHECK(list.front().plan.offer.bracket.own == made.offer.bracket.own);
    for (const auto& v : list) {
        CAPTURE(v.words);
        CHECK(v.plan.offer.unavoidable_works.places <= made.offer.unavoidable_works.places);
        if (v.words == "fewest days") CHECK(v.plan.schedule.days.size() < made.schedule.days.size());
        if (v.words == "surest to be in time") CHECK(plan::late_probability(v.plan) < plan::late_probability(made));
    }
}

TEST_CASE("the outlook is the same with any number of threads", "[plan][outlook]") {
    const auto job = test::must_read(two_places);
    auto options = bare();
    auto one = plan::make_plan(job, io::builtin_yard(), options);
    auto two = one;
    plan::add_outlook(options, one);
    options.threads = 2;
    plan::add_outlook(options, two);
    REQUIRE(one.break_even.size() == two.break_even.size());
    for (std::size_t i = 0; i < one.break_even.size(); ++i) {
        REQUIRE(one.break_even[i].points.size() == two.break_even[i].points.size());
        for (std::size_t k = 0; k < one.break_even[i].points.size(); ++k) {
            CHECK(one.break_even[i].points[k].patch == two.break_even[i].points[k].patch);
            CHECK(one.break_even[i].points[k].dig == two.break_even[i].points[k].dig);
        }
    }
    CHECK(one.look_again[0].mended == two.look_again[0].mended);
}
