// Days of random jobs on which anything may have happened: the rest keeps every rule.
#include <nlohmann/json.hpp>

#include <algorithm>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "patchwright/io/read.hpp"
#include "support/dice.hpp"
#include "support/jobs.hpp"
#include "told_day.hpp"

using namespace patchwright;
using namespace patchwright::test;
using site::Minute;
using site::Told;

namespace {

/// Something that may have happened to the patches of a day by a minute, in an order that it can have happened in.
std::vector<Told> anything(Dice& dice, const Day& day, int number, Minute now) {
    std::vector<Told> told;
    for (std::size_t i = 0; i < day.plan.patches.size(); ++i) {
        const auto& t = day.plan.schedule.patches[i];
        if (t.day != number || dice.chance(20)) continue;
        const auto& id = day.plan.patches[i].id;
        Minute when = t.mix + dice.between(-20, 45);
        const auto tell = [&](const char* option) {
            if (when > now || when < day.job.site.start.minutes) return false;
            told.push_back({option, fmt::format("{}={}", id, clock(when))});
            return true;
        };
        if (!tell("--mixed")) continue;
        if (dice.chance(12)) {
            when += dice.between(0, 30);
            tell("--lost");
            continue;
        }
        when = when + (t.inflate - t.mix) + dice.between(-4, 14);
        if (!tell("--inflated")) continue;
        when = when + (t.let_down - t.inflate) + dice.between(0, 50);
        tell("--deflated");
    }
    if (dice.chance(40)) told.push_back({"--pipe", fmt::format("{} C", dice.between(1, 22))});
    if (dice.chance(30)) told.push_back({"--resin", fmt::format("{} C", dice.between(8, 26))});
    if (dice.chance(30)) told.push_back({"--air", fmt::format("{} C", dice.between(4, 30))});
    if (dice.chance(25)) told.push_back({"--persons", std::to_string(dice.between(1, 3))});
    if (dice.chance(25) && !day.plan.patches.empty())
        told.push_back({"--packer-lost", dice.one_of(day.plan.patches).option.packer.id});
    return told;
}

std::string shown(const std::vector<Told>& told) {
    std::string words;
    for (const auto& t : told) words += fmt::format("{} '{}' ", t.option, t.text);
    return words;
}

}  // namespace

TEST_CASE("of any day, whatever happened, the rest keeps the rules", "[site][property]") {
    std::size_t asked_for = 0, stripped = 0, again = 0, other_day = 0, on_other = 0;
    for (std::uint32_t seed = 1; seed <= test::of_jobs(120); ++seed) {
        const auto text = line(random_job(seed));
        auto read = io::read_job(text, "job.json");
        if (!read || io::has_errors(io::cross_check(*read.value, io::builtin_yard()))) continue;
        auto yard = io::builtin_yard();
        Dice dice{seed};
        yard.limits.alarm_gauge = dice.chance(50);
        yard.limits.prepare_in_yard = dice.chance(70);
        yard.limits.overnight_cure = dice.chance(25);
        yard.limits.air_lines = dice.between(1, 3);
        const Day day{text, yard};
        for (int number = 0; number < static_cast<int>(day.plan.schedule.days.size()); ++number) {
            for (int round = 0; round < 4; ++round) {
                const Minute now = dice.between(day.job.site.start.minutes, day.job.site.finish.minutes + 60);
                const auto told = anything(dice, day, number, now);
                const bool as_planned = dice.chance(30);
                INFO("seed " << seed << " day " << number + 1 << " at " << clock(now) << ": " << shown(told) << "\n"
                             << text);
                const auto reading = site::read_facts(day.plan, {}, told, now, number, as_planned);
                if (!reading.good()) continue;  // a lost sleeve's times may cross
                const auto asked = ask(day, now, told, number, as_planned);
                for (const auto& fault : broken_now_rules(day, *asked)) {
                    INFO(fault);
                    CHECK(false);
                }
                ++asked_for;
                for (const auto& s : asked->now.sleeves) {
                    stripped += s.verdict == site::Verdict::strip;
                    again += s.again;
                    other_day += !s.another_day.empty();
                    on_other += s.on_other.has_value();
                }
            }
        }
    }
    // Each kind of thing did come up.
    CHECK(asked_for > test::of_jobs(120));
    CHECK(stripped > 0);
    CHECK(again > 0);
    CHECK(other_day > 0);
    CHECK(on_other > 0);
}

TEST_CASE("of any day that goes as planned the rest is that of its plan", "[site][property]") {
    std::size_t days = 0;
    for (std::uint32_t seed = 1; seed <= test::of_jobs(80); ++seed) {
        const auto text = line(random_job(seed));
        auto read = io::read_job(text, "job.json");
        if (!read || io::has_errors(io::cross_check(*read.value, io::builtin_yard()))) continue;
        const Day day{text};
        Dice dice{seed};
        for (int number = 0; number < static_cast<int>(day.plan.schedule.days.size()); ++number) {
            const auto& sheet = day.plan.schedule.days[static_cast<std::size_t>(number)];
            Minute last = 0;
            for (const auto& task : sheet.tasks)
                if (task.patch && task.what != schedule::What::cure) last = std::max(last, task.finish);
            if (!sheet.proven || last <= day.job.site.start.minutes) continue;
            const Minute now = dice.between(day.job.site.start.minutes, last - 1);
            const auto asked = ask(day, now, as_on_sheet(day, number, now), number);
            INFO("seed " << seed << " day " << number + 1 << " at " << clock(now) << "\n" << text);
            CHECK(asked->now.finish == sheet.finish);
            for (const auto& s : asked->now.sleeves) CHECK(s.another_day.empty());
            ++days;
        }
    }
    CHECK(days > test::of_jobs(80) / 2);
}
