#include "blocks.hpp"

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "words.hpp"

namespace patchwright::sheet {

void add_notes(const Context& c, Sheet& sheet) {
    std::string words;
    for (const auto& note : c.job().notes) words += (words.empty() ? "Note: " : "  Note: ") + note;
    if (!words.empty()) sheet.blocks.push_back(paragraph(std::move(words), Emphasis::strong));
}

void add_customer_note(const Context& c, Sheet& sheet) {
    if (!c.job().dig.customer_note.empty()) sheet.blocks.push_back(paragraph(c.job().dig.customer_note));
}

void add_doubts(const Context& c, Sheet& sheet) {
    if (!c.plan->warnings.empty()) {
        sheet.blocks.push_back(heading("Warnings"));
        sheet.blocks.push_back({Bullets{c.plan->warnings}});
    }
    if (!c.plan->assumptions.empty()) {
        sheet.blocks.push_back(heading("Assumed (not given)"));
        sheet.blocks.push_back({Bullets{assumption_lines(c.plan->assumptions)}});
    }
}

void add_money_banner(const Context& c, Sheet& sheet) {
    if (c.yard().demonstration) sheet.banners.push_back("demonstration prices, not yours");
}

price::Line in_units(const Context& c, price::Line line) {
    if (c.units != UnitSystem::us) return line;
    const auto to = [&](const char* word, double each) {
        line.unit = word;
        line.quantity *= each;
        line.rate = scaled(line.rate, 1.0 / each);
    };
    if (line.unit == "kg")
        to("lb", unit::kg / unit::lb);
    else if (line.unit == "m")
        to("ft", unit::m / unit::ft);
    return line;
}

std::string person_name(const Context& c, int day, int crew, int lane) {
    const auto& tasks = c.plan->schedule.days[static_cast<std::size_t>(day)].tasks;
    const bool several = std::any_of(tasks.begin(), tasks.end(), [](const auto& task) { return task.crew > 0; });
    return several ? fmt::format("crew {}, {}", crew + 1, lane) : fmt::format("person {}", lane);
}

std::string day_chart(const Context& c, int day) {
    const auto& tasks = c.plan->schedule.days[static_cast<std::size_t>(day)].tasks;
    if (tasks.empty()) return {};
    int first = tasks.front().start, last = 0;
    for (const auto& t : tasks) {
        first = std::min(first, t.start);
        last = std::max(last, t.finish);
    }
    first = first / 60 * 60;
    constexpr int width = 62;
    const int step = std::max(10, ((last - first) / width + 9) / 5 * 5);  // minutes a character
    const auto place = [&](int minute) { return static_cast<std::size_t>((minute - first) / step); };
    const auto columns = place(last) + 1;
    const auto letter = [](schedule::What w) {
        switch (w) {
            case schedule::What::travel:
                return '>';
            case schedule::What::wet_out:
                return 'W';
            case schedule::What::load:
                return 'L';
            case schedule::What::position:
                return 'P';
            case schedule::What::inflate:
                return 'I';
            case schedule::What::crease:
                return 'K';
            case schedule::What::cure:
                return '.';
            case schedule::What::let_down:
                return 'D';
            default:
                return 'o';
        }
    };
    std::map<std::string, std::string> rows;
    std::vector<std::string> order;
    const auto paint = [&](const std::string& row, const schedule::Task& t) {
        const auto [known, fresh] = rows.try_emplace(row, columns, ' ');
        if (fresh) order.push_back(row);
        auto& bars = known->second;
        for (auto at = place(t.start); at <= place(std::max(t.start, t.finish - 1)); ++at) bars[at] = letter(t.what);
    };
    for (const auto& t : tasks) {
        for (const int lane : t.lanes) paint(person_name(c, day, t.crew, lane), t);
    }
    std::sort(order.begin(), order.end());
    for (const auto& t : tasks) {
        if (t.patch) paint(c.plan->patches[static_cast<std::size_t>(*t.patch)].id, t);
    }
    std::string hours(columns + 6, ' ');
    for (int minute = first; minute <= last; minute += 60) {
        if (step > 30 && (minute - first) % 120 != 0) continue;
        hours.replace(place(minute), 2, fmt::format("{:02}", minute / 60 % 24));
    }
    std::string chart = fmt::format("{:<10}{}\n", "hour", hours.substr(0, hours.find_last_not_of(' ') + 1));
    for (const auto& row : order) {
        auto bars = rows[row];
        bars.erase(bars.find_last_not_of(' ') + 1);
        chart += fmt::format("{:<10}{}\n", row, bars);
    }
    chart += fmt::format(
        "{:<10}W wet-out  L load  P position  I inflate  K wrinkle check  . cure  D deflate  o other  > travel", "");
    return chart;
}

}  // namespace patchwright::sheet
