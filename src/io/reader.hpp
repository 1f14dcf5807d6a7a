#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "document.hpp"
#include "patchwright/job/words.hpp"
#include "patchwright/units/parse.hpp"
#include "rule.hpp"

/// Collects faults while a tree is turned into a model, and reads single values. Internal.
namespace patchwright::io {

using namespace job;  // what is read

class Reader {
public:
    /// `faults`: those of the text, found already.
    Reader(std::string_view text, Faults faults) : text_{text}, faults_{std::move(faults)} {}

    void error(const Node& node, std::string message);
    void error_at_key(const Node& member, std::string message);
    /// A fault inside a string: the mark stands under the part at fault.
    void error_in_text(const Node& node, const TextError& fault);
    void warn(const Node& node, std::string message);

    Faults& faults() { return faults_; }
    bool has_errors() const { return faults_.any_errors(); }

    /// The data compiled into the program must give every field.
    bool everything_required = false;
    /// Objects stand already (a yard that is extended): only what differs is given.
    bool patching = false;

    /// An amount of money as it was read, to be held to the file's currency afterwards.
    struct Amount {
        const Node* node;
        Currency currency;
    };
    std::vector<Amount> amounts;

    /// "line 3, column 7" of a node, for messages that name a second place; empty where no message is told any more.
    std::string place_of(const Node& node) const;

private:
    std::string_view text_;
    Faults faults_;
};

/// The node as text; nullptr, with an error that shows `example`, when it is something else.
const std::string_view* text_of(Reader& reader, const Node& node, std::string_view example);
/// "a bare number where a list belongs"
std::string wrong_kind(const Node& node, std::string_view wanted);
/// True when `value` is possible by the rule; else an error at the node. A warning when it is not usual.
bool keeps(Reader& reader, const Node& node, double value, const Rule& rule);
/// The same for money; `value` is what compares with the usual amounts.
bool keeps_amount(Reader& reader, const Node& node, Money amount, double value, const Range& usual);
/// "\"metre\" is not known; did you mean \"meter\"? Known: ...", for choices and keys.
std::string unknown_word(std::string_view given, std::string_view what, const std::vector<std::string_view>& known);
std::string list_words(const std::vector<std::string_view>& words, std::string_view last = " and ");

/// An error when a name is empty or begins or ends with a blank.
void refuse_blank_name(Reader& reader, const Node& node, std::string_view key);

bool read_value(Reader& reader, const Node& node, std::string& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, bool& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, int& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, double& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Share& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Money& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Temperature& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Currency& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Date& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, ClockTime& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, ClockRange& out, const Rule& rule);

template <Dim D>
bool read_value(Reader& reader, const Node& node, Quantity<D>& out, const Rule& rule) {
    using Text = QuantityText<Quantity<D>>;
    const std::string_view* text = text_of(reader, node, Text::names.example);
    if (text == nullptr) return false;
    const auto parsed = Text::parse(*text);
    if (!parsed) {
        reader.error_in_text(node, parsed.error());
        return false;
    }
    if (!keeps(reader, node, parsed->si(), rule)) return false;
    out = *parsed;
    return true;
}

template <class Q>
bool read_value(Reader& reader, const Node& node, MoneyPer<Q>& out, const Rule& rule) {
    const std::string_view* text = text_of(reader, node, "38.50 EUR/m");
    if (text == nullptr) return false;
    const auto parsed = parse_rate<Q>(*text);
    if (!parsed) {
        reader.error_in_text(node, parsed.error());
        return false;
    }
    if (!keeps_amount(reader, node, parsed->amount, detail::comparable(*parsed), rule.usual)) return false;
    reader.amounts.push_back({&node, parsed->amount.currency()});
    out = *parsed;
    return true;
}

template <class E>
requires std::is_enum_v<E>
bool read_value(Reader& reader, const Node& node, E& out, const Rule&) {
    const auto list = words_of(E{});
    const std::string_view* text = text_of(reader, node, list.front().first);
    if (text == nullptr) return false;
    for (const auto& [name, value] : list) {
        if (name != *text) continue;
        out = value;
        return true;
    }
    std::vector<std::string_view> known;
    for (const auto& entry : list) known.push_back(entry.first);
    reader.error(node, unknown_word(*text, node.key.empty() ? std::string_view{"choice"} : node.key, known));
    return false;
}

}  // namespace patchwright::io
