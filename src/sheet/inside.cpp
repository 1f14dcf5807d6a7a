#include <algorithm>
#include <cctype>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "best_levers.hpp"
#include "blocks.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

std::string number(double value) {
    auto text = fmt::format("{:.{}f}", value, value != 0.0 && std::abs(value) < 0.1 ? 4 : 2);
    while (text.ends_with('0')) text.pop_back();
    if (text.ends_with('.')) text.pop_back();
    return text;
}

/// A unit as bills of quantities have it.
std::string unit_word(const std::string& unit) {
    return unit == "patches" ? "patch" : unit == "days" || unit == "visits" ? unit.substr(0, unit.size() - 1) : unit;
}

/// Layers of one side. `price`: what its net is called; no two prices of the sheet have the same name.
Table build_up_table(const Context& c, const price::BuildUp& b, std::string title, const char* price) {
    Table table;
    table.title = std::move(title);
    table.columns = {
        {"Kind"}, {"Line"}, {"Qty", Align::right}, {"Unit"}, {"Rate", Align::right}, {"Amount", Align::right}};
    const auto rows = [&](const std::vector<price::Line>& lines) {
        for (const auto& billed : lines) {
            const auto line = in_units(c, billed);
            table.rows.push_back({std::string{price::word(line.kind)}, line.words, number(line.quantity),
                                  unit_word(line.unit), decimal_text(line.rate), decimal_text(line.amount)});
        }
    };
    const auto sum = [&](const char* words, Money amount) {
        table.total_rows.push_back(table.rows.size());
        table.rows.push_back({"", words, "", "", "", decimal_text(amount)});
    };
    rows(b.lines);
    sum("Direct", b.direct);
    rows(b.risk_lines);
    sum("Risk", b.risk);
    sum("Overhead", b.overhead);
    sum("Profit, with minimum charge and step", b.profit);
    sum(price, b.net);
    return table;
}

/// What the job file says of the price.
std::string wish_words(const Context& c) {
    const auto& wish = c.job().price;
    return wish.net         ? "the net price of the job file"
           : wish.per_patch ? fmt::format("{} a patch by the job file, digs at own price", format(*wish.per_patch))
                            : std::string{"own price with the job file's profit"};
}

/// All prices of this job beside each other.
void add_bracket(const Context& c, Sheet& sheet) {
    const auto& offer = c.plan->offer;
    const auto& b = offer.bracket;
    sheet.blocks.push_back(heading("Between cost and digging"));
    if (!b.bid || b.own_above_limit) {
        auto words = b.why_suggested;
        words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
        sheet.blocks.push_back(paragraph(words + ".", Emphasis::strong));
    }
    Table table;
    table.columns = {
        {""}, {std::string{c.yard().rates.currency.code()}, Align::right}, {"Over the floor", Align::right}, {"Why"}};
    const auto row = [&](const char* what, Money amount, std::string why) {
        table.rows.push_back({what, decimal_text(amount), decimal_text(amount - b.floor), std::move(why)});
    };
    row("Floor", b.floor, b.why_floor);
    row("Own price", b.own, b.why_own);
    if (b.bid)
        row("Suggested", b.suggested, b.why_suggested);
    else
        table.rows.push_back({"Suggested", "none", "", "no bid"});
    if (!c.plan->patches.empty())
        row("At most", b.limit,
            fmt::format("ceiling less the customer's least advantage, {}",
                        format(Show::percent, c.yard().dig_market.least_advantage.as_double(), c.units)));
    row("Ceiling", b.ceiling, b.why_ceiling);
    if (offer.listed.listed)
        row("By our price list", offer.listed.patches + offer.unavoidable_dig.net,
            "patches by the list, digs at own price");
    if (!offer.offered.lines.empty())
        row("Offered, without extras", offer.offered.work,
            (offer.offered.wished ? wish_words(c) : std::string{"the suggested price"}) +
                (offer.offered.discount.is_zero() ? "" : " less the discount"));
    if (const Money least = c.yard().rates.minimum_charge; !least.is_zero())
        table.rows.push_back(
            {"Minimum charge", decimal_text(least), "", b.own == least ? "in force on this job" : "no job for less"});
    sheet.blocks.push_back({table});
    if (!offer.listed.beyond.empty()) {
        Bullets list;
        for (const auto& words : offer.listed.beyond) list.items.push_back("Not in our price list: " + words);
        sheet.blocks.push_back({std::move(list)});
    }
    auto picture = drawn(c, [&] { return draw_bracket(c); });
    sheet.blocks.push_back({Picture{std::move(picture), {}}});
}

/// From direct cost to the letter's lines, part by part; every column adds up from top to bottom.
void add_reconciliation(const Context& c, Sheet& sheet) {
    const auto& offer = c.plan->offer;
    if (offer.offered.lines.empty()) return;
    Money patch{}, dig{}, extras{}, extras_cost{};
    for (const auto& line : offer.offered.lines) {
        if (line.kind == price::OfferKind::patch) patch += line.net;
        if (line.kind == price::OfferKind::dig) dig += line.net;
        if (line.kind == price::OfferKind::extra) extras += line.net, extras_cost += line.floor;
    }
    const auto& p = offer.patching;
    const auto& d = offer.unavoidable_dig;
    Table table;
    table.columns = {{""},
                     {"Patches", Align::right},
                     {"Digs", Align::right},
                     {"Both", Align::right},
                     {"Extras", Align::right},
                     {"In all", Align::right}};
    const auto row = [&](const char* what, Money a, Money b, Money e) {
        table.rows.push_back(
            {what, decimal_text(a), decimal_text(b), decimal_text(a + b), decimal_text(e), decimal_text(a + b + e)});
    };
    const auto total = [&](const char* what, Money a, Money b, Money e) {
        table.total_rows.push_back(table.rows.size());
        row(what, a, b, e);
    };
    row("Direct cost", p.direct, d.direct, extras_cost);
    row("Risk", p.risk, d.risk, {});
    row("Overhead", p.overhead, d.overhead, {});
    total("Floor", p.cost(), d.cost(), extras_cost);
    row("Our profit, with minimum charge and step", p.profit, d.profit, extras - extras_cost);
    total("Own price", p.net, d.net, extras);
    row(offer.offered.wished ? "To the job file's price" : "To the suggested price", patch - p.net, dig - d.net, {});
    const bool discount = c.yard().rates.discount != Share{};
    total(discount ? "Lines of the offer" : "Offered", patch, dig, extras);
    if (discount) {
        table.rows.push_back(
            {"Discount", "", "", decimal_text(-offer.offered.discount), "", decimal_text(-offer.offered.discount)});
        table.total_rows.push_back(table.rows.size());
        table.rows.push_back({"Offered", "", "", decimal_text(offer.offered.work), decimal_text(extras),
                              decimal_text(offer.offered.total)});
    }
    if (offer.listed.listed) {
        const Money listed = offer.listed.patches;
        total("Beside it: by our price list", listed, d.net, extras);
        row("Which leaves over the floor", listed - p.cost(), d.net - d.cost(), extras - extras_cost);
    }
    sheet.blocks.push_back(heading("From cost to offer"));
    sheet.blocks.push_back({table});
    const Money floor = offer.bracket.floor + extras_cost;
    if (offer.offered.total > Money{}) {
        const double margin = static_cast<double>((offer.offered.total - floor).in_cents()) /
                              static_cast<double>(offer.offered.total.in_cents());
        sheet.blocks.push_back(
            paragraph(fmt::format("What is left over cost: {}, {} of the offer.", format(offer.offered.total - floor),
                                  format(Show::percent, margin, c.units))));
    }
}

void add_ranges(const Context& c, Sheet& sheet) {
    const auto& offer = c.plan->offer;
    sheet.blocks.push_back(heading("Ranges"));
    Table table;
    table.title = fmt::format("Price, had we known the cost, from {} trials", offer.risk.trials);
    table.columns = {{""}, {"P10", Align::right}, {"P50", Align::right}, {"P80", Align::right}, {"P90", Align::right}};
    const auto row = [&](const char* words, const price::BuildUp& b) {
        table.rows.push_back(
            {words, decimal_text(b.p10), decimal_text(b.p50), decimal_text(b.p80), decimal_text(b.p90)});
    };
    row("As we would do it", offer.patch);
    row("Others, digging", offer.dig);
    sheet.blocks.push_back({table});
    const bool patched = !c.plan->patches.empty();
    if (patched)
        sheet.blocks.push_back(paragraph(fmt::format("Chance that our work costs less than others' digging: {}.",
                                                     format(Show::percent, offer.risk.patch_cheaper, c.units))));
    for (const auto* drivers : {&offer.risk.patch_drivers, &offer.risk.dig_drivers}) {
        const bool ours = drivers == &offer.risk.patch_drivers;
        if (drivers->empty() || (!patched && !ours)) continue;  // the same digging twice
        Table spread;
        spread.title = ours ? "What drives the spread of our cost" : "What drives the spread of others' digging";
        spread.columns = {{"What"}, {"Low", Align::right}, {"High", Align::right}, {"Share", Align::right}, {""}};
        for (const auto& d : *drivers) {
            // What hardly matters may fall with the sum by chance: a share a little below nothing.
            const auto marks = std::clamp(std::lround(d.share * 20.0), 0L, 20L);
            spread.rows.push_back({d.words, decimal_text(d.low), decimal_text(d.high),
                                   format(Show::percent, d.share, c.units),
                                   std::string(static_cast<std::size_t>(marks), '#')});
        }
        sheet.blocks.push_back({spread});
    }
}

void add_break_even(const Context& c, Sheet& sheet) {
    const auto& list = c.plan->break_even;
    if (list.empty()) return;
    sheet.blocks.push_back(heading("Break-even with digging"));
    Bullets bullets;
    for (const auto& row : list) bullets.items.push_back(row.words);
    sheet.blocks.push_back({bullets});
    // Some six points of each; all of them are in the JSON, to plot.
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

/// Other complete ways, and what the doubtful places would add.
void add_other_plans(const Context& c, Sheet& sheet) {
    if (c.plan->variants.size() > 1) {
        Table table;
        table.columns = {{"Variant"},
                         {""},
                         {"Days", Align::right},
                         {"Patches", Align::right},
                         {"Own price", Align::right},
                         {"Offered", Align::right},
                         {"Chance of lateness", Align::right}};
        int number = 1;
        for (const auto& v : c.plan->variants) {
            table.rows.push_back({fmt::format("{}", number++), v.words, fmt::format("{}", v.days),
                                  fmt::format("{}", v.patches), decimal_text(v.own), decimal_text(v.offered),
                                  format(Show::percent, v.late_probability, c.units)});
        }
        sheet.blocks.push_back(heading("Other ways to do the whole job"));
        sheet.blocks.push_back({table});
        sheet.blocks.push_back(paragraph("quote --variant 2 prints the second of these as the offer."));
    }
    if (c.plan->look_again.empty()) return;
    Table table;
    table.columns = {{"Another look"}, {"If"}, {"Adds", Align::right}, {"Or, if"}, {"Adds", Align::right}};
    for (const auto& item : c.plan->look_again) {
        const auto& run = c.plan->run_of(item);
        table.rows.push_back({run.defects[static_cast<std::size_t>(item.defect)].id, item.mended_if,
                              decimal_text(item.mended), item.beyond_if, decimal_text(item.beyond)});
    }
    sheet.blocks.push_back(heading("Places to look at again, both ways; neither is in the sum"));
    sheet.blocks.push_back({table});
}

void add_strength(const Context& c, Sheet& sheet) {
    Table table;
    table.title = "How far out the survey may be before the felt is too thin";
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

namespace {

/// How far another way to do the same work could be cheaper.
std::string proof_words(const Context& c) {
    const auto& whole = c.plan->whole;
    const auto but_for =
        whole.tried_only.empty() ? "" : fmt::format(" Tried, not proven: {}.", fmt::join(whole.tried_only, ", "));
    if (whole.proven_optimal) return "No other way to make these patches is cheaper (proven)." + but_for;
    const auto net = static_cast<double>(c.plan->offer.patch.net.in_cents());
    const auto most = static_cast<std::int64_t>(std::ceil(net * std::max(0.0, 1.0 - whole.bound_share)));
    return fmt::format("No other way to make these patches is cheaper by more than {}.{}",
                       format(Money::cents(most, c.yard().rates.currency)), but_for);
}

}  // namespace

namespace {

/// What is carted of the soil of those holes, as it fills the lorry.
std::string loose_soil(const Context& c, const price::DigWorks& works) {
    Volume sum{};
    for (const auto& pit : works.pits) sum += pit.spoil_loose;
    return show(c, Show::big_volume, sum);
}

}  // namespace

Sheet inside_sheet(const Context& c) { return inside_sheet(c, nullptr); }

Sheet inside_sheet(const Context& c, const whatif::WhatIf* whatif) {
    Sheet sheet;
    sheet.kind = "Estimator's view";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = "Not for the customer";
    add_money_banner(c, sheet);
    add_notes(c, sheet);
    if (c.plan->offer.bracket.ceiling.is_zero()) {
        sheet.blocks.push_back(paragraph(c.plan->offer.offered.lines.empty()
                                             ? "There is nothing to patch and nothing to dig, so there is no price."
                                             : "There is nothing to patch and nothing to dig: extras alone.",
                                         Emphasis::strong));
        add_reconciliation(c, sheet);
        add_other_plans(c, sheet);
        add_doubts(c, sheet);
        return sheet;
    }
    add_bracket(c, sheet);
    add_customer_note(c, sheet);
    add_reconciliation(c, sheet);
    add_ranges(c, sheet);
    const auto& offer = c.plan->offer;
    sheet.blocks.push_back(heading("Cost, line by line"));
    if (!offer.patching.lines.empty())
        sheet.blocks.push_back({build_up_table(c, offer.patching, "The patches", "Own price of the patches")});
    if (!offer.unavoidable_dig.lines.empty())
        sheet.blocks.push_back(
            {build_up_table(c, offer.unavoidable_dig, "The digs that cannot be avoided", "Own price of the digs")});
    sheet.blocks.push_back({build_up_table(c, offer.dig, "Others, digging the same places", "Ceiling")});
    if (!offer.dig_works.pits.empty())
        sheet.blocks.push_back(
            paragraph(fmt::format("Soil to cart away, loose on the lorry: {} when all is dug, {} of it as offered.",
                                  loose_soil(c, offer.dig_works), loose_soil(c, offer.unavoidable_works))));
    add_other_plans(c, sheet);
    if (whatif != nullptr) add_best_levers(c, *whatif, sheet);
    add_break_even(c, sheet);
    add_strength(c, sheet);
    if (!c.plan->layout.difference.empty()) sheet.blocks.push_back(paragraph(c.plan->layout.difference));
    if (!c.plan->patches.empty()) sheet.blocks.push_back(paragraph(proof_words(c)));
    add_doubts(c, sheet);
    return sheet;
}

}  // namespace patchwright::sheet
