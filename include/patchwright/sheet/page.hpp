#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/model.hpp"

/// Paper: PDF and PNG by pangocairo, and SVG, which needs none of it.
namespace patchwright::sheet {

enum class Paper : std::uint8_t { a4, letter };
struct PageOptions {
    Paper paper = Paper::a4;
    std::optional<std::string> created;  ///< ISO date-time for the metadata; same input, same bytes
    bool keep_boxes = false;             ///< keep the layout's rectangles, for tests
};
struct Box {
    int page = 0;
    double x = 0, y = 0, width = 0, height = 0;
    std::string text;
};
struct Pages {
    std::string pdf;
    int count = 0;
    std::vector<Box> boxes;
    std::vector<std::string> warnings;
};

/// Whether this build makes PDF and PNG: one without pango and cairo does not, and then `pdf`, `drawing_pdf` and `png`
/// throw IoError with these words.
bool makes_pages();
inline constexpr std::string_view no_pages_words =
    "this build of Patchwright makes no PDF and no PNG; a page or a drawing as HTML or SVG prints from the browser";

/// Throws IoError when no usable font is found or a character has no glyph in any font.
Pages pdf(const std::vector<Sheet>& sheets, const PageOptions& options);
std::string svg(const Drawing& drawing);
std::string png(const Drawing& drawing, double dots_per_inch);
std::string drawing_pdf(const std::vector<Drawing>& drawings, const PageOptions& options);

}  // namespace patchwright::sheet
