// What follows at the hole, in cases that can be told by hand.
#include <fmt/format.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <set>

#include "support/project_file.hpp"
#include "told_day.hpp"

using namespace patchwright;
using namespace patchwright::test;
using site::Minute;
using site::State;
using site::Told;
using site::Verdict;

namespace {

Minute minutes(Duration d) { return static_cast<Minute>(std::lround(d.in(unit::minute))); }

/// First and last patch of the first day, in order of mixing.
std::vector<std::size_t> of_day(const Day& day, int number) {
    std::vector<std::size_t> list;
    for (std::size_t i = 0; i < day.plan.patches.size(); ++i)
        if (day.plan.schedule.patches[i].day == number) list.push_back(i);
    std::sort(list.begin(), list.end(), [&](std::size_t a, std::size_t b) {
        return day.plan.schedule.patches[a].mix < day.plan.schedule.patches[b].mix;
    });
    return list;
}

void check_rules(const Day& day, const Asked& asked) {
    for (const auto& fault : broken_now_rules(day, asked)) {
        INFO(fault);
        CHECK(false);
    }
}

std::string all(const site::Now& now) {
    std::string words;
    for (const auto& s : now.sleeves)
        words += fmt::format("{} {} {} {} {}|", s.patch, word(s.state), word(s.verdict), s.words, s.another_day);
    return words;
}

}  // namespace

TEST_CASE("a day that goes as planned is at every minute the rest of its own plan", "[site]") {
    for (int number = 0; number < static_cast<int>(demo().plan.schedule.days.size()); ++number) {
        const auto& sheet = demo().plan.schedule.days[static_cast<std::size_t>(number)];
        REQUIRE(sheet.proven);
        const Minute last = sheet.tasks[sheet.tasks.size() - 3].start;  // before pack up and travel
        for (Minute now = demo().job.site.start.minutes; now < last; now += 3) {
            const auto asked = ask(demo(), now, as_on_sheet(demo(), number, now), number);
            CAPTURE(number, clock(now), all(asked->now));
            CHECK(asked->now.finish == sheet.finish);
            CHECK(asked->now.warnings.empty());
            check_rules(demo(), *asked);
            const auto& rest = asked->now.schedule.days.back().tasks;
            for (const auto& task : sheet.tasks) {
                if (task.finish <= now) continue;
                const auto same = std::find_if(rest.begin(), rest.end(), [&](const schedule::Task& t) {
                    return t.what == task.what && t.patch == task.patch && t.run == task.run &&
                           t.finish == task.finish && t.start == std::max(now, task.start);
                });
                CAPTURE(word(task.what), task.patch.value_or(-1), clock(task.start), clock(task.finish));
                CHECK(same != rest.end());
            }
            for (const auto& s : asked->now.sleeves) {
                const auto& times = demo().plan.schedule.patches[s.patch];
                CHECK(s.another_day.empty());
                if (s.inflate_by) CHECK(*s.inflate_by == times.inflate_by);
                if (s.state == State::in_pipe)
                    CHECK(*s.let_down == times.mix + minutes(demo().plan.patches[s.patch].cure.sheet.let_down));
            }
        }
    }
}

TEST_CASE("with --as-planned nothing more need be told", "[site]") {
    const Minute now = demo().plan.schedule.patches[0].inflate + 20;
    const auto told = ask(demo(), now, as_on_sheet(demo(), 0, now));
    const auto taken = ask(demo(), now, {}, 0, true);
    CHECK(all(told->now) == all(taken->now));
    CHECK(told->now.finish == taken->now.finish);
    CHECK(taken->now.taken.size() > told->now.taken.size());
}

TEST_CASE("mixed later shifts inflate-by by as much", "[site]") {
    const auto first = of_day(demo(), 0).front();
    const auto& id = demo().plan.patches[first].id;
    const auto& t = demo().plan.schedule.patches[first];
    for (const Minute late : {0, 1, 12, 47}) {
        const Minute now = t.mix + late + 2;
        const auto asked = ask(demo(), now, {{"--mixed", id + "=" + clock(t.mix + late)}});
        const auto& s = asked->sleeve(demo(), id);
        CHECK(s.state == State::in_hand);
        CHECK(s.verdict == Verdict::go);
        CHECK(*s.inflate_by == t.inflate_by + late);
        CHECK(*s.let_down == t.mix + late + minutes(demo().plan.patches[first].cure.sheet.let_down));
        check_rules(demo(), *asked);
    }
}

TEST_CASE("go while it can be inflated in time, strip from then on", "[site]") {
    const auto first = of_day(demo(), 0).front();
    const auto& id = demo().plan.patches[first].id;
    const auto& t = demo().plan.schedule.patches[first];
    bool stripped = false;
    for (Minute now = t.mix; now < t.inflate_by + 40; ++now) {
        const auto asked = ask(demo(), now, {{"--mixed", id + "=" + clock(t.mix)}});
        const auto& s = asked->sleeve(demo(), id);
        CAPTURE(clock(now), s.words);
        // Once it is to be stripped nothing but a new sleeve is a go.
        if (stripped) CHECK(s.verdict == Verdict::strip);
        stripped = s.verdict == Verdict::strip;
        if (now + demo().plan.work.patches[first].inflate.minutes <= t.inflate_by) CHECK(s.verdict == Verdict::go);
        if (now > t.inflate_by) CHECK(s.verdict == Verdict::strip);
        check_rules(demo(), *asked);
    }
    CHECK(stripped);
}

TEST_CASE("a colder pipe never gives an earlier let-down", "[site]") {
    const auto first = of_day(demo(), 0).front();
    const auto& id = demo().plan.patches[first].id;
    const auto& t = demo().plan.schedule.patches[first];
    Minute before = 0;
    for (int tenths = 250; tenths >= 50; tenths -= 5) {
        const auto asked = ask(demo(), t.inflate + 5,
                               {{"--mixed", id + "=" + clock(t.mix)},
                                {"--inflated", id + "=" + clock(t.inflate)},
                                {"--pipe", fmt::format("{}.{} C", tenths / 10, tenths % 10)}});
        const auto& s = asked->sleeve(demo(), id);
        if (s.limits.refused) continue;
        CAPTURE(tenths);
        CHECK(*s.let_down >= before);
        before = *s.let_down;
    }
    CHECK(before > t.let_down);  // at 5 °C, planned with 10 °C
}

TEST_CASE("readings in the pipe put the let-down where their temperature puts it", "[site]") {
    const auto first = of_day(demo(), 0).front();
    const auto& id = demo().plan.patches[first].id;
    const auto& t = demo().plan.schedule.patches[first];
    const std::vector<Told> set{{"--mixed", id + "=" + clock(t.mix)}, {"--inflated", id + "=" + clock(t.inflate)}};
    const auto let_down = [&](std::vector<Told> more) {
        auto told = set;
        told.insert(told.end(), more.begin(), more.end());
        return *ask(demo(), t.inflate + 60, told)->sleeve(demo(), id).let_down;
    };
    const auto reading = [&](Minute after, const char* warmth) {
        return Told{"--reading", fmt::format("{}={} {}", id, clock(t.inflate + after), warmth)};
    };
    // One temperature all the while is that temperature.
    CHECK(let_down({reading(0, "8 C"), reading(50, "8 C")}) == let_down({{"--pipe", "8 C"}}));
    // A pipe that cools lies between its two ends.
    const Minute mixed = let_down({reading(0, "10 C"), reading(60, "7 C")});
    CHECK(mixed > let_down({{"--pipe", "10 C"}}));
    CHECK(mixed < let_down({{"--pipe", "7 C"}}));
    CHECK(ask(demo(), t.inflate + 60, {set[0], set[1], reading(0, "8 C")})->sleeve(demo(), id).limits.along_readings);
}

TEST_CASE("a pipe colder than the resin allows has no time", "[site]") {
    const auto first = of_day(demo(), 0).front();
    const auto& id = demo().plan.patches[first].id;
    const auto& t = demo().plan.schedule.patches[first];
    const auto lies =
        ask(demo(), t.inflate + 5,
            {{"--mixed", id + "=" + clock(t.mix)}, {"--inflated", id + "=" + clock(t.inflate)}, {"--pipe", "1 C"}});
    CHECK(lies->sleeve(demo(), id).verdict == Verdict::wait);
    CHECK_FALSE(lies->sleeve(demo(), id).let_down);
    check_rules(demo(), *lies);
    const auto wet = ask(demo(), t.mix + 5, {{"--mixed", id + "=" + clock(t.mix)}, {"--pipe", "1 C"}});
    CHECK(wet->sleeve(demo(), id).verdict == Verdict::strip);
    check_rules(demo(), *wet);
    const auto dry = ask(demo(), t.mix - 5, {{"--pipe", "1 C"}});
    CHECK(dry->sleeve(demo(), id).state == State::to_do);
    CHECK_FALSE(dry->sleeve(demo(), id).another_day.empty());
    check_rules(demo(), *dry);
}

TEST_CASE("inflated too late it comes out before the gel, and is held after it", "[site]") {
    const auto first = of_day(demo(), 0).front();
    const auto& id = demo().plan.patches[first].id;
    const auto& t = demo().plan.schedule.patches[first];
    const Minute gel = t.mix + minutes(demo().plan.patches[first].cure.sheet.gel);
    const std::vector<Told> told{{"--mixed", id + "=" + clock(t.mix)},
                                 {"--inflated", id + "=" + clock(t.inflate_by + 9)}};
    const auto soft = ask(demo(), t.inflate_by + 11, told);
    CHECK(soft->sleeve(demo(), id).verdict == Verdict::strip);
    check_rules(demo(), *soft);
    const auto set = ask(demo(), gel + 60, told);
    CHECK(set->sleeve(demo(), id).verdict == Verdict::wait);
    CHECK(set->sleeve(demo(), id).words.find("too late") == std::string::npos);
    CHECK(set->sleeve(demo(), id).words.find("9 min after its limit") != std::string::npos);
    check_rules(demo(), *set);
}

TEST_CASE("a lost sleeve is made again where felt, resin, packer and day allow", "[site]") {
    const auto first = of_day(demo(), 0).front();
    const auto& id = demo().plan.patches[first].id;
    const auto& t = demo().plan.schedule.patches[first];
    const std::vector<Told> told{{"--mixed", id + "=" + clock(t.mix)}, {"--lost", id + "=" + clock(t.inflate)}};
    const auto asked = ask(demo(), t.inflate + 5, told);
    const auto& s = asked->sleeve(demo(), id);
    CHECK(s.state == State::lost);
    CHECK(s.again == s.another_day.empty());
    if (s.again) CHECK(*s.mix_at >= t.inflate + 5 + demo().plan.work.patches[first].cut.minutes);
    check_rules(demo(), *asked);
    // The next sleeve is in hand once it is told.
    auto next = told;
    next.push_back({"--mixed", id + "=" + clock(t.inflate + 20)});
    const auto second = ask(demo(), t.inflate + 25, next);
    CHECK(second->sleeve(demo(), id).state == State::in_hand);
    CHECK(*second->sleeve(demo(), id).mixed == t.inflate + 20);
    check_rules(demo(), *second);
    // No felt is left for a third.
    next.push_back({"--lost", id + "=" + clock(t.inflate + 30)});
    const auto reading = site::read_facts(demo().plan, {}, next, t.inflate + 31, 0, false);
    CHECK_FALSE(reading.good());  // one option tells of one loss; more of them stand in a record
    job::Record record;
    for (const Minute mixed : {t.mix, t.inflate + 20}) {
        auto& r = record.patches.emplace_back();
        r.id = id;
        r.mixed_at = ClockTime{mixed};
        r.outcome = job::SleeveOutcome::stripped;
    }
    const auto third = ask(demo(), t.inflate + 31, {}, 0, false, record);
    CHECK(third->sleeve(demo(), id).state == State::lost);
    CHECK_FALSE(third->sleeve(demo(), id).again);
    CHECK_FALSE(third->sleeve(demo(), id).another_day.empty());
    check_rules(demo(), *third);
}

TEST_CASE("a lost packer is replaced by another that serves, or its patches wait", "[site]") {
    const auto list = of_day(demo(), 0);
    const auto& p = demo().plan.patches[list.front()];
    std::vector<Told> lost;
    for (int i = 0; i < p.option.packer.count; ++i) lost.push_back({"--packer-lost", p.option.packer.id});
    const Minute now = demo().job.site.start.minutes + 60;
    const auto asked = ask(demo(), now, lost);
    for (const auto& s : asked->now.sleeves) {
        if (demo().plan.patches[s.patch].option.packer.id != p.option.packer.id) continue;
        CAPTURE(demo().plan.patches[s.patch].id, s.another_day);
        CHECK((s.on_other || !s.another_day.empty()));
        if (s.on_other) {
            CHECK(s.on_other->option.packer.id != p.option.packer.id);
            CHECK(s.on_other->start == demo().plan.patches[s.patch].start);
            CHECK(s.on_other->end == demo().plan.patches[s.patch].end);
            CHECK(s.on_other->resin == demo().plan.patches[s.patch].resin);
            CHECK(s.on_other->pressure.holds);
        }
    }
    check_rules(demo(), *asked);
    // Every packer and every set of fittings gone: nothing can be made.
    std::vector<Told> none;
    for (const auto& packer : demo().yard.packers)
        for (int i = 0; i < packer.count; ++i) none.push_back({"--packer-lost", packer.id});
    for (const auto& chassis : demo().yard.chassis)
        for (int i = 0; i < chassis.count; ++i) none.push_back({"--packer-lost", chassis.id});
    const auto bare = ask(demo(), now, none);
    for (const auto& s : bare->now.sleeves) CHECK_FALSE(s.another_day.empty());
    check_rules(demo(), *bare);
}

TEST_CASE("one person alone keeps the rules, and is never back earlier than two", "[site]") {
    for (Minute now = demo().job.site.start.minutes; now < demo().job.site.finish.minutes; now += 23) {
        auto told = as_on_sheet(demo(), 0, now);
        const auto two = ask(demo(), now, told);
        told.push_back({"--persons", "1"});
        const auto one = ask(demo(), now, told);
        CAPTURE(clock(now));
        CHECK(one->now.persons == 1);
        check_rules(demo(), *one);
        const auto made = [](const site::Now& n) {
            return std::count_if(n.sleeves.begin(), n.sleeves.end(),
                                 [](const auto& s) { return s.another_day.empty(); });
        };
        CHECK(made(one->now) <= made(two->now));
        if (made(one->now) == made(two->now)) CHECK(one->now.finish >= two->now.finish);
    }
}

TEST_CASE("what the day does not hold any more is left for another day, with the reason", "[site]") {
    const auto asked = ask(demo(), demo().job.site.finish.minutes - 120, {});
    for (const auto& s : asked->now.sleeves) {
        CHECK(s.state == State::to_do);
        CHECK_FALSE(s.another_day.empty());
        CHECK(s.verdict == Verdict::wait);
    }
    check_rules(demo(), *asked);
}

TEST_CASE("the same question has the same answer", "[site]") {
    const Minute now = demo().plan.schedule.patches[0].inflate + 33;
    const auto told = as_on_sheet(demo(), 0, now);
    const auto a = ask(demo(), now, told), b = ask(demo(), now, told);
    CHECK(all(a->now) == all(b->now));
    REQUIRE(a->now.schedule.days.back().tasks.size() == b->now.schedule.days.back().tasks.size());
}
