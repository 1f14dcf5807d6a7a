#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "document.hpp"
#include "patchwright/io/diagnostic.hpp"

/// Lines and columns of a text. Internal to the readers.
namespace patchwright::io {

struct Position {
    int line = 1, column = 1;  ///< from 1; the column counts code points
};

/// The place of a byte. A byte order mark takes no column.
Position position_of(std::string_view text, std::size_t offset);

/// Faults as diagnostics in order of place, each with its line of source, windowed round the fault where it is long.
std::vector<Diagnostic> diagnostics_of(std::string_view text, std::string_view file, const Node& root, Faults faults);

/// First bytes of a text for use inside a message: short, on one line, printable.
std::string quoted(std::string_view text, std::size_t most = 40);

}  // namespace patchwright::io
