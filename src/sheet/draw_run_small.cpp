#include <algorithm>

#include <fmt/format.h>

#include "draw_strip.hpp"
#include "words.hpp"

/// The run as one low strip, for the day sheet: what lies where, and from which mouth it is measured.
namespace patchwright::sheet {
namespace {

constexpr double thick = 3.2, type = 2.6;
constexpr double half_width = 88.0;  ///< of the page, mm

/// The name of a mouth in the room beside the strip, cut in its middle as the ends tell names apart.
std::string mouth_words(const std::string& name, bool open, double name_width) {
    const std::string after = open ? "" : " (no access)";
    std::size_t most = 16;
    while (most > 3 && label_width(short_name(name, most) + after, type, true) > name_width) --most;
    return fitted(short_name(name, most) + after, type, name_width, true);
}

void add_fitting(Canvas& canvas, const job::Fitting& fitting, double x, double under) {
    if (fitting.kind == job::FittingKind::bend)
        canvas.polygon({{x - 1.1, under + 2.0}, {x + 1.1, under + 2.0}, {x, under + 0.2}}, filled(Ink::black, 0.1));
    else
        canvas.rectangle(x - 0.7, under, 1.4, 2.2, filled(Ink::white, 0.3));
}

}  // namespace

Drawing draw_run_small(const Context& c, int run_place, const std::vector<std::size_t>& patches, bool half) {
    const auto& run = c.job().runs[static_cast<std::size_t>(run_place)];
    const double width = half ? half_width : paper_width, name_width = half ? 27.0 : 32.0;
    Canvas canvas{"run-small-" + run.id, fmt::format("Run {}", run.id), width, 20};
    const auto from = mouth_words(run.from, run.access_at_from(), name_width);
    const auto to = mouth_words(run.to, run.access_at_to(), name_width);
    // Short names leave half a page's strip more room; across the page the strips of a day lie under each other.
    const auto room = [&](const std::string& name) { return half ? label_width(name, type, true) : name_width; };
    const Window window{0.0, run.length.in(unit::m), room(from) + 2.0, width - room(to) - 2.0};
    std::vector<Flag> flags;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        if (p.run != run_place) continue;
        flags.push_back(
            {window.x(((p.start + p.end) / 2.0).in(unit::m)),
             fmt::format("{}: {} from {}", short_name(p.id), shown(c, p, "mark"), short_name(p.rigging.from)), true});
    }
    std::sort(flags.begin(), flags.end(), [](const Flag& a, const Flag& b) { return a.x < b.x; });
    const int lanes = arrange(flags, type, 0.0, width);
    const double top = 1.0 + Canvas::lane * static_cast<double>(lanes);
    canvas.rectangle(window.left, top, window.right - window.left, thick, filled(Ink::white, 0.35));
    for (const auto& fitting : run.fittings)
        add_fitting(canvas, fitting, window.x(fitting.at.in(unit::m)), top + thick);
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        if (p.run != run_place) continue;
        const double x0 = window.x(p.start.in(unit::m)), x1 = window.x(p.end.in(unit::m));
        canvas.rectangle(x0, top, std::max(0.8, x1 - x0), thick, filled(Ink::dark, 0.25));
    }
    canvas.flags(flags, top, true, type);
    canvas.text({window.left - 1.5, top + thick - 0.6}, from, type, 1, true);
    canvas.text({window.right + 1.5, top + thick - 0.6}, to, type, -1, true);
    canvas.set_height(top + thick + 3.0);
    return canvas.take();
}

}  // namespace patchwright::sheet
