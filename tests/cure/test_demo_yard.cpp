// What the demonstration yard can do: ordinary work in ordinary pipes, within both promises; and its drawn curves.
#include <catch2/catch.hpp>

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <string>

#include "cases.hpp"
#include "patchwright/io/read.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using namespace patchwright::cure;

namespace {

/// A sleeve of the yard's usual felt in clay, everything as warm as given, hands as the yard's.
struct Work {
    double bore = 100.0, metres = 1.0, pipe = 10.0, air = 15.0, resin = 15.0;
};

test::Case case_of(const Work& w, const job::Yard& yard) {
    test::Case c = test::usual(w.bore > 120.0 ? 4.5 : 3.0, w.pipe, w.air, w.resin);
    c.host.bore = w.bore * unit::mm;
    const SleeveTasks tasks = sleeve_tasks(yard.durations, w.metres * unit::m, yard.limits);
    c.conditions.wet_out = tasks[0].likely;
    c.conditions.load = tasks[1].likely;
    c.conditions.position = tasks[2].likely;
    c.conditions.inflate = tasks[3].likely;
    c.conditions.crease = tasks[4].likely;
    return c;
}

double late(const Model& model, const Work& w, const job::Yard& yard) {
    const Answer a = test::ask(model, case_of(w, yard), yard.limits);
    if (a.refused) return 1.0;
    return late_probability(hands_of(sleeve_tasks(yard.durations, w.metres * unit::m, yard.limits), yard.limits), a);
}

/// Resins that keep both promises and are hard within a working day.
int usable(const Work& w, const job::Yard& yard, std::string& table) {
    int count = 0;
    for (const job::Resin& resin : yard.resins) {
        const Model model{resin};
        const Answer a = test::ask(model, case_of(w, yard), yard.limits);
        const double chance = late(model, w, yard);
        const bool good = !a.refused && chance <= yard.limits.late_at_most && a.sheet.let_down < 8.0 * unit::h;
        count += good ? 1 : 0;
        table += fmt::format(" {}: {}{:.1f} %, {:.0f}/{:.0f} min;", resin.id, good ? "" : "no, ", 100.0 * chance,
                             a.sheet.crease_by.in(unit::minute), a.sheet.let_down.in(unit::minute));
    }
    return count;
}

}  // namespace

TEST_CASE("the demonstration yard does ordinary work at every usual temperature", "[cure]") {
    const job::Yard& yard = io::builtin_yard();
    for (const double pipe : {6.0, 8.0, 10.0, 12.0, 15.0, 18.0, 20.0})
        for (const double bore : {100.0, 150.0})
            for (const double metres : {0.5, 1.0, 1.5}) {
                std::string table;
                const Work w{bore, metres, pipe, 15.0, 15.0};
                const int count = usable(w, yard, table);
                UNSCOPED_INFO(fmt::format("{} °C, {} mm, {} m:{}", pipe, bore, metres, table));
                CHECK(count >= (pipe >= 10.0 && pipe <= 15.0 ? 2 : 1));
            }
}

TEST_CASE("the curves of the method page are the program's", "[cure]") {
    const job::Yard& yard = io::builtin_yard();
    const auto page = nlohmann::json::parse(test::project_file("docs/methods/cure-curves.json"));
    REQUIRE(page["curves"].size() == 6);
    for (const auto& drawn : page["curves"]) {
        const std::string id = drawn["resin"], side = drawn["side"];
        const Model model{*yard.find_resin(id)};
        const test::Case c = test::usual(3.0, 10.0, 20.0, 20.0);
        const Side which = side == "early" ? Side::early : side == "late" ? Side::late : Side::likely;
        const auto curve = model.curve(c.sleeve, c.host, c.conditions, yard.limits, which);
        CAPTURE(id, side);
        REQUIRE(drawn["time_min"].size() == curve.size());
        for (std::size_t i = 0; i < curve.size(); ++i) {
            CAPTURE(i);
            CHECK(drawn["time_min"][i].get<double>() == Approx(curve[i].time.in(unit::minute)).margin(0.06));
            CHECK(drawn["least_conversion"][i].get<double>() == Approx(curve[i].least_conversion).margin(1e-4));
            CHECK(drawn["hottest_c"][i].get<double>() == Approx(curve[i].hottest.in_celsius()).margin(0.06));
            CHECK(drawn["glass_c"][i].get<double>() == Approx(curve[i].glass.in_celsius()).margin(0.06));
        }
    }
}
