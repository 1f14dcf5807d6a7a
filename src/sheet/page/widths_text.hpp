#pragma once
#include <string_view>

namespace patchwright::sheet::table {

/// widths.txt, compiled in.
std::string_view widths_text();

}  // namespace patchwright::sheet::table
