#include "type.hpp"

#include "patchwright/units/utf8.hpp"

namespace patchwright::sheet {

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
