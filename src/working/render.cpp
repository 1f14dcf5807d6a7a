#include "patchwright/working/render.hpp"
#include "patchwright/units/utf8.hpp"

#include <algorithm>

#include <fmt/core.h>

namespace patchwright {
namespace {

bool is_word_char(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); }

/// "design thickness" and Show::thickness: "design_thickness_mm".
std::string json_key(const Symbol& symbol) {
    std::string key;
    for (char c : symbol.meaning) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        if (is_word_char(c))
            key += c;
        else if (!key.empty() && key.back() != '_')
            key += '_';
    }
    while (!key.empty() && key.back() == '_') key.pop_back();
    return key.append(json_suffix(symbol.show));
}

RenderedOperand operand(const Symbol& symbol, double value, Origin origin, UnitSystem system) {
    return {std::string{symbol.symbol},
            std::string{symbol.meaning},
            format(symbol.show, value, system),
            std::string{origin_text(origin)},
            json_key(symbol),
            json_value(symbol.show, value)};
}

/// Code points, which is what a terminal shows of the characters used here.
std::size_t columns(std::string_view text) {
    return text.size() - static_cast<std::size_t>(std::count_if(text.begin(), text.end(), is_utf8_continuation));
}

std::string padded(std::string_view text, std::size_t width) {
    std::string out{text};
    const std::size_t have = columns(text);
    if (have < width) out.append(width - have, ' ');
    return out;
}

/// Appends `text` in lines of at most `width`, broken at spaces; a longer word is cut.
void wrap(std::string& out, std::string_view text, std::string_view first_indent, std::string_view indent,
          std::size_t width) {
    std::string line{first_indent};
    bool empty = true;
    const auto flush = [&] {
        out += line;
        out += '\n';
        line = indent;
        empty = true;
    };
    while (!text.empty()) {
        const std::size_t space = text.find(' ');
        std::string_view word = text.substr(0, space);
        text = space == std::string_view::npos ? std::string_view{} : text.substr(space + 1);
        if (word.empty()) continue;
        if (!empty && columns(line) + 1 + columns(word) > width) flush();
        while (columns(line) + columns(word) > width && empty && columns(word) > 1) {
            std::size_t cut = 0;
            for (std::size_t room = width - std::min(width - 1, columns(line)); room > 0 && cut < word.size(); --room)
                do ++cut;
                while (cut < word.size() && is_utf8_continuation(word[cut]));
            line += word.substr(0, cut);
            word.remove_prefix(cut);
            empty = false;
            if (!word.empty()) flush();
        }
        if (word.empty()) continue;
        if (!empty) line += ' ';
        line += word;
        empty = false;
    }
    if (!empty) flush();
}

/// Widths of the columns of a step's inputs.
struct Columns {
    std::size_t symbol = 0, meaning = 0, value = 0;
    void fit(const RenderedOperand& input) {
        symbol = std::max(symbol, columns(input.symbol));
        meaning = std::max(meaning, columns(input.meaning));
        value = std::max(value, columns(input.value));
    }
};

/// Symbol, meaning, value and origin in columns where they fit, else wrapped.
void operand_line(std::string& out, const RenderedOperand& input, const Columns& wide, std::size_t width) {
    const std::string line =
        fmt::format("    {}  {}  {}  ({})", padded(input.symbol, wide.symbol), padded(input.meaning, wide.meaning),
                    padded(input.value, wide.value), input.origin);
    if (columns(line) <= width)
        out.append(line).append("\n");
    else
        wrap(out, fmt::format("{} {} = {} ({})", input.symbol, input.meaning, input.value, input.origin), "    ",
             "      ", width);
}

}  // namespace

std::string_view origin_text(Origin origin) {
    switch (origin) {
        case Origin::given:
            return "given";
        case Origin::yard:
            return "from the yard file";
        case Origin::assumed:
            return "assumed";
        case Origin::looked_up:
            return "looked up";
        case Origin::computed:
            break;
    }
    return "computed";
}

std::string source_text(const RenderedStep& step) {
    if (step.page.empty()) return step.source;
    const std::string page = fmt::format("docs/methods/{}.md", step.page);
    return step.source.find(page) == std::string::npos ? fmt::format("{}; {}", step.source, page) : step.source;
}

std::vector<RenderedStep> render(const Working& working, UnitSystem system) {
    std::vector<RenderedStep> steps;
    steps.reserve(working.steps().size());
    for (const Step& step : working.steps()) {
        const Formula& formula = *step.formula;
        RenderedStep& out = steps.emplace_back();
        out.id = formula.id;
        out.formula = formula.text;
        out.source = formula.source;
        out.page = formula.page;
        out.result = operand(formula.result, step.result, Origin::computed, system);
        const auto inputs = step.inputs();
        for (std::size_t i = 0; i < inputs.size(); ++i)
            out.inputs.push_back(operand(formula.inputs[i], inputs[i].value, inputs[i].origin, system));
    }
    return steps;
}

std::string working_text(const Working& working, UnitSystem system, std::size_t width) {
    width = std::max<std::size_t>(width, 20);
    std::string out;
    for (const RenderedStep& step : render(working, system)) {
        if (!out.empty()) out += '\n';
        wrap(out, fmt::format("{}: {} = {}", step.result.meaning, step.result.symbol, step.result.value), "", "  ",
             width);
        wrap(out, step.formula, "  ", "    ", width);
        Columns wide;
        for (const RenderedOperand& input : step.inputs) wide.fit(input);
        for (const RenderedOperand& input : step.inputs) operand_line(out, input, wide, width);
        wrap(out, "source: " + source_text(step), "  ", "    ", width);
    }
    return out;
}

}  // namespace patchwright
