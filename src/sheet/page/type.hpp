#pragma once
#include <cstdint>
#include <string>
#include <string_view>

/// Type in the drawings and on paper, whatever sets it.
namespace patchwright::sheet {

enum class Face : std::uint8_t { regular, bold };

/// Advance of one line in the sheets' family. With pango and cairo it is measured (fonts.cpp), and throws IoError for a
/// character that no font has; without them it is looked up (no_pages.cpp).
double text_width(std::string_view text, Face face, double size);

/// The same from the table in widths.txt: DejaVu Sans with its kerning, to the unit. A character that is not in the
/// table counts as wide as the type is high, which few are.
double table_width(std::string_view text, Face face, double size);

/// Valid UTF-8 without control characters, which paper cannot show.
std::string printable(std::string_view text);

}  // namespace patchwright::sheet
