#include "fonts.hpp"

#include <algorithm>
#include <memory>
#include <system_error>
#include <thread>

#include <fmt/format.h>

#include "patchwright/units/error.hpp"
#include "patchwright/units/utf8.hpp"

namespace patchwright::sheet {
namespace {

constexpr double measured_size = 1000.0;
constexpr const char* wanted_family = "DejaVu Sans";

cairo_font_options_t* unhinted() {
    auto* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    return options;
}

/// Each font shows something of its own for a character of private use, and what is unassigned means nothing: refused
/// whatever is installed, so that every machine says the same.
void refuse_without_meaning(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
        at += c.bytes;
        const auto type = g_unichar_type(c.value);
        if (type != G_UNICODE_PRIVATE_USE && type != G_UNICODE_UNASSIGNED) continue;
        throw IoError(fmt::format(
            "the character U+{:04X} of \"{}\" {}; write it with another", static_cast<std::uint32_t>(c.value), text,
            type == G_UNICODE_PRIVATE_USE ? "is of private use, and every font shows something else for it"
                                          : "is not assigned in Unicode"));
    }
}

/// The libraries that set type end the program where they get no memory or no thread: both are asked for before.
void must_have_room() {
    constexpr std::size_t taken = 48U << 20U;  // address space: some 40 MB on Debian 12
    const auto room = std::make_unique_for_overwrite<char[]>(taken);
    const_cast<volatile char&>(room[0]) = 0;  // or the compiler would leave the two lines out
    try {
        std::thread{[] {}}.join();
    } catch (const std::system_error&) {
        throw IoError("fonts cannot be opened: the system gives no second thread");
    }
}

}  // namespace

Fonts::Fonts() {
    must_have_room();
    auto* map = pango_cairo_font_map_get_default();
    context_ = pango_font_map_create_context(map);
    auto* options = unhinted();
    pango_cairo_context_set_font_options(context_, options);
    cairo_font_options_destroy(options);
    pango_cairo_context_set_resolution(context_, 72.0);
    pango_context_set_round_glyph_positions(context_, FALSE);
    layout_ = pango_layout_new(context_);
    pango_layout_set_single_paragraph_mode(layout_, TRUE);
    bool usable = true;
    for (const auto face : {Face::regular, Face::bold}) {
        auto* description = data(face).description = pango_font_description_new();
        pango_font_description_set_family(description, wanted_family);
        pango_font_description_set_weight(description, face == Face::bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
        pango_font_description_set_absolute_size(description, measured_size * PANGO_SCALE);
        auto* font = pango_font_map_load_font(map, context_, description);
        usable = usable && font != nullptr && pango_layout_get_unknown_glyphs_count(laid_out("A", data(face))) == 0;
        if (font != nullptr) g_object_unref(font);
    }
    if (usable) return;
    close();
    throw IoError(
        "no usable font is installed, so nothing can be set on paper; install DejaVu Sans (Debian: "
        "fonts-dejavu-core)");
}

Fonts::~Fonts() { close(); }

void Fonts::close() {
    for (const auto& face : faces_) pango_font_description_free(face.description);
    g_object_unref(layout_);
    g_object_unref(context_);
}

Fonts& fonts() {
    thread_local Fonts opened;
    return opened;
}

double text_width(std::string_view text, Face face, double size) { return fonts().width(text, face, size); }

PangoLayout* Fonts::laid_out(std::string_view text, const FaceData& face) {
    pango_layout_set_font_description(layout_, face.description);
    const auto valid = printable(text);
    pango_layout_set_text(layout_, valid.data(), static_cast<int>(valid.size()));
    return layout_;
}

void Fonts::refuse(std::string_view text, const FaceData& face) {
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
        const auto one = text.substr(at, c.bytes);
        at += c.bytes;
        if (pango_layout_get_unknown_glyphs_count(laid_out(one, face)) == 0) continue;
        throw IoError(fmt::format(
            "no installed font has the character \"{}\" (U+{:04X}) of \"{}\"; install a font for this writing", one,
            static_cast<std::uint32_t>(c.value), text));
    }
    throw IoError(fmt::format("no installed font can show \"{}\"", text));
}

double Fonts::width(std::string_view text, Face face, double size) {
    auto& d = data(face);
    const std::string key{text};
    auto known = d.widths.find(key);
    if (known == d.widths.end()) {
        refuse_without_meaning(text);
        auto* layout = laid_out(text, d);
        if (pango_layout_get_unknown_glyphs_count(layout) > 0) refuse(text, d);
        PangoRectangle logical;
        pango_layout_get_extents(layout, nullptr, &logical);
        known = d.widths.emplace(key, static_cast<double>(logical.width) / PANGO_SCALE / measured_size).first;
    }
    return known->second * size;
}

std::vector<std::string> Fonts::wrap(std::string_view given, Face face, double size, double width) {
    const auto text = printable(given);
    std::vector<std::string> lines;
    const double space = this->width(" ", face, size);
    std::string line;
    double used = 0;
    const auto push = [&] {
        lines.push_back(std::move(line));
        line.clear();
        used = 0;
    };
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find(' ', at), text.size());
        std::string_view word{text.data() + at, end - at};
        at = end + 1;
        if (word.empty()) continue;
        double wide = this->width(word, face, size);
        if (!line.empty() && used + space + wide > width) push();
        while (wide > width) {
            std::size_t cut = code_point(word, 0).bytes;
            while (cut < word.size()) {
                const auto next = cut + code_point(word, cut).bytes;
                if (this->width(word.substr(0, next), face, size) > width) break;
                cut = next;
            }
            if (cut >= word.size()) break;  // one character wider than the column: it stands alone
            line = word.substr(0, cut);
            word.remove_prefix(cut);
            push();
            wide = this->width(word, face, size);
        }
        if (!line.empty()) {
            line += ' ';
            used += space;
        }
        line += word;
        used += wide;
    }
    if (!line.empty() || lines.empty()) push();
    return lines;
}

void Fonts::show(cairo_t* cairo, std::string_view text, double x, double baseline, Face face, double size) {
    if (text.empty()) return;
    (void)width(text, face, size);  // refuses what cannot be shown
    auto* layout = laid_out(text, data(face));
    cairo_save(cairo);
    cairo_translate(cairo, x, baseline);
    cairo_scale(cairo, size / measured_size, size / measured_size);
    cairo_move_to(cairo, 0, -static_cast<double>(pango_layout_get_baseline(layout)) / PANGO_SCALE);
    pango_cairo_show_layout(cairo, layout);
    cairo_restore(cairo);
}

}  // namespace patchwright::sheet
