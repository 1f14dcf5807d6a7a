// Which way the price of whole plans moves, on random jobs of up to three places.
#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/dice.hpp"
#include "support/jobs.hpp"
#include "support/share.hpp"

using namespace patchwright;

namespace {

price::Offer offer_of(const job::Job& job, const job::Yard& yard) {
    plan::Options options;
    options.trials = 0;
    options.working = false;
    options.tables = false;
    return plan::make_plan(job, yard, options).offer;
}

job::Job some_job(test::Dice& dice, int places) {
    static constexpr const char* kinds[] = {R"("fissure", "size": "2 mm")", R"("displaced joint", "size": "6 mm")",
                                            R"("root intrusion", "size": "15 %")", R"("collapse")"};
    static constexpr const char* surfaces[] = {"grass", "block", "asphalt", "concrete"};
    std::string defects;
    int at = 120;  // cm
    for (int i = 0; i < places; ++i) {
        at += dice.between(30, 250);
        defects += fmt::format("{}{{\"id\": \"D{}\", \"at\": \"{} cm\", \"kind\": {}}}", i == 0 ? "" : ", ", i, at,
                               dice.one_of(kinds));
    }
    return test::must_read(fmt::format(
        R"({{"patchwright_job": 1, "reference": "r", "runs": [{{"id": "A", "from": "a", "to": "b", "length": "12 m",
        "bore": "{} mm", "material": "clay", "depth": "{} cm", "access": ["a", "b"], "defects": [{}]}}],
        "dig": {{"surface": "{}", "soil": "B"}}}})",
        dice.chance(50) ? 100 : 150, dice.between(50, 250), defects, dice.one_of(surfaces)));
}

}  // namespace

TEST_CASE("one more place never makes a whole plan cheaper, nor do higher rates", "[plan][price][property]") {
    test::Dice dice{20260414};
    const auto& yard = io::builtin_yard();
    for (std::uint32_t trial = 0; trial < test::of_jobs(10); ++trial) {
        CAPTURE(trial);
        const auto job = some_job(dice, 3);
        const auto all = offer_of(job, yard);
        job::Job fewer = job;
        fewer.runs[0].defects.pop_back();
        const auto part = offer_of(fewer, yard);
        CHECK(all.bracket.floor >= part.bracket.floor);
        CHECK(all.bracket.own >= part.bracket.own);
        CHECK(all.bracket.ceiling >= part.bracket.ceiling);
        if (!all.offered.lines.empty()) CHECK(all.offered.total >= part.offered.total);
        for (const auto& line : all.offered.lines) CHECK(line.net >= line.floor);

        job::Yard dearer = yard;
        dearer.rates.wage.amount += Money::cents(250, yard.rates.currency);
        CHECK(offer_of(job, dearer).bracket.own >= all.bracket.own);
        dearer = yard;
        dearer.rates.profit = Share::percent(40);
        CHECK(offer_of(job, dearer).bracket.own >= all.bracket.own);
        CHECK(offer_of(job, dearer).bracket.ceiling == all.bracket.ceiling);
        dearer = yard;
        dearer.rates.minimum_charge = Money::cents(300000, yard.rates.currency);
        const auto least = offer_of(job, dearer);
        CHECK(least.bracket.own >= all.bracket.own);
        if (!least.offered.lines.empty()) CHECK(least.offered.total >= dearer.rates.minimum_charge);
    }
}

// Regression: at 15 °C the search for one day of six once stopped before it found the ways that hold.
TEST_CASE("six sleeves that are one day's work at 13 and at 18 degrees are so between", "[plan]") {
    std::string runs;
    for (int i = 0; i < 3; ++i)
        runs += fmt::format(R"({}{{"id": "{}", "from": "M{}", "to": "N{}", "length": "9 m", "bore": "100 mm",
            "material": "clay", "depth": "1.2 m", "access": ["M{}", "N{}"], "defects": [
            {{"id": "{}1", "at": "2 m", "to": "2.3 m", "kind": "fissure", "size": "3 mm"}},
            {{"id": "{}2", "at": "5 m", "to": "5.3 m", "kind": "fissure", "size": "3 mm"}}]}})",
                            i == 0 ? "" : ", ", "ABC"[i], i, i, i, i, "ABC"[i], "ABC"[i]);
    auto job = test::must_read(R"({"patchwright_job": 1, "reference": "warmer", "date": "2026-04-14", "site": {
        "start": "07:30", "finish": "17:30", "travel": "30 min", "air_temperature": "12 C"}, "runs": [)" +
                               runs + "]}");
    plan::Options options;
    options.trials = 0;
    options.working = options.tables = false;
    for (int celsius = 13; celsius <= 18; ++celsius) {
        for (auto& run : job.runs) run.ground_temperature = {Temperature::celsius(celsius), Origin::given};
        CAPTURE(celsius);
        const auto plan = plan::make_plan(job, io::builtin_yard(), options);
        CHECK(plan.patches.size() == 6);
        CHECK(plan.schedule.days.size() == 1);
    }
}
