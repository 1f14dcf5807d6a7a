// The table of widths, which builds without pango use, against pango and DejaVu Sans.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <random>
#include <utility>

#include <fmt/format.h>

#include "page/fonts.hpp"
#include "paper_tools.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/utf8.hpp"

using namespace patchwright;
using namespace patchwright::sheet;

namespace {

constexpr double em = 2048.0;

std::string utf8(char32_t c) {
    const auto tail = [](char32_t bits) { return static_cast<char>(0x80U | (bits & 0x3FU)); };
    if (c < 0x80) return {static_cast<char>(c)};
    if (c < 0x800) return {static_cast<char>(0xC0U | c >> 6U), tail(c)};
    return {static_cast<char>(0xE0U | c >> 12U), tail(c >> 6U), tail(c)};
}

/// What a firm writes: Latin, Greek and Cyrillic letters, and the signs and fractions of a drawing.
std::vector<std::string> characters() {
    paper::pin_fonts();
    constexpr std::pair<char32_t, char32_t> ranges[] = {
        {0x20, 0x7E},     {0xA0, 0x17F},    {0x218, 0x21B},   {0x370, 0x3FF},   {0x400, 0x45F},   {0x490, 0x491},
        {0x1E9E, 0x1E9E}, {0x2002, 0x200A}, {0x2010, 0x2027}, {0x202F, 0x203A}, {0x2044, 0x2044}, {0x2070, 0x2094},
        {0x20AC, 0x20AC}, {0x2103, 0x2126}, {0x2150, 0x215F}, {0x2190, 0x2199}, {0x2200, 0x2265}, {0x2300, 0x2300},
        {0x25A0, 0x25FF}, {0x2610, 0x2612}, {0x26A0, 0x26A0}, {0x2713, 0x2718}, {0xFFFD, 0xFFFD}};
    std::vector<std::string> list;
    for (const auto& [from, to] : ranges) {
        for (auto c = from; c <= to; ++c) {
            try {
                (void)fonts().width(utf8(c), Face::regular, 1.0);
                (void)fonts().width(utf8(c), Face::bold, 1.0);
                list.push_back(utf8(c));
            } catch (const IoError&) {
                continue;  // not in the font
            }
        }
    }
    return list;
}

/// In units of the font, which are whole.
int units(std::string_view text, Face face) {
    const double exact = fonts().width(text, face, em);
    REQUIRE(std::abs(exact - std::round(exact)) < 1e-6);
    return static_cast<int>(std::lround(exact));
}

std::string code(std::string_view text) {
    std::string words;
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
        words += fmt::format("{}{:x}", words.empty() ? "" : "+", static_cast<std::uint32_t>(c.value));
        at += c.bytes;
    }
    return words;
}

/// What two characters in a row are wider than each alone.
int closer(const std::string& a, const std::string& b, Face face) {
    return units(a + b, face) - units(a, face) - units(b, face);
}
/// What three are wider than their pairs say: "ff" is one sign in the font, and nothing moves closer to it.
int closer(const std::string& a, const std::string& b, const std::string& c, Face face) {
    return units(a + b + c, face) - units(a, face) - units(b, face) - units(c, face) - closer(a, b, face) -
           closer(b, c, face);
}

std::string lines_of(const std::vector<std::string>& all, Face face) {
    std::string text;
    const auto line = [&](const std::string& start, const auto& more) {
        std::string row;
        for (const auto& next : all)
            if (const int units = more(next); units != 0) row += fmt::format(" {}:{}", code(next), units);
        if (!row.empty()) text += fmt::format("after {}{}\n", code(start), row);
    };
    for (const auto& c : all) text += fmt::format("advance {} {}\n", code(c), units(c, face));
    for (const auto& c : all) line(c, [&](const std::string& next) { return closer(c, next, face); });
    const std::string f = "f";
    for (const std::string second : {"f", "i", "l"})
        line(f + second, [&](const std::string& next) { return closer(f, second, next, face); });
    for (const auto& c : all) {
        if (c != f) line(c + f, [&](const std::string& next) { return closer(c, f, next, face); });
    }
    return text;
}

}  // namespace

// `test_page "[write-widths]"` in the folder of the sources writes the table anew.
TEST_CASE("writes the table of widths", "[.][write-widths]") {
    const auto all = characters();
    std::string text =
        "# Widths of DejaVu Sans 2.37 (Debian fonts-dejavu-core) in 1/2048 of the size of the type, by code point:\n"
        "# \"advance 41 1401\" of A alone; \"after 41 2d:-45\" what A and a hyphen in a row are wider than each "
        "alone;\n"
        "# \"after 66+66 2d:112\" the same for three, on top of what each two of them say.\n"
        "# Measured with pango by test_page \"[write-widths]\".\n";
    for (const auto face : {Face::regular, Face::bold}) {
        text += face == Face::bold ? "bold\n" : "regular\n";
        text += lines_of(all, face);
    }
    std::ofstream{"src/sheet/page/widths.txt", std::ios::binary} << text;
}

TEST_CASE("the table says what pango measures, for what is written on drawings", "[widths]") {
    const auto all = characters();
    REQUIRE(all.size() > 800);
    const auto face = GENERATE(Face::regular, Face::bold);
    for (const auto& c : all) {
        CAPTURE(c, code(c));
        REQUIRE(table_width(c, face, 1.0) == fonts().width(c, face, 1.0));
    }
    // Latin letters and signs at random; the other alphabets never stand in one word with them.
    std::vector<std::string> latin;
    for (const auto& c : all)
        if (const auto value = code_point(c, 0).value; value < 0x370 || value > 0x4FF) latin.push_back(c);
    std::mt19937 random{11};
    const auto any = [&](std::size_t count) { return latin[random() % count]; };
    for (int n = 0; n < 4000; ++n) {
        // Mostly plain letters, where the pairs are; f now and then, where three matter. No word has more than two.
        std::string text;
        const auto length = 1 + random() % 30;
        for (unsigned i = 0; i < length; ++i) {
            const auto next = random() % 5 == 0 ? "f" : random() % 4 == 0 ? any(latin.size()) : any(95);
            const bool hidden = next == "\xC2\xAD";  // a soft hyphen, across which letters join
            text += hidden || (next == "f" && text.ends_with("ff")) ? "i" : next;
        }
        CAPTURE(text);
        REQUIRE(table_width(text, face, 2.6) == Approx(fonts().width(text, face, 2.6)).epsilon(1e-12));
    }
}

TEST_CASE("words of the drawings are as wide by the table as on paper, with the same bits", "[widths]") {
    paper::pin_fonts();
    const char* const words[] = {"AVAVA Tor-To, 4 ¼ in × 1.8 m",
                                 "Fließrichtung Übergabeschacht",
                                 "traffic off: staff - office, offload",
                                 "4 h 10 min at 12.5 °C",
                                 "cut 620 × 340 mm",
                                 "Łódź …",
                                 "Αθήνα, Τομή Α",
                                 "Трасса А, Тула"};
    for (const auto* text : words) {
        CAPTURE(text);
        for (const auto face : {Face::regular, Face::bold})
            CHECK(table_width(text, face, 2.6) == fonts().width(text, face, 2.6));
    }
    // One em for what is not in the table, and for each damaged byte the sign that stands for it.
    CHECK(table_width("\xE4\xB8\x80", Face::regular, 3.0) == 3.0);
    CHECK(table_width("\xFF", Face::regular, 3.0) == table_width("\xEF\xBF\xBD", Face::regular, 3.0));
    CHECK(table_width("", Face::bold, 3.0) == 0.0);
}
