#include "source.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "utf8.hpp"

namespace patchwright::io {
namespace {

constexpr std::size_t window_columns = 96;  ///< of a source line that are shown
constexpr std::size_t columns_before = 40;  ///< of the window, in front of the fault

/// Walks forward through the text: faults come in order, so that the whole text is read once.
class Walker {
public:
    explicit Walker(std::string_view text) : text_{text} {
        if (text.starts_with("\xEF\xBB\xBF")) at_ = line_start_ = 3;
    }
    void advance_to(std::size_t offset) {
        while (at_ < offset && at_ < text_.size()) {
            if (text_[at_] == '\n') {
                ++position_.line;
                position_.column = 1;
                line_start_ = ++at_;
                continue;
            }
            at_ += utf8_step(text_.substr(at_));
            ++position_.column;
        }
    }
    Position position() const { return position_; }
    std::size_t line_start() const { return line_start_; }

private:
    std::string_view text_;
    std::size_t at_ = 0, line_start_ = 0;
    Position position_;
};

/// The line from `start`, as far as a window round `into_line` could need: a file may be one line of megabytes.
std::string_view line_from(std::string_view text, std::size_t start, std::size_t into_line) {
    std::string_view line = text.substr(start, into_line + 8 * window_columns);
    line = line.substr(0, line.find('\n'));
    if (line.ends_with('\r')) line.remove_suffix(1);
    return line;
}

/// One character as it may be shown: control characters and broken bytes become "?", tabs stay.
void append_shown(std::string& out, std::string_view character) {
    if ((acts_on_screen(character) && character != "\t") || utf8_sequence(character) == 0)
        out += '?';
    else
        out += character;
}

/// Characters in a line, counted no further than needed to know that it is long.
std::size_t columns_of(std::string_view line) {
    std::size_t columns = 0;
    for (; !line.empty() && columns <= window_columns; ++columns) line.remove_prefix(utf8_step(line));
    return columns;
}

/// The line round the fault and the mark under it.
void show_line(std::string_view line, std::size_t fault, std::size_t length, Diagnostic& diagnostic) {
    fault = std::min(fault, line.size());
    // Where the window begins: so many characters before the fault.
    std::size_t begin = fault;
    if (columns_of(line) <= window_columns) begin = 0;
    for (std::size_t n = 0; n < columns_before && begin > 0; ++n) {
        --begin;
        while (begin > 0 && is_utf8_continuation(line[begin])) --begin;
    }
    std::string excerpt = begin > 0 ? "..." : "";
    std::string caret = begin > 0 ? "   " : "";
    std::size_t columns = 0;
    std::size_t at = begin;
    for (; at < line.size() && columns < window_columns; ++columns) {
        const std::size_t step = utf8_step(line.substr(at));
        const std::string_view character = line.substr(at, step);
        append_shown(excerpt, character);
        if (at < fault)
            caret += character == "\t" ? '\t' : ' ';
        else if (at == fault)
            caret += '^';
        else if (at < fault + length)
            caret += '~';
        at += step;
    }
    if (fault >= at) caret += '^';
    if (at < line.size()) excerpt += "...";
    diagnostic.excerpt = std::move(excerpt);
    diagnostic.caret = std::move(caret);
}

}  // namespace

Position position_of(std::string_view text, std::size_t offset) {
    Walker walker{text};
    walker.advance_to(offset);
    return walker.position();
}

std::string quoted(std::string_view text, std::size_t most) {
    std::string out;
    std::size_t characters = 0;
    while (!text.empty()) {
        if (characters++ == most) return out + "...";
        const std::size_t step = utf8_step(text);
        append_shown(out, text[0] == '\t' ? std::string_view{" "} : text.substr(0, step));
        text.remove_prefix(step);
    }
    return out;
}

std::vector<Diagnostic> diagnostics_of(std::string_view text, std::string_view file, const Node& root, Faults faults) {
    faults.in_order_of_place();
    std::vector<Diagnostic> diagnostics;
    diagnostics.reserve(faults.in_full().size() + 2);
    Walker walker{text};
    for (const Fault& fault : faults.in_full()) {
        walker.advance_to(fault.offset);
        Diagnostic& diagnostic = diagnostics.emplace_back();
        diagnostic.severity = fault.warning ? Severity::warning : Severity::error;
        diagnostic.file = file;
        diagnostic.line = walker.position().line;
        diagnostic.column = walker.position().column;
        diagnostic.message = fault.message;
        diagnostic.pointer = fault.pointer.empty() ? pointer_at(root, fault.offset) : fault.pointer;
        const std::size_t start = walker.line_start();
        const std::size_t into_line = fault.offset > start ? fault.offset - start : 0;
        show_line(line_from(text, start, into_line), into_line, std::max<std::size_t>(fault.length, 1), diagnostic);
    }
    faults.further().tell(file, diagnostics);
    return diagnostics;
}

}  // namespace patchwright::io
