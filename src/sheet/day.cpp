#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "best_levers.hpp"
#include "blocks.hpp"
#include "day_parts.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

/// The sheets of the days. Front: who, where, when, what to load, the numbers, the order. Back: the cards.
namespace patchwright::sheet {
namespace {

Patches patches_of(const Context& c, int day) {
    Patches list;
    for (std::size_t i = 0; i < c.plan->patches.size(); ++i) {
        if (c.plan->schedule.patches[i].day == day) list.push_back(i);
    }
    return list;
}

/// A small picture of each run with its sleeves and marks; of more than two runs, two beside each other.
void add_runs(const Context& c, const Patches& patches, Sheet& sheet) {
    const auto runs = runs_of(c, patches);
    const bool half = runs.size() > 2;
    std::vector<Block> strips;
    for (const int run : runs)
        strips.push_back({Picture{drawn(c, [&] { return draw_run_small(c, run, patches, half); }), {}}});
    if (!half) return void(std::move(strips.begin(), strips.end(), std::back_inserter(sheet.blocks)));
    for (std::size_t i = 0; i < strips.size(); i += 2) {
        Columns row;
        row.columns.resize(2);
        for (std::size_t k = i; k < std::min(i + 2, strips.size()); ++k)
            row.columns[k - i].push_back(std::move(strips[k]));
        sheet.blocks.push_back({std::move(row)});
    }
}

/// What a packer passes on its way and what must stay open, run by run.
void add_fittings(const Context& c, const Patches& patches, Sheet& sheet) {
    Bullets list;
    for (const int place : runs_of(c, patches)) {
        const auto& run = c.job().runs[static_cast<std::size_t>(place)];
        std::string words;
        for (const auto& fitting : run.fittings) words += (words.empty() ? "" : "; ") + fitting_words(c, fitting);
        if (!words.empty()) list.items.push_back(fmt::format("In run {}, from {}: {}.", run.id, run.from, words));
    }
    if (!list.items.empty()) sheet.blocks.push_back({std::move(list)});
}

/// Each packer that must be built: sleeves of other lengths want other bladders.
void add_build_cards(const Context& c, int day, bool new_page, Sheet& sheet) {
    const auto builds = plan::builds_of_day(*c.plan, day);
    if (new_page && !builds.empty()) sheet.blocks.push_back({PageBreak{}});
    for (const auto& build : builds) sheet.blocks.push_back(build_card(c, build));
}

/// Two cards a row, four a page; the tables for what is measured on site under the last ones, if there is room: sleeves
/// that differ have a table each.
void add_cards(const Context& c, const Patches& patches, Sheet& sheet) {
    if (patches.empty()) return;
    sheet.blocks.push_back({PageBreak{}});
    if (patches.size() == 1) sheet.blocks.push_back(patch_card(c, patches.front(), false));
    for (std::size_t i = 0; patches.size() > 1 && i < patches.size(); i += 2) {
        if (i > 0 && i % 4 == 0) sheet.blocks.push_back({PageBreak{}});
        Columns row;
        for (std::size_t k = i; k < std::min(i + 2, patches.size()); ++k)
            row.columns.push_back(list_of<Block>(patch_card(c, patches[k], patches.size() > 2)));
        sheet.blocks.push_back({std::move(row)});
    }
    if (patches.size() > 2) sheet.blocks.push_back({PageBreak{true}});
    add_site_tables(c, patches, sheet);
}

Sheet day_sheet(const Context& c, int d) {
    const auto days = c.plan->schedule.days.size();
    Sheet sheet;
    sheet.kind = "Day sheet";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = c.on_the_way != nullptr ? c.on_the_way->subject
                    : days > 1              ? fmt::format("{}, day {} of {}", day_with_weekday(c, d), d + 1, days)
                                            : day_with_weekday(c, d);
    if (c.yard().demonstration) {
        sheet.banners.push_back(
            "Demonstration yard: invented resins and packers, not yours. Do not work from this sheet.");
    }
    sheet.compact = true;
    const auto patches = patches_of(c, d);
    // What does not fit the back: with three or four cards there is no room beside them.
    const bool crowded_back = patches.size() > 2;
    add_header(c, d, sheet);
    add_since_yesterday(c, d, sheet);
    add_load_list(c, patches, sheet);
    add_numbers(c, patches, sheet);
    add_order(c, d, patches, sheet);
    add_runs(c, patches, sheet);
    add_fittings(c, patches, sheet);
    add_water_and_mixes(c, d, patches, sheet);
    add_dangers(c, d, patches, sheet);
    // Nor do the remarks of many runs fit the front: they follow the tables.
    const bool many_runs = runs_of(c, patches).size() > 2;
    if (crowded_back) add_emergency(c, patches, sheet);
    if (crowded_back && !many_runs) add_remarks(c, d, patches, sheet);
    add_cards(c, patches, sheet);
    if (!crowded_back) add_emergency(c, patches, sheet);
    if (!crowded_back || many_runs) add_remarks(c, d, patches, sheet);
    if (c.morning != nullptr && d == 0) add_this_morning(c, *c.morning, sheet);
    if (!crowded_back) sheet.blocks.push_back({Signature{{"Crew lead", "Date"}}});
    add_build_cards(c, d, crowded_back, sheet);
    return sheet;
}

}  // namespace

std::vector<Sheet> day_sheets(const Context& c, std::optional<int> day) {
    std::vector<Sheet> sheets;
    const auto days = static_cast<int>(c.plan->schedule.days.size());
    if (days == 0) sheets.push_back(no_patch_sheet(c));
    for (int d = 0; d < days; ++d) {
        if (!day || *day == d) sheets.push_back(day_sheet(c, d));
    }
    // Once for the job, with its first day.
    if (!c.plan->patches.empty() && day.value_or(0) == 0) sheets.push_back(safety_sheet(c));
    return sheets;
}

}  // namespace patchwright::sheet
