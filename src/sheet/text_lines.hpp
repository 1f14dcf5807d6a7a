#pragma once
#include <string>
#include <string_view>

#include "patchwright/sheet/model.hpp"

/// Lines of plain text in columns.
namespace patchwright::sheet {

/// Columns that UTF-8 text takes on a terminal: code points, without combining marks; wide East Asian ones count two.
std::size_t text_width(std::string_view utf8);
/// Ends the line: without the blanks at its end.
void end_line(std::string& out);

struct BrokenLine {
    std::string_view text;
    std::size_t columns = 0;
};

/// The lines of a text, which must outlive them: one at least. Broken at spaces, of which several count as one; a word
/// longer than the width is broken anywhere.
class LineBreaker {
public:
    LineBreaker(std::string_view text, std::size_t width);
    bool more() const { return at_ < text().size(); }
    BrokenLine next();

private:
    std::string_view text() const { return joined_.empty() ? text_ : std::string_view{joined_}; }
    std::size_t skip_spaces(std::size_t at) const;

    std::string_view text_;
    std::string joined_;  ///< the text with single spaces, when it has others
    std::size_t width_, at_ = 0;
};

/// Header, rule and rows; the widest columns are wrapped until the table fits.
void append_table(std::string& out, const Table& table, std::size_t width);
/// Letters without their accents, signs by their usual stand-ins ("deg", "x", "-"); anything else as "?".
std::string to_ascii(std::string_view utf8);

}  // namespace patchwright::sheet
