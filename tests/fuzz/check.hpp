#pragma once
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "patchwright/io/diagnostic.hpp"

/// What the fuzz targets have in common.
namespace patchwright::fuzz {

/// Says which promise is broken and ends the program, which is how the fuzzer learns of it.
inline void must(bool holds, std::string_view promise, std::string_view about = {}) {
    if (holds) return;
    std::fprintf(stderr, "broken: %.*s\n%.*s\n", static_cast<int>(promise.size()), promise.data(),
                 static_cast<int>(about.size()), about.empty() ? "" : about.data());
    std::abort();
}

inline int lines_of(std::string_view file) {
    int lines = 1;
    for (const char c : file) lines += c == '\n' || c == '\r' ? 1 : 0;
    return lines;
}

/// A fault says something, and stands inside the file of so many lines.
inline void must_be_placed(const io::Diagnostic& diagnostic, int lines) {
    must(!diagnostic.message.empty(), "a fault says what is wrong");
    must(!io::text(diagnostic).empty(), "a fault can be printed");
    must(diagnostic.line >= 0 && diagnostic.line <= lines, "a fault stands on a line of the file", diagnostic.message);
    must(diagnostic.line == 0 || diagnostic.column >= 1, "a fault has a column", diagnostic.message);
}
inline void must_be_placed(const io::Diagnostic& diagnostic, std::string_view file) {
    must_be_placed(diagnostic, lines_of(file));
}

}  // namespace patchwright::fuzz
