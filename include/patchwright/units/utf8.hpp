#pragma once
#include <cstddef>
#include <string_view>

/// UTF-8 (Unicode 15, section 3.9; RFC 3629): the one reader of it.
namespace patchwright {

/// Bytes of the well-formed sequence (Unicode 15, table 3-7) at the front of `text`; 0 when there is none.
inline std::size_t utf8_sequence(std::string_view text) {
    const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U; };
    const auto follows = [&](std::size_t i) { return byte(i) >= 0x80U && byte(i) <= 0xBFU; };
    const unsigned lead = byte(0);
    if (text.empty()) return 0;
    if (lead < 0x80U) return 1;
    if (lead >= 0xC2U && lead <= 0xDFU) return follows(1) ? 2 : 0;
    if (lead >= 0xE0U && lead <= 0xEFU) {
        const unsigned low = lead == 0xE0U ? 0xA0U : 0x80U;
        const unsigned high = lead == 0xEDU ? 0x9FU : 0xBFU;  // no surrogates
        return byte(1) >= low && byte(1) <= high && follows(2) ? 3 : 0;
    }
    if (lead >= 0xF0U && lead <= 0xF4U) {
        const unsigned low = lead == 0xF0U ? 0x90U : 0x80U;
        const unsigned high = lead == 0xF4U ? 0x8FU : 0xBFU;
        return byte(1) >= low && byte(1) <= high && follows(2) && follows(3) ? 4 : 0;
    }
    return 0;
}

/// Length of the next character: a malformed byte counts as one.
inline std::size_t utf8_step(std::string_view text) {
    const std::size_t length = utf8_sequence(text);
    return length == 0 ? 1 : length;
}

/// A byte inside a character, not its first.
inline bool is_utf8_continuation(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; }

/// A character and its length in bytes; a malformed byte is U+FFFD.
struct CodePoint {
    char32_t value = 0;
    std::size_t bytes = 1;
};
/// The one at `at`, which must lie inside the text.
inline CodePoint code_point(std::string_view text, std::size_t at = 0) {
    const auto byte = [&](std::size_t i) { return static_cast<char32_t>(static_cast<unsigned char>(text[at + i])); };
    const std::size_t bytes = utf8_sequence(text.substr(at));
    if (bytes == 0) return {0xFFFD, 1};
    if (bytes == 1) return {byte(0), 1};
    char32_t value = byte(0) & (0x7FU >> bytes);
    for (std::size_t i = 1; i < bytes; ++i) value = value << 6U | (byte(i) & 0x3FU);
    return {value, bytes};
}

}  // namespace patchwright
