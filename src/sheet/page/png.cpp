#include <cmath>

#include <fmt/format.h>

#include "paint.hpp"
#include "patchwright/sheet/page.hpp"
#include "patchwright/units/error.hpp"
#include "surface.hpp"

namespace patchwright::sheet {
std::string png(const Drawing& drawing, double dots_per_inch) {
    const double scale = dots_per_inch / 25.4;
    const double width = std::ceil(drawing.width * scale - 1e-6), height = std::ceil(drawing.height * scale - 1e-6);
    if (!(width >= 1 && height >= 1 && width <= 30000 && height <= 30000)) {
        throw RangeError(fmt::format(
            "a picture of {:.0f} mm x {:.0f} mm cannot have {:.0f} dots per inch; at most 30000 dots a side",
            drawing.width, drawing.height, dots_per_inch));
    }
    std::string bytes;
    auto* surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(width), static_cast<int>(height));
    auto* cairo = cairo_create(surface);
    cairo_set_source_rgb(cairo, 1, 1, 1);
    cairo_paint(cairo);
    cairo_scale(cairo, scale, scale);
    auto* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_set_font_options(cairo, options);
    cairo_font_options_destroy(options);
    std::string fault;
    try {
        paint(cairo, drawing, fonts());
    } catch (const Error& error) {
        fault = error.what();
    }
    const auto drawn = cairo_status(cairo);
    cairo_destroy(cairo);
    const auto status =
        drawn != CAIRO_STATUS_SUCCESS ? drawn : cairo_surface_write_to_png_stream(surface, append_to_string, &bytes);
    cairo_surface_destroy(surface);
    if (!fault.empty()) throw IoError(fault);
    if (status != CAIRO_STATUS_SUCCESS)
        throw IoError(fmt::format("the picture could not be made: {}", cairo_status_to_string(status)));
    return bytes;
}

}  // namespace patchwright::sheet
