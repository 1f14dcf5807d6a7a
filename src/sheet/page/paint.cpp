#include "paint.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace patchwright::sheet {

namespace {

class Painter {
public:
    Painter(cairo_t* cairo, Fonts& fonts) : cairo_{cairo}, fonts_{fonts} {}

    void operator()(const Line& line) {
        cairo_move_to(cairo_, line.a.x, line.a.y);
        cairo_line_to(cairo_, line.b.x, line.b.y);
        stroke(line.width, line.ink, line.dash);
        if (!line.arrow) return;
        const auto head = arrow_head(line);
        trace({head.begin(), head.end()}, true);
        ink(line.ink);
        cairo_fill(cairo_);
    }
    void operator()(const Polygon& polygon) {
        if (polygon.points.empty()) return;
        if (polygon.filled) {
            trace(polygon.points, true);
            ink(polygon.fill);
            cairo_fill(cairo_);
        }
        if (polygon.hatch != Hatch::none) hatch(polygon);
        if (polygon.width <= 0) return;
        trace(polygon.points, polygon.closed);
        stroke(polygon.width, polygon.ink, Dash::solid);
    }
    void operator()(const Arc& arc) {
        const double turn = std::numbers::pi / 180.0;
        cairo_new_sub_path(cairo_);
        cairo_arc(cairo_, arc.centre.x, arc.centre.y, arc.radius, arc.from_deg * turn, arc.to_deg * turn);
        if (arc.filled) {
            ink(arc.fill);
            cairo_fill_preserve(cairo_);
        }
        if (arc.width > 0) {
            stroke(arc.width, arc.ink, Dash::solid);
        } else {
            cairo_new_path(cairo_);
        }
    }
    void operator()(const Label& label) {
        const auto face = label.bold ? Face::bold : Face::regular;
        const double width = fonts_.width(label.text, face, label.size);
        const double shift = label.anchor < 0 ? 0 : label.anchor == 0 ? -width / 2 : -width;
        cairo_save(cairo_);
        cairo_translate(cairo_, label.at.x, label.at.y);
        if (label.vertical) cairo_rotate(cairo_, -std::numbers::pi / 2);
        if (label.plate) {
            cairo_rectangle(cairo_, shift - 0.4, -0.82 * label.size, width + 0.8, 1.08 * label.size);
            ink(Ink::white);
            cairo_fill(cairo_);
        }
        ink(label.ink);
        fonts_.show(cairo_, label.text, shift, 0, face, label.size);
        cairo_restore(cairo_);
    }

private:
    void ink(Ink i) { cairo_set_source_rgb(cairo_, grey(i), grey(i), grey(i)); }
    void stroke(double width, Ink i, Dash dash) {
        ink(i);
        cairo_set_line_width(cairo_, width);
        const auto pattern = dashes(dash);
        cairo_set_dash(cairo_, pattern.data(), dash == Dash::solid ? 0 : 2, 0);
        cairo_stroke(cairo_);
    }
    void trace(const std::vector<Point>& points, bool closed) {
        cairo_move_to(cairo_, points.front().x, points.front().y);
        for (std::size_t i = 1; i < points.size(); ++i) cairo_line_to(cairo_, points[i].x, points[i].y);
        if (closed) cairo_close_path(cairo_);
    }
    void hatch(const Polygon& polygon) {
        double x0 = polygon.points.front().x, x1 = x0, y0 = polygon.points.front().y, y1 = y0;
        for (const auto& p : polygon.points) {
            x0 = std::min(x0, p.x), x1 = std::max(x1, p.x), y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
        }
        cairo_save(cairo_);
        trace(polygon.points, true);
        cairo_clip(cairo_);
        if (polygon.hatch == Hatch::dots) {
            for (double y = std::floor(y0 / hatch_step) * hatch_step; y <= y1; y += hatch_step) {
                for (double x = std::floor(x0 / hatch_step) * hatch_step; x <= x1; x += hatch_step) {
                    cairo_new_sub_path(cairo_);
                    cairo_arc(cairo_, x, y, 0.18, 0, 2 * std::numbers::pi);
                }
            }
            ink(polygon.ink);
            cairo_fill(cairo_);
        } else {
            const double height = y1 - y0;
            for (double x = std::floor((x0 - height) / hatch_step) * hatch_step; x <= x1; x += hatch_step) {
                cairo_move_to(cairo_, x, y1);
                cairo_line_to(cairo_, x + height, y0);
                if (polygon.hatch != Hatch::crossed) continue;
                cairo_move_to(cairo_, x, y0);
                cairo_line_to(cairo_, x + height, y1);
            }
            stroke(0.18, polygon.ink, Dash::solid);
        }
        cairo_restore(cairo_);
    }

    cairo_t* cairo_;
    Fonts& fonts_;
};

}  // namespace

void paint(cairo_t* cairo, const Drawing& drawing, Fonts& fonts) {
    cairo_set_line_cap(cairo, CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    Painter painter{cairo, fonts};
    for (const auto& shape : drawing.shapes) std::visit(painter, shape);
}

}  // namespace patchwright::sheet
