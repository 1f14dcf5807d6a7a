#include <catch2/catch.hpp>

#include <cmath>
#include <regex>
#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "blocks.hpp"
#include "csv.hpp"
#include "patchwright/plan/figures.hpp"
#include "patchwright/sheet/html.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "planned.hpp"
#include "words.hpp"

using namespace patchwright::sheet;
using namespace patchwright;
using nlohmann::json;
using namespace patchwright::test;
namespace {

const json& at_path(const json& object, std::string_view key) {
    const auto dot = key.find('.');
    const auto& part = object.at(std::string{key.substr(0, dot)});
    return dot == std::string_view::npos ? part : at_path(part, key.substr(dot + 1));
}
std::string_view leaf(std::string_view key) {
    const auto dot = key.rfind('.');
    return dot == std::string_view::npos ? key : key.substr(dot + 1);
}
const json& owner_of(const json& object, std::string_view key) {
    const auto dot = key.rfind('.');
    return dot == std::string_view::npos ? object : at_path(object, key.substr(0, dot));
}

/// One figure has one number and one text, whoever shows it.
template <class Owner>
void check_figures(const Context& c, std::span<const plan::FigureKind<Owner>> kinds, const Owner& owner,
                   const json& object, const std::string& page) {
    for (const auto& kind : kinds) {
        if (!kind.applies_to(owner)) continue;
        const auto name = fmt::format("{}.{}", owner.id, kind.name);
        CAPTURE(name);
        const auto shown =
            owner_of(object, kind.key).at("shown").at(std::string{leaf(kind.key)}).template get<std::string>();
        if (kind.show != Show::money) CHECK(shown == kind.shown(owner, c.units));
        CHECK(has(page, leaf(kind.key)));
        const auto asked = json::parse(why_json(c, name)).at("figures");
        REQUIRE(asked.size() == 1);
        CHECK(asked[0].at("shown") == shown);
        CHECK(has(text(why_sheet(c, name), {}), shown));
        if (kind.show != Show::money) CHECK(at_path(object, kind.key) == asked[0].at("value"));
        // The step that ends in the figure says it with the same text.
        bool ends = false;
        for (const auto& step : asked[0].at("steps")) ends = ends || step.at("result").at("shown") == shown;
        CHECK(ends);
    }
}

}  // namespace

TEST_CASE("a figure is the same in JSON, in its working and in the page on JSON, and each is asked by its row",
          "[sheet]") {
    const auto units = GENERATE(UnitSystem::metric, UnitSystem::us);
    const auto p = planned(project_file("examples/demo.json"), units);
    const auto c = p.context();
    const auto plan = json::parse(plan_json(c, true));
    const auto page = project_file("docs/plan-json.md");
    REQUIRE(p.plan.patches.size() > 2);
    for (std::size_t i = 0; i < p.plan.patches.size(); ++i)
        check_figures(c, plan::patch_figures(), p.plan.patches[i], plan.at("patches")[i], page);
    for (std::size_t i = 0; i < p.plan.batches.size(); ++i)
        check_figures(c, plan::batch_figures(), p.plan.batches[i], plan.at("batches")[i], page);
}

TEST_CASE("what the card shows is the table's figure", "[sheet]") {
    const auto units = GENERATE(UnitSystem::metric, UnitSystem::us);
    const auto p = planned(project_file("examples/demo.json"), units);
    const auto c = p.context();
    const auto all = days(c);
    for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
        const auto& patch = p.plan.patches[i];
        for (const char* name : {"mark", "cut", "cut-width", "seam", "pressure", "most-pressure", "least-pressure",
                                 "relief", "roller-gap", "inflate-by", "crease-by", "gel", "let-down", "bench-test"}) {
            CAPTURE(patch.id, name);
            if (plan::patch_figure(name).applies_to(patch)) CHECK(has(all, shown(c, patch, name)));
        }
        // The rating of the packer, or what the yard lets a cracked pipe bear (the lower one).
        Sheet card;
        card.blocks.push_back(patch_card(c, i, true));
        CHECK(has(printed({card}), patch.pressure.host_limited ? "NEVER ABOVE (pipe)" : "NEVER ABOVE (packer)"));
        for (const char* name : {"pot-a", "pot-b", "pot-a-volume", "pot-size", "pour-by", "pot"}) {
            CAPTURE(patch.id, name);
            CHECK(has(all, shown(c, mix_of(c, i), name)));
        }
    }
}

TEST_CASE("one word for letting the air out", "[sheet]") {
    const auto p = planned(project_file("examples/demo.json"), UnitSystem::metric);
    const auto c = p.context();
    const auto all = days(c) + printed({plan_sheet(c), pick_list(c), quote_sheet(c), inside_sheet(c)});
    CHECK(has(all, "DEFLATE, not before"));
    for (const char* other : {"let down", "Let down", "LET DOWN", "let-down"}) CHECK_FALSE(has(all, other));
}

TEST_CASE("limits are printed at or under themselves, waits and least pressures at or over", "[sheet]") {
    // In US units no pressure of the yard is a whole tenth of a psi: the nearest would be over the limit half the time.
    for (int hundredths = 20; hundredths <= 250; hundredths += 3) {
        const Pressure p = hundredths / 100.0 * unit::bar;
        const auto number = [&](plan::Rounding rounding) {
            return std::stod(plan::shown(Show::gauge_pressure, rounding, p.si(), UnitSystem::us)) * unit::psi;
        };
        CHECK(number(plan::Rounding::down) <= p);
        CHECK(number(plan::Rounding::up) >= p);
        CHECK(number(plan::Rounding::up) - number(plan::Rounding::down) < 0.11 * unit::psi);
    }
    CHECK(plan::shown(Show::minutes, plan::Rounding::down, (25.9 * unit::minute).si(), UnitSystem::metric) == "25 min");
    CHECK(plan::shown(Show::span, plan::Rounding::up, (317.2 * unit::minute).si(), UnitSystem::metric) == "5 h 18 min");
    // Noise of the arithmetic is no minute.
    CHECK(plan::shown(Show::minutes, plan::Rounding::down, 25.0 * 60.0 - 1e-8, UnitSystem::metric) == "25 min");
    CHECK(plan::shown(Show::tape, plan::Rounding::cut, (364.2 * unit::mm).si(), UnitSystem::metric) == "365 mm");
    CHECK(plan::shown(Show::tape, plan::Rounding::cut, (364.2 * unit::mm).si(), UnitSystem::us) == "14 3/8 in");
}

TEST_CASE("load list and pick list give the resin that is mixed", "[sheet]") {
    const auto p = planned(project_file("examples/demo.json"), UnitSystem::metric);
    const auto c = p.context();
    std::map<std::string, Mass> mixed;
    for (const auto& batch : p.plan.batches)
        mixed[p.yard.resins[static_cast<std::size_t>(batch.resin)].id] += batch.batch.total;
    REQUIRE_FALSE(mixed.empty());
    const auto list = printed({pick_list(c)});
    for (const auto& [id, mass] : mixed)
        CHECK(has(list, fmt::format("Resin {}: {} in all mixes", id, format(Show::scale_mass, mass, p.units))));
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        std::map<std::string, Mass> today;
        for (const auto& batch : p.plan.batches) {
            if (batch.day == static_cast<int>(day))
                today[p.yard.resins[static_cast<std::size_t>(batch.resin)].id] += batch.batch.total;
        }
        const auto sheet = printed(day_sheets(c, static_cast<int>(day)));
        for (const auto& [id, mass] : today)
            CHECK(has(sheet, fmt::format("Resin {}: {} in all mixes", id, format(Show::scale_mass, mass, p.units))));
    }
}

TEST_CASE("what the job says arrives on the sheets and in JSON", "[sheet]") {
    const auto text =
        demo_with("\"code\": \"BAB B A\",", "\"code\": \"BAB B A\", \"remark\": \"Seen under the lane gate.\",");
    auto p = planned(text, UnitSystem::metric);
    p.job.dig.customer_note = "The yard is paved with old stone.";
    p.tell_plan();
    const auto c = p.context();
    const auto all = days(c), plan = printed({plan_sheet(c)}), inside = printed({inside_sheet(c)});
    for (const auto& note : p.job.notes) {
        CHECK(has(all, note));
        CHECK(has(plan, note));
        CHECK(has(inside, note));
        CHECK(has(plan_json(c, true), note));
        CHECK(has(day_json(c, 0), note));
        CHECK_FALSE(has(quote_json(c, false), note));
    }
    CHECK(has(all, "Seen under the lane gate."));
    CHECK(has(plan, "Seen under the lane gate."));
    const auto json_plan = json::parse(plan_json(c, true));
    CHECK(json_plan.at("runs")[0].at("verdicts")[0].at("remark") == "Seen under the lane gate.");
    CHECK(json_plan.at("job").at("customer_note") == p.job.dig.customer_note);
}

TEST_CASE("the emergency rule hangs on the gel of each sleeve, and has one limit", "[sheet]") {
    const auto p = planned(project_file("examples/demo.json"), UnitSystem::metric);
    const auto c = p.context();
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        const auto sheet = printed(day_sheets(c, static_cast<int>(day)));
        for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
            if (p.plan.schedule.patches[i].day != static_cast<int>(day)) continue;
            const auto& patch = p.plan.patches[i];
            CHECK(
                std::regex_search(sheet, std::regex{patch.id + "[^;.]* " + shown(c, patch, "gel") + " after mixing"}));
        }
        const auto from = sheet.find("If it goes wrong");
        REQUIRE(from != std::string::npos);
        CHECK_FALSE(has(sheet.substr(from, 1500), "crease"));
    }
}

TEST_CASE("each day has the six numbers of its patches in one table, before the order of work", "[sheet]") {
    const auto p = planned(project_file("examples/demo.json"), UnitSystem::metric);
    const auto c = p.context();
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        const auto sheets = day_sheets(c, static_cast<int>(day));
        const Table* numbers = nullptr;
        bool after_load = false, before_order = true;
        for (const auto& block : sheets.front().blocks) {
            const auto* heading = std::get_if<Heading>(&block.content);
            after_load = after_load || (heading != nullptr && heading->text == "Load before leaving");
            if (heading != nullptr && heading->text == "Order of work" && numbers == nullptr) before_order = false;
            const auto* table = std::get_if<Table>(&block.content);
            if (table != nullptr && table->strong) numbers = table;
        }
        REQUIRE(numbers != nullptr);
        CHECK(after_load);
        CHECK(before_order);
        std::size_t row = 0;
        for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
            if (p.plan.schedule.patches[i].day != static_cast<int>(day)) continue;
            const auto& cells = numbers->rows.at(row++);
            const auto& patch = p.plan.patches[i];
            CHECK(cells.at(0) == patch.id);
            CHECK(cells.at(5) == shown(c, patch, "pressure"));
            CHECK(cells.at(6) == shown(c, patch, "most-pressure"));
            CHECK(cells.at(7) == shown(c, patch, "inflate-by"));
            CHECK(cells.at(8) == shown(c, patch, "let-down"));
        }
        CHECK(row == numbers->rows.size());
    }
}

TEST_CASE("a star marks what has no slack, and only when something has some", "[sheet]") {
    auto p = planned(project_file("examples/demo.json"), UnitSystem::metric);
    for (const int slack : {0, 1}) {
        for (auto& task : p.plan.schedule.days[0].tasks) task.critical = true;
        if (slack == 1) p.plan.schedule.days[0].tasks[1].critical = false;
        const auto sheet = printed(day_sheets(p.context(), 0));
        CHECK(has(sheet, "* ") == (slack == 1));
        CHECK(has(sheet, "no slack") == (slack == 1));
    }
}

TEST_CASE("weekends are said aloud, and every date has its day", "[sheet]") {
    // 2026-04-14 was a Tuesday, the 18th a Saturday: any calendar of that year.
    const auto tuesday = planned(project_file("examples/demo.json"), UnitSystem::metric);
    CHECK(has(days(tuesday.context()), "Tue 2026-04-14"));
    CHECK_FALSE(has(printed(day_sheets(tuesday.context(), 0)), "is a Saturday"));
    const auto saturday = planned(demo_with("2026-04-14", "2026-04-18"), UnitSystem::metric);
    CHECK(has(printed(day_sheets(saturday.context(), 0)), "2026-04-18 is a Saturday"));
}

TEST_CASE("general cautions stand once on the safety page, the day's own dangers on its sheet with numbers",
          "[sheet]") {
    const auto p = planned(project_file("examples/demo.json"), UnitSystem::metric);
    const auto c = p.context();
    const auto all = days(c), safety = printed({safety_sheet(c)});
    REQUIRE(p.plan.cautions.size() > 5);
    for (const auto* caution : p.plan.cautions) {
        CHECK(has(safety, caution->text));
        CHECK_FALSE(has(all, caution->text));
    }
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        const plan::Patch* greatest = nullptr;
        for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
            const auto& patch = p.plan.patches[i];
            if (p.plan.schedule.patches[i].day == static_cast<int>(day) &&
                (greatest == nullptr || patch.pressure.stored > greatest->pressure.stored))
                greatest = &patch;
        }
        REQUIRE(greatest != nullptr);
        CHECK(has(printed(day_sheets(c, static_cast<int>(day))),
                  fmt::format("Air: {} in {}", shown(c, *greatest, "energy"), greatest->id)));
    }
}

TEST_CASE("sheets for US crews speak US units alone", "[sheet]") {
    const auto p = planned(project_file("examples/us-slab.json"), UnitSystem::us);
    const auto c = p.context();
    auto sheets = day_sheets(c, std::nullopt);  // with the safety page
    sheets.push_back(pick_list(c));
    for (const auto& sheet : sheets) {
        const auto words = text(sheet, {true, false, 4000});
        for (const char* metric : {"\u00b0C", " kg", " mm", " bar ", " bar,", " l/s", " ml", " g ", " g,", " g)", " N ",
                                   " J ", " m ", " m2 "}) {
            CAPTURE(sheet.kind, sheet.subject, metric);
            const auto place = words.find(metric);
            CAPTURE(place == std::string::npos ? "" : words.substr(place > 60 ? place - 60 : 0, 120));
            CHECK(place == std::string::npos);
        }
    }
}

TEST_CASE("what a US reader pays by mass and length is what the metric one pays", "[sheet]") {
    auto p = planned(project_file("examples/us-slab.json"), UnitSystem::us);
    const auto costs = [&](UnitSystem units) {
        p.units = units;
        std::map<std::string, std::vector<std::string>> rows;
        const auto sheet = pick_list(p.context());
        for (const auto& block : sheet.blocks) {
            const auto* table = std::get_if<Table>(&block.content);
            if (table == nullptr || table->title != "What it costs") continue;
            for (const auto& row : table->rows) rows[row.at(0)] = row;
        }
        return rows;
    };
    const auto us = costs(UnitSystem::us), metric = costs(UnitSystem::metric);
    const auto check = [&](const char* line, const char* us_unit, const char* metric_unit, double each) {
        CAPTURE(line);
        const auto &a = us.at(line), &b = metric.at(line);
        CHECK(a.at(2) == us_unit);
        CHECK(b.at(2) == metric_unit);
        CHECK(std::stod(a.at(1)) == Approx(std::stod(b.at(1)) * each).margin(0.02));
        CHECK(std::stod(a.at(3)) == Approx(std::stod(b.at(3)) / each).margin(0.006));
        CHECK(a.at(4) == b.at(4));
    };
    check("Resin standard, by weight", "lb", "kg", 1.0 / 0.45359237);  // the pound of 1959
    check("Separating film", "ft", "m", 1.0 / 0.3048);                 // the foot of 1959
    CHECK(us.at("All materials") == metric.at("All materials"));
    p.units = UnitSystem::us;
    CHECK_FALSE(has(pick_csv(p.context()), ",kg,"));
    CHECK_FALSE(has(pick_csv(p.context()), ",m,"));
    CHECK_FALSE(has(printed({inside_sheet(p.context())}), " kg "));
}

TEST_CASE("JSON of a day and of the pick list holds all of the sheet", "[sheet]") {
    const auto p = planned(project_file("examples/demo.json"), UnitSystem::metric);
    const auto c = p.context();
    const auto day = json::parse(day_json(c, 0)), pick = json::parse(pick_json(c));
    CHECK(day.at("sheets").size() == 2);  // the day and the safety page
    const auto holds = [](const json& where, const Sheet& sheet) {
        const auto dumped = where.dump();
        const auto check = [&](const std::string& words) {
            CAPTURE(words);
            const auto quoted = json(words).dump();
            CHECK(dumped.find(quoted.substr(1, quoted.size() - 2)) != std::string::npos);
        };
        std::function<void(const std::vector<Block>&)> walk = [&](const std::vector<Block>& blocks) {
            for (const auto& block : blocks) {
                if (const auto* p1 = std::get_if<Paragraph>(&block.content)) check(p1->text);
                if (const auto* t = std::get_if<Ticks>(&block.content))
                    std::for_each(t->items.begin(), t->items.end(), check);
                if (const auto* b = std::get_if<Bullets>(&block.content))
                    std::for_each(b->items.begin(), b->items.end(), check);
                if (const auto* f = std::get_if<Fields>(&block.content))
                    for (const auto& field : f->fields) check(field.label), check(field.value);
                if (const auto* t = std::get_if<Table>(&block.content))
                    for (const auto& row : t->rows) std::for_each(row.begin(), row.end(), check);
                if (const auto* card = std::get_if<Card>(&block.content)) walk(card->blocks);
                if (const auto* columns = std::get_if<Columns>(&block.content))
                    for (const auto& column : columns->columns) walk(column);
            }
        };
        walk(sheet.blocks);
    };
    holds(day.at("sheets"), day_sheets(c, 0).front());
    holds(day.at("sheets"), safety_sheet(c));
    holds(pick.at("sheets"), pick_list(c));
}

TEST_CASE("cells that a spreadsheet would calculate are text", "[sheet][csv]") {
    // OWASP, CSV Injection: cells that begin with = + - @, tab or carriage return. RFC 4180 for the quotes.
    CHECK(csv_text("felt") == "felt");
    CHECK(csv_text("a, b") == "\"a, b\"");
    CHECK(csv_text("12 \"flat\"") == "\"12 \"\"flat\"\"\"");
    for (const char* formula : {"=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\rx"})
        CHECK(csv_text(formula) == fmt::format("\"'{}\"", formula));
    auto p = planned(project_file("examples/demo.json"), UnitSystem::metric);
    for (auto& patch : p.plan.patches) patch.option.packer.id = "=HYPERLINK(\"x\")";
    const auto csv = pick_csv(p.context());
    CHECK(has(csv, "packer,\"'=HYPERLINK(\"\"x\"\")\",1"));
    CHECK_FALSE(has(csv, ",=HYPER"));
}

TEST_CASE("HTML is one file that says what the sheet says", "[sheet][html]") {
    auto p = planned(project_file("examples/demo.json"), UnitSystem::metric);
    p.job.title = "<b>Mill & \"House\"</b>";
    p.tell_plan();
    const auto c = p.context();
    const auto sheets = day_sheets(c, 0);
    const auto page = html(sheets, [](const Drawing&) { return std::string{"<svg></svg>"}; });
    CHECK(page == html(sheets, [](const Drawing&) { return std::string{"<svg></svg>"}; }));
    for (const char* outside : {"src=", "@import", "url(", "<link", "http:", "https:"}) CHECK_FALSE(has(page, outside));
    CHECK(has(page, "&lt;b&gt;Mill &amp; &quot;House&quot;&lt;/b&gt;"));
    CHECK_FALSE(has(page, "<b>Mill"));
    for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
        if (p.plan.schedule.patches[i].day != 0) continue;
        const auto& patch = p.plan.patches[i];
        CHECK(has(page, fmt::format("data-patch=\"{}\"", patch.id)));
        CHECK(has(page, shown(c, patch, "let-down")));
    }
    // Every element that is opened is closed.
    for (const char* tag : {"div", "table", "tr", "td", "section", "ul", "label", "p", "h2", "h3"}) {
        std::size_t opened = 0, closed = 0;
        for (auto at = page.find(fmt::format("<{}", tag)); at != std::string::npos;
             at = page.find(fmt::format("<{}", tag), at + 1))
            opened += page[at + 1 + std::string_view{tag}.size()] == '>' ||
                      page[at + 1 + std::string_view{tag}.size()] == ' ';
        for (auto at = page.find(fmt::format("</{}>", tag)); at != std::string::npos;
             at = page.find(fmt::format("</{}>", tag), at + 1))
            ++closed;
        CAPTURE(tag);
        CHECK(opened == closed);
        CHECK(opened > 0);
    }
}
