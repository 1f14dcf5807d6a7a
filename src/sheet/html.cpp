#include "patchwright/sheet/html.hpp"

#include <algorithm>
#include <cctype>
#include <cstdint>
#include <utility>

#include <fmt/format.h>

#include "html_parts.hpp"
#include "json_part.hpp"
#include "patchwright/sheet/image.hpp"

namespace patchwright::sheet {
namespace {

/// Text in HTML, in an element or in an attribute between double quotes.
std::string escaped(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (const char letter : text) {
        switch (letter) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                out += letter;
        }
    }
    return out;
}

/// The same with the names of patches ("A-P1") and dates kept on one line: a browser breaks them at the hyphen.
std::string with_whole_names(std::string_view text) {
    const auto digits = [](std::string_view part) {
        return !part.empty() && std::all_of(part.begin(), part.end(),
                                            [](unsigned char ch) { return std::isdigit(ch) != 0 || ch == '-'; });
    };
    std::string out, word;
    const auto flush = [&] {
        const auto patch = word.rfind("-P"), hyphen = word.find('-');
        const bool whole = (patch != std::string::npos && digits(std::string_view{word}.substr(patch + 2))) ||
                           (hyphen != std::string::npos && digits(word));
        out += whole ? fmt::format("<span class=\"name\">{}</span>", escaped(word)) : escaped(word);
        word.clear();
    };
    for (const char letter : text) {
        if (letter != ' ' && letter != ',') {
            word += letter;
            continue;
        }
        flush();
        out += letter;
    }
    flush();
    return out;
}

/// What a row is about: its first cell, and where that is only a time or a number the first cell with words.
std::string row_name(const std::vector<std::string>& row) {
    const auto worded = [](const std::string& cell) {
        return std::any_of(cell.begin(), cell.end(),
                           [](unsigned char ch) { return std::isalpha(ch) != 0 || ch >= 0x80; });
    };
    const auto words = std::find_if(row.begin(), row.end(), worded);
    return words == row.begin() || words == row.end() ? row.front() : fmt::format("{} {}", row.front(), *words);
}

/// FNV-1a, 64 bits (public domain, from memory): tells pages apart, keeps no secret.
std::uint64_t checksum(std::string_view text) {
    std::uint64_t sum = 0xcbf29ce484222325U;
    for (const char byte : text) sum = (sum ^ static_cast<unsigned char>(byte)) * 0x100000001b3U;
    return sum;
}

Json limits_json(const Limits& limits) {
    Json json = Json::object();
    json["unit"] = limits.unit;
    json["least"] = tidy(limits.least);
    json["pipes"] = Json::array();
    for (const auto& row : limits.pipes)
        json["pipes"].push_back(
            {{"pipe", tidy(row.pipe)}, {"inflate", row.inflate_by}, {"gel", row.gel}, {"deflate", row.let_down}});
    json["airs"] = Json::array();
    for (const auto& row : limits.airs) {
        json["airs"].push_back(
            {{"resin", tidy(row.resin)}, {"air", tidy(row.air)}, {"pour", row.pour_by}, {"inflate", row.inflate_by}});
    }
    return json;
}

class HtmlPrinter {
public:
    explicit HtmlPrinter(const std::function<std::string(const Drawing&)>& draw) : draw_{draw} {}

    void print(const std::vector<Sheet>& sheets) {
        std::string pages;
        for (std::size_t i = 0; i < sheets.size(); ++i) {
            print(sheets[i]);
            pages += fmt::format(
                "<section class=\"sheet\" id=\"sheet-{}\" data-kind=\"{}\" data-subject=\"{}\" lang=\"{}\">\n{}{}"
                "</section>\n",
                i + 1, escaped(sheets[i].kind), escaped(sheets[i].subject), escaped(sheets[i].language),
                jumps(sheets.size() > 1), std::exchange(out_, {}));
        }
        out_ = (live_ && sheets.size() > 1 ? sheet_links(sheets) : std::string{}) + pages;
    }
    std::string take() { return std::move(out_); }
    bool live() const { return live_; }

private:
    void print(const Sheet& sheet) {
        jumps_.clear();
        live_sheet_ = false;
        element("h1", "", fmt::format("{} {} {}", sheet.kind, sheet.reference, sheet.title));
        if (!sheet.subject.empty()) element("p", "subject", sheet.subject);
        for (const auto& banner : sheet.banners) element("p", "banner", banner);
        for (const auto& block : sheet.blocks) print(block);
        live_ = live_ || live_sheet_;
    }
    /// One touch to the parts and cards of the sheet that was printed last, from wherever on it; no other day's among
    /// them.
    std::string jumps(bool several) const {
        if (!live_sheet_) return {};
        std::string links;
        for (const auto& [id, words] : jumps_) links += fmt::format("<a href=\"#{}\">{}</a>\n", id, escaped(words));
        if (several) links += "<a href=\"#sheets\">Days</a>\n";
        return fmt::format("<nav class=\"jumps\">\n{}</nav>\n", links);
    }
    /// One touch to each day, at the top of the page.
    static std::string sheet_links(const std::vector<Sheet>& sheets) {
        std::string links;
        for (std::size_t i = 0; i < sheets.size(); ++i) {
            const bool day = sheets[i].kind == "Day sheet" && !sheets[i].subject.empty();
            links +=
                fmt::format("<a href=\"#sheet-{}\">{}</a>\n", i + 1, escaped(day ? sheets[i].subject : sheets[i].kind));
        }
        return fmt::format("<nav class=\"days\" id=\"sheets\">\n{}</nav>\n", links);
    }
    void element(const char* tag, const char* look, std::string_view text) {
        out_ += fmt::format("<{0}{1}>{2}</{0}>\n", tag, *look != '\0' ? fmt::format(" class=\"{}\"", look) : "",
                            escaped(text));
    }
    std::string line_to_write_on(std::string_view label) const {
        return fmt::format("<input type=\"text\" data-label=\"{0}\" aria-label=\"{0}\">", escaped(label));
    }

    void print(const Block& block) {
        std::visit([this](const auto& content) { print(content); }, block.content);
    }
    void print(const std::vector<Block>& blocks) {
        for (const auto& block : blocks) print(block);
    }
    void print(const Heading& h) {
        const char* tag = h.level == 1 ? "h2" : "h3";
        if (h.jump.empty()) return element(tag, "", h.text);
        const auto id = fmt::format("part-{}", ++parts_);
        out_ += fmt::format("<{0} id=\"{1}\">{2}</{0}>\n", tag, id, escaped(h.text));
        jumps_.emplace_back(id, h.jump);
    }
    void print(const Paragraph& p) { element("p", p.emphasis == Emphasis::normal ? "" : "strong", p.text); }
    void print(const Bullets& b) {
        if (b.items.empty()) return;
        out_ += "<ul>\n";
        for (const auto& item : b.items) element("li", "", item);
        out_ += "</ul>\n";
    }
    void print(const Ticks& t) {
        out_ += "<div class=\"ticks\">\n";
        for (const auto& item : t.items) {
            out_ += fmt::format("<label><input type=\"checkbox\" data-label=\"{0}\"><span>{0}</span></label>\n",
                                escaped(item));
        }
        out_ += "</div>\n";
    }
    void print(const Caution& c) {
        out_ += fmt::format("<p class=\"caution\"><b>{}</b>: {}", escaped(c.title), escaped(c.text));
        if (!c.source.empty()) out_ += fmt::format(" <span class=\"source\">({})</span>", escaped(c.source));
        out_ += "</p>\n";
    }
    void print(const Signature& s) {
        out_ += "<div class=\"fields\">\n";
        for (const auto& label : s.labels) print_field({label, ""});
        out_ += "</div>\n";
    }
    void print(const Picture& p) {
        if (!p.drawing) return;
        auto picture = draw_(*p.drawing);
        if (const auto start = picture.find("<svg"); start != std::string::npos) picture.erase(0, start);
        out_ += picture;
        if (!picture.ends_with('\n')) out_ += '\n';
    }
    void print(const Image& i) {
        out_ += fmt::format("<img alt=\"\" src=\"{}\" style=\"width:{:.1f}mm;height:{:.1f}mm\">\n", data_address(i),
                            i.width, i.height);
    }
    void print(const PageBreak& p) {
        if (!p.when_full) out_ += "<div class=\"break\"></div>\n";
    }
    void print(const Columns& c) {
        out_ += "<div class=\"columns\">\n";
        for (const auto& column : c.columns) {
            out_ += "<div>\n";
            print(column);
            out_ += "</div>\n";
        }
        out_ += "</div>\n";
    }
    void print(const Fields& f) {
        out_ += "<div class=\"fields\">\n";
        for (const auto& field : f.fields) print_field(field);
        out_ += "</div>\n";
    }
    void print_field(const Field& f) {
        const char* look = f.emphasis == Emphasis::arm ? "field arm" : "field";
        out_ += fmt::format("<div class=\"{}\"><span>{}</span>", look, escaped(f.label));
        if (f.blank())
            out_ += line_to_write_on(f.label);
        else if (f.emphasis == Emphasis::normal)
            out_ += escaped(f.value);
        else
            out_ += fmt::format("<b>{}</b>", escaped(f.value));
        out_ += "</div>\n";
    }
    void print(const Table& t);
    void print(const Card& card);

    const std::function<std::string(const Drawing&)>& draw_;
    std::string out_;
    std::vector<std::pair<std::string, std::string>> jumps_;  ///< of the sheet: where to, and the button's words
    int cards_ = 0, parts_ = 0;                               ///< on the page so far
    bool live_sheet_ = false;                                 ///< the sheet has a card with fields
    bool live_ = false;                                       ///< so has the page
};

void HtmlPrinter::print(const Table& t) {
    out_ += fmt::format("<div class=\"wide{}\"><table{}>\n", t.side_by_side > 1 ? " halves" : "",
                        t.strong ? " class=\"strong\"" : "");
    if (!t.title.empty()) element("caption", "", t.title);
    const auto look = [&](std::size_t i) { return t.columns[i].align == Align::right ? " class=\"right\"" : ""; };
    const bool titled =
        std::any_of(t.columns.begin(), t.columns.end(), [](const Column& column) { return !column.title.empty(); });
    if (titled) {
        out_ += "<thead><tr>";
        for (std::size_t i = 0; i < t.columns.size(); ++i)
            out_ += fmt::format("<th{}>{}</th>", look(i), escaped(t.columns[i].title));
        out_ += "</tr></thead>\n";
    }
    out_ += "<tbody>\n";
    for (std::size_t r = 0; r < t.rows.size(); ++r) {
        const bool total = std::find(t.total_rows.begin(), t.total_rows.end(), r) != t.total_rows.end();
        out_ += total ? "<tr class=\"total\">" : "<tr>";
        const auto& row = t.rows[r];
        for (std::size_t i = 0; i < row.size(); ++i) {
            const bool blank = t.columns[i].blank && row[i].empty();
            const auto label = blank ? fmt::format("{}, {}", row_name(row), t.columns[i].title) : std::string{};
            // On a phone such a row has its titles in it.
            const auto title = t.strong && !t.columns[i].title.empty()
                                   ? fmt::format(" data-title=\"{}\"", escaped(t.columns[i].title))
                                   : std::string{};
            out_ += fmt::format("<td{}{}>{}</td>", look(i), title,
                                blank ? line_to_write_on(label) : with_whole_names(row[i]));
        }
        out_ += "</tr>\n";
    }
    out_ += "</tbody></table></div>\n";
}

void HtmlPrinter::print(const Card& card) {
    const auto id = fmt::format("card-{}", ++cards_);
    jumps_.emplace_back(id, card.title.starts_with("Patch ") ? card.title.substr(6) : card.title);
    if (!card.limits) {
        out_ += fmt::format("<div class=\"card\" id=\"{}\">\n", id);
    } else {
        live_sheet_ = true;
        out_ += fmt::format("<div class=\"card\" id=\"{}\" data-patch=\"{}\" data-limits=\"{}\">\n", id,
                            escaped(card.limits->patch), escaped(limits_json(*card.limits).dump()));
    }
    element("h3", "", card.title);
    if (!card.subtitle.empty()) element("p", "", card.subtitle);
    if (card.limits) {
        const auto box = [&](const char* name, const std::string& label, const char* type) {
            return fmt::format(
                "<div class=\"field\"><span>{}</span><input type=\"{}\" data-live=\"{}\" inputmode=\"{}\"></div>\n",
                escaped(label), type, name, *type == 't' && std::string_view{type} == "text" ? "decimal" : "text");
        };
        const auto measured = [&](const char* what) {
            return fmt::format("{}, measured, \u00b0{}", what, card.limits->unit);
        };
        out_ +=
            "<div class=\"live\" hidden>\n<p class=\"strong\">Measured: limits from this card's table, between "
            "rows the safer</p>\n<div class=\"fields\">\n";
        out_ += box("pipe", measured("Pipe"), "text") + box("resin", measured("Resin"), "text") +
                box("air", measured("Air"), "text") + box("mixed", "Mixed at", "time");
        out_ +=
            "</div>\n<div class=\"ticks\"><label><input type=\"checkbox\" data-live=\"inflated\"><span>Inflated"
            "</span></label></div>\n<output></output>\n</div>\n";
    }
    print(card.blocks);
    out_ += "</div>\n";
}

}  // namespace

std::string html(const std::vector<Sheet>& sheets, const std::function<std::string(const Drawing&)>& draw) {
    HtmlPrinter printer{draw};
    printer.print(sheets);
    const auto& first = sheets.empty() ? Sheet{} : sheets.front();
    const auto title = fmt::format("{} {} {}", first.kind, first.reference, first.subject);
    const bool live = printer.live();
    const auto content = printer.take();
    // What a browser kept for another plan of the same job is not filled in: the checksum tells their pages apart.
    std::string page = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\">\n<title>{}</title>\n<style>{}</style>\n</head>\n<body "
        "data-reference=\"{}\" data-content=\"{:016x}\">\n",
        escaped(first.language), escaped(title), html_style, escaped(first.reference), checksum(content));
    page += content;
    if (live) page += "<div class=\"save\" hidden><button type=\"button\">Save the record</button></div>\n";
    return page + fmt::format("<script>{}</script>\n</body>\n</html>\n", html_script);
}

}  // namespace patchwright::sheet
