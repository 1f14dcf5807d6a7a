#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "canvas.hpp"
#include "words.hpp"

/// A patch cut across: host, liner, seam, and where round the clock the defects sit. Seen along the run.
namespace patchwright::sheet {
namespace {

constexpr double host_wall = 4.4, host_radius = 22.0;  ///< mm on paper

/// Degrees of an arc (0 to the right, clockwise on paper) from an hour.
double degrees(double hour) { return hour * 30.0 - 90.0; }

Point on_circle(Point centre, double radius, double deg) {
    const double turn = deg * std::numbers::pi / 180.0;
    return {centre.x + radius * std::cos(turn), centre.y + radius * std::sin(turn)};
}

/// A sector of a ring as a polygon, so that it can be hatched.
std::vector<Point> ring_sector(Point centre, double inner, double outer, double from, double to) {
    std::vector<Point> points;
    const int steps = std::max(2, static_cast<int>(std::ceil((to - from) / 6.0)));
    for (int i = 0; i <= steps; ++i) points.push_back(on_circle(centre, outer, from + (to - from) * i / steps));
    for (int i = steps; i >= 0; --i) points.push_back(on_circle(centre, inner, from + (to - from) * i / steps));
    return points;
}

struct Sector {
    double from = 0, to = 360;
    bool ring = false;
};
Sector sector_of(const std::optional<ClockRange>& clock) {
    if (!clock || clock->full_ring) return {-90, 270, true};
    double from = degrees(clock->from), to = degrees(clock->to);
    if (clock->from == clock->to) return {from - 8.0, from + 8.0, false};
    if (to <= from) to += 360.0;
    return {from, to, false};
}

}  // namespace

Drawing draw_section(const Context& c, int patch) {
    const auto& p = c.plan->patches[static_cast<std::size_t>(patch)];
    const auto& run = c.plan->run_of(p);
    Canvas canvas{"section-" + p.id, fmt::format("Patch {} across", p.id), 130, 66};
    canvas.title(fmt::format("seen from {} towards {}; the bore not to scale with the walls", short_name(run.from),
                             short_name(run.to)));
    const Point centre{33, 38};
    const double outside = host_radius, inside = outside - host_wall;
    // The liner to scale with the bore, but never thinner than can be seen.
    const double liner = std::clamp(inside * 2.0 * (p.felt.installed / p.bore), 1.1, 4.0);
    canvas.polygon(ring_sector(centre, inside, outside, -90, 270), filled(Ink::light, 0.0));
    canvas.arc({centre, outside, 0, 360, 0.4, Ink::black, false, Ink::white});
    canvas.arc({centre, inside, 0, 360, 0.3, Ink::black, false, Ink::white});
    std::vector<std::string> notes;
    for (const int d : p.defects) {
        const auto& defect = run.defects[static_cast<std::size_t>(d)];
        const auto sector = sector_of(defect.clock);
        auto style = hatched(Hatch::crossed, Ink::black, 0.35);
        style.filled = true;
        style.fill = Ink::white;
        canvas.polygon(ring_sector(centre, inside, outside, sector.from, sector.to), style);
        notes.push_back(fmt::format("{} {}{}", short_name(defect.id), job::word(defect.kind),
                                    sector.ring ? (defect.clock ? ", all round" : ", place round the pipe not given")
                                                : ", " + clock_words(*defect.clock)));
    }
    auto wet = filled(Ink::dark, 0.2);
    canvas.polygon(ring_sector(centre, inside - liner, inside - 0.15, -90, 270), wet);
    const bool sheet = p.cut.seam_overlap > Length{};
    if (sheet) {
        // Where the seam comes to lie is the crew's to choose: drawn half an hour past the crown, named in the note.
        const double share = std::clamp(p.cut.seam_overlap / (std::numbers::pi * p.bore), 0.02, 0.4) * 360.0;
        canvas.polygon(ring_sector(centre, inside - liner * 1.75, inside - liner, -90 - share / 2, -90 + share / 2),
                       wet);
    }
    for (const int hour : {12, 3, 6, 9}) {
        const auto at = on_circle(centre, outside + 3.0, degrees(hour));
        canvas.text({at.x, at.y + 0.9}, std::to_string(hour), 2.6, 0);
    }
    double y = 15.0;
    const double x = 66.0;
    const auto note = [&](const std::string& label, const std::string& value, auto&& sign) {
        sign(x, y);
        canvas.text({x + 7.5, y + 0.4}, label, 2.3, -1, false, false, Ink::dark);
        canvas.text({x + 7.5, y + 3.8}, fitted(value, 2.8, canvas.width() - x - 7.5, true), 2.8, -1, true);
        y += 8.2;
    };
    note("host pipe", fmt::format("{}, {}", job::word(run.material), show(c, Show::tape, p.bore)),
         [&](double a, double b) { canvas.rectangle(a, b, 5, 3, filled(Ink::light, 0.3)); });
    note("liner when cured",
         fmt::format("{} of {} layer{}", show(c, Show::thickness, p.felt.installed), p.felt.layers,
                     p.felt.layers > 1 ? "s" : ""),
         [&](double a, double b) { canvas.rectangle(a, b, 5, 3, filled(Ink::dark, 0.3)); });
    note("needed by design",
         fmt::format("{} ({})", show(c, Show::thin, p.thickness.design), liner::word(p.thickness.governing)),
         [](double, double) {});
    note("bore left", show(c, Show::tape, p.bore - 2.0 * p.felt.installed), [](double, double) {});
    if (sheet) note("seam overlap, drawn at the crown", show(c, Show::tape, p.cut.seam_overlap), [](double, double) {});
    for (std::size_t i = 0; i < notes.size(); ++i) {
        if (i == 0) canvas.rectangle(x, y, 5, 3, hatched(Hatch::crossed, Ink::black, 0.3));
        canvas.text({x + 7.5, y + 2.4}, fitted(notes[i], 2.5, canvas.width() - x - 7.5), 2.5);
        y += 4.0;
    }
    canvas.set_height(std::max(66.0, y + 1.0));
    return canvas.take();
}

}  // namespace patchwright::sheet
