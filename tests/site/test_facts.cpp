// What is told: names, clocks and contradictions, all of them in one go.
#include <fmt/format.h>
#include <catch2/catch.hpp>

#include <algorithm>

#include "support/project_file.hpp"
#include "support/says.hpp"
#include "told_day.hpp"

using namespace patchwright;
using namespace patchwright::test;
using site::Told;

namespace {

site::Reading read(const std::vector<Told>& told, const char* now = "11:10", std::optional<int> day = std::nullopt) {
    return site::read_facts(demo().plan, {}, told, at(now), day, false);
}

/// What is wrong with one thing told.
std::string wrong(const Told& told) {
    const auto reading = read({told});
    CHECK(reading.told_errors.size() == 1);
    return reading.told_errors.empty() ? "" : reading.told_errors.front();
}

/// The first patch of the first day.
std::string first() {
    for (std::size_t i = 0; i < demo().plan.patches.size(); ++i)
        if (demo().plan.schedule.patches[i].day == 0) return demo().plan.patches[i].id;
    return {};
}

}  // namespace

TEST_CASE("what is wrong with one thing told", "[site][error]") {
    const auto id = first();
    CHECK(says(wrong({"--mixed", "Z-P9=10:40"}), "the plan has no patch \"Z-P9\"; it has"));
    CHECK(says(wrong({"--mixed", "10:40"}), "say of which patch"));
    CHECK(says(wrong({"--mixed", id + "=25:00"}), "--mixed "));
    CHECK(says(wrong({"--mixed", id + "="}), "--mixed "));
    CHECK(says(wrong({"--mixed", id + "=11:11"}), "lies after --at 11:10"));
    CHECK(says(wrong({"--inflated", id + "=10:40"}), "say when it was mixed too"));
    CHECK(says(wrong({"--lost", "Z=10:00"}), "no patch"));
    CHECK(says(wrong({"--lost", id + "=11:30"}), "lies after --at"));
    CHECK(says(wrong({"--pipe", "7"}), "--pipe 7: "));
    CHECK(says(wrong({"--pipe", "90 C"}), "no temperature"));
    CHECK(says(wrong({"--pipe", "Z-P9=7 C"}), "no patch"));
    CHECK(says(wrong({"--reading", id + "=10:40"}), "--reading"));
    CHECK(says(wrong({"--reading", id + "=11:40 7 C"}), "lies after --at"));
    CHECK(says(wrong({"--packer-lost", "Z"}), "the yard has no such packer; it has"));
    CHECK(says(wrong({"--persons", "0"}), "1 to 4"));
    CHECK(says(wrong({"--persons", "two"}), "1 to 4"));
    CHECK(says(wrong({"--late", "-5 min"}), "0 min"));
    CHECK(says(wrong({"--late", "5"}), "--late 5: "));
    CHECK(says(wrong({"--ready", "Z=10:00"}), "no run \"Z\""));
    CHECK(says(wrong({"--ready", "A=12:00"}), "lies after --at"));
}

TEST_CASE("contradictions", "[site][error]") {
    const auto id = first();
    const auto both = read({{"--mixed", id + "=10:40"}, {"--inflated", id + "=10:20"}});
    REQUIRE(both.told_errors.size() == 1);
    CHECK(says(both.told_errors.front(), "lies before it was mixed at 10:40"));
    const auto order = read({{"--mixed", id + "=10:00"}, {"--inflated", id + "=10:30"}, {"--poured", id + "=10:35"}});
    REQUIRE(order.told_errors.size() == 1);
    CHECK(says(order.told_errors.front(), "lies before it was poured at 10:35"));
    CHECK(read({{"--mixed", id + "=10:40"}, {"--mixed", id + "=10:50"}}).told_errors.size() == 1);
    CHECK(read({{"--lost", id}, {"--lost", id}}).told_errors.size() == 1);
    CHECK(read({{"--pipe", "7 C"}, {"--pipe", "8 C"}}).told_errors.size() == 1);
}

TEST_CASE("two sleeves that would have to pass each other cannot both lie in their pipe", "[site][error]") {
    const auto& patches = demo().plan.work.patches;
    std::size_t compared = 0;
    for (std::size_t i = 0; i < patches.size(); ++i)
        for (std::size_t k = 0; k < i; ++k) {
            const std::vector<Told> both{{"--mixed", demo().plan.patches[i].id + "=10:00"},
                                         {"--mixed", demo().plan.patches[k].id + "=10:30"}};
            const bool pass = schedule::must_pass(patches[i], patches[k]);
            const auto reading = read(both, "11:10", 0);
            CHECK(reading.good() != pass);
            if (!pass) continue;
            CHECK(says(reading.told_errors.front(), "cannot lie in their pipe at once"));
            auto out = both;
            out.push_back({"--lost", demo().plan.patches[i].id + "=10:20"});
            CHECK(read(out, "11:10", 0).good());
            ++compared;
        }
    CHECK(compared > 0);
}

TEST_CASE("all that is wrong comes in one go", "[site][error]") {
    const auto id = first();
    const auto reading = read({{"--mixed", "Z-P9=10:40"},
                               {"--mixed", id + "=11:30"},
                               {"--pipe", "cold"},
                               {"--packer-lost", "none"},
                               {"--persons", "9"}});
    CHECK(reading.told_errors.size() == 5);
    CHECK(reading.record_errors.empty());
}

TEST_CASE("a patch is told by the end of its name where only one ends so", "[site]") {
    const auto short_name = [](const std::string& id) { return id.substr(id.find('-') + 1); };
    std::size_t alike = 0;
    for (const auto& p : demo().plan.patches) alike += short_name(p.id) == short_name(first()) ? 1 : 0;
    REQUIRE(alike > 1);  // the example has several
    CHECK(says(wrong({"--mixed", short_name(first()) + "=10:40"}), " may be "));
}

TEST_CASE("a patch of another day wants its day", "[site][error]") {
    std::string later;
    for (std::size_t i = 0; i < demo().plan.patches.size(); ++i)
        if (demo().plan.schedule.patches[i].day == 1) later = demo().plan.patches[i].id;
    REQUIRE_FALSE(later.empty());
    CHECK(says(wrong({"--mixed", later + "=10:40"}), "is planned for day 2: give --day 2"));
    CHECK(read({{"--mixed", later + "=10:40"}}, "11:10", 1).good());
    // Brought forward: it is one of that day's then.
    const auto forward = read({{"--mixed", later + "=10:40"}}, "11:10", 0);
    REQUIRE(forward.good());
    CHECK(std::count(forward.facts.patches.begin(), forward.facts.patches.end(), demo().patch(later)) == 1);
}

TEST_CASE("what is told stands over what was noted, and a record is held to the clock too", "[site]") {
    const auto id = first();
    job::Record record;
    auto& r = record.patches.emplace_back();
    r.id = id;
    r.mixed_at = ClockTime{at("10:30")};
    r.pipe_temperature = Temperature::celsius(9.0);
    const auto told =
        site::read_facts(demo().plan, record, {{"--mixed", id + "=10:40"}, {"--pipe", "7 C"}}, at("11:10"), 0, false);
    REQUIRE(told.good());
    CHECK(told.facts.record.last_of(id)->mixed_at->minutes == at("10:40"));
    // What is told of all does not take the place of what was measured at one.
    CHECK(told.facts.record.last_of(id)->pipe_temperature->in_celsius() == Approx(9.0));
    r.inflated_at = ClockTime{at("11:20")};
    const auto later = site::read_facts(demo().plan, record, {}, at("11:10"), 0, false);
    CHECK(later.told_errors.empty());
    REQUIRE(later.record_errors.size() == 1);
    CHECK(says(later.record_errors.front(), "inflated_at 11:20: lies after --at 11:10"));
}

TEST_CASE("the day is that of the record", "[site]") {
    job::Record record;
    auto& r = record.patches.emplace_back();
    for (std::size_t i = 0; i < demo().plan.patches.size(); ++i)
        if (demo().plan.schedule.patches[i].day == 1) r.id = demo().plan.patches[i].id;
    r.mixed_at = ClockTime{at("10:30")};
    CHECK(site::read_facts(demo().plan, record, {}, at("11:10"), std::nullopt, false).facts.day == 1);
}
