#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/model.hpp"

/// Paper: PDF, SVG and PNG by pangocairo.
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

/// Throws IoError when no usable font is found or a character has no glyph in any font.
Pages pdf(const std::vector<Sheet>& sheets, const PageOptions& options);
std::string svg(const Drawing& drawing);
std::string png(const Drawing& drawing, double dots_per_inch);
std::string drawing_pdf(const std::vector<Drawing>& drawings, const PageOptions& options);

}  // namespace patchwright::sheet
