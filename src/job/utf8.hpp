#pragma once
#include <cstddef>
#include <string_view>
#include <utility>

namespace patchwright::job {

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

/// A character that would act on a screen instead of standing on it: control characters (C0, DEL, C1), line and
/// paragraph separators, and those that turn the direction of writing (U+202A to U+202E, U+2066 to U+2069).
inline bool acts_on_screen(std::string_view character) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(character[i]); };
    if (character.size() == 1) return byte(0) < 0x20U || byte(0) == 0x7FU;
    if (character.size() == 2) return byte(0) == 0xC2U && byte(1) < 0xA0U;
    if (character.size() != 3 || byte(0) != 0xE2U) return false;
    return (byte(1) == 0x80U && byte(2) >= 0xA8U && byte(2) <= 0xAEU) ||
           (byte(1) == 0x81U && byte(2) >= 0xA6U && byte(2) <= 0xA9U);
}

/// The spaces of Unicode 15 (general category Zs), and those without width: U+200B to U+200F, U+2060, U+FEFF.
inline bool is_blank(std::string_view character) {
    if (character == " " || character == "\t" || character == "\u00a0" || character == "\u1680") return true;
    if (character.starts_with("\xE2\x80") && character.size() == 3)
        return static_cast<unsigned char>(character[2]) <= 0x8FU || character == "\u202f";
    return character == "\u205f" || character == "\u2060" || character == "\u3000" || character == "\ufeff";
}

/// Code point of a well-formed sequence.
inline char32_t code_point(std::string_view character) {
    const auto byte = [&](std::size_t i) { return static_cast<char32_t>(static_cast<unsigned char>(character[i])); };
    if (character.size() == 1) return byte(0);
    char32_t value = byte(0) & (0x7FU >> character.size());
    for (std::size_t i = 1; i < character.size(); ++i) value = value << 6U | (byte(i) & 0x3FU);
    return value;
}

/// Characters that nobody sees, and marks of the direction of writing: two names that look the same would differ by
/// them. The property Default_Ignorable_Code_Point of Unicode 15 (DerivedCoreProperties.txt, from memory) and the
/// blank of Braille, in order.
inline bool is_invisible(std::string_view character) {
    constexpr std::pair<char32_t, char32_t> unseen[] = {
        {0x00AD, 0x00AD},   {0x034F, 0x034F},   {0x061C, 0x061C},   {0x115F, 0x1160}, {0x17B4, 0x17B5},
        {0x180B, 0x180F},   {0x200B, 0x200F},   {0x202A, 0x202E},   {0x2060, 0x206F}, {0x2800, 0x2800},
        {0x3164, 0x3164},   {0xFE00, 0xFE0F},   {0xFEFF, 0xFEFF},   {0xFFA0, 0xFFA0}, {0xFFF0, 0xFFF8},
        {0x1BCA0, 0x1BCA3}, {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF},
    };
    const char32_t c = code_point(character);
    for (const auto& [from, to] : unseen)
        if (c <= to) return c >= from;
    return false;
}

}  // namespace patchwright::job
