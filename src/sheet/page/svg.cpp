// SVG is written by hand: text stays text, so that it can be searched, edited and read aloud.
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "ink.hpp"
#include "patchwright/sheet/page.hpp"
#include "type.hpp"

namespace patchwright::sheet {
namespace {

std::string escaped(std::string_view text) {
    std::string result;
    for (const char c : printable(text)) {
        switch (c) {
            case '&':
                result += "&amp;";
                break;
            case '<':
                result += "&lt;";
                break;
            case '>':
                result += "&gt;";
                break;
            case '"':
                result += "&quot;";
                break;
            default:
                result += c;
        }
    }
    return result;
}

/// Three decimals are a micrometre; no "-0".
std::string number(double value) {
    auto text = fmt::format("{:.3f}", value);
    while (text.ends_with('0')) text.pop_back();
    if (text.ends_with('.')) text.pop_back();
    return text == "-0" ? "0" : text;
}

std::string shade(Ink ink) {
    const auto level = static_cast<int>(std::lround(grey(ink) * 255.0));
    return fmt::format("#{0:02x}{0:02x}{0:02x}", level);
}

class SvgWriter {
public:
    std::string take() { return std::move(out_); }

    void operator()(const Line& line) {
        out_ += fmt::format(R"(<line x1="{}" y1="{}" x2="{}" y2="{}"{}/>)", number(line.a.x), number(line.a.y),
                            number(line.b.x), number(line.b.y), stroke(line.width, line.ink, line.dash));
        out_ += '\n';
        if (!line.arrow) return;
        const auto head = arrow_head(line);
        out_ +=
            fmt::format("<polygon points=\"{}\" fill=\"{}\"/>\n", points({head.begin(), head.end()}), shade(line.ink));
    }
    void operator()(const Polygon& polygon) {
        const auto corners = points(polygon.points);
        if (polygon.filled) out_ += fmt::format("<polygon points=\"{}\" fill=\"{}\"/>\n", corners, shade(polygon.fill));
        if (polygon.hatch != Hatch::none) {
            out_ += fmt::format("<polygon points=\"{}\" fill=\"url(#{})\"/>\n", corners, hatch_name(polygon));
        }
        if (polygon.width <= 0) return;
        out_ += fmt::format("<{} points=\"{}\" fill=\"none\"{}/>\n", polygon.closed ? "polygon" : "polyline", corners,
                            stroke(polygon.width, polygon.ink, Dash::solid));
    }
    void operator()(const Arc& arc) {
        const auto fill = arc.filled ? shade(arc.fill) : std::string{"none"};
        const auto line = arc.width > 0 ? stroke(arc.width, arc.ink, Dash::solid) : std::string{};
        const double sweep = arc.to_deg - arc.from_deg;
        if (sweep >= 360.0) {
            out_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"{}/>\n", number(arc.centre.x),
                                number(arc.centre.y), number(arc.radius), fill, line);
            return;
        }
        const auto at = [&](double degrees) {
            const double turn = degrees * std::numbers::pi / 180.0;
            return fmt::format("{} {}", number(arc.centre.x + arc.radius * std::cos(turn)),
                               number(arc.centre.y + arc.radius * std::sin(turn)));
        };
        out_ += fmt::format("<path d=\"M {} A {} {} 0 {} 1 {}\" fill=\"{}\"{}/>\n", at(arc.from_deg),
                            number(arc.radius), number(arc.radius), sweep > 180.0 ? 1 : 0, at(arc.to_deg), fill, line);
    }
    void operator()(const Label& label) {
        const auto face = label.bold ? Face::bold : Face::regular;
        const double width = text_width(label.text, face, label.size);
        const auto turned =
            label.vertical ? fmt::format(" transform=\"rotate(-90 {} {})\"", number(label.at.x), number(label.at.y))
                           : std::string{};
        if (label.plate) {
            const double shift = label.anchor < 0 ? 0 : label.anchor == 0 ? -width / 2 : -width;
            out_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#ffffff\"{}/>\n",
                                number(label.at.x + shift - 0.4), number(label.at.y - 0.82 * label.size),
                                number(width + 0.8), number(1.08 * label.size), turned);
        }
        // textLength keeps the labels apart also where the reader has another font.
        out_ += fmt::format(
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{}{} text-anchor=\"{}\" textLength=\"{}\"{}>{}</text>\n",
            number(label.at.x), number(label.at.y), number(label.size), label.bold ? " font-weight=\"bold\"" : "",
            label.ink == Ink::black ? std::string{} : fmt::format(" fill=\"{}\"", shade(label.ink)),
            label.anchor < 0    ? "start"
            : label.anchor == 0 ? "middle"
                                : "end",
            number(width), turned, escaped(label.text));
    }

private:
    static std::string points(const std::vector<Point>& list) {
        std::string text;
        for (const auto& p : list) text += fmt::format("{}{},{}", text.empty() ? "" : " ", number(p.x), number(p.y));
        return text;
    }
    static std::string stroke(double width, Ink ink, Dash dash) {
        auto text = fmt::format(" stroke=\"{}\" stroke-width=\"{}\"", shade(ink), number(width));
        const auto pattern = dashes(dash);
        if (dash != Dash::solid)
            text += fmt::format(" stroke-dasharray=\"{} {}\"", number(pattern[0]), number(pattern[1]));
        return text;
    }
    static std::string hatch_name(const Polygon& polygon) {
        const char* kind = polygon.hatch == Hatch::slanted   ? "slanted"
                           : polygon.hatch == Hatch::crossed ? "crossed"
                                                             : "dots";
        return fmt::format("{}-{}", kind, shade(polygon.ink).substr(1, 2));
    }

    std::string out_;
};

/// The hatches that the drawing uses, once each, in a fixed order.
std::string patterns(const Drawing& drawing) {
    std::string text;
    for (const auto hatch : {Hatch::slanted, Hatch::crossed, Hatch::dots}) {
        for (const auto ink : {Ink::black, Ink::dark, Ink::mid, Ink::light, Ink::white}) {
            bool used = false;
            for (const auto& shape : drawing.shapes) {
                const auto* polygon = std::get_if<Polygon>(&shape);
                used = used || (polygon != nullptr && polygon->hatch == hatch && polygon->ink == ink);
            }
            if (!used) continue;
            const char* kind = hatch == Hatch::slanted ? "slanted" : hatch == Hatch::crossed ? "crossed" : "dots";
            const double step = hatch == Hatch::dots ? hatch_step : hatch_step / std::numbers::sqrt2;
            text += fmt::format("<pattern id=\"{}-{}\" width=\"{}\" height=\"{}\" patternUnits=\"userSpaceOnUse\"{}>",
                                kind, shade(ink).substr(1, 2), number(step), number(step),
                                hatch == Hatch::dots ? "" : " patternTransform=\"rotate(45)\"");
            if (hatch == Hatch::dots) {
                text += fmt::format("<circle cx=\"0.5\" cy=\"0.5\" r=\"0.18\" fill=\"{}\"/>", shade(ink));
            } else {
                text +=
                    fmt::format("<path d=\"M 0.1 0 V {0}{1}\" stroke=\"{2}\" stroke-width=\"0.18\"/>", number(step),
                                hatch == Hatch::crossed ? fmt::format(" M 0 0.1 H {}", number(step)) : "", shade(ink));
            }
            text += "</pattern>\n";
        }
    }
    return text.empty() ? text : "<defs>\n" + text + "</defs>\n";
}

}  // namespace

std::string svg(const Drawing& drawing) {
    SvgWriter writer;
    for (const auto& shape : drawing.shapes) std::visit(writer, shape);
    return fmt::format(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\" "
        "role=\"img\" "
        "font-family=\"'DejaVu Sans', Verdana, sans-serif\">\n<title>{2}</title>\n{3}"
        "<rect width=\"{0}\" height=\"{1}\" fill=\"#ffffff\"/>\n{4}</svg>\n",
        number(drawing.width), number(drawing.height), escaped(drawing.title), patterns(drawing), writer.take());
}

}  // namespace patchwright::sheet
