#include <algorithm>
#include <charconv>
#include <map>
#include <string>
#include <unordered_map>

#include "patchwright/units/utf8.hpp"
#include "type.hpp"
#include "widths_text.hpp"

namespace patchwright::sheet {
namespace {

constexpr int em = 2048;  ///< units of the table to the size of the type

/// Of one face.
struct Widths {
    std::unordered_map<char32_t, int> advance;
    std::map<std::u32string, int> closer;  ///< what two or three characters in a row are wider than one by one
};

/// The next word of a line, taken off it.
std::string_view next_word(std::string_view& line) {
    const auto end = std::min(line.find(' '), line.size());
    const auto word = line.substr(0, end);
    line.remove_prefix(std::min(end + 1, line.size()));
    return word;
}

int whole_number(std::string_view word, int base) {
    int value = 0;
    std::from_chars(word.data(), word.data() + word.size(), value, base);
    return value;
}
char32_t character(std::string_view word) { return static_cast<char32_t>(whole_number(word, 16)); }

/// "advance 41 1401", "after 41 2d:-45 ..." and "after 66+66 2d:149 ...", as the head of widths.txt says.
void read_line(std::string_view line, Widths& widths) {
    const auto kind = next_word(line);
    const auto first = next_word(line);
    if (kind == "advance") {
        widths.advance[character(first)] = whole_number(line, 10);
        return;
    }
    const auto plus = first.find('+');
    std::u32string start{character(first.substr(0, plus))};
    if (plus != std::string_view::npos) start += character(first.substr(plus + 1));
    while (!line.empty()) {
        const auto word = next_word(line);
        const auto colon = word.find(':');
        widths.closer[start + character(word.substr(0, colon))] = whole_number(word.substr(colon + 1), 10);
    }
}

struct KnownType {
    Widths faces[2];
    KnownType() {
        auto text = table::widths_text();
        auto* face = &faces[0];
        while (!text.empty()) {
            const auto end = std::min(text.find('\n'), text.size());
            const auto line = text.substr(0, end);
            text.remove_prefix(std::min(end + 1, text.size()));
            if (line == "regular" || line == "bold")
                face = &faces[line == "bold"];
            else if (!line.empty() && line.front() != '#')
                read_line(line, *face);
        }
    }
};

}  // namespace

double table_width(std::string_view given, Face face, double size) {
    static const KnownType known_type;
    const auto& widths = known_type.faces[static_cast<std::size_t>(face)];
    const auto text = printable(given);
    std::u32string last;  // up to two characters before this one
    int sum = 0;
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
        at += c.bytes;
        const auto known = widths.advance.find(c.value);
        sum += known == widths.advance.end() ? em : known->second;
        last += c.value;
        for (std::size_t from = 0; from + 1 < last.size(); ++from) {
            const auto closer = widths.closer.find(last.substr(from));
            if (closer != widths.closer.end()) sum += closer->second;
        }
        if (last.size() > 2) last.erase(0, 1);
    }
    return static_cast<double>(sum) / em * size;
}

}  // namespace patchwright::sheet
