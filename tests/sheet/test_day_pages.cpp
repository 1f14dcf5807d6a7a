// Days of several runs on paper.
#include <catch2/catch.hpp>

#include "paper_tools.hpp"
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

Context drawn(const Planned& p) {
    auto context = p.context();
    context.drawings = true;
    return context;
}

}  // namespace

TEST_CASE("four patches on four runs: no strips, the cards on one page, tables that differ on a page of their own",
          "[drawing]") {
    paper::pin_fonts();
    auto p = planned(four_runs);
    REQUIRE(p.plan.patches.size() == 4);
    REQUIRE(p.plan.schedule.days.size() == 1);
    PageOptions options;
    options.paper = GENERATE(Paper::a4, Paper::letter);
    p.units = GENERATE(UnitSystem::metric, UnitSystem::us);
    const auto sheet = day_sheets(drawn(p), 0).front();
    for (const auto& block : sheet.blocks) CHECK_FALSE(std::holds_alternative<Picture>(block.content));
    const auto pages = pdf({sheet}, options);
    CHECK(pages.count == 3);
    CHECK(pages.warnings.empty());
    for (const char* id : {"A-P1", "B-P1", "C-P1", "D-P1"}) {
        CAPTURE(id);
        CHECK(paper::text_of_page(pages.pdf, 2).find(std::string{"Patch "} + id) != std::string::npos);
    }
    CHECK(paper::text_of_page(pages.pdf, 3).find("by pipe as measured") != std::string::npos);
}

TEST_CASE("ends whose names differ at their ends alone are told apart on the day's strip", "[drawing]") {
    std::string text = four_runs;
    const std::string near = "Manhole by the rear yard wall 17", far = "Manhole by the rear yard wall 18";
    for (const auto& [from, to] : {std::pair{std::string{"MH1"}, near}, {std::string{"MH2"}, far}}) {
        for (auto at = text.find(from); at != std::string::npos; at = text.find(from)) text.replace(at, 3, to);
    }
    // The first two runs alone: above two there are no strips.
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
