#include <algorithm>
#include <map>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "blocks.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "week_words.hpp"
#include "words.hpp"

/// The week on paper.
namespace patchwright::sheet {
namespace {

using week::CrewDay;
using week::Visit;

Sheet started(const WeekContext& c, std::string kind, std::string subject) {
    Sheet sheet;
    sheet.kind = std::move(kind);
    const auto& dates = c.week->dates;
    sheet.title = fmt::format("{}, to {}", c.yard->name, date_with_weekday(dates.back()));
    sheet.reference = date_with_weekday(dates.front());
    sheet.subject = std::move(subject);
    return sheet;
}

/// The day as text: a letter for every quarter of an hour or so.
std::string text_bars(const WeekContext& c) {
    if (c.week->days.empty()) return {};
    int first = 24 * 60, last = 0;
    for (const CrewDay& day : c.week->days) {
        first = std::min(first, day.leave / 60 * 60);
        last = std::max(last, day.back);
    }
    const int step = std::max(10, ((last - first) / 56 + 4) / 5 * 5);
    const auto place = [&](int minute) { return static_cast<std::size_t>((minute - first) / step); };
    std::string hours(place(last) + 4, ' ');
    for (int minute = first; minute <= last; minute += 60)
        hours.replace(place(minute), 2, fmt::format("{:02}", minute / 60 % 24));
    std::string chart = fmt::format("{:<17}{}\n", "hour", hours.substr(0, hours.find_last_not_of(' ') + 1));
    for (const CrewDay& day : c.week->days) {
        std::string bars(place(last) + 1, ' ');
        const auto paint = [&](int from, int to, char letter) {
            for (auto at = place(from); at <= place(std::max(from, to - 1)); ++at) bars[at] = letter;
        };
        paint(day.leave, day.back, '>');
        char letter = 'A';
        for (const Visit& visit : day.stops) {
            if (visit.wait > 0) paint(visit.arrive - visit.wait, visit.arrive, '-');
            paint(visit.arrive, visit.leave, letter++);
        }
        bars.erase(bars.find_last_not_of(' ') + 1);
        chart += fmt::format("{:.3} {:02}-{:02}, crew {:<2}{}\n", weekday_name(weekday(day.date)), day.date.month,
                             day.date.day, day.crew, bars);
    }
    return chart + "A first stop, B second, ...  > driving  - waiting";
}

void add_day(const WeekContext& c, const CrewDay& day, Table& table) {
    const auto row = [&](std::string what, std::string arrive, std::string leave, std::string detail) {
        table.rows.push_back({table.rows.empty() || what == "Yard, out" ? fmt::format("{}", day.crew) : "",
                              std::move(what), std::move(arrive), std::move(leave), std::move(detail)});
    };
    row("Yard, out", "", clock_text(day.leave),
        day.helpers > 0 ? fmt::format("{} helper{} along", day.helpers, day.helpers == 1 ? "" : "s") : "");
    for (const Visit& visit : day.stops) {
        const auto& job = address_of(c, visit).job;
        std::string detail = site_of(job);
        detail += (detail.empty() ? "" : ". ") + patches_text(c, visit);
        if (job.site.window)
            detail +=
                fmt::format(". Somebody is there {} to {}", format(job.site.window->from), format(job.site.window->to));
        if (visit.wait > 0) detail += fmt::format(". {} of waiting before", span_text(c, visit.wait));
        row(stop_name(c, visit), clock_text(visit.arrive), clock_text(visit.leave), std::move(detail));
    }
    std::string note = fmt::format("driving {}", span_text(c, day.drive));
    if (day.overtime > 0) note += fmt::format(", overtime {}", span_text(c, day.overtime));
    row("Yard, back", clock_text(day.back), "", std::move(note));
}

void add_days(const WeekContext& c, Sheet& sheet) {
    for (const Date date : c.week->dates) {
        Table table;
        table.title = date_with_weekday(date);
        table.columns = {{"Crew"}, {"Stop"}, {"Arrive", Align::right}, {"Leave", Align::right}, {"Where, what"}};
        for (const CrewDay& day : c.week->days)
            if (day.date == date) add_day(c, day, table);
        if (!table.rows.empty()) sheet.blocks.push_back({std::move(table)});
    }
}

std::string kept_text(const std::optional<week::KeptStop>& stop, const char* none) {
    if (!stop) return none;
    return fmt::format("{} {}, crew {}", date_with_weekday(stop->date), clock_text(stop->arrive), stop->crew);
}

void add_moves(const WeekContext& c, Sheet& sheet) {
    if (c.week->moves.empty()) return;
    Table table;
    table.title = "What is not as it was given out";
    table.columns = {{"Job"}, {"Was"}, {"Is now"}};
    for (const auto& move : c.week->moves)
        table.rows.push_back({move.part > 0 ? fmt::format("{} (day {})", move.job, move.part + 1) : move.job,
                              kept_text(move.was, "new"), kept_text(move.now, "NO PLACE: tell them")});
    sheet.blocks.push_back({std::move(table)});
}

void add_left_out(const WeekContext& c, Sheet& sheet) {
    Table table;
    table.title = "Without a place";
    table.columns = {{"Job"}, {"Title"}, {"Why"}};
    for (const auto& address : c.week->jobs)
        if (!address.left_out.empty())
            table.rows.push_back({address.job.reference, address.job.title, address.left_out});
    if (!table.rows.empty()) sheet.blocks.push_back({std::move(table)});
}

void add_words(const WeekContext& c, Sheet& sheet) {
    Bullets bullets;
    for (const auto& words : c.week->warnings) bullets.items.push_back(words);
    for (const auto& assumption : c.week->assumptions) bullets.items.push_back(assumption_text(assumption));
    if (bullets.items.empty()) return;
    sheet.blocks.push_back(heading("What this rests on"));
    sheet.blocks.push_back({std::move(bullets)});
}

Sheet page(const WeekContext& c) {
    const auto& week = *c.week;
    const auto placed =
        std::count_if(week.jobs.begin(), week.jobs.end(), [](const auto& a) { return a.left_out.empty(); });
    Sheet sheet = started(c, "Week",
                          fmt::format("{} job{}, {} crew{}", week.jobs.size(), week.jobs.size() == 1 ? "" : "s",
                                      week.crews, week.crews == 1 ? "" : "s"));
    if (c.yard->demonstration) sheet.banners.push_back("Demonstration yard: invented resins and packers, not yours.");
    Fields fields;
    fields.columns = 4;
    fields.fields = {{"Crew-days", fmt::format("{}", week.days.size()), Emphasis::strong},
                     {"Jobs with a place", fmt::format("{} of {}", placed, week.jobs.size()), Emphasis::strong},
                     {"Driving", span_text(c, week.drive)},
                     {"Overtime", span_text(c, week.overtime)}};
    sheet.blocks.push_back({std::move(fields)});
    if (!week.days.empty()) {
        auto picture = c.drawings ? std::make_shared<const Drawing>(draw_week(c)) : nullptr;
        sheet.blocks.push_back({Picture{std::move(picture), text_bars(c)}});
    }
    add_moves(c, sheet);
    add_left_out(c, sheet);
    add_days(c, sheet);
    if (!week.days.empty()) sheet.blocks.push_back(paragraph(proof_text(c)));
    add_words(c, sheet);
    return sheet;
}

Sheet cost_page(const WeekContext& c) {
    Sheet sheet = started(c, "What shared visits save", "Not for the customer");
    if (c.yard->demonstration) sheet.banners.push_back("Demonstration prices, not yours.");
    Table table;
    table.columns = {{"Job"},
                     {"Own visit", Align::right},
                     {"Shared", Align::right},
                     {"Saves", Align::right},
                     {"Offer", Align::right}};
    if (c.shared) table.columns.push_back({"Offer, sharing it", Align::right});
    Money alone, shared, offered, with;
    const auto row = [&](const std::string& name, Money a, Money s, Money o, Money w) {
        auto& cells = table.rows.emplace_back(
            std::vector<std::string>{name, decimal_text(a), decimal_text(s), decimal_text(a - s), decimal_text(o)});
        if (c.shared) cells.push_back(decimal_text(w));
    };
    for (const auto& address : c.week->jobs) {
        if (!address.cost) continue;
        const auto& cost = *address.cost;
        row(address.job.reference, cost.alone, cost.shared, cost.offered, shared_offer(c, cost));
        alone += cost.alone;
        shared += cost.shared;
        offered += cost.offered;
        with += shared_offer(c, cost);
    }
    if (table.rows.empty()) return sheet;
    table.total_rows = {table.rows.size()};
    row("All", alone, shared, offered, with);
    sheet.blocks.push_back({std::move(table)});
    sheet.blocks.push_back(paragraph(fmt::format(
        "Own price of the patches, net, in {}: with a visit of its own, and with its part of the day as the week has "
        "it. The road is shared by what each job would drive alone, vehicle, plant and overtime by the time that each "
        "takes. {}",
        c.yard->rates.currency.code(),
        c.shared
            ? fmt::format("The last column takes {:.0f} % of the saving off the offer, which is not rounded again.",
                          100.0 * c.shared->as_double())
            : std::string{"The offers stay as they are; --share takes a part of the saving off them."})));
    return sheet;
}

}  // namespace

std::vector<Sheet> week_sheets(const WeekContext& c) {
    std::vector<Sheet> sheets{page(c)};
    if (c.week->days.empty()) return sheets;
    sheets.push_back(week_pick_list(c));
    if (std::any_of(c.week->jobs.begin(), c.week->jobs.end(), [](const auto& a) { return a.cost.has_value(); }))
        sheets.push_back(cost_page(c));
    return sheets;
}

std::vector<Sheet> crew_day_sheets(const WeekContext& c, const week::CrewDay& day) {
    std::vector<Sheet> sheets;
    for (std::size_t k = 0; k < day.stops.size(); ++k) {
        const Visit& visit = day.stops[k];
        const auto& address = address_of(c, visit);
        const auto part = static_cast<std::size_t>(visit.part);
        const OnTheWay way{
            address.before[part], address.after[part],
            fmt::format("{}, crew {}, {} of {}", date_with_weekday(day.date), day.crew, k + 1, day.stops.size()),
            k == 0, k + 1 == day.stops.size()};
        plan::Plan there = address.plan;
        there.job = std::make_shared<job::Job>(address.visits[part]);
        Context context{&there, c.units, c.drawings};
        context.on_the_way = &way;
        for (auto& sheet : day_sheets(context, visit.part)) sheets.push_back(std::move(sheet));
    }
    return sheets;
}

}  // namespace patchwright::sheet
