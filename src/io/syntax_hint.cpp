#include "syntax_hint.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <optional>

#include "source.hpp"
#include "utf8.hpp"

namespace patchwright::io {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }

/// Last byte before `at` that is no blank; '\0' at the beginning.
char before(std::string_view text, std::size_t at) {
    while (at > 0 && is_json_space(text[at - 1])) --at;
    return at > 0 ? text[at - 1] : '\0';
}

std::size_t word_end(std::string_view text, std::size_t at) {
    std::size_t end = at;
    while (end < text.size() && !is_json_space(text[end]) &&
           std::string_view{",:{}[]\""}.find(text[end]) == std::string::npos)
        ++end;
    return std::max(end, std::min(at + 1, text.size()));
}

std::optional<Fault> escape_fault(std::string_view text, std::size_t at) {
    const auto fault = [&](std::size_t length, std::string message) {
        return Fault{at, std::min(length, text.size() - at), false, std::move(message), ""};
    };
    if (at + 1 >= text.size()) return fault(1, "the file ends inside a text");
    const char c = text[at + 1];
    if (std::string_view{"\"\\/bfnrt"}.find(c) != std::string_view::npos) return std::nullopt;
    if (c != 'u') return fault(2, "no such escape in JSON; write a backslash itself as \\\\");
    for (std::size_t i = at + 2; i < at + 6; ++i)
        if (i >= text.size() || std::isxdigit(static_cast<unsigned char>(text[i])) == 0)
            return fault(2, "\\u needs four hexadecimal digits, such as \\u00e9");
    const unsigned high = static_cast<unsigned>(std::stoul(std::string{text.substr(at + 2, 4)}, nullptr, 16));
    if (high < 0xD800 || high > 0xDFFF) return std::nullopt;
    const std::string_view second = text.substr(at + 6, 3);
    const bool paired = high < 0xDC00 && second.size() == 3 && second[0] == '\\' && second[1] == 'u' &&
                        (second[2] == 'd' || second[2] == 'D');
    if (paired && at + 9 < text.size() && std::string_view{"cdefCDEF"}.find(text[at + 9]) != std::string_view::npos)
        return std::nullopt;
    return fault(6, "half of a surrogate pair; the two halves stand together");
}

/// What is wrong inside the text that begins with the quote at `token`; nothing when it is closed and sound.
std::optional<Fault> string_fault(std::string_view text, std::size_t token) {
    std::size_t at = token + 1;
    while (at < text.size() && text[at] != '"') {
        const auto byte = static_cast<unsigned char>(text[at]);
        if (byte == '\n' || byte == '\r')
            return Fault{token, at - token, false, "the text is not closed: a double quote is missing on this line",
                         ""};
        if (byte == '\t') return Fault{at, 1, false, "a tab inside a text; write \\t or a space", ""};
        if (byte < 0x20)
            return Fault{at, 1, false, fmt::format("control character {:#04x} inside a text", unsigned{byte}), ""};
        if (byte == '\\') {
            if (auto fault = escape_fault(text, at)) return fault;
            at += 2;
            continue;
        }
        const std::size_t length = utf8_sequence(text.substr(at));
        if (length == 0)
            return Fault{at, 1, false, fmt::format("byte {:#04x} is no UTF-8; save the file as UTF-8", unsigned{byte}),
                         ""};
        at += length;
    }
    if (at >= text.size()) return Fault{token, 1, false, "the text is not closed: the file ends inside it", ""};
    return std::nullopt;
}

std::string at_end(std::string_view text, char open) {
    if (std::all_of(text.begin(), text.end(), is_json_space)) return "the file is empty";
    if (open == '\0') return "the file ends where a value belongs";
    return fmt::format("the file ends, but a \"{}\" is still open", open);
}

std::string bracket_message(char bracket, char previous, char open) {
    if (open == '\0') return "nothing may follow the end of the JSON value";
    const char closing = open == '{' ? '}' : ']';
    if (bracket != closing) return fmt::format("\"{}\" does not close \"{}\"", bracket, open);
    if (previous == ',') return fmt::format("a comma before \"{}\"; take the comma out", bracket);
    if (previous == ':') return "the value is missing after the colon";
    return fmt::format("\"{}\" stands where a value belongs", bracket);
}

std::string word_message(std::string_view word, char previous, char open) {
    const bool key_place = open == '{' && (previous == '{' || previous == ',');
    if (key_place) return fmt::format("a key stands in double quotes: \"{}\"", quoted(word));
    std::string lower{word};
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    if (lower == "nan" || lower == "inf" || lower == "infinity")
        return fmt::format("{} is no number of JSON", quoted(word));
    if (lower == "true" || lower == "false" || lower == "null")
        return fmt::format("write \"{}\" in small letters", lower);
    return fmt::format("\"{}\" stands in double quotes if it is a text", quoted(word));
}

std::string number_message(std::string_view word) {
    return fmt::format(
        "\"{}\" is not how JSON writes a number: no sign +, no leading zero, digits on both sides of the point",
        quoted(word));
}

/// From the number that stands before, to `end`.
std::string_view number_before(std::string_view text, std::size_t end) {
    std::size_t begin = end;
    while (begin > 0 && std::string_view{",:{}[]\"\n"}.find(text[begin - 1]) == std::string_view::npos) --begin;
    while (begin < end && is_json_space(text[begin])) ++begin;
    return text.substr(begin, end - begin);
}

std::string token_message(std::string_view text, std::size_t token, std::size_t end, char open) {
    const char c = text[token];
    const char previous = before(text, token);
    const std::string_view word = text.substr(token, end - token);
    if (c == '}' || c == ']') return bracket_message(c, previous, open);
    if (c == '\'') return "a text stands in double quotes, not single ones";
    if (word.starts_with("\xE2\x80\x9C") || word.starts_with("\xE2\x80\x9D"))
        return "curly quotes; JSON uses the straight double quote";
    if (c == '/' || c == '#') return "JSON has no comments; words may stand under the key \"_help\"";
    const bool wants_something =
        previous == ',' || previous == ':' || previous == '[' || previous == '{' || previous == '\0';
    if (open == '\0' && !wants_something) return "nothing may follow the end of the JSON value";
    if (token > 0 && is_digit(text[token - 1]) && (is_digit(c) || c == '.'))
        return number_message(number_before(text, end));
    if (is_digit(previous) && (is_letter(c) || c == '%'))
        return fmt::format("a quantity stands in double quotes: \"{}\"", quoted(number_before(text, end)));
    if (is_digit(c) && open == '{' && previous == ',')
        return "a key belongs here; a decimal mark is a point, not a comma";
    if (is_letter(c)) return word_message(word, previous, open);
    if (!wants_something) return "a comma or a closing bracket is missing before this";
    if (is_digit(c) || c == '-' || c == '+' || c == '.') return number_message(word);
    return fmt::format("\"{}\" is no JSON", quoted(word));
}

}  // namespace

Fault syntax_fault(std::string_view text, std::size_t token, std::size_t reached, char open, bool overflow) {
    if (reached < token && reached < text.size() && (text[reached] == ',' || text[reached] == ':'))
        return {reached, 1, false, fmt::format("a \"{}\" that does not belong here", text[reached]), ""};
    if (token >= text.size()) {
        const std::size_t last = text.empty() ? 0 : text.size() - 1;
        return {last, 1, false, at_end(text, open), ""};
    }
    const std::size_t end = word_end(text, token);
    if (overflow)
        return {token, end - token, false,
                fmt::format("\"{}\" is too large a number", quoted(text.substr(token, end - token))), ""};
    if (text[token] == '"') {
        if (auto fault = string_fault(text, token)) return *fault;
        const char previous = before(text, token);
        const bool starts_member = previous == '{' || previous == ',' || previous == '[' || previous == ':';
        if (open == '\0') return {token, 1, false, "nothing may follow the end of the JSON value", ""};
        return {
            token, 1, false,
            starts_member ? "a key is followed by a colon and a value" : "a comma or a colon is missing before this",
            ""};
    }
    return {token, end - token, false, token_message(text, token, end, open), ""};
}

std::string duplicate_key_message(std::string_view text, std::string_view key, std::size_t first) {
    const Position position = position_of(text, first);
    return fmt::format("\"{}\" stands twice in one object; first at line {}, column {}", quoted(key), position.line,
                       position.column);
}

}  // namespace patchwright::io
