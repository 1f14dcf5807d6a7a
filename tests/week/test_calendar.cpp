// The calendar by a reader of its own, written from RFC 5545 alone.
#include <catch2/catch.hpp>

#include <map>
#include <set>

#include "weeks.hpp"

using namespace patchwright;
using namespace patchwright::test;

namespace {

/// Content lines unfolded (3.1): every line ends in CRLF, a line that begins with a blank goes on the one before.
std::vector<std::string> content_lines(const std::string& text) {
    std::vector<std::string> lines;
    std::size_t at = 0;
    while (at < text.size()) {
        const auto end = text.find("\r\n", at);
        REQUIRE(end != std::string::npos);
        const std::string line = text.substr(at, end - at);
        CHECK(line.size() <= 75);
        CHECK(line.find('\n') == std::string::npos);
        CHECK(line.find('\r') == std::string::npos);
        // No character is torn: a line does not begin with the second byte of one.
        const std::size_t first = !line.empty() && line.front() == ' ' ? 1 : 0;
        if (line.size() > first) CHECK((static_cast<unsigned char>(line[first]) & 0xC0) != 0x80);
        if (!line.empty() && (line.front() == ' ' || line.front() == '\t')) {
            REQUIRE_FALSE(lines.empty());
            lines.back() += line.substr(1);
        } else {
            lines.push_back(line);
        }
        at = end + 2;
    }
    return lines;
}

/// A text value (3.3.11) as it was meant.
std::string meant(const std::string& value) {
    std::string out;
    for (std::size_t i = 0; i < value.size(); ++i) {
        if (value[i] != '\\') {
            CHECK(value[i] != ';');
            CHECK(value[i] != ',');
            out += value[i];
            continue;
        }
        REQUIRE(i + 1 < value.size());
        const char next = value[++i];
        REQUIRE(std::string{"\\;,nN"}.find(next) != std::string::npos);
        out += next == 'n' || next == 'N' ? '\n' : next;
    }
    return out;
}

using Event = std::map<std::string, std::string>;

std::vector<Event> events(const std::string& text) {
    const auto lines = content_lines(text);
    REQUIRE(lines.size() > 4);
    CHECK(lines.front() == "BEGIN:VCALENDAR");
    CHECK(lines.back() == "END:VCALENDAR");
    std::vector<Event> list;
    std::map<std::string, int> head;
    bool inside = false;
    for (std::size_t i = 1; i + 1 < lines.size(); ++i) {
        const auto colon = lines[i].find(':');
        REQUIRE(colon != std::string::npos);
        const auto name = lines[i].substr(0, colon), value = lines[i].substr(colon + 1);
        if (lines[i] == "BEGIN:VEVENT") {
            CHECK_FALSE(inside);
            inside = true;
            list.emplace_back();
        } else if (lines[i] == "END:VEVENT") {
            CHECK(inside);
            inside = false;
        } else if (inside) {
            CHECK(list.back().emplace(name, value).second);
        } else {
            ++head[name];
            if (name == "VERSION") CHECK(value == "2.0");
        }
    }
    CHECK(head["VERSION"] == 1);  // both must be there, once (3.6)
    CHECK(head["PRODID"] == 1);
    return list;
}

std::string calendar(const week::Input& input, const week::Week& week) {
    return sheet::week_ics({&week, &input.yard, UnitSystem::metric, false, std::nullopt});
}

}  // namespace

TEST_CASE("a calendar that any reader takes, with the week's times", "[week][calendar]") {
    auto input = example_week(3);
    input.jobs[0].title =
        "Drain; kitchen, with a\\b and\na very long name that has to be folded: Größe, Öl, Straße, "
        "naïve, and so on until the line is long enough twice over";
    const auto week = week::plan_week(input);
    const auto list = events(calendar(input, week));
    std::set<std::string> uids;
    std::size_t at = 0;
    for (const auto& day : week.days) {
        for (const auto& visit : day.stops) {
            REQUIRE(at < list.size());
            Event event = list[at++];
            CAPTURE(at);
            CHECK(uids.insert(event["UID"]).second);
            auto date = format(day.date);
            date.erase(7, 1).erase(4, 1);
            CHECK(event["DTSTART"] == fmt::format("{}T{:02}{:02}00", date, visit.arrive / 60, visit.arrive % 60));
            CHECK(event["DTEND"] == fmt::format("{}T{:02}{:02}00", date, visit.leave / 60, visit.leave % 60));
            CHECK(event["DTSTAMP"] == "20260713T000000Z");
            CHECK(event["SEQUENCE"] == "0");
            const auto& job = week.jobs[static_cast<std::size_t>(visit.job)].job;
            CHECK(meant(event["SUMMARY"]).find(job.title) != std::string::npos);
            CHECK(meant(event["LOCATION"]) == job.customer.site_address);
            CHECK(meant(event["DESCRIPTION"]).find("Crew " + std::to_string(day.crew)) == 0);
            CHECK(event["GEO"].find(';') != std::string::npos);
        }
    }
    CHECK(at == list.size());
    CHECK(calendar(input, week) == calendar(input, week::plan_week(input)));
}

TEST_CASE("a stop that is moved keeps its UID and raises its number", "[week][calendar]") {
    auto input = example_week(3);
    const auto week = week::plan_week(input);
    auto moved = week;
    auto& visit = moved.days.front().stops.front();
    visit.revision = 3;
    const auto before = events(calendar(input, week)), after = events(calendar(input, moved));
    CHECK(before.front().at("UID") == after.front().at("UID"));
    CHECK(after.front().at("SEQUENCE") == "3");
}
