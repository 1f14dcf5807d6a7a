#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/sheet/model.hpp"

/// Lines of plain text in columns.
namespace patchwright::sheet {

/// Columns that UTF-8 text takes on a terminal: code points, without combining marks; wide East Asian ones count two.
std::size_t text_width(std::string_view utf8);
std::string padded(std::string_view text, std::size_t width);
std::string padded_left(std::string_view text, std::size_t width);
/// Breaks at spaces; a word longer than the width is broken anywhere.
std::vector<std::string> wrap(std::string_view text, std::size_t width);
/// Header, rule and rows; the widest columns are wrapped until the table fits.
std::vector<std::string> table_lines(const Table& table, std::size_t width);
/// Letters without their accents, signs by their usual stand-ins ("deg", "x", "-"); anything else as "?".
std::string to_ascii(std::string_view utf8);

}  // namespace patchwright::sheet
