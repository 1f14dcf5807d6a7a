#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace patchwright::io {

enum class Severity : std::uint8_t { error, warning };

/// Something wrong or doubtful in an input file, with its place.
struct Diagnostic {
    Severity severity = Severity::error;
    std::string file;
    int line = 0, column = 0;    ///< from 1; the column counts code points. 0: no place (whole file)
    std::string message;         ///< what is wrong and what would be right
    std::string pointer;         ///< JSON pointer, "/runs/0/bore"
    std::string excerpt, caret;  ///< the source line (windowed) and the mark under it; may be empty
    std::int64_t count = 1;      ///< faults that it tells of: more than one where a long list ends in a count
};

/// The text with everything written out that would act on a screen: "\\u001b" for control characters, line breaks and
/// marks that turn the direction of writing, "\\x9b" for bytes that are no UTF-8.
std::string screen_safe(std::string_view text);

/// "job.json:3:37: error: ... [at /runs/0/bore]" and the excerpt with its caret, each on a line of its own.
std::string text(const Diagnostic& diagnostic);
bool has_errors(const std::vector<Diagnostic>& diagnostics);

}  // namespace patchwright::io
