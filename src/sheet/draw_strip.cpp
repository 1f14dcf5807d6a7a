#include "draw_strip.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "words.hpp"

namespace patchwright::sheet {
namespace {

constexpr double label_size = 2.5;

/// Clock position in twelfths of the way round from 6 o'clock over 9: 6 -> 0, 9 -> 3, 12 -> 6, 3 -> 9.
double twelfths(int hour) { return static_cast<double>((hour + 6) % 12); }

struct Band {
    double from = 0, to = 0;  ///< twelfths
};

/// The range on the strip; one that passes 6 o'clock is cut in two. A point is drawn half an hour wide.
std::vector<Band> bands(const std::optional<ClockRange>& clock) {
    if (!clock || clock->full_ring) return {{0, 12}};
    double from = twelfths(clock->from), to = twelfths(clock->to);
    if (clock->from == clock->to) return {{std::max(0.0, from - 0.35), std::min(12.0, from + 0.35)}};
    if (to < from) {
        if (to <= 0) return {{from, 12}};
        return {{from, 12}, {0, to}};
    }
    return {{from, to}};
}

struct Strip {
    const Window& window;
    double top = 0, height = 0;
    double y(double twelfth) const { return top + height * twelfth / 12.0; }
    bool shows(double from, double to) const { return to >= window.from - 1e-9 && from <= window.to + 1e-9; }
    double x(double metres) const { return window.x(std::clamp(metres, window.from, window.to)); }
};

void add_patch(Canvas& canvas, const Strip& strip, const StripContent::Patch& p) {
    const double x0 = strip.x(p.start), x1 = strip.x(p.end);
    canvas.rectangle(x0, strip.top, x1 - x0, strip.height, filled(Ink::light, 0.0));
    if (p.covers) {
        const double a = strip.x(p.mends_from), b = strip.x(p.mends_to);
        if (a - x0 > 0.3) canvas.rectangle(x0, strip.top, a - x0, strip.height, hatched(Hatch::slanted, Ink::mid, 0));
        if (x1 - b > 0.3) canvas.rectangle(b, strip.top, x1 - b, strip.height, hatched(Hatch::slanted, Ink::mid, 0));
    }
    canvas.rectangle(x0, strip.top, std::max(0.3, x1 - x0), strip.height, Polygon{.points = {}, .width = 0.55});
}

void add_defect(Canvas& canvas, const Strip& strip, const StripContent::Defect& d) {
    double x0 = strip.x(d.at), x1 = strip.x(d.to);
    if (x1 - x0 < 1.1) {
        const double middle = (x0 + x1) / 2;
        x0 = middle - 0.55, x1 = middle + 0.55;
    }
    for (const auto& band : bands(d.clock)) {
        auto style = hatched(Hatch::crossed, Ink::black, 0.3);
        style.filled = true;
        style.fill = Ink::white;
        canvas.rectangle(x0, strip.y(band.from), x1 - x0, strip.y(band.to) - strip.y(band.from), style);
    }
}

void add_fitting(Canvas& canvas, const Strip& strip, const StripContent::Fitting& f) {
    const double x = strip.x(f.at), half = f.half_length * strip.window.scale();
    if (f.bend) {
        const double wide = std::max(0.9, half);
        canvas.rectangle(x - wide, strip.top, 2 * wide, strip.height, hatched(Hatch::dots, Ink::black, 0.2));
        return;
    }
    if (f.size_change) {
        canvas.line({x, strip.top}, {x, strip.top + strip.height}, 0.6, Ink::black, Dash::dashed);
        return;
    }
    const double radius = std::clamp(half, 0.9, strip.height / 7.0);
    const double y = strip.y(f.clock ? std::clamp(twelfths(f.clock->from), 0.7, 11.3) : 6.0);
    canvas.arc({{x, y}, radius, 0, 360, 0.4, Ink::black, true, Ink::white});
    if (!f.live) canvas.line({x - 0.7 * radius, y - 0.7 * radius}, {x + 0.7 * radius, y + 0.7 * radius}, 0.3);
}

double add_scale(Canvas& canvas, const Context& c, const Window& window, double y, bool lens) {
    const bool us = c.units == UnitSystem::us;
    const double to_unit = us ? 1.0 / 0.3048 : 1.0;  // feet or metres
    const double from = window.from * to_unit, to = window.to * to_unit;
    const double step = round_step(to - from, lens ? 4 : 11);
    const double per_unit = (window.right - window.left) / (to - from);
    canvas.line({window.left, y}, {window.right, y}, 0.3);
    const int decimals = step >= 0.999 ? 0 : step >= 0.0999 ? 1 : 2;
    double last = -1e9;
    for (double at = std::ceil(from / step - 1e-9) * step; at <= to + 1e-9 * step; at += step) {
        const double x = window.left + (at - from) * per_unit;
        canvas.line({x, y}, {x, y + 1.3}, 0.3);
        const auto words = fmt::format("{:.{}f}", std::abs(at) < 1e-9 ? 0.0 : at, decimals);
        const double half = label_width(words, 2.3) / 2;
        if (x - half < last + 1.5) continue;
        canvas.text({x, y + 3.6}, words, 2.3, 0);
        last = x + half;
    }
    canvas.text({window.left - 4.5, y + 3.6}, us ? "ft" : "m", 2.3, 1);
    return y + 4.4;
}

bool in_lens(const std::vector<Lens>& lenses, double from, double to) {
    return std::any_of(lenses.begin(), lenses.end(),
                       [&](const Lens& lens) { return from >= lens.from - 1e-9 && to <= lens.to + 1e-9; });
}

/// Above the strip stand patches, connections and bends, below it the defects.
std::vector<Flag> flags_above(const Context& c, const StripContent& content, const Strip& strip,
                              const StripStyle& style) {
    std::vector<Flag> flags;
    const auto distance = [&](double metres) { return show(c, Show::run_distance, Length::from_si(metres)); };
    for (const auto& p : content.patches) {
        if (!strip.shows(p.start, p.end) || in_lens(style.lenses, p.start, p.end)) continue;
        if (style.ends) {
            const bool whole = p.start >= strip.window.from && p.end <= strip.window.to;
            flags.push_back({strip.x(p.start),
                             whole ? fmt::format("{}  {}", short_name(p.id), distance(p.start)) : short_name(p.id),
                             true});
            flags.push_back({strip.x(p.end), distance(p.end), false});
        } else {
            flags.push_back({strip.x(p.start),
                             fmt::format("{}  {} to {}", short_name(p.id), distance(p.start), distance(p.end)), true});
        }
    }
    for (const auto& f : content.fittings) {
        if (!strip.shows(f.at, f.at) || in_lens(style.lenses, f.at, f.at)) continue;
        flags.push_back({strip.x(f.at), f.words, false});
    }
    for (const auto& lens : style.lenses)
        flags.push_back({strip.x((lens.from + lens.to) / 2), "lens " + lens.name, true});
    return flags;
}

std::vector<Flag> flags_below(const Context& c, const StripContent& content, const Strip& strip,
                              const StripStyle& style) {
    std::vector<Flag> flags;
    for (const auto& d : content.defects) {
        if (!strip.shows(d.at, d.to) || in_lens(style.lenses, d.at, d.to)) continue;
        auto words = fmt::format("{}  {}", short_name(d.id), show(c, Show::run_distance, Length::from_si(d.at)));
        if (d.to > d.at) words += " to " + show(c, Show::run_distance, Length::from_si(d.to));
        flags.push_back({strip.x((d.at + d.to) / 2), words, false});
    }
    return flags;
}

}  // namespace

StripContent strip_content(const Context& c, int run_place) {
    const auto& run = c.job().runs[static_cast<std::size_t>(run_place)];
    StripContent content;
    content.length = run.length.in(unit::m);
    for (const auto& d : run.defects)
        content.defects.push_back({d.id, d.at.in(unit::m), std::max(d.at, d.to).in(unit::m), d.clock});
    for (const auto& p : c.plan->patches) {
        if (p.run != run_place) continue;
        StripContent::Patch patch{
            p.id, p.start.in(unit::m), p.end.in(unit::m), p.end.in(unit::m), p.start.in(unit::m), !p.defects.empty()};
        for (const int d : p.defects) {
            patch.mends_from = std::min(patch.mends_from, content.defects[static_cast<std::size_t>(d)].at);
            patch.mends_to = std::max(patch.mends_to, content.defects[static_cast<std::size_t>(d)].to);
        }
        content.patches.push_back(std::move(patch));
    }
    std::sort(content.patches.begin(), content.patches.end(),
              [](const auto& a, const auto& b) { return a.start < b.start; });
    for (const auto& f : run.fittings) {
        StripContent::Fitting fitting{f.id,   f.at.in(unit::m),
                                      0,      f.kind == job::FittingKind::bend,
                                      f.live, f.kind == job::FittingKind::size_change,
                                      f.clock};
        if (fitting.bend) {
            const double radius = f.radius ? f.radius->in(unit::m) : 1.5 * run.working_bore().in(unit::m);
            fitting.half_length = 0.5 * radius * f.angle.si();
            fitting.words = fmt::format("bend {}", format(Show::angle, f.angle, c.units));
        } else {
            fitting.half_length = 0.5 * f.bore.in(unit::m);
            fitting.words = fmt::format("{} {}",
                                        fitting.size_change ? "bore becomes"
                                        : f.live            ? "connection"
                                                            : "dead connection",
                                        show(c, Show::tape, f.bore));
        }
        fitting.words += " at " + show(c, Show::run_distance, f.at);
        content.fittings.push_back(std::move(fitting));
    }
    return content;
}

std::vector<Lens> lenses_of(const StripContent& content, const Window& window) {
    // What belongs to one place: a patch with its defects, or a lone defect or fitting.
    constexpr double pad = 0.25;
    std::vector<Lens> places;
    for (const auto& p : content.patches) places.push_back({p.start - pad, p.end + pad, {}});
    for (const auto& d : content.defects) places.push_back({d.at - pad, d.to + pad, {}});
    for (const auto& f : content.fittings) places.push_back({f.at - pad, f.at + pad, {}});
    std::sort(places.begin(), places.end(), [](const Lens& a, const Lens& b) { return a.from < b.from; });
    // Too close on paper: closer than a pole with its neighbour, or a patch that cannot show its defect.
    constexpr double close = 2.6, short_patch = 5.0;
    std::vector<Lens> merged;
    std::vector<int> items;
    for (const auto& place : places) {
        if (!merged.empty() && place.from < merged.back().to) {
            merged.back().to = std::max(merged.back().to, place.to);
            ++items.back();
        } else {
            merged.push_back(place);
            items.push_back(1);
        }
    }
    std::vector<double> edges;
    for (const auto& p : content.patches) edges.insert(edges.end(), {p.start, p.end});
    for (const auto& d : content.defects) edges.push_back((d.at + d.to) / 2);
    for (const auto& f : content.fittings) edges.push_back(f.at);
    std::sort(edges.begin(), edges.end());
    std::vector<Lens> result;
    for (std::size_t i = 0; i < merged.size(); ++i) {
        if (items[i] < 2) continue;
        bool crowded = false;
        double last = -1e9;
        int near = 0;
        for (const double edge : edges) {
            if (edge < merged[i].from || edge > merged[i].to) continue;
            if ((edge - last) * window.scale() < close) ++near;
            last = edge;
        }
        for (const auto& p : content.patches) {
            const bool here = p.start >= merged[i].from && p.end <= merged[i].to;
            crowded = crowded || (here && (p.end - p.start) * window.scale() < short_patch);
        }
        if (!crowded && near < 3) continue;
        auto lens = merged[i];
        lens.from = std::max(0.0, lens.from);
        lens.to = std::min(content.length, lens.to);
        const auto k = result.size();
        lens.name = k < 26 ? std::string(1, static_cast<char>('a' + k)) : fmt::format("{}", k + 1);
        result.push_back(std::move(lens));
    }
    return result;
}

double add_strip(Canvas& canvas, const Context& c, const StripContent& content, const Window& window, double y,
                 const StripStyle& style) {
    Strip strip{window, 0, style.height};
    auto above = flags_above(c, content, strip, style);
    auto below = flags_below(c, content, strip, style);
    const bool lens = style.ends;
    const double left = lens ? window.left - 9.0 : 0.0, right = lens ? window.right + 6.0 : canvas.width();
    const int lanes_above = arrange(above, label_size, left, right),
              lanes_below = arrange(below, label_size, left, right);
    strip.top = y + lanes_above * Canvas::lane + 1.0;
    canvas.rectangle(window.left, strip.top, window.right - window.left, strip.height, filled(Ink::white, 0.0));
    for (const auto& p : content.patches) {
        if (strip.shows(p.start, p.end)) add_patch(canvas, strip, p);
    }
    for (int hour = 3; hour <= 9; hour += 3) {
        canvas.line({window.left, strip.y(hour)}, {window.right, strip.y(hour)}, 0.15, Ink::mid, Dash::dotted);
    }
    for (const auto& f : content.fittings) {
        if (strip.shows(f.at, f.at)) add_fitting(canvas, strip, f);
    }
    for (const auto& d : content.defects) {
        if (strip.shows(d.at, d.to)) add_defect(canvas, strip, d);
    }
    for (const auto& l : style.lenses) {
        const double x0 = strip.x(l.from), x1 = strip.x(l.to);
        for (const double edge : {strip.top - 0.7, strip.top + strip.height + 0.7})
            canvas.line({x0, edge}, {x1, edge}, 0.5);
    }
    canvas.rectangle(window.left, strip.top, window.right - window.left, strip.height,
                     Polygon{.points = {}, .width = 0.35});
    const char* const hours[] = {"6", "9", "12", "3", "6"};
    for (int i = 0; i < 5; ++i) {
        canvas.text({window.left - 1.2, strip.y(3.0 * i) + (i == 0 ? 1.7 : i == 4 ? 0.2 : 0.9)}, hours[i], 2.3, 1);
    }
    if (!lens) canvas.text_upwards({window.left - 6.0, strip.top + strip.height / 2}, "o'clock", 2.3);
    canvas.flags(above, strip.top, true, label_size);
    canvas.flags(below, strip.top + strip.height, false, label_size);
    return add_scale(canvas, c, window, strip.top + strip.height + lanes_below * Canvas::lane + 1.6, lens);
}

double add_lenses(Canvas& canvas, const Context& c, const StripContent& content, const std::vector<Lens>& lenses,
                  double y, double width) {
    const std::size_t across = lenses.size() == 1 ? 1 : lenses.size() == 2 || lenses.size() == 4 ? 2 : 3;
    const double cell = width / static_cast<double>(across);
    double bottom = y, next = y;
    for (std::size_t i = 0; i < lenses.size(); ++i) {
        if (i % across == 0) next = bottom;
        const double x = static_cast<double>(i % across) * cell;
        canvas.text({x, next + 3.0}, fmt::format("lens {}", lenses[i].name), 2.6, -1, true);
        const Window window{lenses[i].from, lenses[i].to, x + 9.0, x + cell - 7.0};
        bottom = std::max(bottom, add_strip(canvas, c, content, window, next + 3.4,
                                            StripStyle{.height = 17.0, .lenses = {}, .ends = true}) +
                                      2.0);
    }
    return bottom;
}

}  // namespace patchwright::sheet
