#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "blocks.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

std::string number(double value) {
    auto text = fmt::format("{:.2f}", value);
    while (text.ends_with('0')) text.pop_back();
    if (text.ends_with('.')) text.pop_back();
    return text;
}

Table build_up_table(const price::BuildUp& b, std::string title) {
    Table table;
    table.title = std::move(title);
    table.columns = {
        {"Kind"}, {"Line"}, {"Qty", Align::right}, {"Unit"}, {"Rate", Align::right}, {"Amount", Align::right}};
    for (const auto& line : b.lines) {
        table.rows.push_back({std::string{price::word(line.kind)}, line.words, number(line.quantity), line.unit,
                              decimal_text(line.rate), decimal_text(line.amount)});
    }
    const auto sum = [&](const char* words, Money amount) {
        table.total_rows.push_back(table.rows.size());
        table.rows.push_back({"", words, "", "", "", decimal_text(amount)});
    };
    sum("Direct", b.direct);
    sum("Risk", b.risk);
    sum("Overhead", b.overhead);
    sum("Profit, with minimum charge and rounding", b.profit);
    sum("Net", b.net);
    return table;
}

void add_bracket(const Context& c, Sheet& sheet) {
    const auto& b = c.plan->offer.bracket;
    sheet.blocks.push_back(heading("The number in between"));
    if (!b.bid) {
        sheet.blocks.push_back(paragraph("Our floor lies above what digging costs the customer: dig it, or do not bid.",
                                         Emphasis::strong));
    }
    Table table;
    table.columns = {{""}, {"Net", Align::right}, {"Why"}};
    table.rows = {{"Floor", format(b.floor), b.why_floor},
                  {"Suggested", format(b.suggested), b.why_suggested},
                  {"Ceiling", format(b.ceiling), b.why_ceiling},
                  {"Customer saves", format(b.saving), ""}};
    sheet.blocks.push_back({table});
    auto picture = drawn(c, [&] { return draw_bracket(c); });
    sheet.blocks.push_back({Picture{std::move(picture), {}}});
}

void add_ranges(const Context& c, Sheet& sheet) {
    const auto& offer = c.plan->offer;
    sheet.blocks.push_back(heading("Ranges"));
    Table table;
    table.title = fmt::format("Net, from {} trials", offer.risk.trials);
    table.columns = {{""}, {"P10", Align::right}, {"P50", Align::right}, {"P80", Align::right}, {"P90", Align::right}};
    const auto row = [&](const char* words, const price::BuildUp& b) {
        table.rows.push_back(
            {words, decimal_text(b.p10), decimal_text(b.p50), decimal_text(b.p80), decimal_text(b.p90)});
    };
    row("Patch", offer.patch);
    row("Dig", offer.dig);
    sheet.blocks.push_back({table});
    sheet.blocks.push_back(paragraph(fmt::format("Chance that patching is really cheaper for us to carry out: {}.",
                                                 format(Show::percent, offer.risk.patch_cheaper, c.units))));
    for (const auto* drivers : {&offer.risk.patch_drivers, &offer.risk.dig_drivers}) {
        if (drivers->empty()) continue;
        Table spread;
        spread.title = drivers == &offer.risk.patch_drivers ? "What drives the spread of patching"
                                                            : "What drives the spread of digging";
        spread.columns = {{"What"}, {"Low", Align::right}, {"High", Align::right}, {"Share", Align::right}, {""}};
        for (const auto& d : *drivers) {
            spread.rows.push_back({d.words, decimal_text(d.low), decimal_text(d.high),
                                   format(Show::percent, d.share, c.units),
                                   std::string(static_cast<std::size_t>(std::lround(d.share * 20.0)), '#')});
        }
        sheet.blocks.push_back({spread});
    }
}

void add_break_even(const Context& c, Sheet& sheet) {
    const auto& list = c.plan->offer.break_even;
    if (list.empty()) return;
    sheet.blocks.push_back(heading("Where the answer flips"));
    Bullets bullets;
    for (const auto& row : list) bullets.items.push_back(row.words);
    sheet.blocks.push_back({bullets});
    // Some six points of each scan; all of them are in the plan's JSON, to plot.
    Table table;
    table.columns = {{"By"}, {"At"}, {"Patch", Align::right}, {"Dig", Align::right}, {"Cheaper"}};
    for (const auto& row : list) {
        const std::size_t step = std::max<std::size_t>(1, (row.points.size() + 5) / 6);
        for (std::size_t i = 0; i < row.points.size(); i += step) {
            const auto& point = row.points[i];
            table.rows.push_back({row.what, point.label, format(point.patch), format(point.dig),
                                  point.patch < point.dig ? "patch" : "dig"});
        }
    }
    if (!table.rows.empty()) sheet.blocks.push_back({table});
}

void add_strength(const Context& c, Sheet& sheet) {
    Table table;
    table.title = "How far the survey may be wrong before the felt no longer does";
    table.columns = {{"Patch"}, {"Check"}, {"Used", Align::right}, {"Water over invert"}, {"Ovality"}};
    for (const auto& p : c.plan->patches) {
        const auto governing = static_cast<std::size_t>(p.thickness.governing);
        const auto& s = p.sensitivity;
        table.rows.push_back(
            {p.id, std::string{liner::word(p.thickness.governing)},
             format(Show::percent, p.utilisation[governing], c.units),
             s.water_over_invert ? "to " + show(c, Show::run_distance, *s.water_over_invert) : "any, up to ground",
             s.ovality ? "to " + format(Show::percent, *s.ovality, c.units) : "any inside the method"});
    }
    if (!table.rows.empty()) sheet.blocks.push_back({table});
}

}  // namespace

Sheet inside_sheet(const Context& c) {
    Sheet sheet;
    sheet.kind = "Estimator's view";
    sheet.title = c.job->title;
    sheet.reference = c.job->reference;
    sheet.subject = "Not for the customer";
    add_money_banner(c, sheet);
    add_notes(c, sheet);
    add_bracket(c, sheet);
    add_ranges(c, sheet);
    sheet.blocks.push_back(heading("Own cost"));
    sheet.blocks.push_back({build_up_table(c.plan->offer.patch, "Patching")});
    sheet.blocks.push_back({build_up_table(c.plan->offer.dig, "Digging the same places")});
    if (!c.plan->offer.unavoidable_dig.lines.empty()) {
        sheet.blocks.push_back(
            {build_up_table(c.plan->offer.unavoidable_dig, "Digging that cannot be avoided (in both)")});
    }
    add_break_even(c, sheet);
    add_strength(c, sheet);
    if (!c.plan->layout.difference.empty()) sheet.blocks.push_back(paragraph(c.plan->layout.difference));
    add_doubts(c, sheet);
    return sheet;
}

}  // namespace patchwright::sheet
