#include "patchwright/sheet/whatif.hpp"

#include <algorithm>
#include <cstdlib>
#include <tuple>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "best_levers.hpp"
#include "blocks.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

using whatif::Alternative;
using whatif::Upshot;
using whatif::WhatIf;

bool tried(const WhatIf& w) { return !w.list.empty() && w.list.front().lever == whatif::Lever::tried; }

/// Places that wait for a longer day are in no price: a line of their own keeps sums from being misread.
bool any_waiting(const WhatIf& w) {
    return w.as_is.waiting > 0 ||
           std::any_of(w.list.begin(), w.list.end(), [](const auto& a) { return a.upshot.waiting > 0; });
}

std::string late_text(const Context& c, const Upshot& u) {
    return u.patches == 0 ? "-" : format(Show::percent, u.late_probability, c.units);
}

/// "an hour more: back at 18:30 (2 places more)".
std::string words_of(const Alternative& a) {
    if (a.places_more == 0) return a.words;
    const int places = std::abs(a.places_more);
    return fmt::format("{} ({} place{} {})", a.words, places, places == 1 ? "" : "s",
                       a.places_more > 0 ? "more" : "fewer");
}
std::string saves_text(const Alternative& a) { return a.saves ? decimal_text(*a.saves) : "-"; }

/// It would be the same job at the same price.
bool no_difference(const Upshot& a, const Upshot& b) {
    return a.own == b.own && a.days == b.days && a.patches == b.patches && a.digs == b.digs && a.waiting == b.waiting &&
           a.late_probability == b.late_probability;
}

Table table_of(const Context& c, const WhatIf& w, const std::vector<const Alternative*>& list, std::string title) {
    Table table;
    table.title = std::move(title);
    table.columns = {{"What"},
                     {"Days", Align::right},
                     {"Patches", Align::right},
                     {"Digs", Align::right},
                     {"Own price", Align::right},
                     {"Saves", Align::right},
                     {"Late", Align::right}};
    const auto row = [&](std::string words, const Upshot& u, std::string saves) {
        table.rows.push_back({std::move(words), fmt::format("{}", u.days), fmt::format("{}", u.patches),
                              fmt::format("{}", u.digs), decimal_text(u.own), std::move(saves), late_text(c, u)});
    };
    row("as it is", w.as_is, "");
    for (const auto* a : list) row(words_of(*a), a->upshot, saves_text(*a));
    return table;
}

std::string columns_text(const Context& c) {
    return fmt::format(
        "Each line is the whole job planned anew with that one thing changed. Own price and savings are net, in {}; "
        "below "
        "zero: it costs more. Late: the chance that some sleeve is not in place in time.",
        c.yard().rates.currency.code());
}

std::string conditioning_text(const Context& c) {
    return fmt::format("Cooling or warming resin, {} a patch, is in no price here.",
                       format(c.yard().conditioning.cost_per_patch));
}

void add_not_listed(const WhatIf& w, Sheet& sheet) {
    if (w.not_listed.empty()) return;
    sheet.blocks.push_back(heading("Not in the table"));
    Bullets bullets;
    for (const auto& item : w.not_listed) bullets.items.push_back(fmt::format("{}: {}", item.words, item.why));
    sheet.blocks.push_back({bullets});
}

void add_levers(const Context& c, const WhatIf& w, Sheet& sheet) {
    std::vector<const Alternative*> same, work;
    std::vector<std::string> idle;
    bool conditioned = false;
    for (const auto& a : w.list) {
        if (whatif::changes_work(a.lever))
            work.push_back(&a);
        else if (no_difference(a.upshot, w.as_is))
            idle.push_back(a.words);
        else
            same.push_back(&a);
        conditioned = conditioned || a.lever == whatif::Lever::resin_temperature;
    }
    sheet.blocks.push_back({table_of(c, w, same, "The same work, otherwise")});
    if (!idle.empty()) sheet.blocks.push_back(paragraph(fmt::format("No difference: {}.", fmt::join(idle, "; "))));
    sheet.blocks.push_back(paragraph(columns_text(c)));
    if (w.as_is.waiting > 0)
        sheet.blocks.push_back(
            paragraph(fmt::format("As it is, {} place{} to wait for a longer day or another resin, in no price: where "
                                  "more or fewer are done there is no "
                                  "saving to compare.",
                                  w.as_is.waiting, w.as_is.waiting == 1 ? " has" : "s have")));
    if (conditioned) sheet.blocks.push_back(paragraph(conditioning_text(c)));
    if (!work.empty()) {
        sheet.blocks.push_back({table_of(c, w, work, "Less work, or less known of it")});
        sheet.blocks.push_back(
            paragraph("A place without its size is one to look at again: what it then takes is in no price."));
    }
    add_not_listed(w, sheet);
}

/// Of all days: when the crew is home tells more of a change than a long list.
std::string back_text(const Upshot& u) {
    return u.back.empty() ? "-" : clock_text(*std::max_element(u.back.begin(), u.back.end()));
}

/// Plans as columns, so many beside the one as it is.
void add_side_by_side(const Context& c, const WhatIf& w, Sheet& sheet) {
    constexpr std::size_t beside = 3;
    std::vector<std::string> words;
    for (std::size_t i = 0; i < w.list.size(); ++i) words.push_back(fmt::format("{}: {}", i + 1, w.list[i].words));
    sheet.blocks.push_back({Bullets{words}});
    for (std::size_t first = 0; first < w.list.size(); first += beside) {
        const auto last = std::min(first + beside, w.list.size());
        Table table;
        table.columns = {{""}, {"As it is", Align::right}};
        for (auto i = first; i < last; ++i) table.columns.push_back({fmt::format("{}", i + 1), Align::right});
        const auto row = [&](const char* what, const auto& cell) {
            auto& cells = table.rows.emplace_back(std::vector<std::string>{what, cell(w.as_is)});
            for (auto i = first; i < last; ++i) cells.push_back(cell(w.list[i].upshot));
        };
        const auto count = [](int n) { return fmt::format("{}", n); };
        row("Days", [&](const Upshot& u) { return count(u.days); });
        row("Back at the latest", back_text);
        row("Patches", [&](const Upshot& u) { return count(u.patches); });
        row("Digs", [&](const Upshot& u) { return count(u.digs); });
        if (any_waiting(w)) row("Places not planned", [&](const Upshot& u) { return count(u.waiting); });
        row("Overtime, in all", [&](const Upshot& u) { return format(Show::span, u.overtime, c.units); });
        row("Helper, days", [&](const Upshot& u) { return count(u.helper_days); });
        row("Own price, net", [](const Upshot& u) { return decimal_text(u.own); });
        auto& saves = table.rows.emplace_back(std::vector<std::string>{"Saves", ""});
        for (auto i = first; i < last; ++i) saves.push_back(saves_text(w.list[i]));
        row("Chance late", [&](const Upshot& u) { return late_text(c, u); });
        sheet.blocks.push_back({table});
    }
    sheet.blocks.push_back(paragraph(fmt::format(
        "Each column is the whole job planned with that change. Amounts in {}; savings below zero: it costs "
        "more. Chance late: that some sleeve is not in place in time.",
        c.yard().rates.currency.code())));
    add_not_listed(w, sheet);
}

}  // namespace

void add_best_levers(const Context& c, const WhatIf& w, Sheet& sheet) {
    constexpr std::size_t most = 5;
    std::vector<const Alternative*> best;
    for (const auto& a : w.list) {
        const bool better = a.places_more > 0 || (a.saves && *a.saves > Money{});
        if (better && !whatif::changes_work(a.lever) && best.size() < most) best.push_back(&a);
    }
    sheet.blocks.push_back(heading("What would save most"));
    if (best.empty())
        sheet.blocks.push_back(
            paragraph("No longer day, helper, packer, resin or access that was tried saves anything."));
    else
        sheet.blocks.push_back({table_of(c, w, best, "")});
    if (std::any_of(best.begin(), best.end(),
                    [](const auto* a) { return a->lever == whatif::Lever::resin_temperature; }))
        sheet.blocks.push_back(paragraph(conditioning_text(c)));
    sheet.blocks.push_back(paragraph("patchwright whatif shows all that was tried, and tries more."));
}

void add_this_morning(const Context& c, const WhatIf& w, Sheet& sheet) {
    Table table;
    table.title = "Could still be changed this morning";
    table.columns = {
        {"What"}, {"Days", Align::right}, {"Back", Align::right}, {"Patches", Align::right}, {"Late", Align::right}};
    const auto row = [&](std::string words, const Upshot& u) {
        table.rows.push_back(
            {std::move(words), fmt::format("{}", u.days), back_text(u), fmt::format("{}", u.patches), late_text(c, u)});
    };
    const auto as_sheet = [&](const Upshot& u) { return std::tuple{u.days, back_text(u), u.patches, late_text(c, u)}; };
    const auto words = [](const Alternative& a) {
        return a.lever == whatif::Lever::helper ? std::string{"a helper for the day"} : words_of(a);
    };
    row("as this sheet says", w.as_is);
    std::vector<std::string> idle;
    for (const auto& a : w.list) {
        if (as_sheet(a.upshot) == as_sheet(w.as_is))
            idle.push_back(words(a));
        else
            row(words(a), a.upshot);
    }
    if (table.rows.size() > 1) {
        sheet.blocks.push_back({std::move(table)});
        sheet.blocks.push_back(paragraph(
            "Each line is the whole job planned anew. Back: in the yard, on the longest day. Late: the chance that "
            "some "
            "sleeve is not in place in time. Every limit on this sheet changes with it: have it printed anew first."));
    } else {
        sheet.blocks.push_back(heading(table.title));
    }
    if (!idle.empty()) sheet.blocks.push_back(paragraph(fmt::format("No difference: {}.", fmt::join(idle, "; "))));
}

Sheet whatif_sheet(const Context& c, const WhatIf& w) {
    Sheet sheet;
    sheet.kind = "What would change the job";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = "Not for the customer";
    add_money_banner(c, sheet);
    if (tried(w))
        add_side_by_side(c, w, sheet);
    else
        add_levers(c, w, sheet);
    return sheet;
}

}  // namespace patchwright::sheet
