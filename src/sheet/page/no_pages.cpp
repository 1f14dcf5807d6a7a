// In place of pango and cairo: drawings as SVG with widths from the table, and no paper.
#include <algorithm>

#include <fmt/format.h>

#include "patchwright/sheet/image.hpp"
#include "patchwright/sheet/page.hpp"
#include "patchwright/units/error.hpp"
#include "type.hpp"

namespace patchwright::sheet {
namespace {

[[noreturn]] void refuse() { throw IoError(std::string{no_pages_words}); }

/// A number of four bytes of a PNG (ISO/IEC 15948, 7.1).
double four_bytes(const std::string& bytes, std::size_t at) {
    double value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value * 256.0 + static_cast<unsigned char>(bytes[at + i]);
    return value;
}

}  // namespace

bool makes_pages() { return false; }

double text_width(std::string_view text, Face face, double size) { return table_width(text, face, size); }

Pages pdf(const std::vector<Sheet>&, const PageOptions&) { refuse(); }
std::string drawing_pdf(const std::vector<Drawing>&, const PageOptions&) { refuse(); }
std::string png(const Drawing&, double) { refuse(); }

Image image(std::string bytes, double max_width, double max_height) {
    constexpr std::string_view png_start = "\x89PNG\r\n\x1a\n";   // ISO/IEC 15948, 5.2
    constexpr std::string_view png_end = "IEND\xAE\x42\x60\x82";  // 11.2.5
    constexpr std::size_t header_end = 24;                        // IHDR with width and height, 11.2.2
    if (bytes.substr(0, 4096).find("<svg") != std::string::npos)
        throw InputError("this build of Patchwright cannot measure an SVG; give a PNG");
    if (!bytes.starts_with(png_start)) throw InputError("neither PNG nor SVG; give one of these");
    const bool whole = bytes.size() > header_end && bytes.compare(12, 4, "IHDR") == 0 && bytes.ends_with(png_end);
    const double width = whole ? four_bytes(bytes, 16) : 0, height = whole ? four_bytes(bytes, 20) : 0;
    if (width < 1 || height < 1) throw InputError("no PNG that can be read: it ends too early or is damaged");
    const double scale = std::min(max_width / width, max_height / height);
    Image image;
    image.width = width * scale;
    image.height = height * scale;
    image.bytes = std::make_shared<const std::string>(std::move(bytes));
    return image;
}

}  // namespace patchwright::sheet
