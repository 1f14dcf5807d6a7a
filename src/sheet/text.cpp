#include "patchwright/sheet/model.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "patchwright/sheet/sheets.hpp"
#include "text_lines.hpp"

namespace patchwright::sheet {
namespace {

/// Lines of a sheet in plain text. Every block of the model has a form here, so paper and terminal say the same.
class TextPrinter {
public:
    explicit TextPrinter(const TextStyle& style) : style_{style}, width_{std::max<std::size_t>(40, style.width)} {}

    void print(const Sheet& sheet) {
        rule('=');
        line(strong(fmt::format("{}  {}  {}", sheet.kind, sheet.reference, sheet.title)));
        if (!sheet.subject.empty()) line(sheet.subject);
        for (const auto& banner : sheet.banners) wrapped("! ", banner);
        rule('=');
        for (const auto& block : sheet.blocks) print(block);
    }
    std::string take() { return std::move(out_); }

private:
    void print(const Block& block) {
        std::visit([this](const auto& content) { print(content); }, block.content);
    }
    void print(const Heading& h) {
        gap();
        line(strong(h.text));
        if (h.level == 1) line(std::string(std::min(width_, text_width(h.text)), '-'));
    }
    void print(const Paragraph& p) {
        if (p.emphasis == Emphasis::normal)
            wrapped("", p.text);
        else
            wrapped("", strong(p.text));
    }
    void print(const Bullets& b) {
        for (const auto& item : b.items) wrapped("- ", item);
    }
    void print(const Ticks& t) {
        for (const auto& item : t.items) wrapped("[ ] ", item);
    }
    void print(const Caution& c) {
        wrapped("! ", c.title + ": " + c.text);
        if (!c.source.empty()) wrapped("  ", fmt::format("  Source: {}", c.source));
    }
    void print(const Signature& s) {
        gap();
        for (const auto& label : s.labels) {
            padded(label, 22);
            line(" " + std::string(30, '_'));
        }
    }
    void print(const Picture& p) {
        if (p.as_text.empty()) return;
        gap();
        out_ += p.as_text;
        if (out_.back() != '\n') out_ += '\n';
    }
    void print(const Image&) {}
    void print(const PageBreak&) { gap(); }
    void print(const Columns& c) {
        for (const auto& column : c.columns) {
            for (const auto& block : column) print(block);
        }
    }
    void print(const Card& card) {
        gap();
        rule('-');
        line(strong(card.title) + (card.subtitle.empty() ? "" : "  " + card.subtitle));
        rule('-');
        for (const auto& block : card.blocks) print(block);
        rule('-');
    }
    void print(const Fields& fields);
    void print(const Table& table);

    void rule(char mark) { line(std::string(width_, mark)); }
    void gap() {
        if (!out_.empty() && !out_.ends_with("\n\n")) out_ += '\n';
    }
    void line(std::string_view text) {
        out_ += text;
        end_line(out_);
    }
    void wrapped(std::string_view mark, std::string_view text) {
        std::string_view lead = mark;
        for (LineBreaker lines{text, width_ - mark.size()};;) {
            out_ += lead;
            line(lines.next().text);
            if (!lines.more()) return;
            lead = std::string_view{"      ", mark.size()};
        }
    }
    void padded(std::string_view text, std::size_t width) {
        const auto have = text_width(text);
        out_ += text;
        if (have < width) out_.append(width - have, ' ');
    }
    std::string strong(std::string_view text) const {
        return style_.color ? fmt::format("\033[1m{}\033[0m", text) : std::string{text};
    }

    TextStyle style_;
    std::size_t width_;
    std::string out_;
};

std::string field_text(const Field& field) {
    if (field.blank()) return field.label + " ________";
    const bool loud = field.emphasis == Emphasis::arm;
    return loud ? field.label + ": >> " + field.value + " <<" : field.label + ": " + field.value;
}

void TextPrinter::print(const Fields& fields) {
    const auto columns = static_cast<std::size_t>(std::max(1, fields.columns));
    const std::size_t cell = width_ / columns;
    std::size_t used = 0;
    const auto flush = [&] {
        if (used > 0) end_line(out_);
        used = 0;
    };
    for (const auto& field : fields.fields) {
        const auto text = field_text(field);
        const auto cells = (text_width(text) + 1 + cell - 1) / cell;
        if (cells > columns) {
            flush();
            wrapped("", text);
            continue;
        }
        if (used + cells > columns) flush();
        padded(text, cells * cell);
        used += cells;
    }
    flush();
}

void TextPrinter::print(const Table& table) {
    gap();
    if (!table.title.empty()) {
        LineBreaker lines{table.title, width_};
        do line(strong(lines.next().text));
        while (lines.more());
    }
    append_table(out_, table, width_);
}

}  // namespace

std::string text(const Sheet& sheet, const TextStyle& style) {
    TextPrinter printer{style};
    printer.print(sheet);
    auto result = printer.take();
    return style.utf8 ? result : to_ascii(result);
}

std::string ascii(const std::string& utf8) { return to_ascii(utf8); }

}  // namespace patchwright::sheet
