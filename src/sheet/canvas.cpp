#include "canvas.hpp"

#include <algorithm>
#include <cmath>

#include "page/type.hpp"
#include "patchwright/units/utf8.hpp"

namespace patchwright::sheet {
namespace {

struct Span {
    double from = 0, to = 0;
};

Span text_span(const Flag& flag, double size) {
    const double wide = label_width(flag.text, size, flag.bold) + 1.3;
    return flag.left ? Span{flag.x - wide, flag.x} : Span{flag.x, flag.x + wide};
}

bool fits(const Flag& flag, const std::vector<Flag>& placed, double size, double left, double right, bool strict) {
    const auto mine = text_span(flag, size);
    if (mine.from < left - 1e-9 || mine.to > right + 1e-9) return false;
    return std::none_of(placed.begin(), placed.end(), [&](const Flag& other) {
        const auto theirs = text_span(other, size);
        if (other.lane == flag.lane && mine.from < theirs.to + 0.8 && theirs.from < mine.to + 0.8) return true;
        if (!strict) return false;
        if (other.lane < flag.lane && flag.x > theirs.from - 0.5 && flag.x < theirs.to + 0.3) return true;
        return other.lane > flag.lane && other.x > mine.from - 0.5 && other.x < mine.to + 0.3;
    });
}

}  // namespace

double label_width(std::string_view utf8, double size, bool bold) {
    return text_width(utf8, bold ? Face::bold : Face::regular, size);
}

namespace {

/// Places at which the characters of UTF-8 begin, and its end.
std::vector<std::size_t> character_starts(const std::string& text) {
    std::vector<std::size_t> starts;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (!is_utf8_continuation(text[i])) starts.push_back(i);
    }
    starts.push_back(text.size());
    return starts;
}

}  // namespace

std::string fitted(const std::string& words, double size, double width, bool bold) {
    if (label_width(words, size, bold) <= width) return words;
    const auto starts = character_starts(words);
    for (std::size_t count = starts.size() - 1; count > 0; --count) {
        auto cut = words.substr(0, starts[count]) + "…";
        if (label_width(cut, size, bold) <= width) return cut;
    }
    return "…";
}

std::string short_name(const std::string& name, std::size_t most) {
    const auto starts = character_starts(name);
    const auto count = starts.size() - 1;
    if (count <= most) return name;
    const auto head = (most - 1) / 2, tail = most - 1 - head;
    return name.substr(0, starts[head]) + "…" + name.substr(starts[count - tail]);
}

int arrange(std::vector<Flag>& flags, double size, double left, double right) {
    // From right to left with the text to the right of its pole: each then finds a lane above what it would cross.
    // Where texts turn left at the edge two can shut each other out; then a pole may pass behind a text, on its plate.
    std::stable_sort(flags.begin(), flags.end(), [](const Flag& a, const Flag& b) { return a.x > b.x; });
    constexpr int max_lanes = 30;
    std::vector<Flag> placed;
    int lanes = 0;
    const auto find_place = [&](Flag& flag, bool strict) {
        for (const bool to_left : {false, true}) {
            for (flag.lane = 0; flag.lane < max_lanes; ++flag.lane) {
                flag.left = to_left;
                if (fits(flag, placed, size, left, right, strict)) return true;
            }
        }
        return false;
    };
    for (auto& flag : flags) {
        // To one side of its pole there must be room for it.
        flag.text = fitted(flag.text, size, std::max(right - flag.x, flag.x - left) - 1.5, flag.bold);
        if (!find_place(flag, true) && !find_place(flag, false)) {  // wider than the room: alone in a lane of its own
            flag.lane = lanes;
            flag.left = false;
        }
        lanes = std::max(lanes, flag.lane + 1);
        placed.push_back(flag);
    }
    return lanes;
}

Canvas::Canvas(std::string name, std::string title, double width, double height) {
    drawing_.name = std::move(name);
    drawing_.title = std::move(title);
    drawing_.width = width;
    drawing_.height = height;
}

void Canvas::line(Point a, Point b, double width, Ink ink, Dash dash) {
    drawing_.shapes.emplace_back(Line{a, b, width, ink, dash, false});
}
void Canvas::arrow(Point a, Point b, double width, Ink ink) {
    drawing_.shapes.emplace_back(Line{a, b, width, ink, Dash::solid, true});
}
void Canvas::rectangle(double x, double y, double width, double height, Polygon style) {
    polygon({{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}}, std::move(style));
}
void Canvas::polygon(std::vector<Point> points, Polygon style) {
    style.points = std::move(points);
    drawing_.shapes.emplace_back(std::move(style));
}
void Canvas::text(Point at, const std::string& words, double size, int anchor, bool bold, bool plate, Ink ink) {
    // However long a name is, no text leaves the drawing.
    const double before = at.x, behind = drawing_.width - at.x;
    const double room = anchor < 0 ? behind : anchor > 0 ? before : 2.0 * std::min(before, behind);
    Label label;
    label.at = at;
    label.text = fitted(words, size, room, bold);
    label.size = size;
    label.anchor = anchor;
    label.bold = bold;
    label.plate = plate;
    label.ink = ink;
    drawing_.shapes.emplace_back(std::move(label));
}
void Canvas::text_upwards(Point at, std::string words, double size, int anchor) {
    Label label;
    label.at = at;
    label.text = std::move(words);
    label.size = size;
    label.anchor = anchor;
    label.vertical = true;
    drawing_.shapes.emplace_back(std::move(label));
}

void Canvas::flags(const std::vector<Flag>& flags, double strip_y, bool upwards, double size) {
    for (const auto& flag : flags) {
        const double away = (static_cast<double>(flag.lane) + 1.0) * lane;
        const double top = upwards ? strip_y - away : strip_y + away;
        const double base = upwards ? top + size * 0.75 : top;
        line({flag.x, strip_y}, {flag.x, upwards ? top : base}, 0.18, Ink::dark);
    }
    for (const auto& flag : flags) {
        const double away = (static_cast<double>(flag.lane) + 1.0) * lane;
        const double base = upwards ? strip_y - away + size * 0.75 : strip_y + away;
        text({flag.left ? flag.x - 0.8 : flag.x + 0.8, base}, flag.text, size, flag.left ? 1 : -1, flag.bold, true);
    }
}

void Canvas::title(const std::string& under) {
    text({0, 3.9}, fitted(drawing_.title, 3.6, drawing_.width, true), 3.6, -1, true);
    if (!under.empty()) text({0, 7.6}, fitted(under, 2.6, drawing_.width), 2.6);
}

Polygon filled(Ink fill, double line) {
    Polygon p;
    p.filled = true;
    p.fill = fill;
    p.width = line;
    return p;
}
Polygon hatched(Hatch hatch, Ink ink, double line) {
    Polygon p;
    p.hatch = hatch;
    p.ink = ink;
    p.width = line;
    return p;
}

double round_step(double span, int wanted) {
    const double raw = span / std::max(1, wanted);
    const double power = std::pow(10.0, std::floor(std::log10(raw)));
    for (const double factor : {1.0, 2.0, 5.0}) {
        if (factor * power >= raw * 0.999) return factor * power;
    }
    return 10.0 * power;
}

}  // namespace patchwright::sheet
