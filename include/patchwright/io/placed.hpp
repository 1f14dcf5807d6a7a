#pragma once
#include <string_view>
#include <vector>

#include "patchwright/io/diagnostic.hpp"

namespace patchwright::io {

/// Findings that only knew their JSON pointer, with the place in the file that it points to: line, column, excerpt.
/// What the file does not hold stands at the innermost thing that would hold it; what would stand in the outermost
/// object has no place but the file. In order of place, those first.
std::vector<Diagnostic> placed(std::vector<Diagnostic> findings, std::string_view text, std::string_view file);

}  // namespace patchwright::io
