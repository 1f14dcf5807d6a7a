#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "draw_strip.hpp"
#include "words.hpp"

/// The run to scale: section above, the wall unrolled below, the marks of the packers under it.
namespace patchwright::sheet {
namespace {

constexpr double run_plot_left = 17.0, run_plot_right = 176.0;
constexpr double small = 2.4;

struct Section {
    double top = 0, ground = 0, crown = 0, invert = 0;
};

/// Ground, shafts, pipe and water: depth in its own scale, said so.
Section add_section(Canvas& canvas, const Context& c, const job::Run& run, const Window& window, double top) {
    Section s{top, top + 5.5, top + 22.5, top + 26.5};
    const double left = window.x(0), right = window.x(run.length.in(unit::m));
    canvas.line({left - 9, s.ground}, {right + 4, s.ground}, 0.5);
    for (double x = left - 8; x < right + 3; x += 2.2)
        canvas.line({x, s.ground}, {x - 1.0, s.ground + 1.2}, 0.15, Ink::dark);
    for (const bool far : {false, true}) {
        const double x = far ? right : left;
        const bool open = far ? run.access_at_to() : run.access_at_from();
        canvas.rectangle(far ? x : x - 3.0, s.ground, 3.0, s.invert - s.ground, filled(Ink::white, 0.35));
        if (!open) canvas.rectangle(far ? x : x - 3.0, s.ground - 0.8, 3.0, 0.8, filled(Ink::black, 0.2));
        const auto words = short_name(far ? run.to : run.from, 24) + (open ? "" : " (no access)");
        canvas.text({far ? right + 3.0 : left - 3.0, s.ground - 1.6}, words, 2.8, far ? 1 : -1, true);
    }
    Polygon pipe = filled(Ink::light, 0.35);
    canvas.rectangle(left, s.crown, right - left, s.invert - s.crown, pipe);
    canvas.line({left - 6.0, s.ground}, {left - 6.0, s.invert}, 0.2);
    for (const double y : {s.ground, s.invert}) canvas.line({left - 6.8, y}, {left - 5.2, y}, 0.3);
    canvas.text_upwards({left - 7.0, (s.ground + s.invert) / 2}, show(c, Show::run_distance, run.depth), small);
    const auto& water = *run.water_table;
    if (water && *water < run.depth) {
        const double y = s.ground + (s.invert - s.ground) * std::clamp(*water / run.depth, 0.0, 1.0);
        canvas.line({left + 0.3, y}, {right - 0.3, y}, 0.3, Ink::black, Dash::dashed);
        canvas.polygon({{right - 7.2, y - 2.0}, {right - 4.8, y - 2.0}, {right - 6.0, y - 0.2}},
                       filled(Ink::white, 0.25));
        canvas.text({right - 8.2, y - 0.7}, fmt::format("water {} below ground", show(c, Show::run_distance, *water)),
                    small, 1, false, true);
    } else {
        canvas.text({right - 1.0, s.ground + 3.8}, "calculated without water above the pipe", small, 1, false, true);
    }
    return s;
}

void add_patches_in_pipe(Canvas& canvas, const StripContent& content, const Window& window, const Section& s) {
    for (const auto& patch : content.patches) {
        const double x0 = window.x(patch.start), x1 = window.x(patch.end);
        canvas.rectangle(x0, s.crown, std::max(0.6, x1 - x0), s.invert - s.crown, filled(Ink::dark, 0.25));
    }
    for (const auto& fitting : content.fittings) {
        const double x = window.x(fitting.at);
        if (fitting.bend) {
            canvas.polygon({{x - 1.1, s.crown - 1.9}, {x + 1.1, s.crown - 1.9}, {x, s.crown - 0.1}},
                           filled(Ink::black, 0.1));
        } else {
            canvas.rectangle(x - 0.7, s.crown - 2.6, 1.4, 2.6, filled(Ink::white, 0.3));
        }
    }
}

/// A line a patch: how far from which mouth, where the mark comes to lie.
double add_marks(Canvas& canvas, const Context& c, int run_place, const Window& window, double y) {
    const auto& run = c.job().runs[static_cast<std::size_t>(run_place)];
    bool first = true;
    for (const auto& p : c.plan->patches) {
        if (p.run != run_place) continue;
        if (first) {
            canvas.text({0, y + 3.0}, "Packers in: from the mouth to the mark (middle of the sleeve)", 2.6, -1, true);
            y += 5.2;
            first = false;
        }
        const bool from_start = p.rigging.from == run.from;
        const double mouth = window.x(from_start ? 0.0 : run.length.in(unit::m));
        const double middle = window.x(((p.start + p.end) / 2.0).in(unit::m));
        canvas.line({mouth, y - 1.0}, {mouth, y + 2.2}, 0.35);
        if (std::abs(middle - mouth) > 0.8) canvas.arrow({mouth, y + 0.6}, {middle, y + 0.6}, 0.4);
        canvas.line({middle, y - 1.0}, {middle, y + 2.2}, 0.7);
        const auto words = fmt::format("{}  {} from {}, mark {}", short_name(p.id),
                                       p.rigging.method == packer::Method::pull ? "pull" : "push",
                                       short_name(p.rigging.from), show(c, Show::run_distance, p.rigging.mark));
        const double wide = label_width(words, 2.6, true) + 2.0;
        // Beyond the arrow's head where there is room, else beyond its foot, else on the arrow.
        const double free_right = run_plot_right + 5.0 - std::max(mouth, middle), free_left = std::min(mouth, middle);
        if (free_right >= wide) {
            canvas.text({std::max(mouth, middle) + 1.4, y + 1.5}, words, 2.6, -1, true);
        } else if (free_left >= wide) {
            canvas.text({std::min(mouth, middle) - 1.4, y + 1.5}, words, 2.6, 1, true);
        } else {
            canvas.text({(mouth + middle) / 2.0, y + 1.5}, words, 2.6, 0, true, true);
        }
        y += 4.4;
    }
    return y;
}

double add_key(Canvas& canvas, double y) {
    double x = 0;
    const auto entry = [&](const char* words, auto&& sign) {
        if (x + 8.0 + label_width(words, small) > paper_width) x = 0, y += 3.8;
        sign(x, y);
        canvas.text({x + 7.0, y + 2.3}, words, small);
        x += 10.5 + label_width(words, small);
    };
    entry("defect", [&](double a, double b) { canvas.rectangle(a, b, 5.5, 2.8, hatched(Hatch::crossed)); });
    entry("sleeve", [&](double a, double b) { canvas.rectangle(a, b, 5.5, 2.8, filled(Ink::light, 0.5)); });
    entry("overlap on sound pipe", [&](double a, double b) {
        canvas.rectangle(a, b, 5.5, 2.8, filled(Ink::light, 0.5));
        canvas.rectangle(a, b, 5.5, 2.8, hatched(Hatch::slanted, Ink::mid, 0));
    });
    entry("bend",
          [&](double a, double b) { canvas.rectangle(a + 1.4, b, 2.7, 2.8, hatched(Hatch::dots, Ink::black, 0.2)); });
    entry("live connection", [&](double a, double b) {
        canvas.arc({{a + 2.7, b + 1.4}, 1.3, 0, 360, 0.4, Ink::black, true, Ink::white});
    });
    entry("dead connection", [&](double a, double b) {
        canvas.arc({{a + 2.7, b + 1.4}, 1.3, 0, 360, 0.4, Ink::black, true, Ink::white});
        canvas.line({a + 1.8, b + 0.5}, {a + 3.6, b + 2.3}, 0.3);
    });
    return y + 4.2;
}

}  // namespace

Drawing draw_run(const Context& c, int run_place, bool packers) {
    const auto& run = c.job().runs[static_cast<std::size_t>(run_place)];
    Canvas canvas{"run-" + run.id, fmt::format("Run {}: {} to {}", run.id, run.from, run.to), paper_width, 80};
    canvas.title(fmt::format("{} long, {} {}, {} deep to the invert; lengths to scale, depth and bore not",
                             show(c, Show::run_distance, run.length), show(c, Show::tape, run.working_bore()),
                             job::word(run.material), show(c, Show::run_distance, run.depth)));
    const Window window{0.0, run.length.in(unit::m), run_plot_left, run_plot_right};
    const auto content = strip_content(c, run_place);
    const auto section = add_section(canvas, c, run, window, 10.0);
    add_patches_in_pipe(canvas, content, window, section);
    double y = section.invert + 3.0;
    const auto lenses = lenses_of(content, window);
    y = add_strip(canvas, c, content, window, y, StripStyle{.height = 26.0, .lenses = lenses});
    if (!lenses.empty()) y = add_lenses(canvas, c, content, lenses, y + 2.0, paper_width);
    if (packers) y = add_marks(canvas, c, run_place, window, y + 2.0);
    y = add_key(canvas, y + 1.0);
    canvas.set_height(y + 0.5);
    return canvas.take();
}

}  // namespace patchwright::sheet
