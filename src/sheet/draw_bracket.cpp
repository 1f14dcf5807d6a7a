#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "canvas.hpp"
#include "words.hpp"

/// Floor, suggested price and ceiling on one scale with the ranges of both methods.
namespace patchwright::sheet {
namespace {

constexpr double bracket_left = 20.0, bracket_right = 176.0;

double whole(Money m) { return static_cast<double>(m.in_cents()) / 100.0; }

struct Scale {
    double low = 0, high = 1;
    double x(Money m) const {
        return bracket_left + (bracket_right - bracket_left) * std::clamp((whole(m) - low) / (high - low), 0.0, 1.0);
    }
};

void add_range(Canvas& canvas, const Scale& scale, const char* name, const price::BuildUp& b, double y,
               const Polygon& style) {
    canvas.text({0, y + 4.3}, name, 3.0, -1, true);
    const double x0 = scale.x(b.p10), x1 = std::max(scale.x(b.p90), x0 + 0.6), middle = scale.x(b.p50);
    canvas.rectangle(x0, y, x1 - x0, 6.0, style);
    canvas.line({middle, y - 1.0}, {middle, y + 7.0}, 0.9);
    // Outside the bar where there is room, so that hatch and figures do not mix.
    const auto low = decimal_text(b.p10), high = decimal_text(b.p90), half = decimal_text(b.p50);
    canvas.text({x0 - 1.2, y + 4.0}, low, 2.4, 1, false, true);
    canvas.text({x1 + 1.2, y + 4.0}, high, 2.4, -1, false, true);
    canvas.text({middle, y + 9.9}, half, 2.4, 0, true, true);
}

}  // namespace

Drawing draw_bracket(const Context& c) {
    const auto& offer = c.plan->offer;
    const auto& b = offer.bracket;
    Canvas canvas{"price", "What it costs, what it may be sold for", paper_width, 62};
    canvas.title(
        fmt::format("{}, net; bars from the 10th to the 90th of a hundred outcomes, the stroke is the middle one",
                    c.yard().rates.currency.code()));
    if (c.plan->patches.empty()) {
        canvas.text({0, 16}, "Nothing is patched, so there is nothing to compare.", 2.8);
        canvas.set_height(20);
        return canvas.take();
    }
    // Without a bid nothing is suggested, and the most that could be bid stands there.
    const Money aim = b.bid ? b.suggested : b.limit;
    const Money sold = offer.offered.lines.empty() ? aim : offer.offered.work;
    Scale scale;
    scale.low = 1e300, scale.high = -1e300;
    for (const Money m :
         {b.floor, b.ceiling, aim, sold, offer.patch.p10, offer.patch.p90, offer.dig.p10, offer.dig.p90}) {
        scale.low = std::min(scale.low, whole(m));
        scale.high = std::max(scale.high, whole(m));
    }
    const double pad = std::max(1.0, 0.1 * (scale.high - scale.low));
    scale.low = std::max(0.0, scale.low - pad);
    scale.high += pad;
    std::vector<Flag> flags{{scale.x(b.floor), "floor " + decimal_text(b.floor), false},
                            {scale.x(b.ceiling), "ceiling (digging) " + decimal_text(b.ceiling), false}};
    flags.push_back({scale.x(aim), (b.bid ? "suggested " : "at most ") + decimal_text(aim), b.bid});
    if (sold != aim) flags.push_back({scale.x(sold), "offered " + decimal_text(sold), false});
    const int lanes = arrange(flags, 2.7, 0, paper_width);
    const double top = 11.0 + lanes * Canvas::lane, bottom = top + 29.0;
    const double step = round_step(scale.high - scale.low, 8);
    double last = -1e9;
    for (double at = std::ceil(scale.low / step) * step; at <= scale.high; at += step) {
        const double x = bracket_left + (bracket_right - bracket_left) * (at - scale.low) / (scale.high - scale.low);
        canvas.line({x, bottom}, {x, bottom + 1.2}, 0.3);
        const auto words = fmt::format("{:.0f}", at);
        if (x - label_width(words, 2.4) / 2 < last + 1.5) continue;
        canvas.text({x, bottom + 4.0}, words, 2.4, 0);
        last = x + label_width(words, 2.4) / 2;
    }
    canvas.line({bracket_left, bottom}, {bracket_right, bottom}, 0.35);
    for (const auto& f : flags)
        canvas.line({f.x, top}, {f.x, bottom}, f.bold ? 0.8 : 0.3, Ink::black, f.bold ? Dash::solid : Dash::dashed);
    auto patch_style = filled(Ink::light, 0.35);
    auto dig_style = hatched(Hatch::slanted, Ink::dark, 0.35);
    dig_style.filled = true;
    dig_style.fill = Ink::white;
    add_range(canvas, scale, "Patch", offer.patch, top + 2.5, patch_style);
    add_range(canvas, scale, "Dig", offer.dig, top + 16.0, dig_style);
    canvas.flags(flags, top, true, 2.7);
    canvas.set_height(bottom + 5.5);
    return canvas.take();
}

}  // namespace patchwright::sheet
