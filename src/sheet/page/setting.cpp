#include "setting.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "paint.hpp"
#include "patchwright/units/utf8.hpp"

namespace patchwright::sheet {

Style Style::of(double scale) {
    Style s;
    s.scale = scale;
    for (auto* size : {&s.text, &s.small, &s.label, &s.heading, &s.gap, &s.gutter}) *size *= scale;
    s.arm *= std::max(scale, 0.78);
    s.write *= std::max(scale, 0.86);
    if (scale < 0.9) s.leading = 1.19;
    return s;
}

void add_marks(Piece& into, const Piece& piece, double x, double y) {
    for (auto mark : piece.marks) {
        std::visit(
            [&](auto& m) {
                if constexpr (std::is_same_v<std::decay_t<decltype(m)>, RuleMark>) {
                    m.x1 += x, m.x2 += x, m.y1 += y, m.y2 += y;
                } else {
                    m.x += x, m.y += y;
                }
            },
            mark);
        into.marks.push_back(std::move(mark));
    }
}

namespace {

/// Base line below the top of a line of that size and leading.
double base_line(double size, double leading) { return size * (0.76 + (leading - 1.0) / 2.0); }

/// Pieces one under the other as one, which nothing divides.
Piece stacked_piece(const std::vector<Piece>& pieces) {
    Piece all;
    for (const auto& piece : pieces) {
        if (all.height > 0) all.height += piece.before;
        add_marks(all, piece, 0, all.height);
        all.height += piece.height;
    }
    return all;
}

}  // namespace

double stacked_height(const std::vector<Piece>& pieces) {
    double height = 0;
    for (std::size_t i = 0; i < pieces.size(); ++i) height += pieces[i].height + (i > 0 ? pieces[i].before : 0);
    return height;
}

double Setter::add_text(Piece& piece, std::string_view text, double x, double y, double width, Face face, double size,
                        const Style& style, double grey) {
    double height = 0;
    for (auto& line : fonts_.wrap(text, face, size, width)) {
        piece.marks.push_back(
            TextMark{std::move(line), x, y + height + base_line(size, style.leading), size, face, grey});
        height += size * style.leading;
    }
    return height;
}

std::string Setter::shortened(const std::string& text, Face face, double size, double width) {
    if (fonts_.width(text, face, size) <= width) return text;
    std::string kept;
    for (std::size_t at = 0; at < text.size();) {
        const auto next = at + code_point(text, at).bytes;
        if (fonts_.width(text.substr(0, next) + "…", face, size) > width) break;
        kept = text.substr(0, next);
        at = next;
    }
    return kept + "…";
}

std::vector<Piece> Setter::set(const std::vector<Block>& blocks, double width, const Style& style) {
    std::vector<Piece> pieces;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        const auto first = pieces.size();
        std::vector<const Caution*> cautions;
        while (i + cautions.size() < blocks.size()) {
            const auto* c = std::get_if<Caution>(&blocks[i + cautions.size()].content);
            if (c == nullptr) break;
            cautions.push_back(c);
        }
        if (cautions.size() > 1) {
            add_cautions(cautions, width, style, pieces);
            i += cautions.size() - 1;
        } else {
            std::visit([&](const auto& content) { add(content, width, style, pieces); }, blocks[i].content);
        }
        if (pieces.size() > first) pieces[first].before = std::max(pieces[first].before, style.gap);
    }
    return pieces;
}

void Setter::add(const Heading& heading, double width, const Style& style, std::vector<Piece>& out) {
    const double size = heading.level <= 1 ? style.heading : heading.level == 2 ? style.text * 1.12 : style.text;
    Piece piece;
    piece.height = add_text(piece, heading.text, 0, 0, width, Face::bold, size, style);
    piece.before = style.gap * (heading.level <= 1 ? 2.0 : 1.4);
    piece.keep_next = true;
    const double end = fonts_.width(heading.text, Face::bold, size) + 2.0;
    if (heading.level <= 1 && end < width - 5.0) {
        const double y = piece.height / 2.0;
        piece.marks.push_back(RuleMark{end, y, width, y, 0.35, 0.0, true});
    }
    out.push_back(std::move(piece));
}

void Setter::add(const Paragraph& paragraph, double width, const Style& style, std::vector<Piece>& out) {
    const bool arm = paragraph.emphasis == Emphasis::arm;
    const auto face = paragraph.emphasis == Emphasis::normal ? Face::regular : Face::bold;
    const double size = arm ? style.arm : style.text;
    const auto lines = fonts_.wrap(paragraph.text, face, size, width);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        Piece piece;
        piece.height = size * style.leading;
        piece.marks.push_back(TextMark{lines[i], 0, base_line(size, style.leading), size, face, 0.0});
        // No line of a paragraph alone at the foot or the head of a page.
        piece.keep_next = i + 1 < lines.size() && (i == 0 || i + 2 == lines.size());
        out.push_back(std::move(piece));
    }
}

void Setter::add(const Bullets& bullets, double width, const Style& style, std::vector<Piece>& out) {
    add_list(bullets.items, false, 2, width, style, out);
}
void Setter::add(const Ticks& ticks, double width, const Style& style, std::vector<Piece>& out) {
    add_list(ticks.items, true, 4, width, style, out);
}

void Setter::add_list(const std::vector<std::string>& items, bool boxes, int max_columns, double width,
                      const Style& style, std::vector<Piece>& out) {
    if (items.empty()) return;
    const double indent = (boxes ? 1.5 : 0.95) * style.text;
    const double line = style.text * style.leading;
    // As many columns as give the least height, the fewest among equals.
    std::size_t columns = 1, rows = items.size();
    double least = 1e9;
    std::vector<std::vector<std::string>> lines;
    for (std::size_t n = 1; n <= std::min<std::size_t>(static_cast<std::size_t>(max_columns), items.size()); ++n) {
        const double column = (width - static_cast<double>(n - 1) * style.gutter) / static_cast<double>(n);
        if (n > 1 && column < 26.0) break;
        const auto deep = (items.size() + n - 1) / n;
        std::vector<std::vector<std::string>> wrapped;
        for (const auto& item : items) wrapped.push_back(fonts_.wrap(item, Face::regular, style.text, column - indent));
        double height = 0;
        for (std::size_t r = 0; r < deep; ++r) {
            std::size_t most = 1;
            for (std::size_t i = r; i < items.size(); i += deep) most = std::max(most, wrapped[i].size());
            height += static_cast<double>(most) * line;
        }
        if (height >= least - 0.1) continue;
        least = height, columns = n, rows = deep, lines = std::move(wrapped);
    }
    const double column = (width - static_cast<double>(columns - 1) * style.gutter) / static_cast<double>(columns);
    for (std::size_t r = 0; r < rows; ++r) {
        Piece piece;
        piece.before = r > 0 ? (boxes ? 0.18 : 0.1) * style.text : 0;
        for (std::size_t c = 0; c < columns && c * rows + r < items.size(); ++c) {
            const double x = static_cast<double>(c) * (column + style.gutter);
            const double base = base_line(style.text, style.leading);
            const double side = style.text * 0.92;
            if (boxes) {
                piece.marks.push_back(BoxMark{x + 0.15, base - side + 0.12 * style.text, side, side, 0.28, 0.0, -1});
            } else {
                const double dot = style.text * 0.28;
                piece.marks.push_back(BoxMark{x + 0.1, base - 0.36 * style.text - dot / 2, dot, dot, 0, 0.0, 0.0});
            }
            double y = 0;
            for (const auto& words : lines[c * rows + r]) {
                piece.marks.push_back(TextMark{words, x + indent, y + base, style.text, Face::regular, 0.0});
                y += line;
            }
            piece.height = std::max(piece.height, y);
        }
        out.push_back(std::move(piece));
    }
}

Piece Setter::caution(const Caution& c, double width, const Style& style) {
    // Title bold, text plain, source small: one paragraph of words in three settings.
    struct Word {
        std::string text;
        Face face;
        double size, grey;
    };
    std::vector<Word> words;
    const auto add_words = [&](const std::string& text, Face face, double size, double grey) {
        for (std::size_t at = 0; at < text.size();) {
            const auto end = std::min(text.find(' ', at), text.size());
            if (end > at) words.push_back({text.substr(at, end - at), face, size, grey});
            at = end + 1;
        }
    };
    add_words(printable(c.title) + ":", Face::bold, style.text, 0.0);
    add_words(printable(c.text), Face::regular, style.text, 0.0);
    if (!c.source.empty()) add_words(fmt::format("({})", printable(c.source)), Face::regular, style.small, 0.25);
    const double indent = style.text * 1.55;
    const double line = style.text * style.leading;
    Piece piece;
    piece.marks.push_back(SignMark{0, base_line(style.text, style.leading) - style.text * 0.92, style.text * 1.02});
    double x = 0, y = base_line(style.text, style.leading);
    TextMark* run = nullptr;
    for (auto& word : words) {
        const double wide = fonts_.width(word.text, word.face, word.size);
        const double space = fonts_.width(" ", word.face, word.size);
        if (x > 0 && x + space + wide > width - indent) {
            x = 0;
            y += line;
            run = nullptr;
        }
        const bool same = run != nullptr && run->face == word.face && run->size == word.size;
        if (same) {
            run->text += ' ' + word.text;
            x += space + wide;
            continue;
        }
        if (x > 0) x += space;
        piece.marks.push_back(TextMark{word.text, indent + x, y, word.size, word.face, word.grey});
        run = &std::get<TextMark>(piece.marks.back());
        x += wide;
    }
    piece.height = y + line - base_line(style.text, style.leading);
    piece.before = 0.2 * style.text;
    return piece;
}

void Setter::add(const Caution& c, double width, const Style& style, std::vector<Piece>& out) {
    out.push_back(caution(c, width, style));
}

void Setter::add_cautions(const std::vector<const Caution*>& list, double width, const Style& style,
                          std::vector<Piece>& out) {
    if (width < 120.0) {
        for (const auto* c : list) add(*c, width, style, out);
        return;
    }
    const double column = (width - style.gutter) / 2.0;
    std::vector<Piece> pieces;
    for (const auto* c : list) pieces.push_back(caution(*c, column, style));
    // Two columns as even as can be, in reading order.
    std::size_t split = pieces.size();
    double least = 1e9;
    for (std::size_t k = 1; k <= pieces.size(); ++k) {
        const std::vector<Piece> left{pieces.begin(), pieces.begin() + static_cast<std::ptrdiff_t>(k)};
        const std::vector<Piece> right{pieces.begin() + static_cast<std::ptrdiff_t>(k), pieces.end()};
        const double height = std::max(stacked_height(left), stacked_height(right));
        if (height < least) least = height, split = k;
    }
    if (least > 0.8 * page_height_) {
        for (const auto* c : list) add(*c, width, style, out);
        return;
    }
    const std::vector<Piece> left{pieces.begin(), pieces.begin() + static_cast<std::ptrdiff_t>(split)};
    const std::vector<Piece> right{pieces.begin() + static_cast<std::ptrdiff_t>(split), pieces.end()};
    Piece both;
    both.height = least;
    add_marks(both, stacked_piece(left), 0, 0);
    add_marks(both, stacked_piece(right), column + style.gutter, 0);
    out.push_back(std::move(both));
}

void Setter::add(const Signature& signature, double width, const Style& style, std::vector<Piece>& out) {
    if (signature.labels.empty()) return;
    const auto count = static_cast<double>(signature.labels.size());
    const double column = (width - (count - 1) * style.gutter) / count;
    Piece piece;
    const double line = std::max(7.0, 11.0 * style.scale);
    double x = 0;
    for (const auto& label : signature.labels) {
        piece.marks.push_back(RuleMark{x, line, x + column, line, 0.25, 0.0, false});
        piece.height = std::max(
            piece.height, line + add_text(piece, label, x, line + 0.5, column, Face::regular, style.small, style));
        x += column + style.gutter;
    }
    out.push_back(std::move(piece));
}

void Setter::add(const Picture& picture, double width, const Style& style, std::vector<Piece>& out) {
    if (!picture.drawing || picture.drawing->shapes.empty()) return;
    const auto& drawing = *picture.drawing;
    // A little smaller with the type, so that it keeps its share of the page.
    const double shrink = style.scale < 0.8 ? std::max(0.86, style.scale + 0.1) : 1.0;
    const double scale = std::min({shrink * width / drawing.width, 0.9 * page_height_ / drawing.height, 1.15});
    Piece piece;
    piece.height = drawing.height * scale;
    piece.marks.push_back(PictureMark{(width - drawing.width * scale) / 2.0, 0, scale, picture.drawing});
    out.push_back(std::move(piece));
}

void Setter::add(const PageBreak&, double, const Style&, std::vector<Piece>& out) {
    Piece piece;
    piece.page_break = true;
    out.push_back(std::move(piece));
}

namespace {

constexpr double card_padding = 2.0, card_line = 0.45;

void add_frame(Piece& card, double width) {
    card.marks.push_back(BoxMark{0, 0, width, card.height, card_line, 0.0, -1});
}

}  // namespace

Piece Setter::card_inside(const Card& card, double width, const Style& style) {
    Piece piece;
    piece.name = card.title;
    const double size = style.heading;
    const double bar = size * 1.55;
    const auto title = shortened(printable(card.title), Face::bold, size, width - 8.0);
    const double tab = fonts_.width(title, Face::bold, size) + 4.0;
    piece.marks.push_back(BoxMark{0, 0, tab, bar, 0, 0.0, 0.0});
    piece.marks.push_back(TextMark{title, 2.0, bar * 0.5 + size * 0.36, size, Face::bold, 1.0});
    double y = bar;
    if (!card.subtitle.empty()) {
        Piece words;
        const double height = add_text(words, card.subtitle, 0, 0, width - tab - 4.0, Face::regular, style.text, style);
        y = std::max(bar, height + 0.8);
        add_marks(piece, words, tab + 2.0, std::max(0.4, (bar - height) / 2.0));
    }
    piece.marks.push_back(RuleMark{0, y, width, y, 0.35, 0.0, true});
    y += 1.2 * style.scale;
    const double inner = width - 2 * card_padding;
    auto pieces = set(card.blocks, inner, style);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (i > 0) y += pieces[i].before;
        add_marks(piece, pieces[i], card_padding, y);
        y += pieces[i].height;
    }
    piece.height = y + card_padding * 0.7;
    piece.parts = std::move(pieces);
    return piece;
}

void Setter::add(const Card& card, double width, const Style& style, std::vector<Piece>& out) {
    auto piece = card_inside(card, width, style);
    // A card stays whole: one that is higher than the page is set smaller.
    for (double scale = style.scale - 0.05; piece.height > page_height_ && scale > 0.54; scale -= 0.05) {
        piece = card_inside(card, width, Style::of(scale));
    }
    add_frame(piece, width);
    piece.before = 2.2 * style.gap;
    out.push_back(std::move(piece));
}

void Setter::add(const Columns& columns, double width, const Style& style, std::vector<Piece>& out) {
    if (columns.columns.empty()) return;
    const auto count = columns.columns.size();
    double shares = 0;
    const auto share = [&](std::size_t i) { return i < columns.shares.size() ? columns.shares[i] : 1.0; };
    for (std::size_t i = 0; i < count; ++i) shares += share(i);
    const double free = width - static_cast<double>(count - 1) * style.gutter;
    std::vector<Piece> set_columns;
    std::vector<double> widths;
    Piece row;
    for (std::size_t i = 0; i < count; ++i) {
        widths.push_back(free * share(i) / shares);
        const auto& blocks = columns.columns[i];
        const auto* card = blocks.size() == 1 ? std::get_if<Card>(&blocks.front().content) : nullptr;
        set_columns.push_back(card != nullptr ? card_inside(*card, widths[i], style)
                                              : stacked_piece(set(blocks, widths[i], style)));
        row.height = std::max(row.height, set_columns[i].height);
    }
    if (row.height > page_height_) {  // too high side by side: one after the other
        for (const auto& blocks : columns.columns) {
            auto pieces = set(blocks, width, style);
            out.insert(out.end(), std::make_move_iterator(pieces.begin()), std::make_move_iterator(pieces.end()));
        }
        return;
    }
    double x = 0;
    for (std::size_t i = 0; i < count; ++i) {
        if (!set_columns[i].name.empty()) {
            set_columns[i].height = row.height;  // cards in a row are of one height
            add_frame(set_columns[i], widths[i]);
        }
        add_marks(row, set_columns[i], x, 0);
        x += widths[i] + style.gutter;
    }
    row.before = 2.0 * style.gap;
    out.push_back(std::move(row));
}

}  // namespace patchwright::sheet
