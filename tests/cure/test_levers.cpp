// Cooled resin, warm bladders; and what a yard file's resin may not say.
#include <catch2/catch.hpp>

#include <string>

#include "cases.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::cure;

TEST_CASE("cooled resin gives the hands more time in hot air", "[cure]") {
    const job::Yard& yard = io::builtin_yard();
    const Hands hands = hands_of(sleeve_tasks(yard.durations, 1.0 * unit::m, yard.limits), yard.limits);
    for (const char* id : {"silicate", "standard", "slow"}) {
        const job::Resin* resin = yard.find_resin(id);
        REQUIRE(resin != nullptr);
        const Model model{*resin};
        const auto asked = [&](double mix) { return test::ask(model, test::usual(3.0, 17.0, 28.0, mix), yard.limits); };
        const auto temperatures = mix_temperatures(yard.conditioning, *resin, Temperature::celsius(28.0));
        REQUIRE(temperatures.size() > 3);
        const Answer warm = asked(temperatures.back().in_celsius());
        const Answer cool = asked(temperatures.front().in_celsius());
        CAPTURE(id, cool.shaping.likely.in(unit::minute), warm.shaping.likely.in(unit::minute));
        REQUIRE_FALSE(cool.refused);
        CHECK(cool.shaping.likely > warm.shaping.likely);
        CHECK(late_probability(hands, cool) <= yard.limits.late_at_most);
    }
    const job::Resin& any = yard.resins.front();
    CHECK(mix_temperatures({}, any, Temperature::celsius(15.0)) == std::vector{Temperature::celsius(15.0)});
    // Steps of 2 K, and the upper end whether or not a step falls on it.
    const job::Conditioning odd{Temperature::celsius(10.0), Temperature::celsius(15.0)};
    const auto celsius = [](double c) { return Temperature::celsius(c); };
    CHECK(mix_temperatures(odd, any, celsius(18.0)) ==
          std::vector{celsius(10.0), celsius(12.0), celsius(14.0), celsius(15.0), celsius(18.0)});
    for (const Temperature t : mix_temperatures(yard.conditioning, any, Temperature::celsius(15.0))) {
        CHECK(t >= any.application_min);
        CHECK(t <= any.application_max);
    }
}

TEST_CASE("a heater hastens the cure where bladder, pipe and resin stand it", "[cure]") {
    const job::Yard& yard = io::builtin_yard();
    const job::Resin* resin = yard.find_resin("slow");
    REQUIRE(resin != nullptr);
    const Model model{*resin};
    test::Case c = test::usual(3.0, 8.0, 12.0, 15.0);
    const Duration cold = test::ask(model, c, yard.limits).sheet.let_down;
    for (const job::Heater& heater : yard.heaters) {
        CAPTURE(heater.id);
        c.conditions.heating = heating_of(heater, *c.conditions.pipe, Duration{});
        const Answer warm = test::ask(model, c, yard.limits);
        REQUIRE_FALSE(warm.refused);
        CHECK(warm.sheet.let_down < 0.7 * cold);
        CHECK(warm.sheet.inflate_by < warm.sheet.crease_by);
        CHECK(warm.sheet.working_time < warm.sheet.gel);
        CHECK_FALSE(why_not_heated(heater, job::BladderMaterial::silicone, job::Material::clay, *resin));
    }
    job::Heater hot = yard.heaters.front();
    hot.temperature = Temperature::celsius(60.0);
    const auto why = [&](job::BladderMaterial bladder, job::Material host) {
        return why_not_heated(hot, bladder, host, *resin).value_or("");
    };
    CHECK_THAT(why(job::BladderMaterial::pvc_hose, job::Material::clay), Catch::Contains("bladder"));
    CHECK_THAT(why(job::BladderMaterial::silicone, job::Material::pitch_fibre), Catch::Contains("softens"));
    CHECK(why(job::BladderMaterial::silicone, job::Material::clay).empty());
    hot.temperature = Temperature::celsius(95.0);
    CHECK_THAT(why(job::BladderMaterial::silicone, job::Material::pvc_u), Catch::Contains("softens"));
}

TEST_CASE("faults of a resin's data are named with their place", "[cure][error]") {
    struct Row {
        std::string body;  ///< of the resin in the yard file
        int line, column;  ///< of the mark; 0: anywhere in the resin
        const char* part;  ///< of the message; empty: whoever finds it first
    };
    const std::string pot = R"({"kind": "pot life", "temperature": "23 C", "time": "40 min", "mass": "100 g"})";
    const auto data = [&](const std::string& rest) { return "\"data\": [" + pot + ",\n" + rest + "]"; };
    const Row rows[] = {
        // Slower when it is warmer.
        {data(R"({"kind": "gel", "temperature": "5 C", "time": "3 h"},)"
              "\n"
              R"({"kind": "gel", "temperature": "10 C", "time": "3 h 40 min"})"),
         5, 1, "slower when it is warmer"},
        {R"("heat_of_reaction": "0 J/g")", 3, 0, ""},
        {R"("gel_conversion": 0.99)", 3, 0, ""},
        // Stripped before it has gelled, each at a temperature of its own.
        {data(R"({"kind": "gel", "temperature": "20 C", "time": "2 h"},)"
              "\n"
              R"({"kind": "strip", "temperature": "10 C", "time": "1 h"})"),
         4, 1, "gels before it can be stripped"},
        // A gel time that no fit brings together with the pot life.
        {data(R"({"kind": "gel", "temperature": "20 C", "time": "60 h"},)"
              "\n"
              R"({"kind": "strip", "temperature": "20 C", "time": "70 h"})"),
         0, 0, "cannot be met together"},
    };
    for (const Row& row : rows) {
        const std::string text =
            "{\"patchwright_yard\": 1, \"extends\": \"builtin\",\n \"resins\": [ {\"id\": "
            "\"standard\",\n" +
            row.body + "} ] }";
        CAPTURE(text);
        const auto read = io::read_yard(text, "yard.json", resin_faults);
        REQUIRE_FALSE(read);
        REQUIRE_FALSE(read.diagnostics.empty());
        const io::Diagnostic& first = read.diagnostics.front();
        CHECK(first.file == "yard.json");
        if (*row.part != '\0') CHECK_THAT(first.message, Catch::Contains("standard") && Catch::Contains(row.part));
        if (row.line > 0) CHECK(first.line == row.line);
        CHECK(first.line >= 3);
        if (row.column > 0) CHECK(first.column == row.column);
        CHECK(first.column > 0);
    }
    // A fault of one resin that reading finds hides none that the fit finds in another.
    const auto both = io::read_yard(
        R"({"patchwright_yard": 1, "extends": "builtin",
 "resins": [ {"id": "fast", "density_a": "1 kg/m3"},
  {"id": "standard", )" +
            rows[0].body + "} ] }",
        "yard.json", resin_faults);
    REQUIRE(both.diagnostics.size() >= 2);
    CHECK_THAT(both.diagnostics[0].message, Catch::StartsWith("resin \"fast\": \"density_a\""));
    CHECK_THAT(both.diagnostics[1].message,
               Catch::StartsWith("resin \"standard\": ") && Catch::Contains("slower when it is warmer"));
    for (const job::Resin& resin : io::builtin_yard().resins) CHECK(resin_faults(resin).empty());
    job::Resin none = test::standard();
    none.data.clear();
    CHECK(resin_faults(none).size() == 1);
    CHECK_THROWS_AS(Model{none}, InputError);
}
