#include "fonts.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "patchwright/units/error.hpp"

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

/// Scripts that need no shaping: one character, one glyph, left to right.
bool is_simple(char32_t c) {
    const bool combining = c >= 0x0300 && c <= 0x036F;
    const bool cyrillic_mark = c >= 0x0483 && c <= 0x0489;
    const bool direction_mark =
        (c >= 0x200B && c <= 0x200F) || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2060 && c <= 0x206F);
    return (c < 0x530 && !combining && !cyrillic_mark) || (c >= 0x2000 && c < 0x2300 && !direction_mark);
}

}  // namespace

CodePoint code_point(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
    const auto lead = byte(0);
    if (lead < 0x80) return {lead, 1};
    const std::size_t size = lead < 0xC2 ? 0 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 0;
    if (size == 0 || at + size > text.size()) return {0xFFFD, 1};
    char32_t value = lead & (0xFFU >> (size + 1));
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(i) & 0xC0U) != 0x80) return {0xFFFD, 1};
        value = (value << 6) | (byte(i) & 0x3FU);
    }
    const bool overlong = (size == 3 && value < 0x800) || (size == 4 && value < 0x10000);
    if (overlong || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) return {0xFFFD, 1};
    return {value, size};
}

namespace {

/// A character for private use means one thing on one machine and another on the next, one that is not assigned nothing
/// at all, whatever glyph a font has for it.
void require_meaning(char32_t value, std::string_view text) {
    const auto c = static_cast<gunichar>(value);
    if (g_unichar_isdefined(c) != FALSE && g_unichar_type(c) != G_UNICODE_PRIVATE_USE) return;
    throw IoError(fmt::format("the character U+{:04X} of \"{}\" is {}: write it another way",
                              static_cast<std::uint32_t>(c), text,
                              g_unichar_isdefined(c) != FALSE ? "for private use" : "not assigned in Unicode"));
}

}  // namespace

std::string printable(std::string_view text) {
    std::string result;
    result.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
        if (c.value < 0x20 || (c.value >= 0x7F && c.value < 0xA0)) {
            result += ' ';
        } else if (c.value == 0xFFFD) {
            result += "\xEF\xBF\xBD";
        } else {
            require_meaning(c.value, text);
            result += text.substr(at, c.bytes);
        }
        at += c.bytes;
    }
    return result;
}

Fonts::Fonts() {
    auto* map = pango_cairo_font_map_get_default();
    context_ = pango_font_map_create_context(map);
    auto* options = unhinted();
    pango_cairo_context_set_font_options(context_, options);
    pango_cairo_context_set_resolution(context_, 72.0);
    for (const auto face : {Face::regular, Face::bold}) {
        auto& d = data(face);
        d.description = pango_font_description_new();
        pango_font_description_set_family(d.description, wanted_family);
        pango_font_description_set_weight(d.description, face == Face::bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
        pango_font_description_set_absolute_size(d.description, measured_size * PANGO_SCALE);
        auto* font = pango_font_map_load_font(map, context_, d.description);
        auto* loaded = font != nullptr ? pango_cairo_font_get_scaled_font(PANGO_CAIRO_FONT(font)) : nullptr;
        if (loaded != nullptr && cairo_scaled_font_status(loaded) == CAIRO_STATUS_SUCCESS) {
            d.face = cairo_font_face_reference(cairo_scaled_font_get_font_face(loaded));
            cairo_matrix_t size, unity;
            cairo_matrix_init_scale(&size, measured_size, measured_size);
            cairo_matrix_init_identity(&unity);
            d.scaled = cairo_scaled_font_create(d.face, &size, &unity, options);
            auto* found = pango_font_describe(font);
            if (family_.empty()) family_ = pango_font_description_get_family(found);
            pango_font_description_free(found);
        }
        if (font != nullptr) g_object_unref(font);
    }
    cairo_font_options_destroy(options);
    layout_ = pango_layout_new(context_);
    const bool usable = std::all_of(faces_.begin(), faces_.end(), [this](FaceData& d) {
        const auto* glyph = d.scaled != nullptr ? simple_glyph(d, U'A') : nullptr;
        return glyph != nullptr && glyph->advance > 0;
    });
    if (!usable) {
        throw IoError(
            "no usable font is installed, so nothing can be set on paper; install DejaVu Sans (Debian: "
            "fonts-dejavu-core)");
    }
}

Fonts::~Fonts() {
    for (auto& d : faces_) {
        if (d.scaled != nullptr) cairo_scaled_font_destroy(d.scaled);
        if (d.face != nullptr) cairo_font_face_destroy(d.face);
        if (d.description != nullptr) pango_font_description_free(d.description);
    }
    if (layout_ != nullptr) g_object_unref(layout_);
    if (context_ != nullptr) g_object_unref(context_);
}

const Fonts::Glyph* Fonts::simple_glyph(FaceData& face, char32_t c) {
    if (!is_simple(c)) return nullptr;
    auto& glyph = c < 0x530 ? face.low[c] : face.signs[c - 0x2000];
    if (!glyph.known) {
        glyph.known = true;
        std::array<char, 8> utf8{};
        const auto bytes = g_unichar_to_utf8(c, utf8.data());
        cairo_glyph_t* glyphs = nullptr;
        int count = 0;
        const auto status = cairo_scaled_font_text_to_glyphs(face.scaled, 0, 0, utf8.data(), bytes, &glyphs, &count,
                                                             nullptr, nullptr, nullptr);
        if (status == CAIRO_STATUS_SUCCESS && count == 1 && glyphs[0].index != 0) {
            cairo_text_extents_t extents;
            cairo_scaled_font_glyph_extents(face.scaled, glyphs, 1, &extents);
            glyph.index = glyphs[0].index;
            glyph.advance = extents.x_advance / measured_size;
        }
        cairo_glyph_free(glyphs);
    }
    return glyph.index != 0 ? &glyph : nullptr;
}

bool Fonts::set_simple(std::string_view text, FaceData& face) {
    glyphs_.clear();
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
        const auto* glyph = simple_glyph(face, c.value);
        if (glyph == nullptr) return false;
        glyphs_.push_back(*glyph);
        at += c.bytes;
    }
    return true;
}

PangoLayout* Fonts::shaped(std::string_view text, const FaceData& face, double size) {
    auto* description = pango_font_description_copy(face.description);
    pango_font_description_set_absolute_size(description, size * PANGO_SCALE);
    pango_layout_set_font_description(layout_, description);
    pango_font_description_free(description);
    const auto valid = printable(text);
    pango_layout_set_text(layout_, valid.data(), static_cast<int>(valid.size()));
    return layout_;
}

double Fonts::shaped_width(std::string_view text, const FaceData& face, double size) {
    auto key = fmt::format("{}{}", face.description == faces_[1].description ? 'b' : 'r', text);
    auto found = shaped_widths_.find(key);
    if (found == shaped_widths_.end()) {
        auto* layout = shaped(text, face, measured_size);
        if (pango_layout_get_unknown_glyphs_count(layout) > 0) refuse(text, face);
        PangoRectangle logical;
        pango_layout_get_extents(layout, nullptr, &logical);
        const double width = static_cast<double>(logical.width) / PANGO_SCALE / measured_size;
        found = shaped_widths_.emplace(std::move(key), width).first;
    }
    return found->second * size;
}

void Fonts::refuse(std::string_view text, const FaceData& face) {
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
        const auto one = text.substr(at, c.bytes);
        at += c.bytes;
        if (pango_layout_get_unknown_glyphs_count(shaped(one, face, measured_size)) == 0) continue;
        throw IoError(fmt::format(
            "no installed font has the character \"{}\" (U+{:04X}) of \"{}\"; install a font for this writing", one,
            static_cast<std::uint32_t>(c.value), text));
    }
    throw IoError(fmt::format("no installed font can show \"{}\"", text));
}

double Fonts::width(std::string_view text, Face face, double size) {
    auto& d = data(face);
    if (!set_simple(text, d)) return shaped_width(text, d, size);
    double sum = 0;
    for (const auto& glyph : glyphs_) sum += glyph.advance;
    return sum * size;
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

void Fonts::show(cairo_t* cairo, std::string_view given, double x, double baseline, Face face, double size) {
    const auto text = printable(given);
    if (text.empty()) return;
    auto& d = data(face);
    if (!set_simple(text, d)) {
        (void)shaped_width(text, d, size);  // refuses what cannot be shown
        auto* layout = shaped(text, d, measured_size);
        cairo_save(cairo);
        cairo_translate(cairo, x, baseline);
        cairo_scale(cairo, size / measured_size, size / measured_size);
        cairo_move_to(cairo, 0, -static_cast<double>(pango_layout_get_baseline(layout)) / PANGO_SCALE);
        pango_cairo_show_layout(cairo, layout);
        cairo_restore(cairo);
        return;
    }
    shown_.clear();
    clusters_.clear();
    std::size_t at = 0;
    for (const auto& glyph : glyphs_) {
        const auto c = code_point(text, at);
        shown_.push_back({glyph.index, x, baseline});
        clusters_.push_back({static_cast<int>(c.bytes), 1});
        x += glyph.advance * size;
        at += c.bytes;
    }
    cairo_set_font_face(cairo, d.face);
    cairo_set_font_size(cairo, size);
    cairo_show_text_glyphs(cairo, text.data(), static_cast<int>(text.size()), shown_.data(),
                           static_cast<int>(shown_.size()), clusters_.data(), static_cast<int>(clusters_.size()),
                           static_cast<cairo_text_cluster_flags_t>(0));
}

}  // namespace patchwright::sheet
