#pragma once
#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/io/nearest.hpp"
#include "patchwright/job/durations.hpp"
#include "patchwright/working/working.hpp"
#include "reader.hpp"
#include "source.hpp"

/// A struct's fields described once: the description reads them, finds unknown keys and missing ones. Internal.
namespace patchwright::io {

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
    bool persons = false;                                  ///< a spread, and the persons that the task takes
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
template <>
struct Inner<TaskTime> : Inner<Spread<Duration>> {};
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
bool read_value(Reader& reader, const Node& node, TaskTime& out, const Rule& rule);
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
template <>
inline constexpr auto shape<TaskTime> = ValueType::Shape::spread;
template <class V>
inline constexpr auto shape<std::vector<V>> = ValueType::Shape::list;

template <auto Member>
Field<Class<Member>> described(std::string_view key, Need need, std::string_view words, Rule rule) {
    ValueType type{type_name<Scalar<Member>>(rule.form), shape<Value<Member>>, HasDescription<Scalar<Member>>,
                   std::is_same_v<Value<Member>, TaskTime>};
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

}  // namespace patchwright::io

#include "field_reading.hpp"  // IWYU pragma: export
