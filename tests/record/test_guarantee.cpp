// The customer's page after the work.
#include "patchwright/record/as_built.hpp"
#include "patchwright/sheet/record.hpp"
#include "record_of.hpp"

using namespace patchwright;

namespace {

std::string page(const test::Planned& planned, const job::Record& record) {
    const auto built = record::as_built(planned.plan, record);
    return test::printed({sheet::guarantee_sheet(planned.context(), {&record, &built})});
}

}  // namespace

TEST_CASE("the guarantee names every patch where it lies, from the last day on, for the firm's years",
          "[record][guarantee]") {
    const auto demo = test::planned(test::project_file("examples/demo.json"));
    auto record = test::perfect_day(demo);
    record.patches.front().starts_at = *record.patches.front().starts_at - 2.0 * unit::cm;
    const auto text = page(demo, record);
    for (const auto& patch : demo.plan.patches) CHECK(test::has(text, patch.id));
    CHECK(test::has(text, format(Show::run_distance, *record.patches.front().starts_at, UnitSystem::metric)));
    // The demonstration firm guarantees for five years; the work of 14 and 15 April 2026 ends on the 15th.
    REQUIRE(demo.yard.firm.guarantee_years == 5);
    CHECK(test::has(text, "2026-04-15"));
    CHECK(test::has(text, "2031-04-15"));
    CHECK(test::has(text, "Drain A: air test by EN 1610, method LC, passed"));
    CHECK_FALSE(test::has(text, "looked at it again"));
    // The offer's voice: no word of our limits, costs or doubts.
    for (const char* ours : {"EUR", "missed", "soft", "bar", "batch"}) {
        CAPTURE(ours);
        CHECK_FALSE(test::has(text, ours));
    }
}

TEST_CASE("a patch that missed a limit, or does not lie there, is not guaranteed", "[record][guarantee]") {
    const auto demo = test::planned(test::project_file("examples/demo.json"));
    auto record = test::perfect_day(demo);
    record.patches[0].deflated_at = ClockTime{record.patches[0].mixed_at->minutes + 60};
    record.patches[1].outcome = job::SleeveOutcome::stripped;
    auto ids = std::vector{record.patches[0].id, record.patches[1].id};
    std::sort(ids.begin(), ids.end());
    const auto text = page(demo, record);
    CHECK(test::has(text, "Not on this page until we have looked at it again: " + ids[0] + ", " + ids[1] + "."));
    CHECK(test::has(text, record.patches[2].id));
}

TEST_CASE("with nothing in the pipe nothing is guaranteed; without the firm's years the lines stay open",
          "[record][guarantee]") {
    auto demo = test::planned(test::project_file("examples/demo.json"));
    auto record = test::perfect_day(demo);
    demo.yard.firm.guarantee_years.reset();
    demo.tell_plan();
    CHECK(test::has(page(demo, record), "Guaranteed from: 2026-04-15"));
    CHECK_FALSE(test::has(page(demo, record), "2031"));
    demo.yard.firm.guarantee.clear();
    demo.tell_plan();
    CHECK_FALSE(test::has(page(demo, record), "We guarantee"));
    record.patches.clear();
    const auto none = page(demo, record);
    CHECK_FALSE(test::has(none, "Guaranteed from"));
}

TEST_CASE("a leap day's guarantee ends on the last of February", "[record][guarantee]") {
    const auto demo = test::planned(test::project_file("examples/demo.json"));
    auto record = test::perfect_day(demo);
    for (auto& patch : record.patches) {
        patch.date = Date{2028, 2, 29};
        patch.part_a_expiry = patch.part_b_expiry = Date{2999, 1, 1};
    }
    CHECK(test::has(page(demo, record), "2033-02-28"));
}
