#include "patchwright/io/diagnostic.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "source.hpp"
#include "utf8.hpp"

namespace patchwright::io {

std::string screen_safe(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const std::size_t length = utf8_sequence(text);
        const std::string_view character = text.substr(0, length == 0 ? 1 : length);
        const auto byte = [&](std::size_t i) {
            return static_cast<unsigned>(static_cast<unsigned char>(character[i]));
        };
        if (length == 0)
            out += fmt::format("\\x{:02x}", byte(0));
        else if (!acts_on_screen(character))
            out += character;
        else if (length == 1)
            out += fmt::format("\\u{:04x}", byte(0));
        else if (length == 2)
            out += fmt::format("\\u{:04x}", (byte(0) & 0x1FU) << 6U | (byte(1) & 0x3FU));
        else
            out += fmt::format("\\u{:04x}", (byte(0) & 0x0FU) << 12U | (byte(1) & 0x3FU) << 6U | (byte(2) & 0x3FU));
        text.remove_prefix(character.size());
    }
    return out;
}

namespace {

/// A pointer holds keys of the file, which may be of any length.
std::string shown_pointer(std::string_view pointer) {
    constexpr std::size_t most = 200;
    return pointer.size() <= most ? screen_safe(pointer) : quoted(pointer, most);
}

}  // namespace

std::string text(const Diagnostic& diagnostic) {
    std::string out = screen_safe(diagnostic.file);
    if (diagnostic.line > 0) out += fmt::format(":{}:{}", diagnostic.line, diagnostic.column);
    if (!out.empty()) out += ": ";
    out += diagnostic.severity == Severity::error ? "error: " : "warning: ";
    out += screen_safe(diagnostic.message);
    if (!diagnostic.pointer.empty()) out += fmt::format(" [at {}]", shown_pointer(diagnostic.pointer));
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

}  // namespace patchwright::io
