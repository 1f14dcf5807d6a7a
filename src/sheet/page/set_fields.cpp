#include <algorithm>
#include <cmath>

#include "setting.hpp"

/// Labels with values: the label small above, the value below it; large ones in a frame.
namespace patchwright::sheet {
namespace {

constexpr double frame_padding = 1.0;

Face face_of(Emphasis emphasis) { return emphasis == Emphasis::normal ? Face::regular : Face::bold; }

struct Cell {
    const Field* field = nullptr;
    std::size_t span = 1;
    double x = 0, width = 0;
};

double gutter_between(const Style& style) { return std::min(style.gutter, 3.0); }

class FieldSetter {
public:
    FieldSetter(Setter& setter, const Style& style) : setter_{setter}, style_{style} {}

    double value_size(const Field& field) const {
        if (field.blank()) return style_.write;
        return field.emphasis == Emphasis::arm ? style_.arm : style_.text;
    }
    double padding(const Field& field) const {
        return !field.blank() && field.emphasis == Emphasis::arm ? frame_padding : 0;
    }

    /// Columns that the value wants: a long one runs over its neighbours' places, a large one stays on one line.
    std::size_t span(const Field& field, double cell, std::size_t columns) {
        if (field.blank()) return 1;
        const double wide = setter_.fonts().width(printable(field.value), face_of(field.emphasis), value_size(field)) +
                            2 * padding(field);
        const bool large = field.emphasis == Emphasis::arm;
        if (wide <= cell) return 1;
        const auto lines =
            setter_.fonts().wrap(field.value, face_of(field.emphasis), value_size(field), cell - 2 * padding(field));
        if (!large && lines.size() <= 2) return 1;
        const double gutter = gutter_between(style_);
        return std::min<std::size_t>(columns,
                                     static_cast<std::size_t>(std::ceil((wide + gutter) / (cell + gutter) - 1e-9)));
    }

    /// Width of the field on one line, of a long label on two.
    double natural_width(const Field& field) {
        const double value = setter_.fonts().width(printable(field.value), face_of(field.emphasis), value_size(field));
        const double label = setter_.fonts().width(printable(field.label), Face::regular, style_.label);
        return std::max(value, std::min(label, std::max(0.55 * label, 18.0 * style_.scale))) + 2 * padding(field) +
               0.05;
    }

    double add(Piece& piece, const Cell& cell, double row_height) {
        const auto& field = *cell.field;
        const double pad = padding(field);
        double y = pad * 0.6;
        y += setter_.add_text(piece, field.label, cell.x + pad, y, cell.width - 2 * pad, Face::regular, style_.label,
                              style_, 0.2);
        if (field.blank()) {
            const double line = std::max(row_height, style_.write) - 0.4;
            if (row_height > 0)
                piece.marks.push_back(RuleMark{cell.x, line, cell.x + cell.width, line, 0.22, 0.3, false});
            return std::max(y + style_.write * 0.55, style_.write);
        }
        const double size = value_size(field);
        auto style = style_;
        if (field.emphasis == Emphasis::arm) style.leading = 1.12;
        y += setter_.add_text(piece, field.value, cell.x + pad, y, cell.width - 2 * pad, face_of(field.emphasis), size,
                              style);
        y += pad * 0.5;
        if (pad > 0 && row_height > 0) {
            piece.marks.push_back(BoxMark{cell.x, 0, cell.width, std::max(y, row_height), 0.45, 0.0, -1});
        }
        return y;
    }

private:
    Setter& setter_;
    const Style& style_;
};

/// In rows as full as they get, each as wide as the page, without holes where one is long: figures read at arm's length
/// with what belongs to them, and in small type all that is printed. Lines to write on keep their columns.
bool flows(const Fields& fields, const Style& style) {
    const auto& list = fields.fields;
    const bool arm = std::any_of(list.begin(), list.end(), [](const Field& f) { return f.emphasis == Emphasis::arm; });
    return (arm || style.scale < 0.8) &&
           std::none_of(list.begin(), list.end(), [](const Field& f) { return f.blank(); });
}

}  // namespace

void Setter::add(const Fields& fields, double width, const Style& style, std::vector<Piece>& out) {
    // At least 24 mm a column at full size: narrower, and a label with its value would break into single words.
    const auto wanted = static_cast<std::size_t>(std::max(1, fields.columns));
    const auto fitting = static_cast<std::size_t>(
        std::max(1.0, std::floor((width + style.gutter) / (24.0 * style.scale + style.gutter))));
    const auto columns = std::min(wanted, fitting);
    const double gutter = gutter_between(style);
    const double cell = (width - static_cast<double>(columns - 1) * gutter) / static_cast<double>(columns);
    FieldSetter setter{*this, style};
    std::vector<Cell> row;
    std::size_t used = 0;
    const auto flush = [&] {
        if (row.empty()) return;
        double height = 0;
        Piece draft;
        for (const auto& c : row) height = std::max(height, setter.add(draft, c, 0));
        Piece piece;
        for (const auto& c : row) setter.add(piece, c, height);
        piece.height = height;
        piece.before = 0.28 * style.text;
        out.push_back(std::move(piece));
        row.clear();
        used = 0;
    };
    if (flows(fields, style)) {
        const auto& list = fields.fields;
        for (std::size_t i = 0; i < list.size();) {
            double wide = 0;
            std::size_t next = i;
            std::vector<double> widths;
            for (; next < list.size(); ++next) {
                const double own = std::min(width, setter.natural_width(list[next]));
                if (next > i && wide + gutter + own > width) break;
                wide += (next > i ? gutter : 0.0) + own;
                widths.push_back(own);
            }
            const double more = (width - wide) / static_cast<double>(widths.size());
            for (double x = 0; i < next; ++i) {
                const double own = widths[widths.size() - (next - i)] + more;
                row.push_back({&list[i], 1, x, own});
                x += own + gutter;
            }
            flush();
        }
        return;
    }
    for (const auto& field : fields.fields) {
        const auto span = setter.span(field, cell, columns);
        if (used + span > columns) flush();
        const double x = static_cast<double>(used) * (cell + gutter);
        const double wide = cell * static_cast<double>(span) + gutter * static_cast<double>(span - 1);
        row.push_back({&field, span, x, wide});
        used += span;
    }
    flush();
}

}  // namespace patchwright::sheet
