#pragma once
#include <string>
#include <string_view>

namespace patchwright::sheet {

/// A text as a cell of comma-separated values, RFC 4180. A spreadsheet takes a cell that begins with = + - @, a tab or
/// a carriage return for a formula (OWASP, CSV Injection): such a text gets an apostrophe in front, which makes it text
/// and is not shown. Numbers that the program writes itself do not go through here.
std::string csv_text(std::string_view text);

}  // namespace patchwright::sheet
