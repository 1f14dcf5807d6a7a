#include <algorithm>
#include <iomanip>
#include <sstream>

#include "files.hpp"

using namespace patchwright;
using namespace patchwright::io;
using namespace patchwright::job;

namespace {

Job job_of(const std::string& text) { return test::value_of(read_job(text, "job.json")); }

const Assumption* assumed(const Job& job, std::string_view where, std::string_view what) {
    const auto found = std::find_if(job.assumptions.begin(), job.assumptions.end(),
                                    [&](const Assumption& a) { return a.where == where && a.what == what; });
    return found == job.assumptions.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("the job file of the design page is read field by field", "[job]") {
    const Job job = job_of(R"({
  "patchwright_job": 1,
  "reference": "Q-0412", "title": "Rear yard drain", "date": "2026-04-14",
  "units": "metric", "certainty": "photo",
  "site":  { "start": "08:00", "finish": "16:30", "travel": "35 min", "air_temperature": "11 C" },
  "runs": [
    { "id": "A", "from": "MH1", "to": "MH2", "length": "21.4 m", "bore": "100 mm", "material": "clay",
      "condition": "partially deteriorated", "ovality": "2 %",
      "depth": "1.35 m", "water_table": "0.85 m", "ground_temperature": "9 C",
      "access": ["MH1", "MH2"],
      "flow": { "inflow": "0.02 l/s", "storage": "60 l" },
      "fittings": [ { "at": "11.20 m", "kind": "junction", "bore": "100 mm", "clock": "2", "live": true },
                    { "at": "6.80 m", "kind": "bend", "angle": "45 deg", "radius": "150 mm" } ],
      "defects":  [ { "id": "A1", "at": "3.90 m", "to": "4.40 m", "kind": "fissure", "clock": "10-2", "size": "3 mm" },
                    { "id": "A2", "at": "9.10 m", "kind": "displaced joint", "size": "8 mm", "code": "BAJ B" },
                    { "id": "A3", "at": "12 m", "kind": "root intrusion", "size": "15 %", "inflow": "dripping",
                      "surrounding_sound": false, "remark": "two lines\nof remark" } ] } ],
  "dig": { "surface": "asphalt", "soil": "B", "services_near": true }
})");
    CHECK(job.reference == "Q-0412");
    CHECK(job.title == "Rear yard drain");
    CHECK(job.date == Date{2026, 4, 14});
    CHECK(job.certainty == Certainty::photo);
    CHECK(job.site.start.minutes == 480);
    CHECK(job.site.finish.minutes == 990);
    CHECK(job.site.travel.value().in(unit::minute) == Approx(35.0));
    CHECK(job.site.air_temperature->in_celsius() == Approx(11.0));
    CHECK(job.site.air_temperature.given());
    REQUIRE(job.runs.size() == 1);
    const Run& run = job.runs[0];
    CHECK(run.length.in(unit::m) == Approx(21.4));
    CHECK(run.bore.in(unit::mm) == Approx(100.0));
    CHECK(run.material == Material::clay);
    CHECK(*run.ovality == Approx(2.0));
    CHECK(run.ovality.given());
    CHECK(run.depth.in(unit::m) == Approx(1.35));
    CHECK(run.water_table->value().in(unit::m) == Approx(0.85));
    CHECK(run.ground_temperature->in_celsius() == Approx(9.0));
    CHECK(run.access_at_from());
    CHECK(run.access_at_to());
    CHECK(run.flow.value().inflow.in(unit::litre_s) == Approx(0.02));
    CHECK(run.flow.value().storage.in(unit::litre) == Approx(60.0));
    REQUIRE(run.fittings.size() == 2);  // put in order
    CHECK(run.fittings[0].kind == FittingKind::bend);
    CHECK(run.fittings[0].id == "bend at 6.80 m");
    CHECK(run.fittings[0].angle.in(unit::deg) == Approx(45.0));
    CHECK(run.fittings[0].radius.value().in(unit::mm) == Approx(150.0));
    CHECK(run.fittings[1].id == "junction at 11.20 m");
    CHECK(run.fittings[1].clock == ClockRange{2, 2, false});
    CHECK(run.fittings[1].live);
    REQUIRE(run.defects.size() == 3);
    CHECK(run.defects[0].to.in(unit::m) == Approx(4.4));
    CHECK(run.defects[0].size.value().in(unit::mm) == Approx(3.0));
    CHECK(run.defects[0].clock.value().share() == Approx(4.0 / 12.0));
    CHECK(run.defects[1].to == run.defects[1].at);
    CHECK(run.defects[1].code == "BAJ B");
    CHECK_FALSE(run.defects[2].size);
    CHECK(run.defects[2].size_percent == Approx(15.0));
    CHECK(run.defects[2].inflow == Inflow::dripping);
    CHECK(run.defects[2].surrounding_sound == false);
    CHECK(*job.dig.surface == Surface::asphalt);
    CHECK(*job.dig.soil == Soil::b);
    CHECK(job.dig.services_near);
    CHECK_FALSE(job.dig.hand_dig_only);
    REQUIRE(job.assumptions.size() == 1);
    CHECK(job.assumptions[0].what == "traffic above");
}

TEST_CASE("whatever the file leaves out is named as assumed", "[job]") {
    const Job job = job_of(test::small_job(R"("fittings": [ { "at": "3 m", "kind": "junction" } ])"));
    const Run& run = job.runs[0];
    CHECK(run.from == "start");
    CHECK(run.to == "end");
    CHECK(run.access == std::vector<std::string>{"start"});
    CHECK(*run.ovality == Approx(2.0));
    CHECK(run.ovality.origin == Origin::assumed);
    CHECK(*run.condition == Condition::partially_deteriorated);
    CHECK(run.condition.origin == Origin::assumed);
    CHECK_FALSE(run.water_table->has_value());
    CHECK(run.water_table.origin == Origin::assumed);
    CHECK(run.ground_temperature->in_celsius() == Approx(10.0));
    CHECK(run.ground_temperature.origin == Origin::assumed);
    CHECK(job.site.air_temperature.origin == Origin::assumed);
    CHECK(*job.dig.soil == Soil::c);
    CHECK(job.dig.soil.origin == Origin::assumed);
    CHECK_FALSE(job.date);
    CHECK(run.fittings[0].bore == run.bore);
    for (const auto& what : {"name of its beginning", "name of its end", "condition", "ovality", "water table",
                             "ground temperature", "traffic above", "access", "flow while the pipe is blocked",
                             "junction at 3.00 m", "bore of junction at 3.00 m"}) {
        CAPTURE(what);
        CHECK(assumed(job, "run A", what) != nullptr);
    }
    for (const auto& what : {"start of the day", "end of the day", "travel, one way", "air temperature"}) {
        CAPTURE(what);
        CHECK(assumed(job, "site", what) != nullptr);
    }
    for (const auto& what : {"surface", "soil"}) CHECK(assumed(job, "dig", what) != nullptr);
    CHECK(assumed(job, "job", "certainty") != nullptr);
    REQUIRE(assumed(job, "run A", "ovality") != nullptr);
    CHECK(assumed(job, "run A", "ovality")->value == "2 %");
    CHECK(assumed(job, "run A", "water table")->value == "below the invert");
}

TEST_CASE("assumed values are shown in the job's units", "[job]") {
    const Job job = job_of(test::small_job("", R"("units": "us")"));
    REQUIRE(assumed(job, "run A", "ground temperature") != nullptr);
    CHECK(assumed(job, "run A", "ground temperature")->value.find("50") == 0);  // 10 C
}

TEST_CASE("US quantities", "[job]") {
    // 1 in = 25.4 mm and 1 ft = 12 in exactly (international yard and pound agreement, 1959).
    const Job job = job_of(test::small_job(
        R"("measured_bore": "3 15/16 in", "ground_temperature": "50 F",
           "defects": [ { "id": "1", "at": "6 ft 3 in", "to": "10 ft 4 1/2 in", "kind": "fissure", "size": "1/8 in" } ])"));
    const Run& run = job.runs[0];
    CHECK(run.working_bore().in(unit::mm) == Approx(100.0125));
    CHECK(run.ground_temperature->in_celsius() == Approx(10.0));
    CHECK(run.defects[0].at.in(unit::mm) == Approx(75 * 25.4));
    CHECK(run.defects[0].to.in(unit::mm) == Approx(124.5 * 25.4));
    CHECK(run.defects[0].size.value().in(unit::mm) == Approx(3.175));
}

TEST_CASE("the counter's offset moves every distance, never the length", "[job]") {
    const Job job = job_of(test::small_job(R"("counter_offset": "-0.25 m",
        "fittings": [ { "at": "3.25 m", "kind": "junction" } ],
        "defects": [ { "id": "1", "at": "0.25 m", "to": "20.25 m", "kind": "fissure" }, { "id": "2", "at": "5 m", "kind": "fissure" } ])"));
    const Run& run = job.runs[0];
    CHECK(run.length.in(unit::m) == Approx(20.0));
    CHECK(run.fittings[0].at.in(unit::m) == Approx(3.0));
    CHECK(run.fittings[0].id == "junction at 3.00 m");
    CHECK(run.defects[0].at.in(unit::m) == Approx(0.0).margin(1e-12));
    CHECK(run.defects[0].to.in(unit::m) == Approx(20.0));
    CHECK(run.defects[1].at.in(unit::m) == Approx(4.75));
    CHECK(run.defects[1].to.in(unit::m) == Approx(4.75));
}

TEST_CASE("remarks are ignored wherever they stand", "[job]") {
    const Job job = job_of(
        R"({"_help": {"any": [1]}, "$schema": "job.schema.json", "patchwright_job": 1, "reference": "T", "_help2": null,
        "site": {"_help": 1}, "dig": {"_help": []},
        "runs": [{"_help": "x", "id": "A", "length": "20 m", "bore": "100 mm", "material": "clay", "depth": "1 m",
                  "flow": {"_help": "x", "inflow": "0 l/s", "storage": "0 l"},
                  "defects": [{"_help": "x", "id": "1", "at": "1 m", "kind": "fissure"}]}]})");
    CHECK(job.runs[0].defects.size() == 1);
}

TEST_CASE("doubtful but possible values are warnings with their place", "[job]") {
    struct Row {
        std::string member, part;
        int line;
    };
    const std::vector<Row> rows{
        {R"("ground_temperature": "40 C")", R"(unusual: "ground_temperature" is most often 0 C to 30 C)", 3},
        {R"("measured_bore": "80 mm")", "differs from \"bore\" by more than 15 %", 3},
        {R"("ovality": "12 %")", R"(unusual: "ovality" is most often 0 % to 10 %)", 3},
        {R"("fittings": [ { "at": "3 m", "kind": "junction", "bore": "150 mm" } ])", "the branch is wider than the run",
         3},
        {R"("defects": [ { "id": "1", "at": "3 m", "kind": "displaced joint", "size": "120 mm" } ])",
         "larger than the pipe's bore", 3},
    };
    for (const Row& row : rows) {
        const auto result = read_job(test::small_job(row.member), "j");
        const auto warnings = test::warnings_of(result.diagnostics);
        CAPTURE(row.member, warnings);
        REQUIRE(result);
        REQUIRE(warnings.size() == 1);
        CHECK(warnings[0].find(row.part) != std::string::npos);
        CHECK(warnings[0].starts_with(std::to_string(row.line) + ":"));
        CHECK_FALSE(has_errors(result.diagnostics));
    }
    std::string ten = test::small_job();
    ten.replace(ten.find("100 mm"), 6, "10 mm");
    const auto result = read_job(ten, "j");
    REQUIRE(result);
    CHECK(test::warnings_of(result.diagnostics).size() == 1);
    CHECK(test::warnings_of(read_job(test::small_job("", R"("site": {"travel": "5 h"})"), "j").diagnostics).size() ==
          2);  // unusual, and there and back takes the whole day
    CHECK(test::warnings_of(read_job(test::small_job("", R"("date": "1926-04-14")"), "j").diagnostics).size() == 1);
}

TEST_CASE("what would act on a screen is written out", "[job]") {
    // Code points by Unicode 15: C0 ESC, DEL, C1 CSI, U+2028, U+202E, U+2066; a stray byte.
    CHECK(screen_safe("a\x1b[31mb\n\x7f") == "a\\u001b[31mb\\u000a\\u007f");
    CHECK(screen_safe("\xC2\x9B \xE2\x80\xA8 \xE2\x80\xAE \xE2\x81\xA6") == "\\u009b \\u2028 \\u202e \\u2066");
    CHECK(screen_safe("\x9b") == "\\x9b");
    CHECK(screen_safe("Gro\u00dfe Stra\u00dfe 5 \u2192 \U0001F527") == "Gro\u00dfe Stra\u00dfe 5 \u2192 \U0001F527");
}

TEST_CASE("names hold nothing that nobody sees", "[job][error]") {
    // Code points by Unicode 15, general category Cf, and the Hangul fillers (Lo, but blank), the grapheme joiner, the
    // Mongolian vowel separator, the blank of Braille, variation selectors and tags.
    std::vector<char32_t> unseen{0x00AD, 0x034F, 0x061C, 0x115F, 0x1160, 0x180E, 0x2800, 0x3164, 0xFEFF, 0xFFA0};
    const std::pair<char32_t, char32_t> ranges[] = {{0x200B, 0x200F}, {0x202A, 0x202E}, {0x2060, 0x2064},
                                                    {0x2066, 0x206F}, {0xFE00, 0xFE0F}, {0xE0000, 0xE0FFF}};
    for (const auto& [from, to] : ranges)
        for (char32_t c = from; c <= to; ++c) unseen.push_back(c);
    for (const char32_t c : unseen) {
        std::ostringstream name;
        const auto escape = [&](std::uint32_t unit) {
            name << "\\u" << std::hex << std::setw(4) << std::setfill('0') << unit;
        };
        const auto value = static_cast<std::uint32_t>(c);
        name << "Mill";
        if (value > 0xFFFF) escape(0xD800 + ((value - 0x10000) >> 10U));  // as UTF-16 pairs (RFC 8259)
        escape(value > 0xFFFF ? 0xDC00 + (value & 0x3FFU) : value);
        name << "House";
        CAPTURE(name.str());
        const auto errors =
            test::errors_of(read_job(test::small_job("", "\"title\": \"" + name.str() + "\""), "j").diagnostics);
        REQUIRE(errors.size() == 1);
        CHECK(errors[0].starts_with("3:15 "));
    }
    // What stands beside them in the tables is seen, or joins nothing.
    CHECK(read_job(
        test::small_job("", R"("title": "caf\u00e9 \u2010 \u2026 \u00ac\u00ae \u20ac \u2801 \uac00 \ud83d\udd27")"),
        "j"));
    CHECK(read_job(test::small_job("", R"("notes": ["soft\u00adhyphen"])"), "j"));
}

TEST_CASE("names do not begin or end with a blank", "[job][error]") {
    for (const std::string name : {"a ", " a", "\u00a0a", "a\u1680", "\u3000a"}) {
        for (const auto& text :
             {test::small_job("\"defects\": [{\"id\": \"" + name + "\", \"at\": \"1 m\", \"kind\": \"fissure\"}]"),
              test::small_job("\"from\": \"" + name + "\", \"access\": []")}) {
            const auto errors = test::errors_of(read_job(text, "j").diagnostics);
            CAPTURE(text, errors);
            REQUIRE(errors.size() == 1);
            CHECK(errors[0].find("cannot begin or end with a blank") != std::string::npos);
        }
    }
    for (const std::string name : {"a b", "\u00e9", "R\u00fc 1"})
        CHECK(read_job(test::small_job("\"from\": \"" + name + "\", \"access\": []"), "j"));
}

TEST_CASE("one defect name in two runs is a warning", "[job]") {
    const std::string run =
        R"("length": "9 m", "bore": "100 mm", "material": "clay", "depth": "1 m", "defects": [{"id": "1", "at": "2 m", "kind": "fissure"}]})";
    const auto result = read_job(
        R"({"patchwright_job": 1, "reference": "T", "runs": [{"id": "A", )" + run + R"(, {"id": "B", )" + run + "]}",
        "j");
    REQUIRE(result);
    REQUIRE(result.diagnostics.size() == 1);
    CHECK(result.diagnostics[0].severity == Severity::warning);
    CHECK(result.diagnostics[0].message == "run A has a defect of this name too");
    CHECK(result.diagnostics[0].pointer == "/runs/1/defects/0/id");
}

TEST_CASE("every plain word of a choice is read and written alike", "[job]") {
    for (const auto& material : {"clay", "concrete", "cast iron", "PVC-U", "asbestos cement", "pitch fibre", "other"}) {
        std::string text = test::small_job();
        text.replace(text.find("clay"), 4, material);
        CHECK(word(job_of(text).runs[0].material) == material);
    }
    for (const auto& kind : {"fissure", "break", "collapse", "deformation", "surface damage", "displaced joint",
                             "defective connection", "intruding connection", "root intrusion", "attached deposit",
                             "infiltration", "exfiltration", "missing wall"}) {
        const Job job =
            job_of(test::small_job(std::string{R"("defects": [{"id": "1", "at": "1 m", "kind": ")"} + kind + R"("}])"));
        CHECK(word(job.runs[0].defects[0].kind) == kind);
    }
}

TEST_CASE("the examples are read without a word", "[job]") {
    for (const auto& name : {"examples/demo.json", "examples/us-slab.json"}) {
        CAPTURE(name);
        const auto result = read_job(test::project_file(name), name);
        CAPTURE(test::errors_of(result.diagnostics));
        REQUIRE(result);
        CHECK(result.diagnostics.empty());
        CHECK(cross_check(*result.value, builtin_yard()).empty());
    }
    const Job demo = job_of(test::project_file("examples/demo.json"));
    CHECK(demo.runs.size() == 3);
    std::size_t defects = 0;
    for (const Run& run : demo.runs) defects += run.defects.size();
    CHECK(defects == 8);
}

TEST_CASE("a run of ten thousand defects is read", "[job]") {
    std::string list = R"("defects": [)";
    for (int i = 0; i < 10000; ++i)
        list += (i > 0 ? ",\n" : "") + (R"({"id": "D)" + std::to_string(i) + R"(", "at": "1 m", "kind": "fissure"})");
    const Job job = job_of(test::small_job(list + "]"));
    CHECK(job.runs[0].defects.size() == 10000);
    CHECK(job.runs[0].defects.back().id == "D9999");
}

TEST_CASE("a price of nothing is no price", "[job][price]") {
    for (const char* key : {"net", "per_patch"}) {
        const auto with = [&](const char* amount) {
            return read_job(test::small_job("", std::string{"\"price\": {\""} + key + "\": \"" + amount + "\"}"), "j");
        };
        const auto errors = test::errors_of(with("0 EUR").diagnostics);
        REQUIRE(errors.size() == 1);
        CHECK_THAT(errors[0], Catch::Contains("must be above zero"));
        CHECK_FALSE(with("0.00 EUR"));
        CHECK(with("100 EUR"));
    }
}
