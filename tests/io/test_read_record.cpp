#include "files.hpp"
#include "patchwright/io/read_record.hpp"

using namespace patchwright;
using namespace patchwright::io;
using namespace patchwright::job;

namespace {

Record record_of(const std::string& text) { return test::value_of(read_record(text, "r")); }
/// A record of one patch with these members.
Record patch(const std::string& members) {
    return record_of(R"({"patchwright_record": 1, "job": "T", "patches": [{"id": "A-P1", )" + members + "}]}");
}

}  // namespace

TEST_CASE("a record is read with its quantities in any units", "[job][record]") {
    const Record record = record_of(test::project_file("tests/fuzz/corpus/record/form.json"));
    CHECK(record.job == "T");
    REQUIRE(record.days.size() == 1);
    CHECK(record.days[0].left == ClockTime{7 * 60 + 30});
    CHECK_FALSE(record.days[0].back);
    REQUIRE(record.patches.size() == 2);
    CHECK(record.patches[0].outcome == SleeveOutcome::stripped);
    const PatchRecord* patch = record.last_of("A-P1");
    REQUIRE(patch == &record.patches[1]);
    CHECK(patch->lies_in_pipe());
    CHECK(patch->part_a->in(unit::g) == Approx(801));
    CHECK(patch->part_b->in(unit::g) == Approx(453.59237));  // the international pound, exact
    REQUIRE(patch->pressures.size() == 1);
    CHECK(patch->pressures[0].pressure.in(unit::bar) == Approx(0.6481).epsilon(1e-3));
    REQUIRE(patch->temperatures.size() == 1);
    CHECK(patch->temperatures[0].temperature.in_celsius() == Approx(8.889).epsilon(1e-3));
    CHECK(patch->temperatures[0].where == Probe::witness);
    CHECK(patch->witness.hard == YesNo::yes);
    CHECK(patch->photos == std::vector<std::string>{"a.jpg"});
    REQUIRE(patch->noted.size() == 1);
    CHECK(patch->noted[0].label == "A weighed");
    CHECK(record.last_of("A-P2") == nullptr);
    REQUIRE(record.tests.size() == 1);
    CHECK(record.tests[0].readings.back().pressure.in(unit::mbar) == Approx(94));
    REQUIRE(record.sheets.size() == 1);
    CHECK(record.sheets[0].noted[0].text == "20.9 %");
}

TEST_CASE("the clock runs on past midnight, and over the days that are named", "[job][record]") {
    const Record night = record_of(test::project_file("tests/fuzz/corpus/record/form.json"));
    CHECK(night.patches[1].after_mixing(night.patches[1].inflated_at)->in(unit::minute) == Approx(21));
    CHECK(night.patches[1].deflated_after()->in(unit::minute) == Approx(4 * 60 + 55));
    const Record days =
        patch(R"("date": "2026-02-27", "mixed_at": "15:00", "deflated_at": "16:30", "deflated_on": "2026-03-01")");
    CHECK(days.patches[0].deflated_after()->in(unit::h) == Approx(49.5));
    CHECK_FALSE(patch(R"("deflated_at": "16:30")").patches[0].deflated_after());
    CHECK_FALSE(patch(R"("mixed_at": "16:30")").patches[0].deflated_after());
}

TEST_CASE("what is left blank on the form was not noted", "[job][record]") {
    const Record record = patch(R"("mixed_at": "", "part_a": "", "outcome": "", "film": "", "photos": [""],
        "bench_test": {"_help": "in the yard", "pressure": "", "held": ""}, "pressures": [{"at": "", "pressure": ""}],
        "witness": {"hard": ""}, "remark": "")");
    const PatchRecord& p = record.patches[0];
    CHECK_FALSE(p.mixed_at);
    CHECK_FALSE(p.part_a);
    CHECK_FALSE(p.outcome);
    CHECK(p.photos.empty());
    CHECK(p.pressures.empty());
    CHECK_FALSE(p.witness.hard);
}

TEST_CASE("faults behind blank rows are told at their own place", "[job][record][error]") {
    const auto result = read_record(R"({"patchwright_record": 1, "job": "T", "patches": [{"id": "A-P1", "pressures": [
{"at": "", "pressure": ""},
{"at": "10:00", "pressure": "0,6 bar"}]}]})",
                                    "r.json");
    REQUIRE(result.diagnostics.size() == 1);
    CHECK(result.diagnostics[0].line == 3);
    CHECK(result.diagnostics[0].pointer == "/patches/0/pressures/1/pressure");
}

TEST_CASE("an empty object and a list of nothing are not blanks of a form", "[job][record][error]") {
    const auto result = read_record(R"({"patchwright_record": 1, "job": "T", "tests": [{}]})", "r.json");
    CHECK(test::errors_of(result.diagnostics) == std::vector<std::string>{"1:49 a test needs \"run\" and \"method\""});
}

TEST_CASE("what a day sheet in a browser saves is a record", "[job][record]") {
    // The form of docs/sheets.md, "As a web page".
    const Record record = record_of(R"({"patchwright_record": 1, "job": "Q-1",
        "sheets": [{"kind": "Day sheet", "subject": "Day 1", "noted": {}, "ticked": ["Cleaned"]}],
        "patches": [{"id": "A-P1", "pipe_temperature": "9 C", "resin_temperature": "15 C", "mixed_at": "10:00",
                     "noted": {"A weighed": "801 g"}, "ticked": []}]})");
    CHECK(record.patches[0].pipe_temperature->in_celsius() == Approx(9));
    CHECK(record.patches[0].mixed_at == ClockTime{600});
    CHECK(record.sheets[0].ticked == std::vector<std::string>{"Cleaned"});
}

TEST_CASE("the demonstration record reads without a warning", "[job][record]") {
    const auto result = read_record(test::project_file("examples/demo-record.json"), "r");
    CHECK(test::told(result.diagnostics, Severity::warning).empty());
    CHECK(result);
}
