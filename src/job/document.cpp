#include "document.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <nlohmann/json.hpp>
#include <unordered_map>

#include "syntax_hint.hpp"

namespace patchwright::job {

const Node* Node::find(std::string_view name) const {
    for (const Node& child : children)
        if (child.key == name) return &child;
    return nullptr;
}

namespace {

/// Counts the bytes that the parser has taken, as it keeps no positions of its own.
class CountingIterator {
public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    CountingIterator() = default;
    CountingIterator(const char* at, std::size_t* count) : at_{at}, count_{count} {}
    reference operator*() const { return *at_; }
    CountingIterator& operator++() {
        ++at_;
        ++*count_;
        return *this;
    }
    CountingIterator operator++(int) {
        CountingIterator before = *this;
        ++*this;
        return before;
    }
    bool operator==(const CountingIterator& other) const { return at_ == other.at_; }
    bool operator!=(const CountingIterator& other) const { return at_ != other.at_; }

private:
    const char* at_ = nullptr;
    std::size_t* count_ = nullptr;
};

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

/// End of the number that begins at `at`, by the grammar of RFC 8259, section 6.
std::size_t number_end(std::string_view text, std::size_t at) {
    const auto is_one_of = [&](std::string_view set) {
        return at < text.size() && set.find(text[at]) != std::string_view::npos;
    };
    const auto digits = [&] {
        while (is_one_of("0123456789")) ++at;
    };
    if (is_one_of("-")) ++at;
    if (is_one_of("0"))
        ++at;
    else
        digits();
    if (is_one_of(".")) {
        ++at;
        digits();
    }
    if (is_one_of("eE")) {
        ++at;
        if (is_one_of("+-")) ++at;
        digits();
    }
    return at;
}

/// Takes the parser's events and builds the tree.
/// A token starts at the first byte after the last event that is no blank, comma or colon.
class TreeBuilder : public nlohmann::json_sax<nlohmann::json> {
public:
    TreeBuilder(std::string_view text, std::size_t start, Document& document)
        : text_{text}, taken_{start}, last_{start}, document_{document} {}
    std::size_t* count() { return &taken_; }

    bool null() override { return scalar(NodeKind::null) != nullptr; }
    bool boolean(bool value) override {
        Node* node = scalar(NodeKind::boolean);
        node->boolean = value;
        return true;
    }
    bool number_integer(number_integer_t value) override { return number(static_cast<double>(value)); }
    bool number_unsigned(number_unsigned_t value) override { return number(static_cast<double>(value)); }
    bool number_float(number_float_t value, const string_t&) override { return number(value); }
    bool binary(binary_t&) override { return false; }

    bool string(string_t& value) override {
        Node* node = scalar(NodeKind::string);
        node->end = last_ = taken_;
        refuse_nul(value, node->start, node->end);
        node->text = std::move(value);
        return true;
    }
    bool key(string_t& value) override {
        key_start_ = token_start();
        key_end_ = last_ = taken_;
        refuse_nul(value, key_start_, key_end_);
        key_ = std::move(value);
        refuse_duplicate();
        return true;
    }
    bool start_object(std::size_t) override { return open(NodeKind::object); }
    bool start_array(std::size_t) override { return open(NodeKind::array); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }

    bool parse_error(std::size_t, const std::string&, const nlohmann::json::exception& error) override {
        const std::size_t reached = taken_ > 0 ? taken_ - 1 : 0;
        const bool overflow = error.id == 406;
        document_.faults.push_back(syntax_fault(text_, token_start(), reached, open_, overflow));
        return false;
    }

private:
    std::size_t token_start() const {
        std::size_t at = last_;
        while (at < text_.size() && (is_blank(text_[at]) || text_[at] == ',' || text_[at] == ':')) ++at;
        return at;
    }

    Node* place(NodeKind kind) {
        Node* node = &document_.root;
        if (!path_.empty()) node = &path_.back()->children.emplace_back();
        node->kind = kind;
        node->start = token_start();
        if (!path_.empty() && path_.back()->kind == NodeKind::object) {
            node->key = std::move(key_);
            node->key_start = key_start_;
            node->key_end = key_end_;
        }
        return node;
    }
    Node* scalar(NodeKind kind) {
        Node* node = place(kind);
        node->end = last_ = taken_;
        return node;
    }
    bool number(double value) {
        Node* node = place(NodeKind::number);
        node->number = value;
        // The lexer has read one byte beyond the number, unless the text ended.
        node->end = last_ = number_end(text_, node->start);
        return true;
    }

    bool open(NodeKind kind) {
        Node* node = place(kind);
        last_ = node->start + 1;
        node->end = last_;
        if (static_cast<int>(path_.size()) >= deepest_nesting) {
            document_.faults.push_back(
                {node->start, 1, false, fmt::format("nested deeper than {} levels", deepest_nesting), ""});
            return false;
        }
        path_.push_back(node);
        seen_.emplace_back();
        open_ = kind == NodeKind::object ? '{' : '[';
        return true;
    }
    bool close() {
        const std::size_t bracket = token_start();
        last_ = bracket + 1;
        path_.back()->end = last_;
        path_.pop_back();
        seen_.pop_back();
        open_ = '\0';
        if (!path_.empty()) open_ = path_.back()->kind == NodeKind::object ? '{' : '[';
        return true;
    }

    /// The parser itself lets the last of two equal keys win, silently.
    void refuse_duplicate() {
        const auto [first, fresh] = seen_.back().try_emplace(key_, key_start_);
        if (fresh) return;
        Fault fault{key_start_, key_end_ - key_start_, false, "", ""};
        fault.message = duplicate_key_message(text_, key_, first->second);
        document_.faults.push_back(std::move(fault));
    }
    void refuse_nul(const std::string& decoded, std::size_t start, std::size_t end) {
        if (decoded.find('\0') == std::string::npos) return;
        const std::size_t at = std::min(text_.find("\\u0000", start), end - 1);
        document_.faults.push_back({at, 6, false, "a text may not hold the character \\u0000", ""});
    }

    std::string_view text_;
    std::size_t taken_, last_;
    Document& document_;
    std::vector<Node*> path_;
    std::vector<std::unordered_map<std::string, std::size_t>> seen_;
    std::string key_;
    std::size_t key_start_ = 0, key_end_ = 0;
    char open_ = '\0';
};

std::string escaped(std::string_view segment) {
    std::string out;
    for (const char c : segment) {
        if (c == '~')
            out += "~0";
        else if (c == '/')
            out += "~1";
        else
            out += c;
    }
    return out;
}

std::size_t utf8_length(unsigned code) { return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4; }

}  // namespace

Document parse_document(std::string_view text) {
    Document document;
    const std::size_t start = text.starts_with("\xEF\xBB\xBF") ? 3 : 0;
    TreeBuilder builder{text, start, document};
    const char* first = text.data();
    document.complete = nlohmann::json::sax_parse(CountingIterator{first + start, builder.count()},
                                                  CountingIterator{first + text.size(), builder.count()}, &builder);
    if (!document.complete) return document;
    // The parser takes a NUL for the end of the text; RFC 8259 does not.
    const std::size_t after = text.find_first_not_of(" \t\n\r", document.root.end);
    if (after != std::string_view::npos) {
        document.faults.push_back({after, 1, false, "nothing may follow the end of the JSON value", ""});
        document.complete = false;
    }
    return document;
}

std::string pointer_at(const Node& root, std::size_t offset) {
    std::string pointer;
    const Node* node = &root;
    while (!node->children.empty()) {
        // Children stand in the order of the file: the last that begins at or before the offset.
        const bool object = node->kind == NodeKind::object;
        const auto after = std::upper_bound(
            node->children.begin(), node->children.end(), offset,
            [object](std::size_t at, const Node& child) { return at < (object ? child.key_start : child.start); });
        if (after == node->children.begin()) break;
        const auto child = std::prev(after);
        if (offset >= child->end) break;
        pointer += '/';
        pointer += object ? escaped(child->key) : std::to_string(child - node->children.begin());
        node = &*child;
    }
    return pointer;
}

bool is_other_file(const Node& root, std::string_view theirs, std::string_view ours) {
    return root.kind == NodeKind::object && root.find(theirs) != nullptr && root.find(ours) == nullptr;
}

std::size_t offset_in_string(std::string_view file, const Node& node, std::size_t decoded) {
    std::size_t at = node.start + 1;
    std::size_t done = 0;
    while (done < decoded && at + 1 < node.end) {
        if (file[at] != '\\') {
            ++at;
            ++done;
            continue;
        }
        if (file[at + 1] != 'u') {
            at += 2;
            ++done;
            continue;
        }
        const auto hex = [&](std::size_t from) {
            return static_cast<unsigned>(std::strtoul(std::string{file.substr(from, 4)}.c_str(), nullptr, 16));
        };
        unsigned code = hex(at + 2);
        std::size_t width = 6;
        if (code >= 0xD800 && code < 0xDC00) {
            code = 0x10000;  // a pair: both halves are one character of four bytes
            width = 12;
        }
        at += width;
        done += utf8_length(code);
    }
    return std::min(at, node.end);
}

}  // namespace patchwright::job
