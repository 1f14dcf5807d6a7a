#include "document.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <nlohmann/json.hpp>
#include <unordered_map>

#include "syntax_hint.hpp"

namespace patchwright::io {

const Node* Node::find(std::string_view name) const {
    for (const Node& child : children)
        if (child.key == name) return &child;
    return nullptr;
}

namespace {

/// The parser's place in the text, as it keeps none of its own. Of blanks in a row outside strings it is shown one: it
/// keeps every byte since the last token, and spells them out in its message (30 MB of line ends: 800 MB, now 42).
class Cursor {
public:
    Cursor(std::string_view text, std::size_t start) : at_{text.data() + start}, end_{text.data() + text.size()} {}
    /// After the last byte that the parser took.
    const char* at() const { return at_; }
    bool at_end() {
        ran_out_ = at_ == end_;
        return ran_out_;
    }
    /// The parser asked for more than there is.
    bool ran_out() const { return ran_out_; }
    /// The last byte of the text is shown in any case: it was promised.
    const char& look() {
        while (after_blank_ && is_json_space(*at_) && at_ + 1 != end_) ++at_;
        return *at_;
    }
    void take() {
        const char taken = *at_++;
        after_blank_ = !in_string_ && is_json_space(taken);
        if (escaped_)
            escaped_ = false;
        else if (taken == '"')
            in_string_ = !in_string_;
        else
            escaped_ = in_string_ && taken == '\\';
    }

private:
    const char* at_;
    const char* end_;
    bool in_string_ = false, escaped_ = false, after_blank_ = true, ran_out_ = false;
};

/// A cursor as the pair of iterators that the parser asks for; the end is one without cursor.
class CursorIterator {
public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    CursorIterator() = default;
    explicit CursorIterator(Cursor& cursor) : cursor_{&cursor} {}
    reference operator*() const { return cursor_->look(); }
    CursorIterator& operator++() {
        cursor_->take();
        return *this;
    }
    void operator++(int) { cursor_->take(); }
    bool operator==(const CursorIterator& other) const { return at_end() == other.at_end(); }
    bool operator!=(const CursorIterator& other) const { return !(*this == other); }

private:
    bool at_end() const { return cursor_ == nullptr || cursor_->at_end(); }

    Cursor* cursor_ = nullptr;
};

/// Takes the parser's events and builds the tree.
/// A token starts at the first byte after the last event that is no blank, comma or colon.
class TreeBuilder final : public nlohmann::json_sax<nlohmann::json> {
public:
    TreeBuilder(std::string_view text, std::size_t start, Document& document)
        : text_{text}, cursor_{text, start}, last_{start}, document_{document} {
        nodes_.reserve(64);
    }
    Cursor& cursor() { return cursor_; }

    /// The tree as far as it came. Containers that are still open keep the end that they were opened with.
    void finish() {
        while (!open_.empty()) gather();
        if (!nodes_.empty()) document_.root = std::move(nodes_.front());
    }

    bool null() override {
        if (!room()) return false;
        scalar(NodeKind::null, taken());
        return true;
    }
    bool boolean(bool value) override {
        if (!room()) return false;
        scalar(NodeKind::boolean, taken()).boolean = value;
        return true;
    }
    bool number_integer(number_integer_t value) override { return number(static_cast<double>(value)); }
    bool number_unsigned(number_unsigned_t value) override { return number(static_cast<double>(value)); }
    bool number_float(number_float_t value, const string_t&) override { return number(value); }
    bool binary(binary_t&) override { return false; }

    bool string(string_t& value) override {
        if (!room()) return false;
        Node& node = scalar(NodeKind::string, taken());
        node.text = kept(value, node.start, node.end);
        return true;
    }
    bool key(string_t& value) override {
        key_start_ = token_start();
        key_end_ = last_ = taken();
        key_ = kept(value, key_start_, key_end_);
        refuse_duplicate();
        return true;
    }
    bool start_object(std::size_t) override { return open(NodeKind::object); }
    bool start_array(std::size_t) override { return open(NodeKind::array); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }

    bool parse_error(std::size_t, const std::string&, const nlohmann::json::exception& error) override {
        const std::size_t reached = taken() > 0 ? taken() - 1 : 0;
        const char bracket = open_.empty() ? '\0' : inside(NodeKind::object) ? '{' : '[';
        const bool overflow = error.id == 406;
        document_.faults.add(syntax_fault(text_, token_start(), reached, bracket, overflow));
        return false;
    }

private:
    /// A container that is not closed yet.
    struct Open {
        std::size_t place = 0;                                     ///< in nodes_; its children stand after it
        std::unordered_map<std::string_view, std::size_t> seen{};  ///< places of the first by key, where there are many
        std::size_t indexed = 0;                                   ///< children that `seen` knows of
    };

    std::size_t taken() const { return static_cast<std::size_t>(cursor_.at() - text_.data()); }
    std::size_t token_start() const {
        std::size_t at = last_;
        while (at < text_.size() && (is_json_space(text_[at]) || text_[at] == ',' || text_[at] == ':')) ++at;
        return at;
    }
    bool inside(NodeKind kind) const { return !open_.empty() && nodes_[open_.back().place].kind == kind; }

    /// One more value may come; else an error.
    bool room() {
        if (++values_ <= max_values) return true;
        document_.faults.add(
            {token_start(), 1, false, fmt::format("more than {} values in one file; give it in parts", max_values)});
        return false;
    }
    Node& place(NodeKind kind) {
        const bool member = inside(NodeKind::object);
        Node& node = nodes_.emplace_back();
        node.kind = kind;
        node.start = token_start();
        if (member) {
            node.key = key_;
            node.key_start = key_start_;
            node.key_end = key_end_;
        }
        return node;
    }
    Node& scalar(NodeKind kind, std::size_t end) {
        Node& node = place(kind);
        node.end = last_ = end;
        return node;
    }
    bool number(double value) {
        if (!room()) return false;
        // The lexer has read one byte beyond the number, unless the text ended.
        scalar(NodeKind::number, cursor_.ran_out() ? taken() : taken() - 1).number = value;
        return true;
    }
    /// A string as it lasts: in the file, unless escapes stand for some of it, each longer there than what it means.
    std::string_view kept(std::string& value, std::size_t start, std::size_t end) {
        if (value.size() + 2 == end - start) return text_.substr(start + 1, end - start - 2);
        refuse_nul(value, start, end);
        return *document_.decoded.emplace_back(std::make_unique<std::string>(std::move(value)));
    }

    bool open(NodeKind kind) {
        if (!room()) return false;
        Node& node = place(kind);
        last_ = node.start + 1;
        node.end = last_;
        if (static_cast<int>(open_.size()) >= deepest_nesting) {
            document_.faults.add({node.start, 1, false, fmt::format("nested deeper than {} levels", deepest_nesting)});
            return false;
        }
        open_.push_back({nodes_.size() - 1});
        return true;
    }
    bool close() {
        last_ = token_start() + 1;
        nodes_[open_.back().place].end = last_;
        gather();
        return true;
    }
    /// Gives the innermost container its children.
    void gather() {
        const auto first = nodes_.begin() + static_cast<std::ptrdiff_t>(open_.back().place) + 1;
        std::prev(first)->children.assign(std::move_iterator{first}, std::move_iterator{nodes_.end()});
        nodes_.erase(first, nodes_.end());
        open_.pop_back();
    }

    /// The member of the innermost object that has the key already.
    const Node* twin() {
        constexpr std::size_t few = 32;  // as nearly all objects have: looked through faster than hashed
        Open& object = open_.back();
        const std::size_t first = object.place + 1, count = nodes_.size() - first;
        if (count <= few) {
            const auto end = nodes_.data() + nodes_.size();
            const auto found = std::find_if(end - count, end, [&](const Node& node) { return node.key == key_; });
            return found == end ? nullptr : found;
        }
        for (; object.indexed < count; ++object.indexed) {
            const std::size_t at = first + object.indexed;
            object.seen.try_emplace(nodes_[at].key, at);
        }
        const auto found = object.seen.find(key_);
        return found == object.seen.end() ? nullptr : &nodes_[found->second];
    }
    /// The parser itself lets the last of two equal keys win, silently.
    void refuse_duplicate() {
        const Node* first = twin();
        if (first == nullptr) return;
        Fault fault{key_start_, key_end_ - key_start_, false, "", key_};
        if (document_.faults.room()) fault.message = duplicate_key_message(text_, key_, first->key_start);
        document_.faults.add(std::move(fault));
    }
    void refuse_nul(const std::string& decoded, std::size_t start, std::size_t end) {
        if (decoded.find('\0') == std::string::npos) return;
        const std::size_t at = std::min(text_.find("\\u0000", start), end - 1);
        document_.faults.add({at, 6, false, "a text may not hold the character \\u0000"});
    }

    std::string_view text_;
    Cursor cursor_;
    std::size_t last_;        ///< end of the last token
    std::size_t values_ = 0;  ///< so far
    Document& document_;
    std::vector<Node> nodes_;  ///< containers that are open, each with its children so far
    std::vector<Open> open_;
    std::string_view key_;
    std::size_t key_start_ = 0, key_end_ = 0;
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
    document.complete = nlohmann::json::sax_parse(CursorIterator{builder.cursor()}, CursorIterator{}, &builder);
    builder.finish();
    if (!document.complete) return document;
    // The parser takes a NUL for the end of the text; RFC 8259 does not.
    const std::size_t after = text.find_first_not_of(" \t\n\r", document.root.end);
    if (after != std::string_view::npos) {
        document.faults.add({after, 1, false, "nothing may follow the end of the JSON value"});
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

const Node* sound(const Node& object, std::string_view key) {
    const Node* node = object.find(key);
    return node != nullptr && !node->faulty ? node : nullptr;
}

const std::vector<Node>& items(const Node& object, std::string_view key) {
    static const std::vector<Node> none;
    const Node* node = object.find(key);
    return node != nullptr && node->kind == NodeKind::array ? node->children : none;
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

}  // namespace patchwright::io
