#include "patchwright/job/diagnostic.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace patchwright::job {

std::string text(const Diagnostic& diagnostic) {
    std::string out = diagnostic.file;
    if (diagnostic.line > 0) out += fmt::format(":{}:{}", diagnostic.line, diagnostic.column);
    if (!out.empty()) out += ": ";
    out += diagnostic.severity == Severity::error ? "error: " : "warning: ";
    out += diagnostic.message;
    if (!diagnostic.pointer.empty()) out += fmt::format(" [at {}]", diagnostic.pointer);
    if (diagnostic.excerpt.empty()) return out;
    const std::string number = std::to_string(diagnostic.line);
    out += fmt::format("\n {} | {}", number, diagnostic.excerpt);
    out += fmt::format("\n {} | {}", std::string(number.size(), ' '), diagnostic.caret);
    return out;
}

bool has_errors(const std::vector<Diagnostic>& diagnostics) {
    return std::any_of(diagnostics.begin(), diagnostics.end(),
                       [](const Diagnostic& d) { return d.severity == Severity::error; });
}

}  // namespace patchwright::job
