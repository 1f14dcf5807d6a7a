#pragma once
#include <string>

#include "patchwright/sheet/model.hpp"

/// Pictures that somebody else made, such as the firm's sign.
namespace patchwright::sheet {

/// The PNG or SVG in those bytes, as large as fits into a box of so many millimetres. An SVG is drawn by librsvg, which
/// is loaded only then; it fetches nothing from outside the file. Throws InputError for bytes that are neither, or that
/// cannot be drawn, and where librsvg is missing.
Image image(std::string bytes, double max_width, double max_height);

/// "data:image/png;base64,...": the image inside a page.
std::string data_address(const Image& image);

}  // namespace patchwright::sheet
