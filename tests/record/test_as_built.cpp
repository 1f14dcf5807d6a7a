// What was done beside what was planned.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "patchwright/io/read_record.hpp"
#include "patchwright/record/as_built.hpp"
#include "patchwright/sheet/record.hpp"
#include "record_of.hpp"

using namespace patchwright;
using record::Verdict;

namespace {

const test::Planned& demo() {
    static const test::Planned planned = test::planned(test::project_file("examples/demo.json"));
    return planned;
}

record::AsBuilt held(const job::Record& record) { return record::as_built(demo().plan, record); }
const record::Check& check_of(const record::Patch& built, std::string_view what) {
    const auto found =
        std::find_if(built.checks.begin(), built.checks.end(), [&](const auto& c) { return c.what == what; });
    REQUIRE(found != built.checks.end());
    return *found;
}
/// The first patch of the perfect day with something changed, and that check of it.
template <class Change>
record::Check after(std::string_view what, const Change& change) {
    auto record = test::perfect_day(demo());
    change(record.patches.front());
    const auto built = held(record);
    return check_of(built.patches.front(), what);
}
ClockTime later(ClockTime from, int minutes) { return {(from.minutes + minutes) % (24 * 60)}; }

}  // namespace

TEST_CASE("the record of a perfect day says kept and nothing else", "[record]") {
    const auto units = GENERATE(UnitSystem::metric, UnitSystem::us);
    const auto* file = GENERATE("examples/demo.json", "examples/us-slab.json");
    CAPTURE(file);
    const auto planned = test::planned(test::project_file(file), units);
    REQUIRE_FALSE(planned.plan.patches.empty());
    const auto record = test::perfect_day(planned);
    const auto built = record::as_built(planned.plan, record);
    CHECK(built.nothing_missed());
    REQUIRE(built.patches.size() == planned.plan.patches.size());
    for (const auto& patch : built.patches) {
        CHECK(patch.checks.size() >= 22);
        CHECK(patch.good());
        for (const auto& check : patch.checks) {
            CAPTURE(planned.plan.patches[patch.patch].id, check.what);
            CHECK(check.verdict == Verdict::kept);
            // To the minute what the day's own schedule says.
            if (check.what == "poured" || check.what == "inflated") CHECK(check.done == check.planned);
        }
        REQUIRE(patch.cure);
        CHECK(patch.cure->soft_probability <= planned.yard.limits.soft_at_most);
        CHECK(patch.cure->conversion > planned.yard.resins[0].gel_conversion);
    }
    for (const auto& day : built.days) CHECK(day.verdict == Verdict::kept);
    REQUIRE(built.left.size() == built.days.size());
    for (const auto& day : built.left) CHECK(day.verdict == Verdict::kept);
    REQUIRE(built.tests.size() == planned.job.runs.size());
    for (const auto& test : built.tests) CHECK(test.verdict == Verdict::kept);
    const auto text = test::printed(sheet::as_built_sheets(planned.context(), {&record, &built}));
    CHECK(text.find("MISSED") == std::string::npos);
    CHECK(text.find("No limit was missed in what was noted.") != std::string::npos);
}

TEST_CASE("of a blank record everything is not noted, and nothing is missed", "[record]") {
    const auto blank = io::read_record(sheet::record_starter(demo().context()), "starter");
    REQUIRE(blank);
    for (const auto& record : {*blank.value, job::Record{demo().job.reference, {}, {}, {}, {}, {}}}) {
        const auto built = held(record);
        CHECK(built.nothing_missed());
        for (const auto& patch : built.patches) {
            CHECK(patch.count(Verdict::not_noted) == patch.checks.size());
            CHECK_FALSE(patch.cure);
        }
    }
}

TEST_CASE("each limit that is missed is told with by how much", "[record]") {
    const auto& p = demo().plan.patches.front();
    const auto minute = unit::minute.si();
    const auto late = after("inflated", [&](job::PatchRecord& r) {
        r.inflated_at = later(*r.mixed_at, static_cast<int>(p.cure.sheet.inflate_by.in(unit::minute)) + 7);
        r.creased_at = r.inflated_at;
    });
    CHECK(late.verdict == Verdict::missed);
    // Measured as planned: the limit is the card's own, or by the table no shorter.
    CHECK(late.missed_by <= 7 * minute + 1e-6);
    CHECK(late.missed_by >= 5 * minute);
    const auto early = after("deflated", [](job::PatchRecord& r) { r.deflated_at = later(*r.mixed_at, 100); });
    CHECK(early.verdict == Verdict::missed);
    CHECK(early.missed_by == Approx(*early.least - 100 * minute));
    const auto low = after("lowest pressure", [&](job::PatchRecord& r) {
        r.pressures[1].pressure = p.pressure.minimum - 0.1 * unit::bar;
    });
    CHECK(low.verdict == Verdict::missed);
    CHECK(low.missed_by == Approx((0.1 * unit::bar).si()));
    const auto high = after("highest pressure", [&](job::PatchRecord& r) {
        r.pressures[0].pressure = p.pressure.maximum + 0.2 * unit::bar;
    });
    CHECK(high.missed_by == Approx((0.2 * unit::bar).si()));
    // Before it was inflated and after it was deflated the gauge may say what it likes.
    const auto outside = after("lowest pressure", [&](job::PatchRecord& r) {
        r.pressures.push_back({later(*r.deflated_at, 1), Pressure{}});
        r.pressures.push_back({later(*r.inflated_at, -1), Pressure{}});
    });
    CHECK(outside.verdict == Verdict::kept);
    CHECK(*outside.done == Approx(p.pressure.set.si()));
    // The ratio of the data sheet is 2 : 1; a fifth too little B is far outside.
    CHECK(after("B to A by mass", [](job::PatchRecord& r) { r.part_b = 0.8 * *r.part_b; }).verdict == Verdict::missed);
    CHECK(after("mixed", [](job::PatchRecord& r) {
              r.part_a = 0.5 * *r.part_a;
              r.part_b = 0.5 * *r.part_b;
          }).verdict == Verdict::missed);
    // What is left over is not in the felt: its voids must be full, by the sleeve's own need.
    const auto felt_with = [&](Mass too_little) {
        return after("in the felt",
                     [&](job::PatchRecord& r) { r.left_over = *r.part_a + *r.part_b - p.need.void_mass + too_little; });
    };
    CHECK(felt_with(Mass{}).verdict == Verdict::kept);
    CHECK(felt_with(5.0 * unit::g).verdict == Verdict::missed);
    CHECK(felt_with(5.0 * unit::g).missed_by == Approx(0.005));
    CHECK(after("resin in date", [](job::PatchRecord& r) {
              r.part_b_expiry = Date{2020, 1, 1};
          }).verdict == Verdict::missed);
    CHECK(after("packer", [](job::PatchRecord& r) { r.packer = "another"; }).verdict == Verdict::missed);
    CHECK(after("bench test drop", [](job::PatchRecord& r) { r.bench_test.drop = 0.5 * unit::bar; }).verdict ==
          Verdict::missed);
    CHECK(after("mark", [](job::PatchRecord& r) { r.mark = *r.mark + 0.2 * unit::m; }).verdict == Verdict::missed);
    CHECK(after("pipe temperature", [](job::PatchRecord& r) {
              r.pipe_temperature = Temperature::celsius(2);
          }).verdict == Verdict::missed);
    CHECK(after("witness", [](job::PatchRecord& r) { r.witness.hard = job::YesNo::no; }).verdict == Verdict::missed);
    CHECK(after("witness", [](job::PatchRecord& r) { r.witness.at = later(*r.deflated_at, 1); }).verdict ==
          Verdict::missed);
    CHECK(after("mixed at", [](job::PatchRecord& r) { r.mixed_at = ClockTime{20 * 60}; }).verdict == Verdict::missed);
}

TEST_CASE("leaving late is missed from the minute on from which the planned day no longer closes", "[record]") {
    const auto& site = demo().job.site;
    auto record = test::perfect_day(demo());
    const int spare = site.finish.minutes - demo().plan.schedule.days.front().finish;
    REQUIRE(spare > 0);
    record.days.front().left = later(site.start, spare);
    CHECK(held(record).nothing_missed());
    record.days.front().left = later(site.start, spare + 1);
    const auto built = held(record);
    CHECK_FALSE(built.nothing_missed());
    CHECK(built.left.front().verdict == Verdict::missed);
    CHECK(built.left.front().missed_by == Approx(unit::minute.si()));
    CHECK(built.left.back().verdict == Verdict::kept);
    const auto text = test::printed(sheet::as_built_sheets(demo().context(), {&record, &built}));
    CHECK(text.find("Left the yard") != std::string::npos);
    CHECK(text.find(": left the yard " + format(*record.days.front().left)) != std::string::npos);
}

TEST_CASE("a sleeve that lies short of its defect by its overlap is missed", "[record]") {
    const auto& p = demo().plan.patches.front();
    const auto& run = demo().job.runs[static_cast<std::size_t>(p.run)];
    const auto& defect = run.defects[static_cast<std::size_t>(p.defects.front())];
    const Length overlap = demo().yard.limits.overlap;
    const auto begins =
        after("sleeve begins", [&](job::PatchRecord& r) { r.starts_at = defect.at - overlap + 3.0 * unit::cm; });
    CHECK(begins.verdict == Verdict::missed);
    CHECK(begins.missed_by == Approx(0.03));
    CHECK(after("sleeve begins", [&](job::PatchRecord& r) { r.starts_at = defect.at - overlap; }).verdict ==
          Verdict::kept);
    CHECK(after("sleeve ends", [&](job::PatchRecord& r) { r.ends_at = defect.to; }).missed_by == Approx(overlap.si()));
}

TEST_CASE("a live branch under a sleeve that lies wrong is told", "[record]") {
    const auto& plan = demo().plan;
    const auto a = std::find_if(plan.patches.begin(), plan.patches.end(), [](const auto& p) { return p.id == "A-P2"; });
    REQUIRE(a != plan.patches.end());
    auto record = test::perfect_day(demo());
    auto& noted = record.patches[static_cast<std::size_t>(a - plan.patches.begin())];
    noted.starts_at = 11.8 * unit::m;  // the kitchen branch comes in at 12.10 m, 100 mm wide
    noted.ends_at = 12.3 * unit::m;
    const auto built = held(record);
    const auto& check = check_of(built.patches[static_cast<std::size_t>(a - plan.patches.begin())], "branch open");
    CHECK(check.verdict == Verdict::missed);
    CHECK(check.done_words == "covered");
}

TEST_CASE("a sleeve that was stripped is held to nothing; the last entry counts", "[record]") {
    auto record = test::perfect_day(demo());
    auto again = record.patches.front();
    record.patches.front().outcome = job::SleeveOutcome::stripped;
    {
        const auto built = held(record);
        CHECK(built.patches.front().checks.empty());
        CHECK_FALSE(built.patches.front().in_pipe());
    }
    record.patches.push_back(again);
    const auto built = held(record);
    CHECK(built.patches.front().entries == 2);
    CHECK(built.patches.front().in_pipe());
    CHECK(built.nothing_missed());
    const auto text = test::printed(sheet::as_built_sheets(demo().context(), {&record, &built}));
    CHECK(text.find("Before: stripped, mixed at") != std::string::npos);
}

TEST_CASE("limits come from the card's tables by the card's rule", "[record]") {
    plan::Patch p;
    const auto celsius = [](double c) { return Temperature::celsius(c); };
    const auto min = [](double m) { return m * unit::minute; };
    p.conditions.pipe.value = celsius(9);
    p.conditions.resin.value = celsius(15);
    p.conditions.air.value = celsius(12);
    p.cure.sheet = {min(20), min(30), min(32), min(32), min(90), min(240)};
    p.tables.let_down = {{celsius(5), min(400), min(400), min(30)},
                         {celsius(9), min(220), min(220), min(29)},
                         {celsius(12), min(180), min(180), min(24)}};
    p.tables.inflate = {{celsius(15), celsius(12), min(21), min(31), min(33), {}},
                        {celsius(15), celsius(20), min(15), min(20), min(22), {}},
                        {celsius(20), celsius(12), min(12), min(17), min(19), {}},
                        {celsius(20), celsius(20), min(10), min(14), min(16), {}}};
    // Nothing measured: the large figures.
    const auto card = record::site_limits(p, {}, {}, {});
    CHECK(card.as_planned);
    CHECK(card.let_down == min(240));
    CHECK(card.inflate_by == min(30));
    // As planned to the degree: the rows of the planned figures, of both tables the shorter limit.
    const auto same = record::site_limits(p, celsius(9.4), celsius(15.3), celsius(11.8));
    CHECK(same.let_down == min(220));
    CHECK(same.inflate_by == min(29));
    CHECK(same.crease_by == min(31));
    CHECK(same.pour_by == min(21));
    // Between rows: colder for deflating, warmer for what must be over by then.
    const auto between = record::site_limits(p, celsius(10), celsius(17), celsius(14));
    CHECK(between.let_down == min(220));
    CHECK(between.inflate_by == min(14));
    CHECK(between.pour_by == min(10));
    // Outside.
    CHECK_FALSE(record::site_limits(p, celsius(4), celsius(15), celsius(12)).let_down);
    CHECK_FALSE(record::site_limits(p, celsius(13), celsius(15), celsius(12)).inflate_by);
    CHECK_FALSE(record::site_limits(p, celsius(9), celsius(24), celsius(12)).pour_by);
}

TEST_CASE("the JSON says the same as the sheets", "[record][json]") {
    const auto record = test::perfect_day(demo());
    const auto built = held(record);
    const auto json = nlohmann::json::parse(sheet::as_built_json(demo().context(), {&record, &built}));
    CHECK(json.at("patchwright_as_built") == 1);
    CHECK(json.at("nothing_missed") == true);
    REQUIRE(json.at("patches").size() == demo().plan.patches.size());
    const auto& patch = json.at("patches").at(0);
    CHECK(patch.at("cure").at("soft_probability").get<double>() <= demo().yard.limits.soft_at_most);
    CHECK(patch.at("cure").at("conversion").get<double>() > 0.5);
    for (const auto& check : patch.at("checks")) {
        CAPTURE(check.dump());
        CHECK(check.at("verdict") == "kept");
        CHECK_FALSE(check.at("done").is_null());
    }
    const auto inflated = std::find_if(patch.at("checks").begin(), patch.at("checks").end(),
                                       [](const auto& c) { return c.at("what") == "inflated"; });
    REQUIRE(inflated != patch.at("checks").end());
    CHECK(inflated->at("unit") == "min");
    CHECK(inflated->at("done").get<double>() <= inflated->at("limit").at("most").get<double>());
    for (const auto& test : json.at("tests")) CHECK(test.at("verdict") == "kept");
}

TEST_CASE("every limit says where it comes from, and its working ends at the limit that the sheet prints",
          "[record][why]") {
    auto record = test::perfect_day(demo());
    // Warmer resin and air, a colder pipe: rows of the tables, not the card's large figures.
    record.patches[1].pipe_temperature = Temperature::celsius(7.3);
    record.patches[1].resin_temperature = record.patches[1].air_temperature = Temperature::celsius(19.0);
    const auto built = held(record);
    int computed = 0;
    const auto ask = [&](const record::Check& check) {
        CAPTURE(check.what);
        if (!check.least && !check.most) return;
        CHECK((!check.working.empty() || !check.limit_from.empty()));
        if (check.as == record::As::chance || check.working.empty()) return;
        const auto steps = check.working.steps();
        const bool ends = std::any_of(steps.begin(), steps.end(), [&](const Step& step) {
            return step.result == check.least.value_or(-1.0) || step.result == check.most.value_or(-1.0);
        });
        CHECK(ends);
        ++computed;
    };
    for (const auto& patch : built.patches) {
        for (const auto& check : patch.checks) ask(check);
        // What was followed again ends at the chance that is printed.
        const auto& soft = check_of(patch, "soft when deflated");
        REQUIRE_FALSE(soft.working.empty());
        CHECK(soft.working.steps().back().result == *soft.done);
    }
    CHECK(computed >= 9 * static_cast<int>(built.patches.size()));
    for (const auto& test : built.tests)
        for (const auto& check : test.checks) CHECK((!check.working.empty() || !check.limit_from.empty()));
    // Asked by name, the sheet has done, limit and verdict, and one text for one figure.
    const sheet::Recorded recorded{&record, &built};
    auto context = demo().context();
    context.recorded = &recorded;
    const auto names = sheet::askable(context);
    for (const auto& patch : demo().plan.patches)
        for (const char* what :
             {".done.deflated", ".done.inflated", ".done.soft-when-deflated", ".done.degree-of-cure"})
            CHECK(std::count(names.begin(), names.end(), patch.id + what) == 1);
    const auto& second = demo().plan.patches[1].id;
    const auto text = test::printed({sheet::why_sheet(context, second + ".done.deflated")});
    CHECK(test::has(text, "deflating in the row Tr"));
    CHECK(test::has(text, "7 \u00b0C"));  // between 7 and 8 the colder
    CHECK(test::has(text, "limit at least"));
    CHECK(sheet::why_json(context, second + ".done").find("\"from\"") != std::string::npos);
}

TEST_CASE("a sleeve that gelled before its wrinkle check was over is not guaranteed", "[record]") {
    const auto gelled = after("gelled", [](job::PatchRecord& r) { r.gelled_at = r.inflated_at; });
    CHECK(gelled.verdict == Verdict::missed);
    CHECK(gelled.missed_by == Approx(2 * unit::minute.si()));  // the check was over two minutes after inflating
    CHECK(after("gelled", [](job::PatchRecord& r) { r.gelled_at.reset(); }).verdict == Verdict::not_noted);
}
