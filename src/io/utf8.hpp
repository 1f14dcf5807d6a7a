#pragma once
#include <string_view>
#include <utility>

#include "patchwright/units/utf8.hpp"

namespace patchwright::io {

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
    const char32_t c = code_point(character).value;
    for (const auto& [from, to] : unseen)
        if (c <= to) return c >= from;
    return false;
}

}  // namespace patchwright::io
