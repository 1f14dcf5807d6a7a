#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include <pango/pangocairo.h>

/// Type on paper: measuring, breaking and showing text in the one family that all sheets use.
namespace patchwright::sheet {

enum class Face : std::uint8_t { regular, bold };

/// Latin, Greek and Cyrillic text is set glyph by glyph from a table of advances: hinting is off, so that widths grow
/// in proportion with the size, and PDF, PNG and the drawings agree. All other writing goes through pango, which
/// shapes it and looks for other fonts.
class Fonts {
public:
    /// Throws IoError when the system offers no font with letters in it.
    Fonts();
    ~Fonts();
    Fonts(const Fonts&) = delete;
    Fonts& operator=(const Fonts&) = delete;

    /// Advance of one line. Throws IoError for a character that no font has, and names it.
    double width(std::string_view text, Face face, double size);
    /// Lines not wider than `width`: broken at spaces, a longer word anywhere between its characters.
    std::vector<std::string> wrap(std::string_view text, Face face, double size, double width);
    /// `baseline` is where the letters stand.
    void show(cairo_t* cairo, std::string_view text, double x, double baseline, Face face, double size);
    const std::string& family() const { return family_; }

private:
    struct Glyph {
        unsigned long index = 0;  ///< 0: not in the font
        double advance = 0;       ///< for size 1
        bool known = false;
    };
    struct FaceData {
        cairo_font_face_t* face = nullptr;
        cairo_scaled_font_t* scaled = nullptr;  ///< of size `measured_size`
        PangoFontDescription* description = nullptr;
        std::array<Glyph, 0x530> low{};
        std::array<Glyph, 0x300> signs{};  ///< U+2000 to U+22FF
    };
    const Glyph* simple_glyph(FaceData& face, char32_t c);
    /// Glyphs of the line in `glyphs_`, false when it needs shaping or another font.
    bool set_simple(std::string_view text, FaceData& face);
    PangoLayout* shaped(std::string_view text, const FaceData& face, double size);
    double shaped_width(std::string_view text, const FaceData& face, double size);
    void refuse(std::string_view text, const FaceData& face);
    FaceData& data(Face face) { return faces_[static_cast<std::size_t>(face)]; }

    std::array<FaceData, 2> faces_{};
    PangoContext* context_ = nullptr;
    PangoLayout* layout_ = nullptr;
    std::string family_;
    std::vector<Glyph> glyphs_;
    std::vector<cairo_glyph_t> shown_;
    std::vector<cairo_text_cluster_t> clusters_;
    std::unordered_map<std::string, double> shaped_widths_;
};

/// The next code point of UTF-8 and its length in bytes; a damaged byte gives U+FFFD.
struct CodePoint {
    char32_t value = 0;
    std::size_t bytes = 1;
};
CodePoint code_point(std::string_view text, std::size_t at);
/// Valid UTF-8 without control characters, which paper cannot show.
std::string printable(std::string_view text);

}  // namespace patchwright::sheet
