#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "patchwright/io/read.hpp"
#include "patchwright/io/read_record.hpp"
#include "patchwright/sheet/learn.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using namespace patchwright::learn;

namespace {

const job::Yard& yard() { return io::builtin_yard(); }

job::StepRecord step(job::StepKind what, int minutes, std::optional<Length> length = std::nullopt) {
    return {what, ClockTime{600}, ClockTime{(600 + minutes) % 1440}, length};
}
job::Record of_steps(std::vector<job::StepRecord> steps) {
    job::Record record;
    record.job = "T";
    record.days.emplace_back().steps = std::move(steps);
    return record;
}
const LearnedDuration& of(const Learned& learned, std::string_view key) {
    const auto found =
        std::find_if(learned.durations.begin(), learned.durations.end(), [&](const auto& d) { return d.key == key; });
    REQUIRE(found != learned.durations.end());
    return *found;
}
job::Record of_sleeves(int done, int failed, int stuck) {
    job::Record record;
    for (int i = 0; i < done + failed; ++i) {
        auto& patch = record.patches.emplace_back();
        patch.id = "A-P1";
        patch.outcome = i < done ? job::SleeveOutcome::done : job::SleeveOutcome::failed;
        patch.stuck = i < stuck ? job::YesNo::yes : job::YesNo::no;
        patch.packer = "S100-07";
    }
    return record;
}

}  // namespace

TEST_CASE("a day that went as the yard says teaches nothing but confidence", "[learn]") {
    const auto& d = yard().durations;
    const auto minutes = [](Duration time) { return static_cast<int>(std::lround(time.in(unit::minute))); };
    std::vector<job::Record> records;
    for (int i = 0; i < 6; ++i)
        records.push_back(of_steps(
            {step(job::StepKind::set_up, minutes(d.set_up.likely)),
             step(job::StepKind::clean, minutes(d.clean_per_10_m.likely), 10.0 * unit::m),
             step(job::StepKind::wet_out, minutes(d.wet_out.likely + d.wet_out_per_m.likely), 1.0 * unit::m)}));
    const auto learned = learn::learn(records, yard());
    REQUIRE(learned.durations.size() == 4);
    for (const auto& duration : learned.durations) {
        CAPTURE(duration.key);
        CHECK(duration.noted == 6);
        CHECK(duration.after.likely.si() == Approx(duration.before.likely.si()));
        CHECK(duration.after.low > duration.before.low);
        CHECK(duration.after.high < duration.before.high);
        CHECK(duration.least < duration.after.likely);
        CHECK(duration.most > duration.after.likely);
    }
}

TEST_CASE("slower work moves the likely value, in proportion to what is noted", "[learn]") {
    const auto& before = yard().durations.load;
    const int twice = static_cast<int>(std::lround(2.0 * before.likely.in(unit::minute)));
    // Five of the yard's own against five noted at twice: the middle of the logarithms, sqrt(2).
    const std::vector<job::StepRecord> five(5, step(job::StepKind::load, twice));
    const auto learned = learn::learn({of_steps(five)}, yard());
    CHECK(of(learned, "load").after.likely / before.likely == Approx(std::sqrt(2.0)));
    const std::vector<job::StepRecord> many(495, step(job::StepKind::load, twice));
    const auto sure = learn::learn({of_steps(many)}, yard());
    CHECK(of(sure, "load").after.likely / before.likely == Approx(std::pow(2.0, 0.99)));
    CHECK(of(sure, "load").most - of(sure, "load").least < of(learned, "load").most - of(learned, "load").least);
}

TEST_CASE("cleaning and wet-out go by their length, and say nothing without it", "[learn]") {
    const auto& d = yard().durations;
    const int for_30_m = static_cast<int>(std::lround(3.0 * d.clean_per_10_m.likely.in(unit::minute)));
    const auto learned = learn::learn(
        {of_steps({step(job::StepKind::clean, for_30_m, 30.0 * unit::m), step(job::StepKind::clean, 20)})}, yard());
    CHECK(of(learned, "clean_per_10_m").noted == 1);
    CHECK(of(learned, "clean_per_10_m").after.likely.si() == Approx(d.clean_per_10_m.likely.si()));
    REQUIRE(learned.unused.size() == 1);
    CHECK(learned.unused[0] == "T, clean at 10:00: without a length it says nothing");
}

TEST_CASE("rates move by what happened to how many sleeves", "[learn]") {
    const auto learned = learn::learn({of_sleeves(18, 2, 1), of_sleeves(20, 0, 0)}, yard());
    CHECK(learned.records == 2);
    const auto rate = [&](std::string_view id) {
        const auto found =
            std::find_if(learned.rates.begin(), learned.rates.end(), [&](const auto& r) { return r.risk == id; });
        REQUIRE(found != learned.rates.end());
        return *found;
    };
    const auto failed = rate("failed-sleeve");
    CHECK(failed.happened == 2);
    CHECK(failed.sleeves == 40);
    // The yard's 3 % as 30 sleeves, and 2 of 40: (0.9 + 2) / 70.
    CHECK(failed.after == Approx((0.03 * 30 + 2) / 70.0));
    CHECK(failed.least < failed.after);
    CHECK(failed.most > failed.after);
    CHECK(rate("stuck-packer").happened == 1);
    REQUIRE(learned.packers.size() == 1);
    CHECK(learned.packers[0].uses == 40);
    CHECK(learned.packers[0].expected > 0);
    // Of a blank record nothing is learned.
    const auto none = learn::learn({job::Record{}}, yard());
    CHECK(none.durations.empty());
    CHECK(none.rates.empty());
}

TEST_CASE("what was learned is a yard file that gives those figures and no others", "[learn]") {
    const auto learned =
        learn::learn({of_sleeves(9, 1, 0), of_steps({step(job::StepKind::load, 9), step(job::StepKind::survey, 22),
                                                     step(job::StepKind::wet_out, 12, 2.0 * unit::m)})},
                     yard());
    const auto read = io::read_yard(sheet::learned_yard(learned, {}), "learned.json");
    for (const auto& d : read.diagnostics) UNSCOPED_INFO(d.message);
    REQUIRE(read);
    CHECK(read.value->durations.load.likely.in(unit::minute) ==
          Approx(of(learned, "load").after.likely.in(unit::minute)).margin(0.051));
    CHECK(read.value->durations.load.persons == yard().durations.load.persons);
    CHECK(read.value->durations.position.likely == yard().durations.position.likely);
    REQUIRE(read.value->risks.size() == yard().risks.size());
    for (std::size_t i = 0; i < yard().risks.size(); ++i) {
        const auto &after = read.value->risks[i], &before = yard().risks[i];
        CHECK(after.id == before.id);
        CHECK(after.cause == before.cause);
        CHECK(after.cost.likely == before.cost.likely);
        CHECK((after.probability.as_double() != before.probability.as_double()) ==
              (before.id == "failed-sleeve" || before.id == "stuck-packer"));
    }
}

TEST_CASE("the demonstration record teaches, and the sheet says how much", "[learn]") {
    const auto record = io::read_record(test::project_file("examples/demo-record.json"), "r");
    REQUIRE(record);
    const auto text =
        sheet::text(sheet::learned_sheet(learn::learn({*record.value}, yard()), yard()), {true, false, 200});
    for (const char* words : {"Learned from records", "clean_per_10_m", "failed-sleeve", "0 of 6", "S100-07"}) {
        CAPTURE(words, text);
        CHECK(text.find(words) != std::string::npos);
    }
}

TEST_CASE("what was learned of a firm's own yard is that yard with the figures in it", "[learn]") {
    const std::string text = R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours",
        "durations": {"load": {"low": "3 min", "likely": "4 min", "high": "6 min", "persons": 1}},
        "risks": [{"id": "our-own", "words": "a thing of ours", "probability": "2 %", "consequence": "redo",
                   "cost": {"low": "1 EUR", "likely": "2 EUR", "high": "3 EUR"}}]})";
    const auto own = io::read_yard(text, "ours.json");
    REQUIRE(own);
    const auto learned = learn::learn({of_sleeves(9, 1, 0), of_steps({step(job::StepKind::load, 8)})}, *own.value);
    const auto read = io::read_yard(sheet::learned_yard(learned, text), "learned.json");
    for (const auto& d : read.diagnostics) UNSCOPED_INFO(d.message);
    REQUIRE(read);
    CHECK(read.value->name == "Ours");
    CHECK(read.value->durations.load.persons == 1);
    CHECK(read.value->durations.load.likely > own.value->durations.load.likely);
    REQUIRE(read.value->risks.size() == own.value->risks.size());
    const auto risk = std::find_if(read.value->risks.begin(), read.value->risks.end(),
                                   [](const job::Risk& r) { return r.id == "our-own"; });
    REQUIRE(risk != read.value->risks.end());
    CHECK(risk->words == "a thing of ours");
    // 2 % as 30 sleeves and 1 of 10: (0.6 + 1) / 40.
    CHECK(risk->probability.as_double() == Approx(1.6 / 40.0).margin(1e-4));
}

TEST_CASE("packers have what is left of their life, and none when it is over", "[learn]") {
    auto own = yard();
    auto& packer =
        *std::find_if(own.packers.begin(), own.packers.end(), [](const auto& p) { return p.id == "S100-07"; });
    packer.count = 2;
    packer.expected_uses = 15;
    const auto learned = learn::learn({of_sleeves(20, 1, 0)}, own);
    REQUIRE(learned.packers.size() == 1);
    CHECK(learned.packers[0].expected == 30);
    CHECK(learned.packers[0].left() == 9);
    packer.count = 1;
    const auto text =
        sheet::text(sheet::learned_sheet(learn::learn({of_sleeves(20, 1, 0)}, own), own), {true, false, 200});
    CHECK(text.find("none: 6 over") != std::string::npos);
}
