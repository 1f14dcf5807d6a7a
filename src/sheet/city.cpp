// The city's survey on one page.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "city_words.hpp"
#include "patchwright/units/format.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

using city::Fate;
using city::Summary;
using city::WorstBy;

std::string number(std::int64_t count) {
    std::string digits = fmt::format("{}", count);
    for (std::size_t at = digits.size(); at > 3; at -= 3) digits.insert(at - 3, ",");
    return digits;
}
std::string share(std::int64_t part, std::int64_t whole) {
    return whole > 0 ? fmt::format("{:.1f} %", 100.0 * static_cast<double>(part) / static_cast<double>(whole)) : "";
}

Block jobs_table(const Summary& city) {
    Table table;
    table.title = "Jobs, each under the first row that fits";
    table.columns = {{"What becomes of them"}, {"Jobs", Align::right}, {"Share", Align::right}};
    for (std::size_t f = 0; f < city::fates; ++f)
        table.rows.push_back({std::string{fate_words(static_cast<Fate>(f))}, number(city.by_fate[f]),
                              share(city.by_fate[f], city.jobs)});
    table.total_rows = {table.rows.size()};
    table.rows.push_back({"Total", number(city.jobs), ""});
    return {std::move(table)};
}

Block places_table(const Summary& city) {
    std::int64_t all = 0;
    for (const auto count : city.by_verdict) all += count;
    Table table;
    table.title = "Places";
    table.columns = {{"Verdict"}, {"Places", Align::right}, {"Share", Align::right}};
    for (std::size_t r = 0; r < city::verdicts; ++r)
        table.rows.push_back({std::string{survey::word(static_cast<survey::Verdict>(r))}, number(city.by_verdict[r]),
                              share(city.by_verdict[r], all)});
    table.total_rows = {table.rows.size()};
    table.rows.push_back({"Total", number(all), ""});
    return {std::move(table)};
}

Block days_table(const Summary& city) {
    Table table;
    table.title = "Days on site, each job by itself";
    table.columns = {{"Days a job"}, {"Jobs", Align::right}, {"Days", Align::right}};
    for (const auto& [days, jobs] : city.by_days)
        table.rows.push_back({fmt::format("{}", days), number(jobs), number(days * jobs)});
    table.total_rows = {table.rows.size()};
    table.rows.push_back({"Total", "", number(city.days)});
    return {std::move(table)};
}

/// An amount where the currency stands in the title.
std::string bare(Money amount) {
    const std::string text = format(amount);
    return text.substr(0, text.find(' '));
}

void add_money(const Summary& city, Sheet& sheet) {
    for (const auto& [currency, letters] : city.money) {
        Table table;
        table.title = fmt::format("Money, net, {}", currency);
        table.columns = {{"Letter"},
                         {"Jobs", Align::right},
                         {"Our cost", Align::right},
                         {"With profit", Align::right},
                         {"Offered", Align::right},
                         {"Digging instead", Align::right}};
        for (std::size_t l = 0; l < city::letters; ++l) {
            const auto& total = letters[l];
            if (total.jobs == 0) continue;
            const bool advice = static_cast<city::Letter>(l) == city::Letter::advice;
            table.rows.push_back({std::string{city::word(static_cast<city::Letter>(l))}, number(total.jobs),
                                  bare(total.floor), bare(total.own), advice ? "none" : bare(total.offered),
                                  bare(total.ceiling)});
        }
        sheet.blocks.push_back({std::move(table)});
    }
}

void add_worst(const Summary& city, Sheet& sheet) {
    Table table;
    table.title = "Worst jobs";
    table.columns = {{"By"}, {"Reference"}, {"Title"}, {"Figure", Align::right}};
    for (std::size_t by = 0; by < city::ways_worst; ++by) {
        for (const auto& plan : city.worst[by]) {
            const auto figure = worst_figure(static_cast<WorstBy>(by), plan);
            const bool first = &plan == &city.worst[by].front();
            table.rows.push_back({first ? std::string{worst_words(static_cast<WorstBy>(by))} : "", plan.reference,
                                  plan.title,
                                  static_cast<WorstBy>(by) == WorstBy::price  ? format(city::price_of(plan))
                                  : static_cast<WorstBy>(by) == WorstBy::late ? one_in(plan.late)
                                                                              : figure.value + " " + figure.unit});
        }
    }
    if (!table.rows.empty()) sheet.blocks.push_back({std::move(table)});
}

void add_unread(const Summary& city, Sheet& sheet) {
    if (city.unread.empty()) return;
    Table table;
    const auto all = city.by_fate[static_cast<std::size_t>(Fate::unread)];
    table.title = fmt::format("Could not be read: the first {} of {}", city.unread.size(), number(all));
    table.columns = {{"Line", Align::right}, {"What is wrong"}};
    for (const auto& line : city.unread) table.rows.push_back({fmt::format("{}", line.line), line.error});
    sheet.blocks.push_back({std::move(table)});
}

void add_doubts(const Summary& city, Sheet& sheet) {
    Bullets doubts;
    if (city.repeated > 0)
        doubts.items.push_back(fmt::format("{} plan{} a reference that stood before, first {}: counted each time.",
                                           number(city.repeated), city.repeated == 1 ? " bears" : "s bear",
                                           city.first_repeated));
    if (city.yards.size() > 1)
        doubts.items.push_back(
            fmt::format("Planned with {} yards: {}.", city.yards.size(), fmt::join(city.yards, "; ")));
    doubts.items.push_back(
        fmt::format("By their chances, {:.1f} jobs will have a sleeve that is not in place in time, {:.1f} one that is "
                    "soft when it is deflated.",
                    city.late, city.soft));
    doubts.items.push_back(
        "Days and money are those of each job by itself; several addresses on a day are what \"patchwright week\" "
        "plans.");
    sheet.blocks.push_back({std::move(doubts)});
}

}  // namespace

Sheet city_sheet(const Summary& city) {
    Sheet sheet;
    sheet.kind = "City";
    sheet.title = city.yards.empty() ? "" : *city.yards.begin();
    sheet.subject = fmt::format("{} job{}", number(city.jobs), city.jobs == 1 ? "" : "s");
    sheet.compact = true;
    if (city.demonstration) sheet.banners.push_back("demonstration prices, not yours");
    Fields fields;
    fields.columns = 4;
    fields.fields = {
        {"Patches", number(city.patches), Emphasis::strong},
        {"Patch, under other conditions", number(city.too_long)},
        {"Places to dig", number(city.by_verdict[static_cast<std::size_t>(survey::Verdict::dig)]), Emphasis::strong},
        {"Days", number(city.days), Emphasis::strong}};
    sheet.blocks.push_back({std::move(fields)});
    Columns beside;
    beside.columns = {{jobs_table(city)}, {places_table(city)}};
    sheet.blocks.push_back({std::move(beside)});
    add_money(city, sheet);
    if (!city.by_days.empty()) sheet.blocks.push_back(days_table(city));
    add_worst(city, sheet);
    add_unread(city, sheet);
    add_doubts(city, sheet);
    return sheet;
}

}  // namespace patchwright::sheet
