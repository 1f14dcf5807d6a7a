#include <map>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "blocks.hpp"
#include "week_words.hpp"
#include "words.hpp"

/// One pick list and one cutting plan for the week.
namespace patchwright::sheet {
namespace {

using week::CrewDay;
using week::Visit;

void add_purchases(const WeekContext& c, Sheet& sheet) {
    if (c.week->purchases.empty()) {
        sheet.blocks.push_back(paragraph("Nothing has to be bought: resin and felt in the yard suffice for the week."));
        return;
    }
    Table table;
    table.title = "To buy, in the yard by the evening before";
    table.columns = {{"Needed on"}, {"Item"}, {"How much"}};
    for (const auto& item : c.week->purchases)
        table.rows.push_back({date_with_weekday(item.needed), item.item, item.quantity});
    sheet.blocks.push_back({std::move(table)});
}

std::string packers_text(const WeekContext& c, const CrewDay& day) {
    std::map<std::string, int> most;
    for (const Visit& visit : day.stops)
        for (const auto& use : plan::packer_use(address_of(c, visit).plan, visit.part))
            most[use.kind] = std::max(most[use.kind], use.at_once);
    std::string words;
    for (const auto& [kind, count] : most)
        words += fmt::format("{}{}{}", words.empty() ? "" : ", ", count > 1 ? fmt::format("{} x ", count) : "", kind);
    return words;
}

std::string resin_text(const WeekContext& c, const CrewDay& day) {
    std::map<int, std::pair<Mass, Mass>> sums;
    for (const Visit& visit : day.stops)
        for (const auto& batch : address_of(c, visit).plan.batches) {
            if (batch.day != visit.part) continue;
            auto& [a, b] = sums[batch.resin];
            a += batch.batch.part_a;
            b += batch.batch.part_b;
        }
    std::string words;
    for (const auto& [resin, parts] : sums)
        words += fmt::format(
            "{}{}: A {}, B {}", words.empty() ? "" : "; ", c.yard->resins[static_cast<std::size_t>(resin)].id,
            format(Show::big_mass, parts.first, c.units), format(Show::big_mass, parts.second, c.units));
    return words;
}

std::string felt_text(const WeekContext& c, const CrewDay& day) {
    std::map<int, int> pieces;
    for (const Visit& visit : day.stops) {
        const auto& plan = address_of(c, visit).plan;
        for (std::size_t p = 0; p < plan.patches.size(); ++p)
            if (plan.schedule.patches[p].day == visit.part)
                pieces[plan.patches[p].felt.felt] += static_cast<int>(plan.patches[p].cut.pieces.size());
    }
    std::string words;
    for (const auto& [felt, count] : pieces)
        words += fmt::format("{}{} of {}", words.empty() ? "" : ", ", count,
                             c.yard->felts[static_cast<std::size_t>(felt)].id);
    return words;
}

void add_loads(const WeekContext& c, Sheet& sheet) {
    Table table;
    table.title = "To load for each crew and day";
    table.columns = {{"Day"}, {"Crew"}, {"Jobs"}, {"Packers"}, {"Felt, pieces"}, {"Resin"}};
    for (const CrewDay& day : c.week->days) {
        std::vector<std::string> jobs;
        for (const Visit& visit : day.stops) jobs.push_back(address_of(c, visit).job.reference);
        table.rows.push_back({date_with_weekday(day.date), fmt::format("{}", day.crew),
                              fmt::format("{}", fmt::join(jobs, ", ")), packers_text(c, day), felt_text(c, day),
                              resin_text(c, day)});
    }
    sheet.blocks.push_back({std::move(table)});
}

}  // namespace

Sheet week_pick_list(const WeekContext& c) {
    Sheet sheet;
    sheet.kind = "Week's pick list";
    sheet.title = fmt::format("{}, to {}", c.yard->name, date_with_weekday(c.week->dates.back()));
    sheet.reference = date_with_weekday(c.week->dates.front());
    if (c.yard->demonstration) sheet.banners.push_back("Demonstration yard: invented resins and packers, not yours.");
    add_purchases(c, sheet);
    add_loads(c, sheet);
    sheet.blocks.push_back(paragraph("Spares, gear and boxes to tick stand on the day sheet of each stop."));
    plan::Plan felt;
    felt.job = std::make_shared<job::Job>(c.week->jobs.front().job);
    felt.yard = std::make_shared<job::Yard>(*c.yard);
    felt.cutting = c.week->cutting;
    add_cutting({&felt, c.units, c.drawings}, sheet);
    return sheet;
}

}  // namespace patchwright::sheet
