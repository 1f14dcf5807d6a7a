#pragma once
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include <pango/pangocairo.h>

#include "type.hpp"

/// Type on paper: measuring, breaking and showing text in the one family that all sheets use.
namespace patchwright::sheet {

/// All text is set by pango, without hinting, so that widths grow in proportion with the size and PDF, PNG and the
/// drawings agree.
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

private:
    struct FaceData {
        PangoFontDescription* description = nullptr;
        std::unordered_map<std::string, double> widths;  ///< for size 1
    };
    FaceData& data(Face face) { return faces_[static_cast<std::size_t>(face)]; }
    PangoLayout* laid_out(std::string_view text, const FaceData& face);
    void close();
    [[noreturn]] void refuse(std::string_view text, const FaceData& face);

    PangoContext* context_ = nullptr;
    PangoLayout* layout_ = nullptr;
    FaceData faces_[2];
};

/// Those of this thread, opened when first asked for: finding the fonts takes longer than setting a page.
Fonts& fonts();

}  // namespace patchwright::sheet
