#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "canvas.hpp"
#include "patchwright/cure/cure.hpp"
#include "words.hpp"

/// Degree of cure against time, at the temperature calculated with and at the coldest that the resin allows.
namespace patchwright::sheet {
namespace {

constexpr double cure_left = 16.0, cure_right = 176.0, cure_top = 20.0, cure_bottom = 80.0;

struct Axes {
    double minutes = 60;
    double x(double minute) const {
        return cure_left + (cure_right - cure_left) * std::clamp(minute / minutes, 0.0, 1.0);
    }
    double y(double conversion) const {
        return cure_bottom - (cure_bottom - cure_top) * std::clamp(conversion, 0.0, 1.0);
    }
};

std::vector<Point> curve_points(const std::vector<cure::CurvePoint>& curve, const Axes& axes) {
    std::vector<Point> points;
    for (const auto& p : curve) {
        const double minute = p.time.in(unit::minute);
        if (minute > axes.minutes) break;
        points.push_back({axes.x(minute), axes.y(p.least_conversion)});
    }
    return points;
}

void add_axes(Canvas& canvas, const Axes& axes) {
    const double steps[] = {5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440};
    double step = 1440;
    for (const double s : steps) {
        if (axes.minutes / s <= 12) {
            step = s;
            break;
        }
    }
    for (double t = 0; t <= axes.minutes + 1e-9; t += step) {
        const double x = axes.x(t);
        canvas.line({x, cure_top}, {x, cure_bottom}, 0.12, Ink::mid, Dash::dotted);
        canvas.line({x, cure_bottom}, {x, cure_bottom + 1.2}, 0.3);
        const auto whole = static_cast<int>(std::lround(t));
        canvas.text({x, cure_bottom + 4.0}, fmt::format("{}:{:02}", whole / 60, whole % 60), 2.4, 0);
    }
    for (int i = 0; i <= 10; i += 2) {
        const double y = axes.y(i / 10.0);
        canvas.line({cure_left - 1.0, y}, {cure_right, y}, 0.12, Ink::mid, Dash::dotted);
        canvas.text({cure_left - 1.6, y + 0.9}, fmt::format("{} %", i * 10), 2.4, 1);
    }
    canvas.line({cure_left, cure_top}, {cure_left, cure_bottom}, 0.35);
    canvas.line({cure_left, cure_bottom}, {cure_right, cure_bottom}, 0.35);
    canvas.text({(cure_left + cure_right) / 2, cure_bottom + 8.0}, "hours and minutes from mixing", 2.6, 0);
    canvas.text_upwards({2.6, (cure_top + cure_bottom) / 2}, "degree of cure, coldest point of the sleeve", 2.6);
}

}  // namespace

Drawing draw_cure(const Context& c, int patch) {
    const auto& p = c.plan->patches[static_cast<std::size_t>(patch)];
    const auto& resin = c.plan->resin_of(p);
    Canvas canvas{"cure-" + p.id, fmt::format("Cure of patch {}", p.id), paper_width, 108};
    canvas.title(fmt::format("resin {}, sleeve {}; mixed at {}", resin.id, show(c, Show::thickness, p.felt.installed),
                             show(c, Show::temperature, *p.conditions.resin)));
    if (p.cure.refused) {
        canvas.text({0, 16}, *p.cure.refused, 2.8);
        canvas.set_height(20);
        return canvas.take();
    }
    const cure::Model model{resin};
    const auto expected = model.curve(p.sleeve, p.surroundings, p.conditions, c.yard().limits, cure::Side::late);
    auto cold = p.conditions;
    const auto* row = p.tables.let_down.empty() ? nullptr : &p.tables.let_down.front();
    std::vector<cure::CurvePoint> coldest;
    if (row != nullptr && row->pipe < *p.conditions.pipe) {
        cold.pipe.value = row->pipe;
        coldest = model.curve(p.sleeve, p.surroundings, cold, c.yard().limits, cure::Side::late);
    }
    Axes axes;
    axes.minutes = 1.12 * p.cure.sheet.let_down.in(unit::minute);
    if (!coldest.empty()) axes.minutes = std::max(axes.minutes, 1.08 * row->let_down.in(unit::minute));
    add_axes(canvas, axes);
    const double working = axes.x(p.cure.sheet.working_time.in(unit::minute));
    canvas.rectangle(cure_left, cure_top, working - cure_left, cure_bottom - cure_top,
                     hatched(Hatch::dots, Ink::mid, 0));
    const auto warm_points = curve_points(expected, axes), cold_points = curve_points(coldest, axes);
    const auto trace = [&](const std::vector<Point>& points, double width, Dash dash) {
        // Dashes must not start anew at each sample: one line over as many samples as a dash is long.
        if (dash == Dash::solid) {
            Polygon path;
            path.closed = false;
            path.width = width;
            canvas.polygon(points, path);
            return;
        }
        double run = 0;
        bool on = true;
        for (std::size_t i = 1; i < points.size(); ++i) {
            if (on) canvas.line(points[i - 1], points[i], width);
            run += std::hypot(points[i].x - points[i - 1].x, points[i].y - points[i - 1].y);
            if (run > (on ? 2.2 : 1.4)) run = 0, on = !on;
        }
    };
    trace(warm_points, 0.7, Dash::solid);
    trace(cold_points, 0.7, Dash::dashed);
    const auto hour_words = [](double minutes) {
        const auto whole = static_cast<int>(std::ceil(minutes - 1e-9));
        return fmt::format("{}:{:02}", whole / 60, whole % 60);
    };
    std::vector<Flag> flags;
    const auto flag = [&](double minute, std::string words, double width, Dash dash) {
        const double x = axes.x(minute);
        canvas.line({x, cure_top}, {x, cure_bottom}, width, Ink::black, dash);
        flags.push_back({x, std::move(words), true});
    };
    const auto& t = p.cure.sheet;
    flag(t.inflate_by.in(unit::minute), "inflate by " + latest(c, t.inflate_by), 0.35, Dash::solid);
    flag(t.working_time.in(unit::minute), "working time " + latest(c, t.working_time), 0.25, Dash::dotted);
    flag(t.let_down.in(unit::minute),
         fmt::format("deflate at {}: {}", show(c, Show::temperature, *p.conditions.pipe),
                     hour_words(t.let_down.in(unit::minute))),
         0.5, Dash::solid);
    if (!coldest.empty()) {
        flag(
            row->let_down.in(unit::minute),
            fmt::format("at {}: {}", show(c, Show::temperature, row->pipe), hour_words(row->let_down.in(unit::minute))),
            0.5, Dash::dashed);
    }
    arrange(flags, 2.6, 0, paper_width);
    canvas.flags(flags, cure_top, true, 2.6);
    double x = cure_left;
    const double key = cure_bottom + 14.0;
    const auto entry = [&](const std::string& words, auto&& sign) {
        sign(x, key);
        canvas.text({x + 9.0, key + 0.9}, words, 2.5);
        x += 13.0 + label_width(words, 2.5);
    };
    entry(fmt::format("pipe {} (expected)", show(c, Show::temperature, *p.conditions.pipe)), [&](double a, double b) {
        canvas.line({a, b}, {a + 7, b}, 0.7);
    });
    if (!coldest.empty()) {
        entry(fmt::format("pipe {} (coldest for this resin)", show(c, Show::temperature, row->pipe)),
              [&](double a, double b) {
                  canvas.line({a, b}, {a + 7, b}, 0.7, Ink::black, Dash::dashed);
              });
    }
    entry("working time, safe side",
          [&](double a, double b) { canvas.rectangle(a, b - 1.4, 7, 2.8, hatched(Hatch::dots, Ink::mid, 0.2)); });
    canvas.text({cure_left, key + 5.2},
                "Curves and deflating: the slow side of the fit. Inflate-by and working time: the fast side.", 2.5);
    canvas.set_height(key + 7.0);
    return canvas.take();
}

}  // namespace patchwright::sheet
