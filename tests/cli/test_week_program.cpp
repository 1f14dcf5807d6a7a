// `patchwright week` as a shell runs it.
#include <catch2/catch.hpp>

#include "support/program.hpp"

using namespace patchwright::test;
using Catch::Matchers::Contains;

namespace {

std::vector<std::string> week(const std::vector<std::string>& more, bool from = true) {
    std::vector<std::string> words{"week", example("week/101-kitchen-drain.json"), example("week/104-terrace.json"),
                                   "--yard", example("week/yard.json")};
    if (from) words.insert(words.end(), {"--from", "2026-07-13"});
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

void refused(const std::vector<std::string>& words, int status, const std::string& message) {
    const auto result = run(words);
    CAPTURE(result.err);
    CHECK(result.status == status);
    CHECK(result.out.empty());
    CHECK_THAT(result.err, Contains(message));
}

}  // namespace

TEST_CASE("week: every form, twice the same bytes", "[program][week]") {
    const Folder folder;
    for (const char* form : {"text", "json", "csv", "html", "pdf", "ics"}) {
        const auto file = folder / (std::string{"week."} + form), again = folder / (std::string{"again."} + form);
        CAPTURE(form);
        CHECK(run(week({"-f", form, "-o", file})).status == 0);
        CHECK(run(week({"-f", form, "-o", again})).status == 0);
        const auto bytes = folder.read(std::string{"week."} + form);
        CHECK(bytes == folder.read(std::string{"again."} + form));
        CHECK(bytes.size() > 200);
    }
    CHECK_THAT(folder.read("week.ics"), Contains("BEGIN:VCALENDAR\r\n"));
    CHECK_THAT(folder.read("week.html"), Contains("<svg"));
    CHECK(folder.read("week.pdf").starts_with("%PDF"));
    CHECK_THAT(folder.read("week.text"), Contains("W-104"));
    CHECK_THAT(folder.read("week.csv"), Contains("2026-07-13,1,1,"));
}

TEST_CASE("week: by the name of the output", "[program][week]") {
    const Folder folder;
    CHECK(run(week({"-o", folder / "w.ics"})).status == 0);
    CHECK_THAT(folder.read("w.ics"), Contains("END:VCALENDAR"));
}

TEST_CASE("week: day sheets of a day, and all of them in a folder", "[program][week]") {
    const auto day = run(week({"--day", "2026-07-13"}));
    CHECK(day.status == 0);
    CHECK_THAT(day.out, Contains("Day sheet"));
    CHECK_THAT(day.out, Contains("crew 1, 1 of 2"));
    CHECK_THAT(day.out, Contains("Leave W-1"));  // the second stop comes from the first, not from the yard
    const Folder folder;
    CHECK(run(week({"--daysheets", folder / "sheets", "-o", folder / "week.json"})).status == 0);
    CHECK(folder.read("sheets/2026-07-13-crew-1.pdf").starts_with("%PDF"));
}

TEST_CASE("week: offers share the saving when asked", "[program][week]") {
    const auto plain = run(week({})), shared = run(week({"--share", "50 %"}));
    CHECK_THAT(plain.out, Contains("--share takes a part"));
    CHECK_THAT(plain.out, !Contains("Offer, sharing it"));
    CHECK_THAT(shared.out, Contains("50 %"));
}

TEST_CASE("week: what was kept moves only when it must", "[program][week]") {
    const Folder folder;
    REQUIRE(run(week({"-o", folder / "week.json"})).status == 0);
    const auto same = run(week({"--keep", folder / "week.json"}));
    CHECK(same.status == 0);
    CHECK_THAT(same.out, !Contains("not as it was given out"));
    const auto more = run(week({"--keep", folder / "week.json", example("week/107-wednesday-call.json")}));
    CHECK_THAT(more.out, Contains("not as it was given out"));
    CHECK_THAT(more.out, Contains("W-107"));
}

TEST_CASE("week: wrong use", "[program][week]") {
    refused(week({}, false), 2, "--from");
    refused(week({"--from", "2026-02-30"}, false), 2, "2026-02 has 28 days");
    refused(week({"--days", "0"}), 2, "--days");
    refused(week({"--crews", "0"}), 2, "--crews");
    refused(week({"--crew", "1"}), 2, "--day");
    refused(week({"--day", "2026-07-13", "-f", "json"}), 2, "text, html or pdf");
    refused(week({"--day", "2026-07-19"}), 2, "no crew is out");
    refused(week({"--share", "half"}), 2, "--share");
    refused(week({"--share", "120 %"}), 2, "0 % to 100 %");
    refused({"week", "--from", "2026-07-13"}, 2, "JOB");
    refused(week({"-o", example("week/104-terrace.json")}), 2, "that is the input");
}

TEST_CASE("week: bad files, each told in full", "[program][week]") {
    const Folder folder;
    folder.write("bad.json", R"({"patchwright_job": 1, "reference": "X", "runs": [], "site": {
  "earliest": "2026-07-15", "latest": "2026-07-13", "window": {"from": "12:00", "to": "09:00"},
  "coordinates": {"latitude": "95 deg", "longitude": "2 deg"}}})");
    folder.write("worse.json", R"({"patchwright_job": 1, "site": {"coordinates": {"latitude": "5 deg"}}})");
    const auto files = run(week({folder / "bad.json", folder / "worse.json"}));
    CHECK(files.status == 3);
    CHECK(files.out.empty());
    for (const char* words : {"before \"earliest\"", "window would end at 09:00", "latitude", "at least one run",
                              "worse.json", "\"longitude\"", "\"reference\""})
        CHECK_THAT(files.err, Contains(words));
    folder.write("date.json", R"({"patchwright_job": 1, "reference": "X", "date": "2026-07-10", "runs": [],
  "site": {"earliest": "2026-07-13"}})");
    CHECK_THAT(run(week({folder / "date.json"})).err, Contains("lies before \"earliest\" of the site"));
    folder.write("drive.csv", "yard,W-101,ten\nyard,W-104\n");
    const auto drive = run(week({"--drive", folder / "drive.csv"}));
    CHECK(drive.status == 3);
    CHECK_THAT(drive.err, Contains("drive.csv:1:12: error"));
    CHECK_THAT(drive.err, Contains("drive.csv:2:1: error"));
    folder.write("keep.json", R"({"patchwright_week": 1, "days": [{}]})");
    refused(week({"--keep", folder / "keep.json"}), 3, "keep.json: days[0]");
    refused(week({"--keep", folder / "none.json"}), 1, "none.json");
    refused(week({example("week/101-kitchen-drain.json")}), 3, "two jobs have the reference \"W-101\"");
}

TEST_CASE("week: a job without a place", "[program][week]") {
    const auto words = week({example("week/103-school-yard.json"), "--days", "1"});
    const auto plain = run(words);
    CHECK(plain.status == 0);
    CHECK_THAT(plain.out, Contains("Without a place"));
    auto strict = words;
    strict.push_back("--strict");
    CHECK(run(strict).status == 4);
}
