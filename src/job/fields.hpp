#pragma once
#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "nearest.hpp"
#include "patchwright/working/working.hpp"
#include "reader.hpp"
#include "source.hpp"

/// A struct's fields described once: the description reads them, finds unknown keys and missing ones. Internal.
namespace patchwright::job {

enum class Need : std::uint8_t {
    always,     ///< missing is an error
    defaulted,  ///< missing takes a stated default; data compiled in must give it
    never,      ///< may be absent, and absence means something
};

/// What stands in the file for a field: for messages, schemas and pages.
struct ValueType {
    enum class Shape : std::uint8_t { one, spread, list };
    std::string_view name;  ///< "a length", "an amount per area", "a choice", "a packer"
    Shape shape = Shape::one;
    bool object = false;                                   ///< a described struct
    std::vector<std::string_view> (*choices)() = nullptr;  ///< of a choice: its words
};

template <class T>
struct Field {
    std::string_view key;
    Need need = Need::never;
    std::string_view words{};  ///< what it is, for schemas and pages
    ValueType type{};
    Rule rule{};
    bool (*read)(Reader&, const Node&, T&, const Rule&) = nullptr;
    void (*money)(T&, std::vector<Money*>&) = nullptr;  ///< collects the amounts in the field
};

/// The description of T, declared beside its definition; `what` names one T in messages.
template <class T>
struct Described;  // static std::span<const Field<T>> fields(); static constexpr std::string_view what, merge_key;

namespace detail {
template <class M>
struct MemberOf;
template <class C, class V>
struct MemberOf<V C::*> {
    using Class = C;
    using Value = V;
};
template <class V>
struct Inner {
    using Type = V;
};
template <class V>
struct Inner<std::optional<V>> : Inner<V> {};
template <class V>
struct Inner<Sourced<V>> : Inner<V> {};
template <class V>
struct Inner<Spread<V>> : Inner<V> {};
template <class V>
struct Inner<std::vector<V>> : Inner<V> {};
}  // namespace detail

template <class T>
concept HasDescription = requires {
    Described<T>::fields();
};

template <class T>
bool read_value(Reader& reader, const Node& node, std::optional<T>& out, const Rule& rule);
template <class T>
bool read_value(Reader& reader, const Node& node, Sourced<T>& out, const Rule& rule);
template <class T>
bool read_value(Reader& reader, const Node& node, Spread<T>& out, const Rule& rule);
template <class T>
bool read_value(Reader& reader, const Node& node, std::vector<T>& out, const Rule& rule);
template <HasDescription T>
bool read_value(Reader& reader, const Node& node, T& out, const Rule& rule);

template <class T>
void collect_money(T& value, std::vector<Money*>& out);

namespace detail {
template <class V>
inline constexpr bool is_number = is_quantity<V> || std::is_same_v<V, double> || std::is_same_v<V, int> ||
                                  std::is_same_v<V, Temperature> || std::is_same_v<V, Share>;
template <class V>
inline constexpr bool is_money = std::is_same_v<V, Money> || is_rate<V>;
template <auto Member>
using Class = typename MemberOf<decltype(Member)>::Class;
template <auto Member>
using Value = typename MemberOf<decltype(Member)>::Value;
template <auto Member>
using Scalar = typename Inner<Value<Member>>::Type;

template <class E>
std::vector<std::string_view> words_list() {
    std::vector<std::string_view> words;
    for (const auto& entry : words_of(E{})) words.push_back(entry.first);
    return words;
}

template <class Q>
constexpr std::string_view rate_name() {
    if constexpr (std::is_same_v<Q, Length>) return "an amount per length";
    if constexpr (std::is_same_v<Q, Area>) return "an amount per area";
    if constexpr (std::is_same_v<Q, Volume>) return "an amount per volume";
    if constexpr (std::is_same_v<Q, Mass>) return "an amount per mass";
    if constexpr (std::is_same_v<Q, Duration>) return "an amount per time";
}

template <class V>
constexpr std::string_view type_name(Form form) {
    if constexpr (is_quantity<V>)
        return QuantityText<V>::names.what;
    else if constexpr (std::is_same_v<V, Temperature>)
        return "a temperature";
    else if constexpr (std::is_same_v<V, Share>)
        return "a percentage";
    else if constexpr (std::is_same_v<V, double>)
        return form == Form::plain ? "a number" : "a percentage";
    else if constexpr (std::is_same_v<V, int>)
        return "a whole number";
    else if constexpr (std::is_same_v<V, bool>)
        return "true or false";
    else if constexpr (std::is_same_v<V, std::string>)
        return form == Form::note ? "a note" : "a name";
    else if constexpr (std::is_same_v<V, Money>)
        return "an amount";
    else if constexpr (is_rate<V>)
        return rate_name<decltype(V::per)>();
    else if constexpr (std::is_same_v<V, Date>)
        return "a date";
    else if constexpr (std::is_same_v<V, ClockTime>)
        return "a time of day";
    else if constexpr (std::is_same_v<V, ClockRange>)
        return "a clock position";
    else if constexpr (std::is_same_v<V, Currency>)
        return "a currency";
    else if constexpr (std::is_enum_v<V>)
        return "a choice";
    else
        return Described<V>::what;
}

template <class V>
inline constexpr auto shape = ValueType::Shape::one;
template <class V>
inline constexpr auto shape<Spread<V>> = ValueType::Shape::spread;
template <class V>
inline constexpr auto shape<std::vector<V>> = ValueType::Shape::list;

template <auto Member>
Field<Class<Member>> described(std::string_view key, Need need, std::string_view words, Rule rule) {
    ValueType type{type_name<Scalar<Member>>(rule.form), shape<Value<Member>>, HasDescription<Scalar<Member>>};
    if constexpr (std::is_enum_v<Scalar<Member>>) type.choices = words_list<Scalar<Member>>;
    return {key,
            need,
            words,
            type,
            rule,
            [](Reader& reader, const Node& node, Class<Member>& object, const Rule& r) {
                return read_value(reader, node, object.*Member, r);
            },
            [](Class<Member>& object, std::vector<Money*>& out) { collect_money(object.*Member, out); }};
}
}  // namespace detail

// A line of a description. `possible` and `usual` are ranges such as "above 0 mm to 3 m"; `words` say what it is.

/// What has no size: names, choices, lists, true or false.
template <auto Member>
auto field(std::string_view key, Need need, std::string_view words) {
    static_assert(!detail::is_number<detail::Scalar<Member>> && !detail::is_money<detail::Scalar<Member>>,
                  "a quantity has a possible and a usual range");
    return detail::described<Member>(key, need, words, {});
}
template <auto Member>
auto note(std::string_view key, Need need, std::string_view words) {
    return detail::described<Member>(key, need, words, {{}, {}, Form::note});
}
template <auto Member>
auto field(std::string_view key, Need need, std::string_view possible, std::string_view usual, std::string_view words,
           Form form = Form::plain) {
    using V = detail::Scalar<Member>;
    static_assert(detail::is_number<V>);
    return detail::described<Member>(key, need, words, {range<V>(possible, form), range<V>(usual, form), form});
}
/// A number that files give as "2 %", kept as 2.
template <auto Member>
auto percent(std::string_view key, Need need, std::string_view possible, std::string_view usual,
             std::string_view words) {
    return field<Member>(key, need, possible, usual, words, Form::percent);
}
/// A number that files give as "85 %", kept as 0.85.
template <auto Member>
auto share(std::string_view key, Need need, std::string_view possible, std::string_view usual, std::string_view words) {
    return field<Member>(key, need, possible, usual, words, Form::share);
}
/// An amount or a rate; possible is what is not negative, up to ten million.
template <auto Member>
auto money(std::string_view key, Need need, std::string_view usual, std::string_view words) {
    using V = detail::Scalar<Member>;
    static_assert(detail::is_money<V>);
    return detail::described<Member>(key, need, words, {{}, range<V>(usual), Form::plain});
}

/// Keys that are ignored wherever they stand.
inline bool is_remark(std::string_view key) { return key.starts_with("_help") || key == "$schema"; }

/// Reads the members of `node` into `object`. `patch`: the object stands already, only what differs is given.
template <class T>
bool read_object(Reader& reader, const Node& node, T& object, bool patch = false) {
    using D = Described<T>;
    if (node.kind != NodeKind::object) {
        reader.error(node, wrong_kind(node, fmt::format("{} in braces", D::what)));
        return false;
    }
    const std::span<const Field<T>> fields = D::fields();
    enum State : char { absent, misspelt, seen };
    std::vector<State> states(fields.size(), absent);
    std::size_t i = 0;
    for (const Node& member : node.children) {
        if (is_remark(member.key)) continue;
        // Most files keep our order: the search begins after the field of the member before.
        std::size_t tried = 0;
        for (; tried < fields.size(); ++tried, ++i) {
            if (i == fields.size()) i = 0;
            if (fields[i].key == member.key) break;
        }
        if (tried == fields.size()) {
            std::vector<std::string_view> known;
            for (const auto& f : fields) known.push_back(f.key);
            reader.error_at_key(member, unknown_word(member.key, "key here", known));
            // A misspelt key is no missing one as well.
            const std::string_view meant = nearest(member.key, known);
            for (std::size_t k = 0; k < fields.size(); ++k)
                if (fields[k].key == meant && states[k] == absent) states[k] = misspelt;
            continue;
        }
        if (states[i] == seen) continue;  // the second of two equal keys is an error already
        states[i] = seen;
        fields[i].read(reader, member, object, fields[i].rule);
        ++i;
    }
    std::vector<std::string_view> missing;
    for (i = 0; i < fields.size(); ++i) {
        if (states[i] != absent) continue;
        const bool wanted =
            fields[i].need == Need::always || (fields[i].need == Need::defaulted && reader.everything_required);
        if (wanted && !patch) missing.push_back(fields[i].key);
    }
    if (missing.empty()) return true;
    reader.error(node, fmt::format("{} {} {}", D::what, D::plural ? "need" : "needs", list_words(missing)));
    return false;
}

template <HasDescription T>
bool read_value(Reader& reader, const Node& node, T& out, const Rule&) {
    return read_object(reader, node, out, reader.patching);
}

template <class T>
bool read_value(Reader& reader, const Node& node, std::optional<T>& out, const Rule& rule) {
    T value{};
    if (!read_value(reader, node, value, rule)) return false;
    out = std::move(value);
    return true;
}

template <class T>
bool read_value(Reader& reader, const Node& node, Sourced<T>& out, const Rule& rule) {
    if (!read_value(reader, node, out.value, rule)) return false;
    out.origin = Origin::given;
    return true;
}

/// {"low": .., "likely": .., "high": ..}
template <class T>
bool read_value(Reader& reader, const Node& node, Spread<T>& out, const Rule& rule) {
    if (node.kind != NodeKind::object) {
        reader.error(node, "three values belong here: {\"low\": .., \"likely\": .., \"high\": ..}");
        return false;
    }
    constexpr std::string_view names[] = {"low", "likely", "high"};
    T* const values[] = {&out.low, &out.likely, &out.high};
    bool good = true;
    for (const Node& member : node.children) {
        if (is_remark(member.key) || std::ranges::find(names, member.key) != std::end(names)) continue;
        reader.error_at_key(member, unknown_word(member.key, "key here", {names[0], names[1], names[2]}));
        good = false;
    }
    for (std::size_t i = 0; i < 3; ++i) {
        const Node* value = node.find(names[i]);
        if (value == nullptr) reader.error(node, fmt::format("\"{}\" is missing", names[i]));
        good = value != nullptr && read_value(reader, *value, *values[i], rule) && good;
    }
    if constexpr (std::is_same_v<T, Money>) {
        // Amounts of two currencies have no order; the check of the yard's currency names the odd one.
        const auto differ = [](Money a, Money b) {
            return !a.currency().none() && !b.currency().none() && a.currency() != b.currency();
        };
        if (differ(out.low, out.likely) || differ(out.likely, out.high) || differ(out.low, out.high)) return false;
    }
    if (good && (out.likely < out.low || out.high < out.likely)) {
        reader.error(node, "must rise: low, then likely, then high");
        return false;
    }
    return good;
}

/// The existing item of a list that a node means, by the description's merge key.
template <class T>
T* item_named(std::vector<T>& list, std::string_view name) {
    for (T& item : list)
        if (Described<T>::name_of(item) == name) return &item;
    return nullptr;
}

/// Lists of things with a name are merged by it; others are replaced as a whole.
template <class T>
bool read_value(Reader& reader, const Node& node, std::vector<T>& out, const Rule& rule) {
    if (node.kind != NodeKind::array) {
        reader.error(node, wrong_kind(node, "a list in square brackets"));
        return false;
    }
    if constexpr (!HasDescription<T>) {
        out.assign(node.children.size(), T{});
        bool good = true;
        for (std::size_t i = 0; i < out.size(); ++i) good = read_value(reader, node.children[i], out[i], rule) && good;
        return good;
    } else if constexpr (Described<T>::merge_key.empty()) {
        out.assign(node.children.size(), T{});
        bool good = true;
        for (std::size_t i = 0; i < out.size(); ++i) good = read_object(reader, node.children[i], out[i]) && good;
        return good;
    } else {
        return merge_list(reader, node, out);
    }
}

template <class T>
bool merge_list(Reader& reader, const Node& node, std::vector<T>& out) {
    using D = Described<T>;
    std::map<std::string_view, const Node*> names;
    const std::size_t standing = out.size();
    bool good = true;
    for (const Node& child : node.children) {
        const Node* name = child.kind == NodeKind::object ? child.find(D::merge_key) : nullptr;
        const bool named = name != nullptr && name->kind == NodeKind::string;
        const Node* first = named ? names.try_emplace(name->text, name).first->second : nullptr;
        if (first != name && named) {
            reader.error(*name, fmt::format("the {} \"{}\" stands twice in this list; first at {}", D::merge_key,
                                            quoted(name->text), reader.place_of(*first)));
            good = false;
            if (standing > 0) continue;  // else read on: list and nodes stay in step, and more faults are found
        }
        T* before = named && standing > 0 ? item_named(out, name->text) : nullptr;
        const Node* remove = child.kind == NodeKind::object ? child.find("remove") : nullptr;
        if (remove != nullptr && before == nullptr) {
            reader.error_at_key(*remove, "nothing to remove: the list that is extended holds no such thing");
            good = false;
            continue;
        }
        if (remove != nullptr && remove->kind == NodeKind::boolean && remove->boolean) {
            out.erase(out.begin() + (before - out.data()));
            continue;
        }
        if (before != nullptr) {
            good = read_object(reader, child, *before, true) && good;
            continue;
        }
        T fresh{};
        good = read_object(reader, child, fresh) && good;
        out.push_back(std::move(fresh));
    }
    return good;
}

/// Keys with a default that `node` does not give; all of them when there is no node.
template <class T>
std::vector<std::string_view> left_out(const Node* node) {
    std::vector<std::string_view> keys;
    for (const auto& f : Described<T>::fields())
        if (f.need == Need::defaulted && (node == nullptr || node->find(f.key) == nullptr)) keys.push_back(f.key);
    return keys;
}

namespace detail {
template <class T>
inline constexpr bool is_vector = false;
template <class T>
inline constexpr bool is_vector<std::vector<T>> = true;
}  // namespace detail

/// Every amount of money in a value, so that all can be held to one currency.
template <class T>
void collect_money(T& value, std::vector<Money*>& out) {
    if constexpr (std::is_same_v<T, Money>) {
        out.push_back(&value);
    } else if constexpr (detail::is_rate<T>) {
        out.push_back(&value.amount);
    } else if constexpr (std::is_same_v<T, Spread<Money>>) {
        out.insert(out.end(), {&value.low, &value.likely, &value.high});
    } else if constexpr (detail::is_vector<T>) {
        if constexpr (HasDescription<typename T::value_type>)
            for (auto& item : value) collect_money(item, out);
    } else if constexpr (HasDescription<T>) {
        for (const auto& f : Described<T>::fields())
            if (f.money != nullptr) f.money(value, out);
    }
}

}  // namespace patchwright::job
