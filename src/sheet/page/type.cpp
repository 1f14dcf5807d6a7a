#include "type.hpp"

namespace patchwright::sheet {

CodePoint code_point(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
    const auto lead = byte(0);
    if (lead < 0x80) return {lead, 1};
    const std::size_t size = lead < 0xC2 ? 0 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 0;
    if (size == 0 || at + size > text.size()) return {0xFFFD, 1};
    char32_t value = lead & (0xFFU >> (size + 1));
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(i) & 0xC0U) != 0x80) return {0xFFFD, 1};
        value = (value << 6) | (byte(i) & 0x3FU);
    }
    const bool overlong = (size == 3 && value < 0x800) || (size == 4 && value < 0x10000);
    if (overlong || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) return {0xFFFD, 1};
    return {value, size};
}

std::string printable(std::string_view text) {
    std::string result;
    result.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
        if (c.value < 0x20 || (c.value >= 0x7F && c.value < 0xA0)) {
            result += ' ';
        } else if (c.value == 0xFFFD) {
            result += "\xEF\xBF\xBD";
        } else {
            result += text.substr(at, c.bytes);
        }
        at += c.bytes;
    }
    return result;
}

}  // namespace patchwright::sheet
