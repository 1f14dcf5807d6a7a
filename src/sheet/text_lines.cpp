#include "text_lines.hpp"
#include "patchwright/units/utf8.hpp"

#include <algorithm>
#include <array>
#include <numeric>
#include <vector>

namespace patchwright::sheet {
namespace {

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
        const auto c = code_point(text, at);
        if (used + columns(c.value) > width) break;
        used += columns(c.value);
        at += c.bytes;
    }
    return at > 0 ? at : code_point(text).bytes;
}

/// Words with one space between them.
std::string single_spaced(std::string_view text) {
    std::string joined;
    for (const char c : text) {
        if (c != ' ' || (!joined.empty() && joined.back() != ' ')) joined += c;
    }
    return joined;
}

std::size_t longest_word(std::string_view text) {
    std::size_t longest = 0;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find(' ', at), text.size());
        longest = std::max(longest, text_width(text.substr(at, end - at)));
        at = end + 1;
    }
    return longest;
}

class TablePrinter {
public:
    TablePrinter(std::string& out, const Table& table, std::size_t width) : out_{out}, table_{table} {
        measure(width);
        rule_.assign(std::min(width, total_), '-');
        blank_.assign(total_, '_');
        cells_.reserve(widths_.size());
    }

    void print() {
        const bool titled = std::any_of(table_.columns.begin(), table_.columns.end(),
                                        [](const Column& column) { return !column.title.empty(); });
        if (titled) {
            for (std::size_t i = 0; i < widths_.size(); ++i) cells_.emplace_back(table_.columns[i].title, widths_[i]);
            put_cells();
            put_rule();
        }
        for (std::size_t r = 0; r < table_.rows.size(); ++r) {
            const bool sum =
                std::find(table_.total_rows.begin(), table_.total_rows.end(), r) != table_.total_rows.end();
            if (sum) put_rule();
            const auto& row = table_.rows[r];
            for (std::size_t i = 0; i < widths_.size(); ++i) {
                const bool to_write_on = table_.columns[i].blank && row[i].empty();
                cells_.emplace_back(to_write_on ? std::string_view{blank_}.substr(0, widths_[i]) : row[i], widths_[i]);
            }
            put_cells();
        }
    }

private:
    void measure(std::size_t width) {
        const auto count = table_.columns.size();
        widths_.resize(count);
        for (std::size_t i = 0; i < count; ++i) {
            const auto& column = table_.columns[i];
            widths_[i] = text_width(column.title);
            if (column.blank) widths_[i] = std::max<std::size_t>(widths_[i], 8);
            for (const auto& row : table_.rows) widths_[i] = std::max(widths_[i], text_width(row[i]));
        }
        total_ = std::accumulate(widths_.begin(), widths_.end(), count > 0 ? 2 * (count - 1) : 0);
        if (total_ <= width) return;
        // No word is cut while another column can still give way; then those with the longest words.
        std::vector<std::size_t> least(count);
        for (std::size_t i = 0; i < count; ++i) {
            least[i] = longest_word(table_.columns[i].title);
            if (table_.columns[i].blank) least[i] = std::max<std::size_t>(least[i], 8);
            for (const auto& row : table_.rows) least[i] = std::max(least[i], longest_word(row[i]));
        }
        narrow(width, least);
        narrow(width, std::vector<std::size_t>(count, 6));
    }
    /// The widest column that still may gives way first, letter by letter, so that two long columns end up alike.
    void narrow(std::size_t width, const std::vector<std::size_t>& least) {
        for (; total_ > width; --total_) {
            std::size_t widest = widths_.size();
            for (std::size_t i = 0; i < widths_.size(); ++i)
                if (widths_[i] > least[i] && (widest == widths_.size() || widths_[i] > widths_[widest])) widest = i;
            if (widest == widths_.size()) return;
            --widths_[widest];
        }
    }
    void put_rule() {
        out_ += rule_;
        end_line(out_);
    }
    /// The cells beside each other, on as many lines as the longest takes.
    void put_cells() {
        bool more = true;
        for (bool first = true; more; first = false) {
            more = false;
            for (std::size_t i = 0; i < cells_.size(); ++i) {
                const auto part = first || cells_[i].more() ? cells_[i].next() : BrokenLine{};
                const auto missing = widths_[i] - std::min(widths_[i], part.columns);
                const bool right = table_.columns[i].align == Align::right;
                if (i > 0) out_ += "  ";
                if (right) out_.append(missing, ' ');
                out_ += part.text;
                if (!right) out_.append(missing, ' ');
                more = more || cells_[i].more();
            }
            end_line(out_);
        }
        cells_.clear();
    }

    std::string& out_;
    const Table& table_;
    std::vector<std::size_t> widths_;
    std::size_t total_ = 0;  ///< columns of a whole line
    std::string rule_, blank_;
    std::vector<LineBreaker> cells_;
};

}  // namespace

std::size_t text_width(std::string_view text) {
    std::size_t width = 0;
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
        width += columns(c.value);
        at += c.bytes;
    }
    return width;
}

void end_line(std::string& out) {
    out.erase(out.find_last_not_of(' ') + 1);
    out += '\n';
}

LineBreaker::LineBreaker(std::string_view text, std::size_t width)
    : text_{text}, width_{std::max<std::size_t>(1, width)} {
    if (text.find("  ") != std::string_view::npos) joined_ = single_spaced(text);
    at_ = skip_spaces(0);
}

std::size_t LineBreaker::skip_spaces(std::size_t at) const {
    const auto text = this->text();
    while (at < text.size() && text[at] == ' ') ++at;
    return at;
}

BrokenLine LineBreaker::next() {
    const auto all = text();
    const auto begin = at_;
    auto end = begin;
    std::size_t used = 0;  // columns from begin to end
    while (at_ < all.size()) {
        const auto word = all.substr(at_, all.find(' ', at_) - at_);
        const auto columns_of_word = text_width(word);
        const std::size_t space = end > begin ? 1 : 0;
        if (space > 0 && used + space + columns_of_word > width_) break;
        const auto bytes = columns_of_word > width_ ? fitting(word, width_) : word.size();
        used += space + (bytes < word.size() ? text_width(word.substr(0, bytes)) : columns_of_word);
        end = at_ + bytes;
        at_ = skip_spaces(end);
        if (bytes < word.size()) break;
    }
    return {all.substr(begin, end - begin), used};
}

void append_table(std::string& out, const Table& table, std::size_t width) { TablePrinter{out, table, width}.print(); }

std::string to_ascii(std::string_view text) {
    // Latin-1 letters from U+00C0 on, by their base letter; '*' marks the ones spelt with two.
    static constexpr std::string_view latin = "AAAAAA*CEEEEIIIIDNOOOOOxOUUUUY**aaaaaa*ceeeeiiiidnooooo/ouuuuy*y";
    std::string result;
    result.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const auto c = code_point(text, at);
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
