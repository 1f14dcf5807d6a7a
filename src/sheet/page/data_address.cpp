#include <cstdint>

#include <fmt/format.h>

#include "patchwright/sheet/image.hpp"

namespace patchwright::sheet {
namespace {

/// RFC 4648, section 4.
std::string base64(std::string_view bytes) {
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t at = 0; at < bytes.size(); at += 3) {
        const auto three = bytes.substr(at, 3);
        std::uint32_t bits = 0;
        for (std::size_t i = 0; i < 3; ++i)
            bits = bits << 8U | (i < three.size() ? static_cast<unsigned char>(three[i]) : 0U);
        for (std::size_t i = 0; i < 4; ++i) text += i > three.size() ? '=' : letters[bits >> (18U - 6U * i) & 0x3FU];
    }
    return text;
}

}  // namespace

std::string data_address(const Image& image) {
    return fmt::format("data:image/{};base64,{}", image.vector ? "svg+xml" : "png", base64(*image.bytes));
}

}  // namespace patchwright::sheet
