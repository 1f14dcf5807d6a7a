#include <algorithm>

#include <fmt/format.h>

#include "letter.hpp"
#include "recorded.hpp"
#include "words.hpp"

/// The customer's page after the work. Nothing here speaks of our limits, our files or our doubts.
namespace patchwright::sheet {
namespace {

/// Lies in the pipe and missed nothing that its quality hangs on.
bool stands(const record::Patch& built) { return built.in_pipe() && built.good(); }

/// The same day so many years on; of 29 February the 28th where there is none.
Date years_on(Date date, int years) {
    date.year += years;
    if (!parse_date(format(date))) date.day = 28;
    return date;
}

/// Day on which the last of the patches was finished.
std::optional<Date> finished(const Recorded& recorded) {
    std::optional<Date> last;
    for (const auto& built : recorded.built->patches) {
        if (!stands(built)) continue;
        const auto day = built.record->deflated_on ? built.record->deflated_on : built.date;
        if (day && (!last || *day > *last)) last = day;
    }
    return last;
}

void add_head(const Context& c, Sheet& sheet) {
    const auto& customer = c.job().customer;
    Fields to;
    to.columns = 1;
    const auto field = [&](const char* label, const std::string& value) {
        to.fields.push_back({label, one_line(value)});
    };
    field("Customer", customer.name);
    field("Address", customer.address);
    if (!customer.site_address.empty()) field("Site", customer.site_address);
    to.fields.push_back({"Our number", c.job().reference, Emphasis::strong});
    sheet.blocks.push_back({Columns{{{Block{std::move(to)}}, {Block{firm_fields(c)}}}, {0.55, 0.45}}});
}

void add_patches(const Context& c, const Recorded& recorded, Sheet& sheet) {
    const auto lies = as_lies(c, recorded);
    Table table;
    table.columns = {{"Patch"}, {"Drain"}, {"From"}, {"To"}, {"Bore"}, {"Liner thickness"}, {"Mends"}, {"Done on"}};
    std::vector<std::string> open;
    bool measured = true;
    for (const auto& built : recorded.built->patches) {
        const auto& p = lies.patches[built.patch];
        if (!stands(built)) {
            open.push_back(p.id);
            continue;
        }
        measured = measured && built.record->starts_at && built.record->ends_at;
        const auto& run = c.plan->run_of(p);
        table.rows.push_back({p.id, fmt::format("{}, from {}", run.id, run.from), show(c, Show::run_distance, p.start),
                              show(c, Show::run_distance, p.end), show(c, Show::tape, p.bore),
                              show(c, Show::thickness, p.felt.installed), defect_ids(c, p),
                              built.date ? format(*built.date) : ""});
    }
    std::sort(table.rows.begin(), table.rows.end());
    sheet.blocks.push_back(heading("What we have done"));
    if (!table.rows.empty()) {
        sheet.blocks.push_back({std::move(table)});
        sheet.blocks.push_back(paragraph(fmt::format(
            "A felt sleeve soaked with two-part resin was pressed against the damaged wall until it had hardened. The "
            "drain was filmed before and after; distances are those of the {}.",
            measured ? "film after" : "plan, or of the film after where they were read from it")));
    }
    if (open.empty()) return;
    std::sort(open.begin(), open.end());
    std::string list;
    for (const auto& id : open) list += (list.empty() ? "" : ", ") + id;
    sheet.blocks.push_back(
        paragraph(fmt::format("Not on this page until we have looked at it again: {}.", list), Emphasis::strong));
}

/// On a page of their own where the first has no room: they belong to what is guaranteed, and none is left out.
void add_pictures(const Context& c, const Recorded& recorded, Sheet& sheet) {
    if (!c.drawings || !finished(recorded)) return;
    sheet.blocks.push_back({PageBreak{true}});
    sheet.blocks.push_back(heading("Where they lie"));
    auto lies = as_lies(c, recorded);
    std::vector<plan::Patch> standing;
    for (const auto& built : recorded.built->patches)
        if (stands(built)) standing.push_back(lies.patches[built.patch]);
    lies.patches = std::move(standing);
    draw_runs(c, lies, false, sheet);
}

void add_passed_tests(const Recorded& recorded, Sheet& sheet) {
    Bullets list;
    for (const auto& test : recorded.built->tests) {
        if (test.verdict != record::Verdict::kept) continue;
        list.items.push_back(fmt::format("Drain {}: {}, passed{}", test.record->run, test_words(test.record->method),
                                         test.record->date ? " on " + format(*test.record->date) : ""));
    }
    if (list.items.empty()) return;
    sheet.blocks.push_back(heading("Tested"));
    sheet.blocks.push_back({std::move(list)});
}

void add_guarantee(const Context& c, const Recorded& recorded, Sheet& sheet) {
    const auto& firm = c.yard().firm;
    const auto from = finished(recorded);
    const int years = firm.guarantee_years.value_or(0);
    sheet.blocks.push_back(heading("Guarantee"));
    Fields fields;
    const auto field = [&](const char* label, const std::string& value) {
        fields.fields.push_back({label, value, Emphasis::strong});
    };
    field("Guaranteed from", from ? format(*from) : "");
    field("Until", from && years > 0 ? format(years_on(*from, years)) : "");
    sheet.blocks.push_back({std::move(fields)});
    if (!firm.guarantee.empty()) sheet.blocks.push_back(paragraph(firm.guarantee));
    // Where the firm says nothing of a guarantee, neither does the page: the lines are there to be filled in.
    if (years > 0 || !firm.guarantee.empty())
        sheet.blocks.push_back(paragraph(
            "We guarantee that the patches named above hold and stay tight. If one does not, tell us, and we come and "
            "look; what is ours to mend we mend at our cost. Your rights by law stay as they are."));
    // Common practice, no source.
    sheet.blocks.push_back(heading("What ends it for a patch", 2));
    sheet.blocks.push_back({Bullets{
        {"cleaning with chains, cutters or steel tools, or work on the pipe beside it without telling us first",
         "anything cut, drilled or fixed into it",
         "movement of the ground, digging, building or heavier traffic over the drain than when we worked",
         "solvents, acids, hot fat or water hotter than household waste water"}}});
    sheet.blocks.push_back(paragraph(
        "Show this page to whoever cleans or films the drain. Not guaranteed: the pipe between the patches, its "
        "fall, and what was there before us."));
}

}  // namespace

Sheet guarantee_sheet(const Context& c, const Recorded& recorded) {
    Sheet sheet;
    sheet.kind = "Guarantee";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = c.job().customer.name;
    sheet.compact = true;
    if (c.yard().demonstration) sheet.banners.emplace_back("demonstration firm, not yours");
    add_head(c, sheet);
    add_patches(c, recorded, sheet);
    add_passed_tests(recorded, sheet);
    if (finished(recorded)) add_guarantee(c, recorded, sheet);
    const auto& firm = c.yard().firm.name.empty() ? c.yard().name : c.yard().firm.name;
    sheet.blocks.push_back({Signature{{"For " + firm, "Date"}}});
    add_pictures(c, recorded, sheet);
    return sheet;
}

}  // namespace patchwright::sheet
