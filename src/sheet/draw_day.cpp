#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "blocks.hpp"
#include "canvas.hpp"
#include "words.hpp"

/// The day as bars: a row for each person, a row for each patch with its two hard times.
namespace patchwright::sheet {
namespace {

constexpr double day_plot_left = 20.0, day_plot_right = 177.5;
constexpr double crew_row = 6.8, patch_row = 8.0, bar = 3.8;

struct Axis {
    int from = 0, to = 60;  ///< minutes
    double x(int minute) const {
        return day_plot_left +
               (day_plot_right - day_plot_left) * static_cast<double>(minute - from) / static_cast<double>(to - from);
    }
};

/// Work, waiting and travel differ in hatch, not only in grey.
Polygon style_of(schedule::What what) {
    switch (what) {
        case schedule::What::travel:
            return filled(Ink::white, 0.3);
        case schedule::What::cure: {
            auto style = hatched(Hatch::slanted, Ink::dark, 0.3);
            style.filled = true;
            style.fill = Ink::white;
            return style;
        }
        case schedule::What::wet_out:
        case schedule::What::load:
        case schedule::What::position:
        case schedule::What::inflate:
        case schedule::What::crease:
            return filled(Ink::dark, 0.3);
        default:
            return filled(Ink::light, 0.3);
    }
}

bool is_wet(schedule::What what) {
    return what == schedule::What::wet_out || what == schedule::What::load || what == schedule::What::position ||
           what == schedule::What::inflate || what == schedule::What::crease;
}

void add_bar(Canvas& canvas, const Axis& axis, const schedule::Task& task, double y, bool named) {
    const double x0 = axis.x(task.start), x1 = std::max(axis.x(task.finish), x0 + 0.25);
    canvas.rectangle(x0, y, x1 - x0, bar, style_of(task.what));
    if (task.critical && named) canvas.line({x0, y + bar + 0.5}, {x1, y + bar + 0.5}, 0.7);
    if (!named) return;
    const auto words = std::string{schedule::word(task.what)};
    const double size = 2.3;
    if (label_width(words, size) + 1.0 > x1 - x0) return;
    canvas.text({(x0 + x1) / 2, y + bar * 0.5 + size * 0.36}, words, size, 0, false, task.what == schedule::What::cure,
                is_wet(task.what) ? Ink::white : Ink::black);
}

void add_hours(Canvas& canvas, const Axis& axis, double top, double bottom) {
    const int hours = (axis.to - axis.from) / 60;
    const int step = hours > 14 ? 120 : 60;
    for (int minute = axis.from; minute <= axis.to; minute += 30) {
        const bool whole = minute % step == 0;
        const double x = axis.x(minute);
        canvas.line({x, top}, {x, bottom}, whole ? 0.2 : 0.12, Ink::mid, whole ? Dash::solid : Dash::dotted);
        if (whole) canvas.text({x, top - 1.0}, clock_text(minute), 2.4, 0);
    }
}

/// A flag on a bar: a triangle that points at the minute, and the time.
void add_mark(Canvas& canvas, double x, double bar_top, const std::string& words, bool to_left, bool solid) {
    canvas.polygon({{x - 1.1, bar_top - 2.2}, {x + 1.1, bar_top - 2.2}, {x, bar_top - 0.2}},
                   filled(solid ? Ink::black : Ink::white, 0.3));
    canvas.line({x, bar_top - 0.2}, {x, bar_top + bar}, 0.5);
    canvas.text({to_left ? x - 1.7 : x + 1.7, bar_top - 0.8}, words, 2.5, to_left ? 1 : -1, true, true);
}

void add_patch_row(Canvas& canvas, const Context& c, const Axis& axis, const std::vector<schedule::Task>& tasks,
                   int patch, double y) {
    const auto& times = c.plan->schedule.patches[static_cast<std::size_t>(patch)];
    const double bar_top = y + patch_row - bar - 0.9;
    canvas.text({0, bar_top + 3.2}, short_name(c.plan->patches[static_cast<std::size_t>(patch)].id, 9), 2.8, -1, true);
    for (const auto& task : tasks) {
        if (task.patch == patch &&
            (is_wet(task.what) || task.what == schedule::What::cure || task.what == schedule::What::let_down)) {
            add_bar(canvas, axis, task, bar_top, false);
        }
    }
    const auto by = fmt::format("inflate by {}", clock_text(times.inflate_by));
    const auto down = fmt::format("deflate {}", clock_text(times.let_down));
    const double x_by = axis.x(std::min(times.inflate_by, axis.to)), x_down = axis.x(std::min(times.let_down, axis.to));
    const bool by_left = x_by - label_width(by, 2.5, true) > day_plot_left - 2.0;
    // Both read outwards from the cure between them; at the left edge the first turns inwards if there is room.
    const bool room = x_down - x_by > label_width(by, 2.5, true) + 6.0;
    const bool down_left = x_down + label_width(down, 2.5, true) + 2.0 > paper_width;
    if (by_left || room) add_mark(canvas, x_by, bar_top, by, by_left, true);
    add_mark(canvas, x_down, bar_top, down, down_left, false);
}

double add_day_key(Canvas& canvas, double y) {
    double x = day_plot_left;
    const auto entry = [&](const char* words, const Polygon& style) {
        canvas.rectangle(x, y, 5.0, 2.6, style);
        canvas.text({x + 6.2, y + 2.2}, words, 2.4);
        x += 9.5 + label_width(words, 2.4);
    };
    entry("wet: mixing to wrinkle check", style_of(schedule::What::load));
    entry("cure", style_of(schedule::What::cure));
    entry("other work", style_of(schedule::What::clean));
    entry("travel", style_of(schedule::What::travel));
    canvas.line({x, y + 1.5}, {x + 5.0, y + 1.5}, 0.7);
    canvas.text({x + 6.2, y + 2.2}, "decides when the day ends", 2.4);
    return y + 3.6;
}

}  // namespace

Drawing draw_day(const Context& c, int day, bool titled) {
    const auto& tasks = c.plan->schedule.days[static_cast<std::size_t>(day)].tasks;
    Canvas canvas{fmt::format("day-{}", day + 1), fmt::format("The day at a glance: {}", day_name(c, day)), paper_width,
                  20};
    if (titled) canvas.title();
    if (tasks.empty()) {
        canvas.text({0, 10}, "No work is planned on this day.", 2.8);
        canvas.set_height(13);
        return canvas.take();
    }
    Axis axis{1 << 30, 0};
    std::set<std::pair<int, int>> people;  // by crew and lane
    std::vector<int> patches;
    for (const auto& task : tasks) {
        axis.from = std::min(axis.from, task.start);
        axis.to = std::max(axis.to, task.finish);
        for (const int lane : task.lanes) people.insert({task.crew, lane});
        if (task.patch && std::find(patches.begin(), patches.end(), *task.patch) == patches.end())
            patches.push_back(*task.patch);
    }
    axis.from = axis.from / 30 * 30;
    axis.to = std::max(axis.from + 60, (axis.to + 29) / 30 * 30);
    const double top = titled ? 9.5 : 4.5;
    const double bottom =
        top + static_cast<double>(people.size()) * crew_row + static_cast<double>(patches.size()) * patch_row + 0.6;
    add_hours(canvas, axis, top, bottom);
    double y = top;
    for (const auto& [crew, lane] : people) {
        canvas.text({0, y + 4.6}, person_name(c, day, crew, lane), 2.8, -1, true);
        for (const auto& task : tasks) {
            // A cure binds nobody for long: it is drawn with its patch.
            const bool mine =
                task.crew == crew && std::find(task.lanes.begin(), task.lanes.end(), lane) != task.lanes.end();
            if (mine) add_bar(canvas, axis, task, y + 1.4, true);
        }
        y += crew_row;
    }
    canvas.line({0, y}, {paper_width, y}, 0.2, Ink::mid);
    for (const int patch : patches) {
        add_patch_row(canvas, c, axis, tasks, patch, y);
        y += patch_row;
        canvas.line({0, y}, {paper_width, y}, 0.12, Ink::mid);
    }
    y = add_day_key(canvas, bottom + 1.4);
    canvas.set_height(y + 0.4);
    return canvas.take();
}

}  // namespace patchwright::sheet
