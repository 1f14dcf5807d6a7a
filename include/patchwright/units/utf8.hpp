#pragma once
#include <cstddef>
#include <string_view>

/// UTF-8, read in one place.
namespace patchwright {

/// A character of UTF-8 and its length in bytes.
struct CodePoint {
    char32_t value = 0;
    std::size_t bytes = 1;
    bool valid = true;  ///< false: a byte that belongs to no well-formed sequence, given as U+FFFD
};

/// The character at the front of `text`, which is not empty. Well-formed sequences are those of Unicode 15, table 3-7:
/// no overlong forms, no surrogates, nothing above U+10FFFF.
constexpr CodePoint first_code_point(std::string_view text) {
    constexpr CodePoint broken{0xFFFD, 1, false};
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const char32_t lead = byte(0);
    if (lead < 0x80) return {lead, 1, true};
    const std::size_t size = lead < 0xC2 ? 0 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 0;
    if (size == 0 || size > text.size()) return broken;
    char32_t value = lead & (0xFFU >> (size + 1));
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) return broken;
        value = (value << 6U) | (byte(i) & 0x3FU);
    }
    const bool overlong = (size == 3 && value < 0x800) || (size == 4 && value < 0x10000);
    const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
    if (overlong || surrogate || value > 0x10FFFF) return broken;
    return {value, size, true};
}

constexpr CodePoint code_point(std::string_view text, std::size_t at) { return first_code_point(text.substr(at)); }

/// Bytes of the well-formed sequence at the front of `text`; 0 when there is none.
constexpr std::size_t utf8_sequence(std::string_view text) {
    if (text.empty()) return 0;
    const CodePoint c = first_code_point(text);
    return c.valid ? c.bytes : 0;
}

/// Length of the next character: a malformed byte counts as one.
constexpr std::size_t utf8_step(std::string_view text) { return text.empty() ? 1 : first_code_point(text).bytes; }

/// A byte that goes on with a character begun before it.
constexpr bool continues_character(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; }

/// Characters of a text, a malformed byte counting as one.
constexpr std::size_t count_characters(std::string_view text) {
    std::size_t count = 0;
    for (std::size_t at = 0; at < text.size(); at += code_point(text, at).bytes) ++count;
    return count;
}

/// A character that would act on a screen instead of standing on it: control characters (C0, DEL, C1), line and
/// paragraph separators, and those that turn the direction of writing (U+202A to U+202E, U+2066 to U+2069).
constexpr bool acts_on_screen(std::string_view character) {
    if (character.empty()) return false;
    const char32_t c = first_code_point(character).value;
    return c < 0x20 || (c >= 0x7F && c < 0xA0) || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
}

/// The spaces of Unicode 15 (general category Zs), and those without width: U+200B to U+200F, U+2060, U+FEFF.
constexpr bool is_blank(std::string_view character) {
    if (character.empty()) return false;
    const char32_t c = first_code_point(character).value;
    return c == ' ' || c == '\t' || c == 0xA0 || c == 0x1680 || (c >= 0x2000 && c <= 0x200F) || c == 0x202F ||
           c == 0x205F || c == 0x2060 || c == 0x3000 || c == 0xFEFF;
}

}  // namespace patchwright
