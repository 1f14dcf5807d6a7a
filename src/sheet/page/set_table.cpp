#include <algorithm>
#include <numeric>

#include "setting.hpp"

namespace patchwright::sheet {

std::vector<double> share_width(std::vector<double> wanted, const std::vector<double>& least, double width) {
    const auto total = [](const std::vector<double>& list) { return std::accumulate(list.begin(), list.end(), 0.0); };
    if (total(wanted) <= width) return wanted;
    if (const double words = total(least); words > width) {  // the words themselves must be broken
        auto widths = least;
        for (auto& w : widths) w *= width / words;
        return widths;
    }
    // Short columns keep what they want; the others share the rest in proportion to what they want beyond their words.
    std::vector<bool> fixed(wanted.size(), false);
    std::vector<double> widths = least;
    const double share = width / (2.0 * static_cast<double>(wanted.size()));
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        if (wanted[i] > share) continue;
        fixed[i] = true;
        widths[i] = wanted[i];
    }
    if (total(widths) > width) {
        fixed.assign(wanted.size(), false);
        widths = least;
    }
    for (bool again = true; again;) {
        again = false;
        double room = width, wishes = 0;
        for (std::size_t i = 0; i < wanted.size(); ++i) {
            room -= fixed[i] ? widths[i] : least[i];
            if (!fixed[i]) wishes += wanted[i] - least[i];
        }
        for (std::size_t i = 0; i < wanted.size() && wishes > 0; ++i) {
            if (fixed[i]) continue;
            widths[i] = least[i] + room * (wanted[i] - least[i]) / wishes;
        }
        for (std::size_t i = 0; i < wanted.size(); ++i) {
            if (fixed[i] || widths[i] <= wanted[i]) continue;
            widths[i] = wanted[i];
            fixed[i] = true;
            again = true;
        }
    }
    return widths;
}

namespace {

struct Shape {
    std::vector<double> widths, places;
    double gap = 2.2;
    double width = 0;
    double type = 0;          ///< size of the rows
    bool words_whole = true;  ///< no word had to be broken
};

/// Type of a table's rows: of one that is read at arm's length larger, as far as no figure has to break for it.
double row_size(Fonts& fonts, const Table& table, double room, const Style& style) {
    if (!table.strong) return style.text;
    const double large = std::max(1.2 * style.text, 0.7 * style.arm);
    double sum = 0;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        double widest = 0;
        for (const auto& row : table.rows) widest = std::max(widest, fonts.width(printable(row[i]), Face::bold, large));
        sum += widest + 0.1;
    }
    return std::max(style.text, large * std::min(1.0, room / sum));
}

double longest_word(Fonts& fonts, const std::string& text, Face face, double size) {
    double longest = 0;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find(' ', at), text.size());
        if (end > at) longest = std::max(longest, fonts.width(std::string_view{text}.substr(at, end - at), face, size));
        at = end + 1;
    }
    return longest;
}

Shape shape_of(Fonts& fonts, const Table& table, double width, const Style& style) {
    Shape shape;
    shape.gap = 2.2 * style.scale;
    const auto count = table.columns.size();
    const double gaps = count > 0 ? shape.gap * static_cast<double>(count - 1) : 0;
    shape.type = row_size(fonts, table, width - gaps, style);
    std::vector<double> wanted(count), least(count), in_rows(count);
    std::size_t blanks = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const auto look = [&](const std::string& raw, Face face, double size) {
            const auto text = printable(raw);
            wanted[i] = std::max(wanted[i], fonts.width(text, face, size) + 0.05);
            least[i] = std::max(least[i], std::min(longest_word(fonts, text, face, size) + 0.05, 0.4 * width));
        };
        for (const auto& row : table.rows) look(row[i], Face::bold, shape.type);
        in_rows[i] = wanted[i];
        look(table.columns[i].title, Face::bold, style.label);
        if (table.columns[i].blank) {
            wanted[i] = std::max(wanted[i], 13.0 * style.scale);
            least[i] = std::max(least[i], 10.0 * style.scale);
            ++blanks;
        }
    }
    // Where room is short the titles break first: a figure that breaks is read wrong.
    if (std::accumulate(wanted.begin(), wanted.end(), gaps) > width) {
        for (std::size_t i = 0; i < count; ++i) {
            if (!table.columns[i].blank) wanted[i] = std::max(in_rows[i], least[i]);
        }
    }
    shape.words_whole = std::accumulate(least.begin(), least.end(), gaps) <= width;
    shape.widths = share_width(std::move(wanted), least, width - gaps);
    const double used = std::accumulate(shape.widths.begin(), shape.widths.end(), gaps);
    if (blanks > 0 && used < width) {
        for (std::size_t i = 0; i < count; ++i) {
            if (table.columns[i].blank) shape.widths[i] += std::min(24.0, (width - used) / static_cast<double>(blanks));
        }
    }
    double x = 0;
    for (const double w : shape.widths) {
        shape.places.push_back(x);
        x += w + shape.gap;
    }
    shape.width = x - (count > 0 ? shape.gap : 0);
    return shape;
}

class RowSetter {
public:
    RowSetter(Setter& setter, const Table& table, const Shape& shape, const Style& style)
        : setter_{setter}, table_{table}, shape_{shape}, style_{style} {}

    Piece head(bool with_title, double title_width) {
        Piece piece;
        double y = 0;
        if (with_title && !table_.title.empty()) {
            y += setter_.add_text(piece, table_.title, 0, 0, title_width, Face::bold, style_.text, style_) + 0.2;
        }
        std::vector<std::string> titles;
        for (const auto& column : table_.columns) titles.push_back(column.title);
        const bool titled = std::any_of(titles.begin(), titles.end(), [](const auto& t) { return !t.empty(); });
        if (titled) {
            double height = 0;
            for (const auto& t : titles) height = std::max(height, t.empty() ? 0.0 : 1.0);
            height = cells(piece, titles, y, Face::bold, style_.label, true);
            y += height + 0.3;
            piece.marks.push_back(RuleMark{0, y, shape_.width, y, 0.4, 0.0, false});
            y += 0.3;
        }
        piece.height = y;
        return piece;
    }

    Piece row(std::size_t r) {
        Piece piece;
        const bool total = std::find(table_.total_rows.begin(), table_.total_rows.end(), r) != table_.total_rows.end();
        bool writes = false;
        for (std::size_t i = 0; i < table_.columns.size(); ++i) {
            writes = writes || (table_.columns[i].blank && table_.rows[r][i].empty());
        }
        // A row to write in is higher than its type; the type stands on the line.
        const double room = writes ? style_.write * (style_.scale < 0.8 ? 0.64 : 0.74) : 0.0;
        const double air = 0.25 * std::min(1.0, style_.scale + 0.18);
        double y = std::max(air, room - style_.text * style_.leading);
        if (total) piece.marks.push_back(RuleMark{0, 0, shape_.width, 0, 0.3, 0.0, false});
        y += cells(piece, table_.rows[r], y, total || table_.strong ? Face::bold : Face::regular, shape_.type, false);
        y += air;
        piece.marks.push_back(RuleMark{0, y, shape_.width, y, 0.12, 0.55, false});
        for (std::size_t i = 0; i < table_.columns.size(); ++i) {
            if (!table_.columns[i].blank || !table_.rows[r][i].empty()) continue;
            piece.marks.push_back(
                RuleMark{shape_.places[i], y, shape_.places[i] + shape_.widths[i], y, 0.25, 0.0, false});
        }
        piece.height = y;
        return piece;
    }

private:
    double cells(Piece& piece, const std::vector<std::string>& texts, double top, Face face, double size, bool low) {
        std::vector<std::vector<std::string>> lines;
        std::size_t most = 1;
        for (std::size_t i = 0; i < texts.size(); ++i) {
            lines.push_back(texts[i].empty() ? std::vector<std::string>{}
                                             : setter_.fonts().wrap(texts[i], face, size, shape_.widths[i]));
            most = std::max(most, lines.back().size());
        }
        const double step = size * style_.leading;
        for (std::size_t i = 0; i < texts.size(); ++i) {
            double y = top + (low ? static_cast<double>(most - lines[i].size()) * step : 0.0);
            for (const auto& line : lines[i]) {
                const bool right = table_.columns[i].align == Align::right;
                const double x =
                    shape_.places[i] + (right ? shape_.widths[i] - setter_.fonts().width(line, face, size) : 0.0);
                piece.marks.push_back(
                    TextMark{line, x, y + size * (0.76 + (style_.leading - 1.0) / 2.0), size, face, 0.0});
                y += step;
            }
        }
        return static_cast<double>(most) * step;
    }

    Setter& setter_;
    const Table& table_;
    const Shape& shape_;
    const Style& style_;
};

}  // namespace

void Setter::add(const Table& table, double width, const Style& style, std::vector<Piece>& out) {
    if (table.columns.empty()) return;
    auto beside = static_cast<std::size_t>(std::max(1, table.side_by_side));
    const double gutter = style.gutter * 1.3;
    const auto column_of = [&](std::size_t n) {
        return (width - static_cast<double>(n - 1) * gutter) / static_cast<double>(n);
    };
    while (beside > 1 && !shape_of(fonts_, table, column_of(beside), style).words_whole) --beside;
    if (beside < 2 || table.rows.size() < 2 * beside) {
        add_rows(table, width, style, out);
        return;
    }
    const double column = column_of(beside);
    const auto shape = shape_of(fonts_, table, column, style);
    RowSetter setter{*this, table, shape, style};
    Piece all;
    std::vector<Piece> rows;
    double sum = 0;
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        rows.push_back(setter.row(r));
        sum += rows.back().height;
    }
    std::size_t r = 0;
    double top = 0;
    for (std::size_t c = 0; c < beside; ++c) {
        const double x = static_cast<double>(c) * (column + gutter);
        auto head = setter.head(c == 0, width);
        if (c == 0) top = head.height;
        add_marks(all, head, x, top - head.height);
        double y = top;
        // As even as whole rows allow; the last column takes what is left.
        const double share = sum / static_cast<double>(beside);
        while (r < rows.size() && (c + 1 == beside || y - top + rows[r].height / 2 < share)) {
            add_marks(all, rows[r], x, y);
            y += rows[r].height;
            ++r;
        }
        all.height = std::max(all.height, y);
    }
    if (all.height > 0.85 * page_height_) {
        add_rows(table, width, style, out);
        return;
    }
    out.push_back(std::move(all));
}

void Setter::add_rows(const Table& table, double width, const Style& style, std::vector<Piece>& out) {
    const auto shape = shape_of(fonts_, table, width, style);
    RowSetter setter{*this, table, shape, style};
    auto head = std::make_shared<Piece>(setter.head(true, width));
    const bool headed = head->height > 0;
    if (headed) {
        out.push_back(*head);
        out.back().keep_next = true;
    }
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        auto piece = setter.row(r);
        if (headed) piece.repeat = head;
        const bool before_total =
            std::find(table.total_rows.begin(), table.total_rows.end(), r + 1) != table.total_rows.end() &&
            r + 1 < table.rows.size();
        piece.keep_next = (r == 0 && table.rows.size() > 1 && table.rows.size() < 6) || before_total;
        out.push_back(std::move(piece));
    }
}

}  // namespace patchwright::sheet
