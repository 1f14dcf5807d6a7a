#pragma once
#include <string>
#include <vector>

#include "patchwright/io/read.hpp"

/// What a reader told, as "line:column message".
namespace patchwright::test {

inline std::vector<std::string> told(const std::vector<io::Diagnostic>& diagnostics, io::Severity severity) {
    std::vector<std::string> out;
    for (const io::Diagnostic& d : diagnostics)
        if (d.severity == severity)
            out.push_back(std::to_string(d.line) + ":" + std::to_string(d.column) + " " + d.message);
    return out;
}
inline std::vector<std::string> errors_of(const std::vector<io::Diagnostic>& diagnostics) {
    return told(diagnostics, io::Severity::error);
}
inline std::vector<std::string> warnings_of(const std::vector<io::Diagnostic>& diagnostics) {
    return told(diagnostics, io::Severity::warning);
}

}  // namespace patchwright::test
