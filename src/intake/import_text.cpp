#include "import_text.hpp"
#include "patchwright/units/utf8.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace patchwright::intake {
namespace {

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

void append(std::string& out, char32_t c) {
    if (c < 0x80) {
        out += static_cast<char>(c);
    } else if (c < 0x800) {
        out += static_cast<char>(0xC0U | (c >> 6U));
        out += static_cast<char>(0x80U | (c & 0x3FU));
    } else {
        out += static_cast<char>(0xE0U | (c >> 12U));
        out += static_cast<char>(0x80U | ((c >> 6U) & 0x3FU));
        out += static_cast<char>(0x80U | (c & 0x3FU));
    }
}

/// 0x80 to 0x9F of Windows code page 1252; 0: not used.
constexpr std::array<char32_t, 32> windows_upper{0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,
                                                 0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0,      0x017D, 0,
                                                 0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,
                                                 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

/// One byte of a single-byte set; 0: not in the set.
char32_t character(unsigned char byte, Charset charset) {
    if (charset == Charset::windows1252 && byte >= 0x80 && byte < 0xA0) return windows_upper[byte - 0x80U];
    if (charset == Charset::latin9) {
        switch (byte) {
            case 0xA4:
                return 0x20AC;
            case 0xA6:
                return 0x0160;
            case 0xA8:
                return 0x0161;
            case 0xB4:
                return 0x017D;
            case 0xB8:
                return 0x017E;
            case 0xBC:
                return 0x0152;
            case 0xBD:
                return 0x0153;
            case 0xBE:
                return 0x0178;
            default:
                break;
        }
    }
    return byte;
}

bool is_control(char32_t c) { return (c < 0x20 && c != '\t') || (c >= 0x7F && c < 0xA0); }

}  // namespace

std::optional<Charset> charset_named(std::string_view name) {
    std::string plain;
    for (const char c : upper(name.substr(0, name.find(':'))))
        if (std::isalnum(static_cast<unsigned char>(c)) != 0) plain += c;
    if (plain.starts_with("ISOIEC")) plain.erase(3, 3);  // "ISO/IEC 8859-1"
    if (plain == "UTF8") return Charset::utf8;
    if (plain == "ISO88591" || plain == "LATIN1") return Charset::latin1;
    if (plain == "ISO885915" || plain == "LATIN9") return Charset::latin9;
    if (plain == "WINDOWS1252" || plain == "CP1252") return Charset::windows1252;
    if (plain == "ASCII" || plain == "USASCII" || plain == "ISO646") return Charset::utf8;
    return std::nullopt;
}

bool is_utf8(std::string_view bytes) {
    while (!bytes.empty()) {
        const std::size_t length = utf8_sequence(bytes);
        if (length == 0) return false;
        bytes.remove_prefix(length);
    }
    return true;
}

Decoded decode(std::string_view bytes, Charset charset) {
    Decoded out;
    int column = 1;
    while (!bytes.empty()) {
        const std::size_t length = charset == Charset::utf8 ? utf8_sequence(bytes) : 1;
        char32_t c = static_cast<unsigned char>(bytes.front());
        if (charset != Charset::utf8) c = character(static_cast<unsigned char>(bytes.front()), charset);
        const bool bad = length == 0 || (c == 0 && bytes.front() != '\0');
        if (bad) {
            if (out.bad_column == 0) out.bad_column = column;
            append(out.text, 0xFFFD);
        } else if (length > 1) {
            // U+0080 to U+009F are control characters too.
            const bool control = length == 2 && bytes[0] == '\xC2' && static_cast<unsigned char>(bytes[1]) < 0xA0;
            control ? out.text += ' ' : out.text += bytes.substr(0, length);
        } else {
            append(out.text, is_control(c) ? U' ' : c);
        }
        bytes.remove_prefix(std::max<std::size_t>(length, 1));
        ++column;
    }
    return out;
}

std::vector<std::string_view> split_lines(std::string_view bytes) {
    std::vector<std::string_view> lines;
    const char end = bytes.find('\n') == std::string_view::npos ? '\r' : '\n';
    while (!bytes.empty()) {
        const std::size_t stop = std::min(bytes.find(end), bytes.size());
        std::string_view line = bytes.substr(0, stop);
        if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
        lines.push_back(line);
        bytes.remove_prefix(std::min(stop + 1, bytes.size()));
    }
    return lines;
}

Fields split_fields(std::string_view line, int number, std::string_view separator, std::string_view quote) {
    Fields out;
    std::size_t at = 0;
    int column = 1;
    const auto step = [&](std::size_t bytes) {
        for (std::size_t i = 0; i < bytes; ++i, ++at)
            if (!continues(line[at])) ++column;
    };
    const auto here = [&](std::string_view mark) { return !mark.empty() && line.substr(at).starts_with(mark); };
    while (true) {
        while (at < line.size() && (line[at] == ' ' || line[at] == '\t') && !here(separator)) step(1);
        Placed cell{"", number, column};
        if (here(quote)) {
            step(quote.size());
            bool closed = false;
            while (at < line.size() && !closed) {
                if (!here(quote)) {
                    cell.text += line[at];
                    step(1);
                    continue;
                }
                step(quote.size());
                if (here(quote)) {
                    cell.text += quote;
                    step(quote.size());
                } else {
                    closed = true;
                }
            }
            if (!closed) out.open_quote_column = cell.column;
        }
        while (at < line.size() && !here(separator)) {
            cell.text += line[at];
            step(1);
        }
        cell.text = trimmed(cell.text);
        out.cells.push_back(std::move(cell));
        if (at >= line.size()) return out;
        step(separator.size());
    }
}

std::string trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return std::string{text.substr(first, text.find_last_not_of(" \t") - first + 1)};
}

std::string upper(std::string_view text) {
    std::string out{text};
    for (char& c : out)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return out;
}

std::string lower(std::string_view text) {
    std::string out{text};
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

std::string head(std::string_view text, std::size_t most) {
    if (text.size() <= most) return std::string{text};
    while (most > 0 && continues(text[most])) --most;
    return std::string{text.substr(0, most)};
}

std::string as_name(std::string_view text) {
    std::string out = head(trimmed(text), 160);
    std::replace(out.begin(), out.end(), '\t', ' ');
    return trimmed(out);
}

std::optional<double> number(std::string_view text, std::string_view decimal_mark) {
    std::string plain = trimmed(text);
    if (plain.size() > 24) return std::nullopt;
    if (decimal_mark == ",") {
        if (plain.find('.') != std::string::npos) return std::nullopt;
        if (const std::size_t mark = plain.find(','); mark != std::string::npos) plain[mark] = '.';
    }
    if (plain.starts_with('+')) plain.erase(plain.begin());
    const std::size_t digits = plain.starts_with('-') ? 1 : 0;
    if (plain.size() == digits || plain.find_first_not_of("0123456789.", digits) != std::string::npos)
        return std::nullopt;
    double value = 0.0;
    const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
    if (error != std::errc{} || end != plain.data() + plain.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

bool uses_us_units(std::string_view text) {
    std::string word;
    for (const char c : lower(text) + ' ') {
        if (c >= 'a' && c <= 'z') {
            word += c;
            continue;
        }
        if (word == "in" || word == "ft" || word == "inch" || word == "inches" || word == "feet" || word == "foot")
            return true;
        word.clear();
    }
    return false;
}

void Faults::keep(int line, const std::string& text) {
    if (lines_.size() <= static_cast<std::size_t>(line)) lines_.resize(static_cast<std::size_t>(line) + 1);
    lines_[static_cast<std::size_t>(line)] = text;
}

void Faults::add(io::Severity severity, const Placed& at, std::string message) {
    if (++(severity == io::Severity::error ? errors_ : warnings_) > told_in_full) return;
    io::Diagnostic& d = found_.emplace_back();
    d.severity = severity;
    d.file = file_;
    d.line = at.line;
    d.column = at.column;
    d.message = std::move(message);
    if (static_cast<std::size_t>(at.line) >= lines_.size() || at.column < 1) return;
    constexpr int before = 60, window = 100;
    const std::string& line = lines_[static_cast<std::size_t>(at.line)];
    const int first = at.column > window ? at.column - before : 1;
    if (first > 1) {
        d.excerpt.append(3, '.');
        d.caret.append(3, ' ');
    }
    int column = 0;
    for (const char c : line) {
        if (!continues(c)) ++column;
        if (column < first) continue;
        if (column >= first + window) break;
        d.excerpt += c;
        if (!continues(c) && column < at.column) d.caret += c == '\t' ? '\t' : ' ';
    }
    if (column >= first + window) d.excerpt += "...";
    d.caret += '^';
}

std::vector<io::Diagnostic> Faults::take() {
    std::stable_sort(found_.begin(), found_.end(), [](const io::Diagnostic& a, const io::Diagnostic& b) {
        return std::pair{a.line, a.column} < std::pair{b.line, b.column};
    });
    const auto tell_of_more = [&](std::size_t count, io::Severity severity, std::string_view words,
                                  std::string_view hint) {
        if (count <= told_in_full) return;
        const auto more = count - told_in_full;
        found_.push_back({severity, file_, 0, 0, fmt::format("{} more {}{}{}", more, words, more == 1 ? "" : "s", hint),
                          "", "", "", static_cast<std::int64_t>(more)});
    };
    tell_of_more(warnings_, io::Severity::warning, "warning", "; remarks and notes of the job file have them all");
    tell_of_more(errors_, io::Severity::error, "error",
                 given_up() ? ", and reading was given up; is this a survey, with the separator and the decimal mark "
                              "that it names?"
                            : "");
    return std::move(found_);
}

}  // namespace patchwright::intake
