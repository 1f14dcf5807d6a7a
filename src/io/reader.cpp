#include "reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "patchwright/io/nearest.hpp"
#include "source.hpp"
#include "utf8.hpp"

namespace patchwright::io {
namespace {

/// What is wrong with the character at the front of `rest`; empty when nothing is. Control characters have no place on
/// a sheet; line breaks and tabs only in notes, and in names nothing that is not seen.
std::string_view unfit(std::string_view rest, bool note) {
    const std::string_view character = rest.substr(0, utf8_step(rest));
    if (note && (character == "\n" || character == "\t")) return {};
    if (acts_on_screen(character))
        return "control characters and line breaks have no place in this text, nor marks that turn the direction of "
               "writing";
    if (!note && is_invisible(character)) return "an invisible character has no place in a name";
    return {};
}

template <class T>
bool read_parsed(Reader& reader, const Node& node, T& out, Parsed<T> (*parse)(std::string_view),
                 std::string_view example) {
    const std::string_view* text = text_of(reader, node, example);
    if (text == nullptr) return false;
    const auto parsed = parse(*text);
    if (!parsed) {
        reader.error_in_text(node, parsed.error());
        return false;
    }
    out = *parsed;
    return true;
}

std::string_view kind_word(NodeKind kind) {
    switch (kind) {
        case NodeKind::null:
            return "null";
        case NodeKind::boolean:
            return "true or false";
        case NodeKind::number:
            return "a bare number";
        case NodeKind::string:
            return "a text";
        case NodeKind::array:
            return "a list";
        case NodeKind::object:
            return "an object";
    }
    return "something else";
}

}  // namespace

std::string wrong_kind(const Node& node, std::string_view wanted) {
    if (node.kind == NodeKind::null) return fmt::format("null says nothing; leave the key out, or give {}", wanted);
    return fmt::format("{} where {} belongs", kind_word(node.kind), wanted);
}

namespace {

bool whole(double value) { return value == std::floor(value) && std::abs(value) <= 1e9; }

}  // namespace

void Reader::error(const Node& node, std::string message) {
    node.faulty = true;
    const bool container = node.kind == NodeKind::array || node.kind == NodeKind::object;
    faults_.add({node.start, container ? 1 : node.end - node.start, false, std::move(message), node.key});
}

void Reader::error_at_key(const Node& member, std::string message) {
    member.faulty = true;
    faults_.add({member.key_start, member.key_end - member.key_start, false, std::move(message), member.key});
}

void Reader::error_in_text(const Node& node, const TextError& fault) {
    node.faulty = true;
    std::size_t from = offset_in_string(text_, node, fault.offset);
    const std::size_t to = offset_in_string(text_, node, fault.offset + fault.length);
    if (node.text.empty()) from = node.start;
    faults_.add({from, std::max<std::size_t>(to > from ? to - from : 1, 1), false, fault.message, node.key});
}

void Reader::warn(const Node& node, std::string message) {
    faults_.add({node.start, node.end - node.start, true, std::move(message), node.key});
}

std::string Reader::place_of(const Node& node) const {
    if (!faults_.room()) return {};
    const Position position = position_of(text_, node.start);
    return fmt::format("line {}, column {}", position.line, position.column);
}

std::string list_words(const std::vector<std::string_view>& words, std::string_view last) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) out += i + 1 == words.size() ? last : std::string_view{", "};
        out += fmt::format("\"{}\"", words[i]);
    }
    return out;
}

std::string unknown_word(std::string_view given, std::string_view what, const std::vector<std::string_view>& known) {
    const std::string_view near = nearest(given, known);
    std::string message = fmt::format("\"{}\" is no known {}", quoted(given), what);
    if (!near.empty()) return message + fmt::format("; did you mean \"{}\"?", near);
    return message + fmt::format("; known: {}", list_words(known, " or "));
}

const std::string_view* text_of(Reader& reader, const Node& node, std::string_view example) {
    if (node.kind == NodeKind::string) return &node.text;
    reader.error(node, wrong_kind(node, fmt::format("a text such as \"{}\"", example)));
    return nullptr;
}

namespace {

std::string name_of(const Node& node) { return node.key.empty() ? "it" : fmt::format("\"{}\"", node.key); }

void doubt(Reader& reader, const Node& node, const Range& usual) {
    reader.warn(node,
                fmt::format("unusual: {} is most often {}; is it right, and its unit?", name_of(node), usual.text));
}

}  // namespace

bool keeps(Reader& reader, const Node& node, double value, const Rule& rule) {
    const Range& possible = rule.possible;
    if (possible.holds(value)) {
        if (!rule.usual.holds(value)) doubt(reader, node, rule.usual);
        return true;
    }
    const std::string name = name_of(node);
    if (!possible.too_low(value))
        reader.error(node, fmt::format("{} is too much: at most {}", name, possible.high_words));
    else if (possible.low != 0.0)
        reader.error(node, fmt::format("{} is too little: {} {}", name,
                                       possible.low_excluded ? "more than" : "at least", possible.low_words));
    else
        reader.error(node, name + (possible.low_excluded ? " must be above zero" : " cannot be negative"));
    return false;
}

bool is_of_euro_size(Currency currency) {
    constexpr std::string_view codes[] = {"EUR", "GBP", "USD", "CHF", "CAD", "AUD", "NZD"};
    return std::ranges::find(codes, currency.code()) != std::end(codes);
}

bool keeps_amount(Reader& reader, const Node& node, Money amount, double value, const Range& usual) {
    if (std::abs(static_cast<double>(amount.in_cents())) > max_cents) {
        reader.error(node, fmt::format("{} is too much: at most 10 million", name_of(node)));
        return false;
    }
    if (amount.in_cents() < 0) {
        reader.error(node, name_of(node) + " cannot be negative");
        return false;
    }
    if (is_of_euro_size(amount.currency()) && !usual.holds(value)) doubt(reader, node, usual);
    return true;
}

void refuse_blank_name(Reader& reader, const Node& node, std::string_view key) {
    const std::string_view text = node.text;
    std::size_t first_end = 0, blanks = 0, characters = 0, last = 0;
    for (std::size_t at = 0; at < text.size(); at += utf8_step(text.substr(at)), ++characters) {
        if (is_blank(text.substr(at, utf8_step(text.substr(at))))) ++blanks;
        if (at == 0) first_end = utf8_step(text);
        last = at;
    }
    if (blanks == characters) return reader.error(node, fmt::format("\"{}\" cannot be empty", key));
    const auto refuse = [&](std::size_t from, std::size_t length) {
        reader.error_in_text(node, {from, length, fmt::format("\"{}\" cannot begin or end with a blank", key)});
    };
    if (is_blank(text.substr(0, first_end)))
        refuse(0, first_end);
    else if (is_blank(text.substr(last)))
        refuse(last, text.size() - last);
}

bool read_value(Reader& reader, const Node& node, std::string& out, const Rule& rule) {
    if (node.kind != NodeKind::string) {
        reader.error(node, wrong_kind(node, "a text in double quotes"));
        return false;
    }
    const bool note = rule.form == Form::note;
    for (std::size_t at = 0; at < node.text.size();) {
        const std::string_view rest = node.text.substr(at);
        if (const auto fault = unfit(rest, note); !fault.empty()) {
            reader.error_in_text(node, {at, utf8_step(rest), std::string{fault}});
            return false;
        }
        at += utf8_step(rest);
    }
    constexpr std::size_t max_name = 200, max_note = 20000;
    const std::size_t most = note ? max_note : max_name;
    if (node.text.size() > most) {
        reader.error(node, fmt::format("too long: at most {} bytes", most));
        return false;
    }
    out = node.text;
    return true;
}

bool read_value(Reader& reader, const Node& node, bool& out, const Rule&) {
    if (node.kind != NodeKind::boolean) {
        reader.error(node, wrong_kind(node, "true or false without quotes"));
        return false;
    }
    out = node.boolean;
    return true;
}

bool read_value(Reader& reader, const Node& node, int& out, const Rule& rule) {
    if (node.kind != NodeKind::number || !whole(node.number)) {
        reader.error(node, node.kind == NodeKind::number ? std::string{"a whole number belongs here"}
                                                         : wrong_kind(node, "a whole number without quotes"));
        return false;
    }
    if (!keeps(reader, node, node.number, rule)) return false;
    out = static_cast<int>(node.number);
    return true;
}

bool read_value(Reader& reader, const Node& node, double& out, const Rule& rule) {
    double value = node.number;
    if (rule.form == Form::plain) {
        if (node.kind != NodeKind::number) {
            reader.error(node, wrong_kind(node, "a plain number without quotes or unit"));
            return false;
        }
    } else {
        if (!read_parsed(reader, node, value, parse_percent, "2 %")) return false;
        if (rule.form == Form::share) value /= 100.0;
    }
    if (!keeps(reader, node, value, rule)) return false;
    out = value;
    return true;
}

bool read_value(Reader& reader, const Node& node, Share& out, const Rule& rule) {
    double value = 0.0;
    if (!read_parsed(reader, node, value, parse_percent, "12.5 %")) return false;
    if (!keeps(reader, node, value / 100.0, rule)) return false;
    out = Share::percent(value);
    return true;
}

bool read_value(Reader& reader, const Node& node, Money& out, const Rule& rule) {
    Money value;
    if (!read_parsed(reader, node, value, parse_money, "38.50 EUR")) return false;
    const auto cents = static_cast<double>(value.in_cents());
    if (!keeps_amount(reader, node, value, cents, rule.usual)) return false;
    reader.amounts.push_back({&node, value.currency()});
    out = value;
    return true;
}

bool read_value(Reader& reader, const Node& node, Temperature& out, const Rule& rule) {
    Temperature value;
    if (!read_parsed(reader, node, value, parse_temperature, "9 C")) return false;
    if (!keeps(reader, node, value.in_kelvin(), rule)) return false;
    out = value;
    return true;
}

bool read_value(Reader& reader, const Node& node, Currency& out, const Rule&) {
    const std::string_view* text = text_of(reader, node, "EUR");
    if (text == nullptr) return false;
    const bool capitals =
        text->size() == 3 && std::all_of(text->begin(), text->end(), [](char c) { return c >= 'A' && c <= 'Z'; });
    if (!capitals) {
        reader.error(node, "a currency is three capital letters, such as \"EUR\"");
        return false;
    }
    out = Currency{*text};
    return true;
}

bool read_value(Reader& reader, const Node& node, Date& out, const Rule&) {
    return read_parsed(reader, node, out, parse_date, "2026-04-14");
}
bool read_value(Reader& reader, const Node& node, ClockTime& out, const Rule&) {
    return read_parsed(reader, node, out, parse_clock_time, "08:00");
}
bool read_value(Reader& reader, const Node& node, ClockRange& out, const Rule&) {
    return read_parsed(reader, node, out, parse_clock_range, "10-2");
}

}  // namespace patchwright::io
