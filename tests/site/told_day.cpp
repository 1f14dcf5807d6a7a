#include "told_day.hpp"

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include <algorithm>

#include "patchwright/io/read.hpp"
#include "support/jobs.hpp"

namespace patchwright::test {

using site::Minute;

namespace {

plan::Plan planned(const job::Job& job, const job::Yard& yard) {
    plan::Options options;
    options.price = options.tables = options.working = false;
    return plan::make_plan(job, yard, options);
}

}  // namespace

Day::Day(const std::string& text) : Day{text, io::builtin_yard()} {}
Day::Day(const std::string& text, job::Yard of) : job{must_read(text)}, yard{std::move(of)}, plan{planned(job, yard)} {}

std::size_t Day::patch(const std::string& id) const {
    const auto found =
        std::find_if(plan.patches.begin(), plan.patches.end(), [&](const auto& p) { return p.id == id; });
    REQUIRE(found != plan.patches.end());
    return static_cast<std::size_t>(found - plan.patches.begin());
}

std::string clock(Minute minute) { return format(ClockTime{minute % (24 * 60)}); }
Minute at(const std::string& clock) {
    const auto parsed = parse_clock_time(clock);
    REQUIRE(parsed);
    return parsed->minutes;
}

std::vector<site::Told> as_on_sheet(const Day& day, int number, Minute at) {
    std::vector<site::Told> told;
    for (std::size_t i = 0; i < day.plan.patches.size(); ++i) {
        const auto& t = day.plan.schedule.patches[i];
        if (t.day != number) continue;
        const auto& id = day.plan.patches[i].id;
        const auto tell = [&](const char* option, Minute when) {
            if (when <= at) told.push_back({option, fmt::format("{}={}", id, clock(when))});
        };
        tell("--mixed", t.mix);
        tell("--inflated", t.inflate);
        tell("--creased", t.inflate + day.plan.work.patches[i].crease.minutes);
        tell("--deflated", t.let_down);
    }
    return told;
}

const Day& demo() {
    static const Day day{project_file("examples/demo.json")};
    return day;
}

const site::Sleeve& Asked::sleeve(const Day& day, const std::string& id) const {
    const auto place = day.patch(id);
    const auto found =
        std::find_if(now.sleeves.begin(), now.sleeves.end(), [&](const auto& s) { return s.patch == place; });
    REQUIRE(found != now.sleeves.end());
    return *found;
}

std::unique_ptr<Asked> ask(const Day& day, Minute at, const std::vector<site::Told>& told, int number, bool as_planned,
                           const job::Record& record) {
    auto reading = site::read_facts(day.plan, record, told, at, number, as_planned);
    for (const auto& error : reading.told_errors) UNSCOPED_INFO(error);
    for (const auto& error : reading.record_errors) UNSCOPED_INFO(error);
    REQUIRE(reading.good());
    auto asked = std::make_unique<Asked>(Asked{std::move(reading.facts), {}});
    asked->now = site::now(day.plan, asked->facts);
    return asked;
}

}  // namespace patchwright::test
