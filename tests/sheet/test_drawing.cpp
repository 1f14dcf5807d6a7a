#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "paper_tools.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/page.hpp"
#include "patchwright/sheet/sheets.hpp"

using namespace patchwright;
using namespace patchwright::sheet;

namespace {

/// A job with its plan; everything in it is invented.
struct Drawable {
    job::Job job;
    job::Yard yard;
    plan::Plan plan;
    UnitSystem units = UnitSystem::metric;
    Context context() const { return {&plan, units}; }
};

Drawable drawable(const std::string& text, bool price = true, const job::Yard& yard = io::builtin_yard()) {
    auto read = io::read_job(text, "invented.json");
    for (const auto& d : read.diagnostics) UNSCOPED_INFO(d.message);
    REQUIRE(read.value);
    Drawable p;
    p.job = std::move(*read.value);
    plan::Options options;
    options.price = price;
    options.trials = 500;
    p.yard = yard;
    p.plan = plan::make_plan(p.job, p.yard, options);
    p.units = p.job.units;
    return p;
}

std::string example_text(const char* name) {
    std::ifstream file{std::string{PATCHWRIGHT_SOURCE_DIR} + "/examples/" + name};
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

std::string run_job(const std::string& length, const std::string& defects, const std::string& more = "",
                    const std::string& id = "A", const char* units = "metric") {
    return fmt::format(R"({{"patchwright_job": 1, "reference": "Q-1", "title": "Invented", "units": "{}",
        "site": {{"start": "05:00", "finish": "22:00", "travel": "10 min", "air_temperature": "12 C", "resin_temperature": "12 C"}},
        "runs": [{{"id": "{}", "from": "MH1", "to": "MH2", "length": "{}", "bore": "100 mm", "material": "clay",
        "condition": "partially deteriorated", "depth": "1.2 m", "water_table": "2 m", "ground_temperature": "10 C",
        "access": ["MH1", "MH2"]{}, "defects": [{}]}}]}})",
                       units, id, length, more, defects);
}

std::string fissure(const std::string& id, double at) {
    return fmt::format(R"({{"id": "{}", "at": "{:.2f} m", "kind": "fissure", "clock": "10-2", "size": "2 mm"}})", id,
                       at);
}

std::string fissures(int count, double first, double step, const std::string& name = "A") {
    std::string list;
    for (int i = 0; i < count; ++i)
        list += (i > 0 ? ", " : "") + fissure(fmt::format("{}{}", name, i + 1), first + step * i);
    return list;
}

/// The labels' rectangles as they come out on paper.
Pages on_paper(const Drawing& drawing) {
    paper::pin_fonts();
    Sheet sheet;
    sheet.kind = "Drawing";
    sheet.blocks.push_back({Picture{std::make_shared<Drawing>(drawing), {}}});
    PageOptions options;
    options.keep_boxes = true;
    options.created = "2026-04-14T07:00:00Z";
    return pdf({sheet}, options);
}

void check_drawing(const Drawing& drawing) {
    CAPTURE(drawing.name);
    CHECK_FALSE(drawing.title.empty());
    const auto pages = on_paper(drawing);
    CHECK(paper::overlaps(pages) == std::vector<std::string>{});
    CHECK(paper::outside(pages, Paper::a4) == std::vector<std::string>{});
    for (const auto& shape : drawing.shapes) {
        const auto inside = [&](Point p) {
            return std::isfinite(p.x) && std::isfinite(p.y) && p.x >= -0.01 && p.x <= drawing.width + 0.01 &&
                   p.y >= -0.01 && p.y <= drawing.height + 0.01;
        };
        if (const auto* line = std::get_if<Line>(&shape)) CHECK((inside(line->a) && inside(line->b)));
        if (const auto* polygon = std::get_if<Polygon>(&shape))
            CHECK(std::all_of(polygon->points.begin(), polygon->points.end(), inside));
        if (const auto* label = std::get_if<Label>(&shape)) CHECK(inside(label->at));
    }
    CHECK(svg(drawing).find("</svg>") != std::string::npos);
}

void check_all(const Drawable& p) {
    const auto c = p.context();
    for (std::size_t r = 0; r < p.job.runs.size(); ++r) check_drawing(draw_run(c, static_cast<int>(r)));
    for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
        check_drawing(draw_section(c, static_cast<int>(i)));
        check_drawing(draw_cure(c, static_cast<int>(i)));
    }
    for (std::size_t d = 0; d < p.plan.schedule.days.size(); ++d) check_drawing(draw_day(c, static_cast<int>(d)));
    std::vector<std::size_t> all(p.plan.patches.size());
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
    for (std::size_t r = 0; r < p.job.runs.size(); ++r) check_drawing(draw_run_small(c, static_cast<int>(r), all));
    check_drawing(draw_bracket(c));
    check_drawing(draw_cutting(c));
}

void check_sheets(const Drawable& p, Paper paper) {
    paper::pin_fonts();
    const auto c = p.context();
    PageOptions options;
    options.paper = paper;
    options.keep_boxes = true;
    options.created = "2026-04-14T07:00:00Z";
    auto sheets = day_sheets(c, std::nullopt);
    for (auto&& more :
         {safety_sheet(c), quote_sheet(c), inside_sheet(c), pick_list(c), plan_sheet(c), why_sheet(c, "")})
        sheets.push_back(more);
    for (const auto& sheet : sheets) {
        CAPTURE(sheet.kind, sheet.subject);
        const auto pages = pdf({sheet}, options);
        CHECK(paper::overlaps(pages) == std::vector<std::string>{});
        CHECK(paper::outside(pages, paper) == std::vector<std::string>{});
    }
}

const Line* longest_arrow(const Drawing& drawing) {
    const Line* found = nullptr;
    for (const auto& shape : drawing.shapes) {
        const auto* line = std::get_if<Line>(&shape);
        if (line != nullptr && line->arrow &&
            (found == nullptr || std::abs(line->b.x - line->a.x) > std::abs(found->b.x - found->a.x))) {
            found = line;
        }
    }
    return found;
}

bool says(const Drawing& drawing, const std::string& words) {
    return std::any_of(drawing.shapes.begin(), drawing.shapes.end(), [&](const Shape& shape) {
        const auto* label = std::get_if<Label>(&shape);
        return label != nullptr && label->text.find(words) != std::string::npos;
    });
}

}  // namespace

TEST_CASE("every drawing of the examples is in its frame, and no label meets another", "[drawing]") {
    check_all(drawable(example_text(GENERATE("demo.json", "us-slab.json"))));
}

TEST_CASE("every sheet of the examples keeps its margins, and no text meets another", "[drawing]") {
    check_sheets(drawable(example_text(GENERATE("demo.json", "us-slab.json"))), GENERATE(Paper::a4, Paper::letter));
}

TEST_CASE("worst runs: very short, very long, crowded, long names", "[drawing]") {
    SECTION("half a metre") { check_all(drawable(run_job("0.5 m", fissure("A1", 0.25)))); }
    SECTION("120 m with 12 places") { check_all(drawable(run_job("120 m", fissures(12, 4.0, 9.7)))); }
    SECTION("120 m in feet") { check_all(drawable(run_job("400 ft", fissures(6, 4.0, 17.3), "", "A", "us"))); }
    SECTION("crowded") {
        check_all(drawable(run_job("30 m", fissures(8, 14.0, 0.35), R"(, "fittings": [
            {"at": "13.2 m", "kind": "junction", "bore": "100 mm", "clock": "3", "live": true},
            {"at": "17.9 m", "kind": "bend", "angle": "30 deg"}, {"at": "18.6 m", "kind": "bend", "angle": "45 deg"}])")));
    }
    SECTION("names of forty characters") {
        const std::string name(38, 'W');
        check_all(drawable(run_job("20 m", fissures(3, 4.0, 5.0, name), "", std::string(40, 'M'))));
    }
    SECTION("nothing to patch") {
        check_all(drawable(run_job("20 m", R"({"id": "A1", "at": "5 m", "kind": "collapse"})")));
    }
    SECTION("clock ranges through six") {
        check_all(
            drawable(run_job("20 m", R"({"id": "A1", "at": "5 m", "kind": "fissure", "clock": "4-8", "size": "2 mm"},
            {"id": "A2", "at": "12 m", "kind": "fissure", "clock": "6", "size": "2 mm"})")));
    }
}

TEST_CASE("the mark on the drawing lies where the tape puts it", "[drawing]") {
    // The arrow starts at the mouth: its length over the run's length on paper is mark over run length.
    const auto p = drawable(run_job("20 m", fissure("A1", 6.0)));
    REQUIRE(p.plan.patches.size() == 1);
    const auto drawing = draw_run(p.context(), 0);
    const auto* arrow = longest_arrow(drawing);
    REQUIRE(arrow != nullptr);
    const double from_mouth = p.plan.patches[0].rigging.mark.in(unit::m);
    double left = 1e9, right = -1e9;  // of the pipe: the widest filled rectangle that begins or ends at the mouth
    for (const auto& shape : drawing.shapes) {
        const auto* polygon = std::get_if<Polygon>(&shape);
        if (polygon == nullptr || !polygon->filled || polygon->points.size() != 4) continue;
        const double wide = polygon->points[1].x - polygon->points[0].x;
        const bool at_mouth =
            std::min(std::abs(polygon->points[0].x - arrow->a.x), std::abs(polygon->points[1].x - arrow->a.x)) < 1e-6;
        if (!at_mouth) continue;
        if (wide > right - left) left = polygon->points[0].x, right = polygon->points[1].x;
    }
    CHECK(std::abs(arrow->b.x - arrow->a.x) / (right - left) == Approx(from_mouth / 20.0).epsilon(1e-6));
}

TEST_CASE("crowded places get a lens that shows their ends", "[drawing]") {
    const auto p = drawable(run_job("120 m", fissures(2, 20.0, 80.0)));
    REQUIRE(p.plan.patches.size() == 2);
    const auto drawing = draw_run(p.context(), 0);
    CHECK(says(drawing, "lens a"));
    CHECK(says(drawing, "lens b"));
    for (const auto& patch : p.plan.patches) {
        CHECK(says(drawing, patch.id));
        CHECK(says(drawing, format(Show::run_distance, patch.start, UnitSystem::metric)));
        CHECK(says(drawing, format(Show::run_distance, patch.end, UnitSystem::metric)));
    }
    CHECK_FALSE(says(draw_run(drawable(run_job("6 m", fissure("A1", 3.0))).context(), 0), "lens"));
}

TEST_CASE("every patch, weight, pressure and time of the plan is on the day sheet's paper", "[drawing]") {
    paper::pin_fonts();
    const auto p = drawable(example_text("demo.json"), false);
    PageOptions options;
    options.created = "2026-04-14T07:00:00Z";
    const auto sheets = day_sheets(p.context(), std::nullopt);
    const auto text = paper::text_of(pdf(sheets, options).pdf);
    REQUIRE_FALSE(p.plan.patches.empty());
    const auto has = [&](const std::string& words) {
        INFO(words);
        CHECK(text.find(words) != std::string::npos);
    };
    for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
        const auto& patch = p.plan.patches[i];
        has("Patch " + patch.id);
        has(format(Show::gauge_pressure, patch.pressure.set, p.units));
        has(format(Show::gauge_pressure, patch.pressure.maximum, p.units));
        has(format(Show::run_distance, patch.rigging.mark, p.units));
        if (p.plan.schedule.patches[i].day < 0) continue;
        has(format(ClockTime{p.plan.schedule.patches[i].let_down % 1440}));
        has(format(ClockTime{p.plan.schedule.patches[i].inflate_by % 1440}));
    }
    for (const auto& batch : p.plan.batches) {
        has(format(Show::scale_mass, batch.pot.part_a, p.units));
        has(format(Show::scale_mass, batch.pot.part_b, p.units));
    }
    for (const auto* caution : p.plan.cautions) has(std::string{caution->title});
}

TEST_CASE("another way to patch stands on the offer beside digging, dearer by what it costs more", "[drawing]") {
    paper::pin_fonts();
    auto p = drawable(example_text("demo.json"));
    PageOptions options;
    options.created = "2026-04-14T07:00:00Z";
    const auto offer = [&] { return paper::text_of(pdf({quote_sheet(p.context())}, options).pdf); };
    CHECK(offer().find("Ways to do it") == std::string::npos);
    const auto& bracket = p.plan.offer.bracket;
    const Money more = Money::cents(25000, bracket.suggested.currency());
    p.plan.layout.others = {{5, 2.5 * unit::m, 3, more}, {9, unit::m, 9, bracket.ceiling}};  // the last above digging
    const auto text = offer();
    CHECK(text.find("Ways to do it") != std::string::npos);
    CHECK(text.find("5 patches, the longest 2.50 m") != std::string::npos);
    CHECK(text.find(format(p.plan.offer.offered.work + more)) != std::string::npos);
    CHECK(text.find("9 patches") == std::string::npos);
}

TEST_CASE("an offer takes one page, on both papers", "[drawing]") {
    paper::pin_fonts();
    const auto p = drawable(example_text("demo.json"));
    PageOptions options;
    options.created = "2026-04-14T07:00:00Z";
    for (const auto paper : {Paper::a4, Paper::letter}) {
        options.paper = paper;
        const auto offer = pdf({quote_sheet(p.context())}, options);
        CHECK(offer.count == 1);
        CHECK(offer.warnings.empty());
    }
}

TEST_CASE("a day of the plan takes two pages, front and back", "[drawing]") {
    paper::pin_fonts();
    const int places = GENERATE(1, 2, 4);
    const auto p = drawable(run_job("40 m", fissures(places, 5.0, 8.0)), false);
    PageOptions options;
    options.paper = GENERATE(Paper::a4, Paper::letter);
    // A packer that must be built first has its card on a page of its own where the back is full: it stays in the yard.
    const auto sheets = day_sheets(p.context(), std::nullopt);  // and the safety page
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        CAPTURE(places, sheets[day].subject);
        int cards = 0;
        bool builds = false;
        for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
            if (p.plan.schedule.patches[i].day != static_cast<int>(day)) continue;
            ++cards;
            builds = builds || p.plan.patches[i].build.has_value();
        }
        CHECK(pdf({sheets[day]}, options).count == (cards > 2 && builds ? 3 : 2));
    }
}

TEST_CASE("four patches with every optional text filled in take two pages on both papers", "[drawing]") {
    paper::pin_fonts();
    std::string defects;
    for (int i = 0; i < 4; ++i) {
        defects += fmt::format(
            R"({}{{"id": "A{}", "at": "{:.2f} m", "to": "{:.2f} m", "kind": "fissure", "code": "BAB B A", "clock": "10-2",
               "size": "2 mm", "inflow": "dripping", "remark": "Seen twice; roots hang in from the crown, cut them first."}})",
            i > 0 ? ", " : "", i + 1, 5.0 + 8.0 * i, 5.2 + 8.0 * i);
    }
    const auto text =
        fmt::format(R"({{"patchwright_job": 1, "reference": "Q-2026-0412", "title": "Rear yard drains, Mill House",
        "date": "2026-04-18", "units": "{}", "certainty": "photo",
        "customer": {{"name": "Mill House Residents", "address": "Mill House, Example Lane 4", "site_address": "Rear yard, gate from the lane"}},
        "site": {{"start": "05:00", "finish": "22:00", "travel": "90 min", "air_temperature": "12 C", "resin_temperature": "12 C"}},
        "runs": [{{"id": "A", "from": "MH1", "to": "MH2", "length": "40 m", "bore": "100 mm", "measured_bore": "99 mm", "material": "clay",
        "condition": "partially deteriorated", "depth": "1.2 m", "water_table": "0.6 m", "ground_temperature": "10 C", "joint_spacing": "1.25 m",
        "access": ["MH1", "MH2"], "traffic": "highway", "flow": {{"inflow": "0.05 l/s", "storage": "60 l"}},
        "fittings": [{{"id": "kitchen branch", "at": "17 m", "kind": "junction", "bore": "100 mm", "clock": "2", "live": true}}],
        "defects": [{}]}}],
        "dig": {{"surface": "concrete", "soil": "B", "services_near": true, "customer_note": "Old stone paving."}},
        "notes": ["The kitchen is in use until 08:30.", "Ring the bell at the lane; the dog is friendly."]}})",
                    GENERATE("metric", "us"), defects);
    // Sleeves of one packer have the same times: unlike ones have a table each, on a page of its own.
    const bool alike = GENERATE(true, false);
    auto yard = io::builtin_yard();
    if (alike) {
        yard.chassis.clear();
        for (auto& packer : yard.packers) packer.count = packer.id == "R100-10" ? 2 : 0;
    }
    const auto p = drawable(text, false, yard);
    PageOptions options;
    options.paper = GENERATE(Paper::a4, Paper::letter);
    int full = 0;
    const auto sheets = day_sheets(p.context(), std::nullopt);  // and the safety page
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        int cards = 0;
        bool builds = false;
        for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
            if (p.plan.schedule.patches[i].day != static_cast<int>(day)) continue;
            ++cards;
            builds = builds || p.plan.patches[i].build.has_value();
        }
        if (cards == 4) ++full;
        CAPTURE(sheets[day].subject, cards, builds);
        const auto pages = pdf({sheets[day]}, options);
        CHECK(pages.count == (cards > 2 && builds ? 3 : 2));
        CHECK(pages.warnings.empty());
    }
    CHECK(full == 1);
}

TEST_CASE("sheets without drawings say the same in text", "[drawing]") {
    const auto demo = drawable(example_text("demo.json"));
    auto with = demo.context(), without = demo.context();
    without.drawings = false;
    const auto texts = [](const Context& c) {
        std::string all;
        for (const auto& sheet : day_sheets(c, std::nullopt)) all += text(sheet, {});
        for (const auto& sheet : {plan_sheet(c), inside_sheet(c), pick_list(c)}) all += text(sheet, {});
        return all;
    };
    CHECK(texts(with) == texts(without));
    CHECK(texts(with).find("person 1") != std::string::npos);
    const auto drawn = [](const Context& c) {
        std::size_t count = 0;
        const auto sheets = day_sheets(c, 0);
        for (const auto& block : sheets.front().blocks) {
            const auto* picture = std::get_if<Picture>(&block.content);
            if (picture != nullptr && picture->drawing) ++count;
        }
        return count;
    };
    CHECK(drawn(with) >= 2);  // the day, and each of its runs
    CHECK(drawn(without) == 0);
}
