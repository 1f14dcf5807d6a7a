#include <catch2/catch.hpp>

#include "support/program.hpp"
#include "support/project_file.hpp"

using namespace patchwright::test;

namespace {

Result with_record(const std::string& record, std::vector<std::string> more = {}) {
    std::vector<std::string> arguments{"record", demo, "-"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(Call{arguments, record});
}

}  // namespace

TEST_CASE("record --new gives a record that reads, and of which nothing was noted", "[record][program]") {
    const auto blank = run({"record", "--new", demo});
    REQUIRE(blank.status == 0);
    CHECK(blank.out.find("\"patchwright_record\": 1") != std::string::npos);
    const auto told = with_record(blank.out, {"--strict"});
    CHECK(told.status == 0);
    CHECK(told.err.empty());
    CHECK(told.out.find("No limit was missed in what was noted.") != std::string::npos);
    CHECK(told.out.find("kept") == std::string::npos);
}

TEST_CASE("the demonstration record is held beside its plan in every form", "[record][program]") {
    const auto text = run({"record", demo, noted});
    CHECK(text.status == 0);
    CHECK(text.err.empty());
    CHECK(text.out.find("As-built record  Q-0412") != std::string::npos);
    CHECK(text.out.find("lowest pressure 0.64 bar, limit at least 0.70 bar") != std::string::npos);
    CHECK(text.out.find("NOT PASSED") != std::string::npos);
    CHECK(run({"record", demo, noted, "--strict"}).status == 4);
    CHECK(run({"record", demo, noted, "-f", "json"}).out.find("\"patchwright_as_built\": 1") != std::string::npos);
    CHECK(run({"record", demo, noted, "-f", "html"}).out.starts_with("<!DOCTYPE html>"));
    CHECK(run({"record", demo, noted, "-f", "pdf"}).out.starts_with("%PDF"));
    const auto page = run({"record", demo, noted, "--guarantee"});
    CHECK(page.status == 0);
    CHECK(page.out.find("Not on this page until we have looked at it again: A-P1, C-P1.") != std::string::npos);
    const auto customer = run({"record", demo, noted, "--guarantee", "-f", "json"});
    CHECK(customer.out.find("\"patchwright_guarantee\": 1") != std::string::npos);
    CHECK(customer.out.find("soft_probability") == std::string::npos);
    const auto us = run({"record", demo, noted, "--units", "us"});
    CHECK(us.out.find(" psi") != std::string::npos);
    CHECK(us.out.find(" bar") == std::string::npos);
}

TEST_CASE("a record with errors gets them all, and no output", "[record][program][error]") {
    const auto bad = with_record(R"({"patchwright_record": 1, "job": "Q-0412", "patches": [
{"id": "A-P9", "part_a": "801"},
{"id": "A-P1", "mixed_at": "25:00"}]})");
    CHECK(bad.status == 3);
    CHECK(bad.out.empty());
    CHECK(bad.err.find("standard input:2:8: error: \"A-P9\" is no known patch of the plan") != std::string::npos);
    CHECK(bad.err.find("standard input:2:27: error:") != std::string::npos);
    CHECK(bad.err.find("standard input:3:") != std::string::npos);
    CHECK(with_record(project_file("examples/demo.json")).status == 3);
    CHECK(run({"record", demo}).status == 2);
    CHECK(run({"record", "--new", demo, noted}).status == 2);
    CHECK(run({"record", "--new", demo, "-f", "pdf"}).status == 2);
    CHECK(run({"record", demo, noted, "-o", noted}).status == 2);
    CHECK(run({"record", demo, "/no/such/file"}).status == 1);
}

TEST_CASE("why answers for what was done, once it has the record", "[record][why][program]") {
    const auto late = run({"why", demo, "C-P1.done.deflated", "--record", noted});
    CHECK(late.status == 0);
    CHECK(late.out.find("MISSED by 13 min") != std::string::npos);
    CHECK(late.out.find("deflating in the row Tr") != std::string::npos);
    // EN 1610, 13.2: the time of the air test comes from its own formula.
    const auto air = run({"why", demo, "A.LC.time", "--record", noted});
    CHECK(air.out.find("EN 1610") != std::string::npos);
    const auto list = run({"why", demo, "--record", noted});
    for (const char* name : {"A-P1.done.lowest-pressure", "B.W.water-added", "day-1.back-in-the-yard", "A-P1.pressure"})
        CHECK(list.out.find(name) != std::string::npos);
    // Without it nothing was done.
    CHECK(run({"why", demo, "C-P1.done.deflated"}).status != 0);
    CHECK(run({"why", demo, "--record", demo}).status == 3);
    CHECK(run({"why", demo, "--record", noted, "-o", noted}).status == 2);
}

TEST_CASE("learn says what records teach, and writes it as a yard file that plans", "[learn][program]") {
    const auto text = run({"learn", noted, noted});
    CHECK(text.status == 0);
    CHECK(text.err.empty());
    CHECK(text.out.find("2 records") != std::string::npos);
    CHECK(text.out.find("clean_per_10_m") != std::string::npos);
    const auto yard = run({"learn", noted, "-f", "json"});
    CHECK(yard.status == 0);
    CHECK(run(Call{{"check", demo, "--yard", "-"}, yard.out}).status == 0);
    const auto resins = run({"learn", noted, "--jobs", demo, "-f", "json"});
    CHECK(resins.status == 0);
    for (const char* key : {"\"rate\"", "\"rate_spread\"", "\"resin_excess\""})
        CHECK(resins.out.find(key) != std::string::npos);
    CHECK(run(Call{{"daysheet", demo, "--yard", "-"}, resins.out}).status == 0);
    CHECK(run({"learn", noted, "--jobs", demo, "-o", demo}).status == 2);
    const auto bad = run(Call{{"learn", noted, "-"}, "{}"});
    CHECK(bad.status == 3);
    CHECK(bad.out.empty());
    CHECK(run({"learn"}).status == 2);
    CHECK(run({"learn", demo}).status == 3);
}
