#include <algorithm>

#include <fmt/format.h>

#include "canvas.hpp"
#include "week_words.hpp"
#include "words.hpp"

/// The week as bars: a row for each crew and day.
namespace patchwright::sheet {
namespace {

constexpr double week_plot_left = 26.0, week_plot_right = 177.5;
constexpr double row_height = 7.6, bar_height = 5.2;

struct Axis {
    int from = 0, to = 60;  ///< minutes
    double x(int minute) const {
        return week_plot_left +
               (week_plot_right - week_plot_left) * static_cast<double>(minute - from) / static_cast<double>(to - from);
    }
};

Axis axis_of(const week::Week& week) {
    Axis axis{1 << 30, 0};
    for (const auto& day : week.days) {
        axis.from = std::min(axis.from, day.leave);
        axis.to = std::max(axis.to, day.back);
    }
    axis.from = axis.from / 30 * 30;
    axis.to = std::max(axis.from + 60, (axis.to + 29) / 30 * 30);
    return axis;
}

void add_hours(Canvas& canvas, const Axis& axis, double top, double bottom) {
    for (int minute = (axis.from + 59) / 60 * 60; minute <= axis.to; minute += 60) {
        const double x = axis.x(minute);
        canvas.line({x, top}, {x, bottom}, 0.15, Ink::mid);
        canvas.text({x, top - 1.0}, clock_text(minute), 2.4, 0);
    }
}

void add_row(Canvas& canvas, const WeekContext& c, const Axis& axis, const week::CrewDay& day, double y) {
    const double top = y + (row_height - bar_height) / 2;
    const auto bar = [&](int from, int to, double inset, const Polygon& style) {
        if (to > from)
            canvas.rectangle(axis.x(from), top + inset, axis.x(to) - axis.x(from), bar_height - 2 * inset, style);
    };
    int now = day.leave;
    for (const auto& visit : day.stops) {
        bar(now, now + visit.drive, 1.5, filled(Ink::white, 0.3));
        if (visit.wait > 0) bar(now + visit.drive, visit.arrive, 1.5, hatched(Hatch::dots, Ink::mid, 0.2));
        bar(visit.arrive, visit.leave, 0, filled(Ink::light, 0.35));
        const double x0 = axis.x(visit.arrive), x1 = axis.x(visit.leave);
        const auto name = fitted(address_of(c, visit).job.reference, 2.8, x1 - x0 - 1.5, true);
        canvas.text({(x0 + x1) / 2, top + bar_height / 2 + 1.0}, name, 2.8, 0, true);
        now = visit.leave;
    }
    bar(now, day.back, 1.5, filled(Ink::white, 0.3));
    if (day.overtime > 0) bar(day.back - day.overtime, day.back, 1.5, hatched(Hatch::crossed, Ink::dark, 0.2));
}

double add_key(Canvas& canvas, double y, bool waits, bool overtime) {
    double x = week_plot_left;
    const auto entry = [&](const char* words, const Polygon& style) {
        canvas.rectangle(x, y, 5.0, 2.6, style);
        canvas.text({x + 6.2, y + 2.2}, words, 2.4);
        x += 9.5 + label_width(words, 2.4);
    };
    entry("on site", filled(Ink::light, 0.35));
    entry("driving", filled(Ink::white, 0.3));
    if (waits) entry("waiting until somebody is there", hatched(Hatch::dots, Ink::mid, 0.2));
    if (overtime) entry("overtime", hatched(Hatch::crossed, Ink::dark, 0.2));
    return y + 3.6;
}

}  // namespace

Drawing draw_week(const WeekContext& c) {
    const auto& days = c.week->days;
    Canvas canvas{"week", "The week at a glance", paper_width, 20};
    const Axis axis = axis_of(*c.week);
    const double top = 4.5;
    const double bottom = top + static_cast<double>(days.size()) * row_height;
    add_hours(canvas, axis, top, bottom);
    double y = top;
    bool waits = false, overtime = false;
    const Date* date = nullptr;
    for (const auto& day : days) {
        const bool new_date = date == nullptr || *date != day.date;
        if (new_date) {
            canvas.line({0, y}, {paper_width, y}, 0.3);
            canvas.text({0, y + 4.8},
                        fmt::format("{:.3} {:02}-{:02}", weekday_name(weekday(day.date)), day.date.month, day.date.day),
                        2.8, -1, true);
        }
        date = &day.date;
        canvas.text({week_plot_left - 2.0, y + 4.8}, fmt::format("{}", day.crew), 2.8, 1);
        add_row(canvas, c, axis, day, y);
        overtime = overtime || day.overtime > 0;
        for (const auto& visit : day.stops) waits = waits || visit.wait > 0;
        y += row_height;
    }
    canvas.line({0, y}, {paper_width, y}, 0.3);
    canvas.text({week_plot_left - 4.5, top - 1.0}, "crew", 2.4, 1);
    y = add_key(canvas, bottom + 1.4, waits, overtime);
    canvas.set_height(y + 0.4);
    return canvas.take();
}

}  // namespace patchwright::sheet
