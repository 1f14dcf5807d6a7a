#include "import_xml.hpp"
#include "patchwright/units/utf8.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cstring>
#include <pugixml.hpp>

namespace patchwright::intake {
namespace {

constexpr std::size_t max_bytes = 8'000'000;
constexpr std::ptrdiff_t max_tags = 1'000'000;

/// The file as UTF-8 with its lines, so that a byte offset of the parser becomes line and column.
class Text {
public:
    Text(std::string_view bytes, Charset charset, Faults& faults) {
        int number = 0;
        for (const std::string_view raw : split_lines(bytes)) {
            ++number;
            const Decoded decoded = decode(raw, charset);
            faults.keep(number, decoded.text);
            if (decoded.bad_column > 0 && bad_.line == 0) bad_ = {"", number, decoded.bad_column};
            starts_.push_back(text_.size());
            text_ += decoded.text;
            text_ += '\n';
        }
    }

    const std::string& text() const { return text_; }
    /// The first byte that is no character of the set; line 0: none.
    const Placed& bad() const { return bad_; }

    Placed at(std::ptrdiff_t offset) const {
        if (offset < 0 || starts_.empty()) return {"", 0, 0};
        const std::size_t byte = std::min(static_cast<std::size_t>(offset), text_.size());
        const auto next = std::upper_bound(starts_.begin(), starts_.end(), byte);
        const std::size_t start = *(next - 1);
        int column = 1;
        for (std::size_t i = start; i < byte; ++i)
            if (!is_utf8_continuation(text_[i])) ++column;
        return {"", static_cast<int>(next - starts_.begin()), column};
    }

private:
    std::string text_;
    std::vector<std::size_t> starts_;
    Placed bad_;
};

/// The value of `encoding` in the XML declaration; empty without one.
std::string declared_encoding(std::string_view bytes) {
    const std::string_view declaration = bytes.substr(0, std::min<std::size_t>(bytes.find("?>"), 200));
    if (declaration.find("<?xml") == std::string_view::npos) return {};
    std::size_t at = declaration.find("encoding");
    if (at == std::string_view::npos) return {};
    at = declaration.find_first_of("\"'", at);
    if (at == std::string_view::npos) return {};
    const std::size_t end = declaration.find(declaration[at], at + 1);
    return std::string{declaration.substr(at + 1, end == std::string_view::npos ? end : end - at - 1)};
}

/// Name in capitals without a namespace's prefix.
std::string name_of(const pugi::xml_node& node) {
    const std::string_view name = node.name();
    const std::size_t colon = name.rfind(':');
    return upper(colon == std::string_view::npos ? name : name.substr(colon + 1));
}

class Document {
public:
    Document(const Text& text, Faults& faults) : text_{text}, faults_{faults} {}

    std::vector<Survey> read() {
        pugi::xml_document document;
        const auto flags = pugi::parse_default | pugi::parse_doctype | pugi::parse_comments;
        const auto parsed = document.load_buffer(text_.text().data(), text_.text().size(), flags, pugi::encoding_utf8);
        if (!parsed) {
            faults_.error(text_.at(parsed.offset), fmt::format("this is no sound XML: {}", parsed.description()));
            return {};
        }
        pugi::xml_node root;
        for (const pugi::xml_node node : document) {
            if (node.type() == pugi::node_doctype) {
                faults_.error(place(node), "a document type (DOCTYPE) is not read here; leave it out");
                return {};
            }
            if (node.type() != pugi::node_element) continue;
            if (root) {
                faults_.error(place(node), "a second root element; one DATA holds all inspections");
                return {};
            }
            root = node;
        }
        if (name_of(root) != "DATA") {
            faults_.error(place(root), fmt::format("the root element is \"{}\"; DATA is that of the exchange form",
                                                   head(root.name(), 40)));
            return {};
        }
        children_of_root(root);
        return std::move(surveys_);
    }

private:
    /// Where the tag begins: the parser points at its name.
    std::ptrdiff_t tag_of(const pugi::xml_node& node) const {
        const std::ptrdiff_t offset = node.offset_debug();
        if (offset < 0) return offset;
        const std::size_t tag = text_.text().rfind('<', static_cast<std::size_t>(offset));
        return tag == std::string::npos ? offset : static_cast<std::ptrdiff_t>(tag);
    }

    Placed place(const pugi::xml_node& node) const { return text_.at(tag_of(node)); }

    void children_of_root(const pugi::xml_node& root) {
        for (const pugi::xml_node node : root) {
            if (faults_.given_up()) break;
            if (const auto words = stray_text(node)) {
                stray_.push_back(*words);
            } else if (node.type() == pugi::node_element && name_of(node) == "ZA") {
                form(node);
            } else if (node.type() == pugi::node_element && name_of(node) == "ZB") {
                inspection(node);
            } else if (node.type() == pugi::node_element) {
                stray_.push_back(unknown(node, "DATA holds ZA and ZB"));
            }
        }
        if (surveys_.empty() && stray_.empty()) faults_.error(place(root), "no inspection (ZB) in the file");
        if (surveys_.empty()) return;
        auto& unread = surveys_.front().unread;
        unread.insert(unread.begin(), stray_.begin(), stray_.end());
    }

    /// A2 language and A6 edition; A4 decimal mark where a file brings it along from the text form.
    void form(const pugi::xml_node& node) {
        for (const pugi::xml_node child : node) {
            if (const auto words = stray_text(child)) stray_.push_back(*words);
            if (child.type() != pugi::node_element) continue;
            const auto value = leaf(child);
            if (!value) {
                stray_.push_back(unknown(child, "a field holds text only"));
                continue;
            }
            const std::string name = name_of(child);
            if (name == "A4" && (value->text == "." || value->text == ","))
                decimal_mark_ = value->text;
            else if (name == "A4" && !value->text.empty())
                faults_.error(*value, "the decimal mark is \".\" or \",\"");
            if (name == "A6") edition_ = value->text;
            if (name.size() != 2 || name[0] != 'A' || name[1] < '1' || name[1] > '6')
                stray_.push_back(unknown(child, "ZA holds A1 to A6"));
        }
    }

    void inspection(const pugi::xml_node& node) {
        Survey survey;
        survey.start = place(node);
        survey.decimal_mark = decimal_mark_;
        survey.edition = edition_;
        header(node, survey, true);
        surveys_.push_back(std::move(survey));
    }

    /// Header fields stand in ZB itself or in an element B of it.
    void header(const pugi::xml_node& node, Survey& survey, bool is_inspection) {
        std::vector<std::pair<std::string, Placed>> fields;
        for (const pugi::xml_node child : node) {
            if (const auto words = stray_text(child)) survey.unread.push_back(*words);
            if (child.type() != pugi::node_element) continue;
            const std::string name = name_of(child);
            if (is_inspection && name == "ZC") {
                observation(child, survey);
            } else if (is_inspection && name == "B" && !leaf(child)) {
                header(child, survey, false);
            } else if (auto value = leaf(child)) {
                fields.emplace_back(name, std::move(*value));
            } else {
                survey.unread.push_back(unknown(child, "ZB holds header fields and ZC"));
            }
        }
        add_header(survey, fields);
    }

    void observation(const pugi::xml_node& node, Survey& survey) {
        Observation seen{place(node), {}, false};
        for (const pugi::xml_node child : node) {
            if (const auto words = stray_text(child)) survey.unread.push_back(*words);
            if (child.type() != pugi::node_element) continue;
            auto value = leaf(child);
            if (!value) {
                survey.unread.push_back(unknown(child, "ZC holds the fields A to N"));
                continue;
            }
            add_field(survey, seen, name_of(child), *value);
        }
        survey.seen.push_back(std::move(seen));
    }

    /// The text of an element that holds nothing else; nothing if it holds elements.
    std::optional<Placed> leaf(const pugi::xml_node& node) const {
        Placed out = place(node);
        bool placed = false;
        std::string text;
        for (const pugi::xml_node child : node) {
            if (child.type() == pugi::node_element) return std::nullopt;
            if (child.type() != pugi::node_pcdata && child.type() != pugi::node_cdata) continue;
            if (!placed) out = text_.at(child.offset_debug() + leading_blanks(child.value()));
            placed = true;
            text += child.value();
        }
        std::replace_if(
            text.begin(), text.end(), [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
        // Character references may spell what no text holds.
        out.text = trimmed(decode(text, Charset::utf8).text);
        return out;
    }

    static std::ptrdiff_t leading_blanks(const char* text) {
        return static_cast<std::ptrdiff_t>(std::strspn(text, " \t\r\n"));
    }

    /// Words between elements, where none belong; told.
    std::optional<Placed> stray_text(const pugi::xml_node& node) {
        if (node.type() != pugi::node_pcdata && node.type() != pugi::node_cdata) return std::nullopt;
        std::string words = trimmed(decode(node.value(), Charset::utf8).text);
        if (words.empty()) return std::nullopt;
        Placed at = text_.at(node.offset_debug() + leading_blanks(node.value()));
        faults_.error(at, "words between the elements; every value stands in an element of its own");
        at.text = head(words, 2000);
        return at;
    }

    /// An element where none of its kind belongs; told.
    Placed unknown(const pugi::xml_node& node, std::string_view what_belongs) {
        Placed at = place(node);
        faults_.error(at,
                      fmt::format("the element \"{}\" does not belong here; {}", head(node.name(), 40), what_belongs));
        const auto begin = static_cast<std::size_t>(std::max<std::ptrdiff_t>(tag_of(node), 0));
        at.text = trimmed(decode(head(std::string_view{text_.text()}.substr(begin), 200), Charset::utf8).text);
        return at;
    }

    const Text& text_;
    Faults& faults_;
    std::string decimal_mark_ = ".", edition_;
    std::vector<Placed> stray_;  ///< outside any inspection
    std::vector<Survey> surveys_;
};

}  // namespace

std::vector<Survey> read_xml(std::string_view bytes, Faults& faults) {
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    const bool marked = bytes.starts_with(byte_order_mark);
    if (marked) bytes.remove_prefix(byte_order_mark.size());
    const auto tags = std::count(bytes.begin(), bytes.end(), '<');
    if (bytes.size() > max_bytes || tags > max_tags) {
        faults.error({"", 0, 0}, fmt::format("the file is too large: {} MB and {} tags; {} MB and {} are read",
                                             bytes.size() / 1'000'000, tags, max_bytes / 1'000'000, max_tags));
        return {};
    }
    const std::string encoding = declared_encoding(bytes);
    const auto named = charset_named(encoding);
    if (!encoding.empty() && !named) {
        faults.error({"", 1, 1}, fmt::format("the character set \"{}\" is not read here; ISO-8859-1, ISO-8859-15, "
                                             "Windows-1252 and UTF-8 are",
                                             head(encoding, 40)));
        return {};
    }
    const Text text{bytes, marked ? Charset::utf8 : named.value_or(Charset::utf8), faults};
    if (text.bad().line > 0) {
        faults.error(text.bad(), "this byte is no character of the set that the file names");
        return {};
    }
    return Document{text, faults}.read();
}

}  // namespace patchwright::intake
