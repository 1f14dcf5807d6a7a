#include "text_lines.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <numeric>

namespace patchwright::sheet {
namespace {

struct CodePoint {
    char32_t value = 0;
    std::size_t bytes = 1;
};

/// Next code point of valid UTF-8; a stray byte counts as itself.
CodePoint next(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
    const auto lead = byte(0);
    const std::size_t size = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    if (lead < 0xC0 || at + size > text.size()) return {lead, 1};
    char32_t value = lead & (0xFFU >> (size + 1));
    for (std::size_t i = 1; i < size; ++i) value = (value << 6) | (byte(i) & 0x3FU);
    return {value, size};
}

std::size_t columns(char32_t c) {
    if (c < 0x0300) return 1;
    if (c >= 0x0300 && c <= 0x036F) return 0;
    const bool wide = (c >= 0x1100 && c <= 0x115F) || (c >= 0x2E80 && c <= 0xA4CF) || (c >= 0xAC00 && c <= 0xD7A3) ||
                      (c >= 0xF900 && c <= 0xFAFF) || (c >= 0xFE30 && c <= 0xFE6F) || (c >= 0xFF00 && c <= 0xFF60) ||
                      (c >= 0x20000 && c <= 0x3FFFD);
    return wide ? 2 : 1;
}

/// Length in bytes of the longest start of `text` that fits.
std::size_t fitting(std::string_view text, std::size_t width) {
    std::size_t used = 0, at = 0;
    while (at < text.size()) {
        const auto c = next(text, at);
        if (used + columns(c.value) > width) break;
        used += columns(c.value);
        at += c.bytes;
    }
    return at > 0 ? at : next(text, 0).bytes;
}

}  // namespace

std::size_t text_width(std::string_view text) {
    std::size_t width = 0;
    for (std::size_t at = 0; at < text.size();) {
        if (static_cast<unsigned char>(text[at]) < 0x80) {
            ++width;
            ++at;
            continue;
        }
        const auto c = next(text, at);
        width += columns(c.value);
        at += c.bytes;
    }
    return width;
}

std::string padded(std::string_view text, std::size_t width) {
    std::string result{text};
    const auto have = text_width(text);
    if (have < width) result.append(width - have, ' ');
    return result;
}

std::string padded_left(std::string_view text, std::size_t width) {
    const auto have = text_width(text);
    return std::string(have < width ? width - have : 0, ' ') + std::string{text};
}

std::vector<std::string> wrap(std::string_view text, std::size_t width) {
    std::vector<std::string> lines;
    std::string current;
    std::size_t used = 0;  // columns of `current`
    const auto push = [&] {
        lines.push_back(std::move(current));
        current.clear();
        used = 0;
    };
    std::size_t at = 0;
    while (at < text.size()) {
        const auto end = std::min(text.find(' ', at), text.size());
        auto word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) continue;
        auto columns_of_word = text_width(word);
        if (!current.empty() && used + 1 + columns_of_word > width) push();
        while (columns_of_word > width) {
            if (!current.empty()) push();
            const auto bytes = fitting(word, width);
            current = word.substr(0, bytes);
            word.remove_prefix(bytes);
            const auto rest = text_width(word);
            used = columns_of_word - rest;
            columns_of_word = rest;
            if (!word.empty()) push();
        }
        if (!current.empty() && !word.empty()) {
            current += ' ';
            ++used;
        }
        current += word;
        used += columns_of_word;
    }
    if (!current.empty() || lines.empty()) push();
    return lines;
}

std::vector<std::string> table_lines(const Table& table, std::size_t width) {
    const auto count = table.columns.size();
    std::vector<std::size_t> widths(count);
    for (std::size_t i = 0; i < count; ++i) {
        widths[i] = text_width(table.columns[i].title);
        if (table.columns[i].blank) widths[i] = std::max<std::size_t>(widths[i], 8);
        for (const auto& row : table.rows) widths[i] = std::max(widths[i], text_width(row[i]));
    }
    const std::size_t gaps = count > 0 ? 2 * (count - 1) : 0;
    const auto total = [&] { return std::accumulate(widths.begin(), widths.end(), gaps); };
    // The widest column gives way first, letter by letter, so that two long columns end up alike.
    while (total() > width) {
        auto widest = std::max_element(widths.begin(), widths.end());
        if (*widest <= 6) break;
        --*widest;
    }
    std::vector<std::string> lines;
    const auto put = [&](const std::vector<std::string>& cells) {
        std::vector<std::vector<std::string>> parts;
        std::size_t height = 1;
        for (std::size_t i = 0; i < count; ++i) {
            const bool blank = table.columns[i].blank && cells[i].empty();
            parts.push_back(blank ? std::vector<std::string>{std::string(widths[i], '_')} : wrap(cells[i], widths[i]));
            height = std::max(height, parts.back().size());
        }
        for (std::size_t h = 0; h < height; ++h) {
            std::string line;
            for (std::size_t i = 0; i < count; ++i) {
                const auto& part = h < parts[i].size() ? parts[i][h] : std::string{};
                line += table.columns[i].align == Align::right ? padded_left(part, widths[i]) : padded(part, widths[i]);
                if (i + 1 < count) line += "  ";
            }
            lines.push_back(std::move(line));
        }
    };
    std::vector<std::string> titles;
    for (const auto& column : table.columns) titles.push_back(column.title);
    const bool titled = std::any_of(titles.begin(), titles.end(), [](const auto& t) { return !t.empty(); });
    const std::string rule(std::min(width, total()), '-');
    if (titled) {
        for (std::size_t i = 0; i < count; ++i) {
            if (table.columns[i].blank && titles[i].empty()) titles[i].assign(1, ' ');
        }
        put(titles);
        lines.push_back(rule);
    }
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        const bool sum = std::find(table.total_rows.begin(), table.total_rows.end(), r) != table.total_rows.end();
        if (sum) lines.push_back(rule);
        put(table.rows[r]);
    }
    return lines;
}

std::string to_ascii(std::string_view text) {
    // Latin-1 letters from U+00C0 on, by their base letter; '*' marks the ones spelt with two.
    static constexpr std::string_view latin = "AAAAAA*CEEEEIIIIDNOOOOOxOUUUUY**aaaaaa*ceeeeiiiidnooooo/ouuuuy*y";
    std::string result;
    for (std::size_t at = 0; at < text.size();) {
        const auto c = next(text, at);
        at += c.bytes;
        if (c.value < 0x80) {
            result += static_cast<char>(c.value);
            continue;
        }
        switch (c.value) {
            case 0x00B0:
                result += at < text.size() && (text[at] == 'C' || text[at] == 'F') ? "" : " deg";
                continue;
            case 0x00B2:
                result += '2';
                continue;
            case 0x00B3:
                result += '3';
                continue;
            case 0x00B5:
                result += 'u';
                continue;
            case 0x00B7:
                result += '.';
                continue;
            case 0x00DF:
                result += "ss";
                continue;
            case 0x00C4:
            case 0x00C6:
                result += "Ae";
                continue;
            case 0x00E4:
            case 0x00E6:
                result += "ae";
                continue;
            case 0x00D6:
                result += "Oe";
                continue;
            case 0x00F6:
                result += "oe";
                continue;
            case 0x00DC:
                result += "Ue";
                continue;
            case 0x00FC:
                result += "ue";
                continue;
            case 0x00DE:
                result += "Th";
                continue;
            case 0x00FE:
                result += "th";
                continue;
            case 0x2012:
            case 0x2013:
            case 0x2014:
            case 0x2212:
                result += '-';
                continue;
            case 0x2018:
            case 0x2019:
                result += '\'';
                continue;
            case 0x201C:
            case 0x201D:
                result += '"';
                continue;
            case 0x2026:
                result += "...";
                continue;
            case 0x2264:
                result += "<=";
                continue;
            case 0x2265:
                result += ">=";
                continue;
            default:
                break;
        }
        const bool letter = c.value >= 0x00C0 && c.value <= 0x00FF;
        result += letter ? latin[c.value - 0x00C0] : '?';
    }
    return result;
}

}  // namespace patchwright::sheet
