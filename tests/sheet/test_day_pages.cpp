// Days of several runs on paper.
#include <catch2/catch.hpp>

#include <algorithm>

#include <fmt/format.h>

#include "paper_tools.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/sheet/page.hpp"
#include "planned.hpp"

using namespace patchwright;
using namespace patchwright::sheet;
using namespace patchwright::test;

namespace {

/// Four bores on four runs, each with one place. Invented.
constexpr const char* four_runs =
    R"({"patchwright_job": 1, "reference": "Q-4", "title": "Invented", "date": "2026-05-09",
    "site": {"start": "06:00", "finish": "21:00", "travel": "10 min", "air_temperature": "12 C"}, "runs": [
    {"id": "A", "from": "MH1", "to": "MH2", "length": "20 m", "bore": "100 mm", "material": "clay", "depth": "2.35 m",
     "ground_temperature": "10 C", "access": ["MH1", "MH2"], "defects": [{"id": "A1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]},
    {"id": "B", "from": "MH2", "to": "MH3", "length": "20 m", "bore": "150 mm", "material": "concrete", "depth": "2.75 m",
     "ground_temperature": "10 C", "access": ["MH2", "MH3"], "defects": [{"id": "B1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]},
    {"id": "C", "from": "MH3", "to": "MH4", "length": "20 m", "bore": "200 mm", "material": "PVC-U", "depth": "3 m",
     "ground_temperature": "10 C", "access": ["MH3", "MH4"], "defects": [{"id": "C1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]},
    {"id": "D", "from": "MH4", "to": "MH5", "length": "20 m", "bore": "125 mm", "material": "clay", "depth": "3 m",
     "ground_temperature": "16 C", "access": ["MH4", "MH5"], "defects": [{"id": "D1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]}]})";

/// Two places on each of two runs of other bores, one under water, with every text that a job may hold. Invented.
std::string full_job(const std::string& units, bool flow) {
    const auto defect = [](const char* id, double at) {
        return fmt::format(R"({{"id": "{}", "at": "{:.2f} m", "to": "{:.2f} m", "kind": "fissure", "code": "BAB B A",
            "clock": "10-2", "size": "2 mm", "inflow": "dripping",
            "remark": "Seen twice; roots hang in from the crown, cut them first."}})",
                           id, at, at + 0.2);
    };
    const auto run = [&](const char* id, const char* from, const char* to, int bore, const char* material, double at) {
        return fmt::format(R"({{"id": "{0}", "from": "{1}", "to": "{2}", "length": "40 m", "bore": "{3} mm",
            "measured_bore": "{4} mm", "material": "{5}", "condition": "partially deteriorated", "ovality": "2 %",
            "depth": "1.8 m", "water_table": "0.9 m", "ground_temperature": "{6} C", "joint_spacing": "1.25 m",
            "access": ["{1}", "{2}"], "traffic": "highway"{7},
            "fittings": [{{"id": "branch {0}", "at": "{8:.1f} m", "kind": "junction", "bore": "100 mm", "clock": "2",
                "live": true, "remark": "From the kitchen; in use until half past eight."}}],
            "defects": [{9}, {10}]}})",
                           id, from, to, bore, bore - 1, material, bore == 100 ? 10 : 9,
                           flow ? R"(, "flow": {"inflow": "0.05 l/s", "storage": "60 l"})" : "", at + 9.0,
                           defect(fmt::format("{}1", id).c_str(), at), defect(fmt::format("{}2", id).c_str(), at + 18));
    };
    return fmt::format(
        R"({{"patchwright_job": 1, "reference": "Q-2026-0412", "title": "Rear yard drains, Mill House", "date": "2026-04-18",
        "offer_date": "2026-04-01", "units": "{}", "certainty": "photo", "revision": 2,
        "customer": {{"name": "Mill House Residents", "address": "Mill House, Example Lane 4, 00000 Exampletown",
            "site_address": "Rear yard of Mill House, gate from the lane, code 0000"}},
        "site": {{"start": "06:00", "finish": "21:00", "travel": "35 min", "air_temperature": "12 C",
            "resin_temperature": "15 C", "van_temperature": "14 C"}},
        "runs": [{}, {}],
        "dig": {{"surface": "concrete", "soil": "B", "services_near": true, "customer_note": "Old stone paving."}},
        "notes": ["The kitchen is in use until 08:30.", "Ring the bell at the lane; the dog is friendly."]}})",
        units, run("A", "MH1", "MH2", 100, "clay", 5.0), run("B", "MH2", "MH3", 150, "concrete", 6.0));
}

Context drawn(const Planned& p) {
    auto context = p.context();
    context.drawings = true;
    return context;
}

}  // namespace

TEST_CASE("four patches on four runs: two pages, a strip of each run, what is assumed of all said once", "[drawing]") {
    paper::pin_fonts();
    auto p = planned(four_runs);
    REQUIRE(p.plan.patches.size() == 4);
    REQUIRE(p.plan.schedule.days.size() == 1);
    PageOptions options;
    options.paper = GENERATE(Paper::a4, Paper::letter);
    p.units = GENERATE(UnitSystem::metric, UnitSystem::us);
    const auto sheet = day_sheets(drawn(p), 0).front();
    const auto pages = pdf({sheet}, options);
    CHECK(pages.count == 2);
    CHECK(pages.warnings.empty());
    for (const char* id : {"A-P1", "B-P1", "C-P1", "D-P1"}) {
        CAPTURE(id);
        CHECK(paper::text_of_page(pages.pdf, 2).find(std::string{"Patch "} + id) != std::string::npos);
        // On its strip; Letter's front is full without.
        if (options.paper == Paper::a4)
            CHECK(paper::text_of_page(pages.pdf, 1).find(std::string{id} + ": ") != std::string::npos);
    }
    const auto back = paper::text_of_page(pages.pdf, 2);
    CHECK(back.find("Times by what was measured") != std::string::npos);
    CHECK(back.find("runs A, B, C, D: condition partially deteriorated; ovality 2 %;") != std::string::npos);
}

TEST_CASE("four unlike sleeves on two runs with every optional text take two pages", "[drawing]") {
    paper::pin_fonts();
    const auto p = planned(full_job(GENERATE("metric", "us"), GENERATE(true, false)));
    REQUIRE(p.plan.patches.size() == 4);
    CHECK(std::any_of(p.plan.patches.begin(), p.plan.patches.end(), [](const auto& x) { return x.heater >= 0; }));
    REQUIRE(p.plan.schedule.days.size() == 1);
    PageOptions options;
    options.paper = GENERATE(Paper::a4, Paper::letter);
    const auto pages = pdf({day_sheets(drawn(p), 0).front()}, options);
    CHECK(pages.count == 2);
    CHECK(pages.warnings.empty());
    const auto front = paper::text_of_page(pages.pdf, 1), back = paper::text_of_page(pages.pdf, 2);
    for (const auto& patch : p.plan.patches) {
        CAPTURE(patch.id);
        CHECK(back.find("Patch " + patch.id) != std::string::npos);
    }
    CHECK(front.find("Ring the bell at the lane") != std::string::npos);
    CHECK(front.find("If it goes wrong") != std::string::npos);
}

TEST_CASE("ends whose names differ at their ends alone are told apart on the day's strip", "[drawing]") {
    std::string text = four_runs;
    const std::string near = "Manhole by the rear yard wall 17", far = "Manhole by the rear yard wall 18";
    for (const auto& [from, to] : {std::pair{std::string{"MH1"}, near}, {std::string{"MH2"}, far}}) {
        for (auto at = text.find(from); at != std::string::npos; at = text.find(from)) text.replace(at, 3, to);
    }
    // The first two runs alone: their strips go across the page.
    text = text.substr(0, text.find(R"(,
    {"id": "C")")) +
           "]}";
    const auto p = planned(text);
    const auto sheets = day_sheets(drawn(p), 0);
    std::string labels;
    for (const auto& block : sheets.front().blocks) {
        const auto* picture = std::get_if<Picture>(&block.content);
        if (picture == nullptr || !picture->drawing) continue;
        for (const auto& shape : picture->drawing->shapes) {
            const auto* label = std::get_if<Label>(&shape);
            if (label != nullptr && label->text.starts_with("Manhole")) labels += label->text + "|";
        }
    }
    CAPTURE(labels);
    CHECK(labels.find("17|") != std::string::npos);
    CHECK(labels.find("18|") != std::string::npos);
}
