#pragma once
#include "fields.hpp"

/// Objects read by the table of their fields.
namespace patchwright::io {

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

/// {"low": .., "likely": .., "high": ..}; `also`: a key that is read elsewhere.
template <class T>
bool read_spread(Reader& reader, const Node& node, Spread<T>& out, const Rule& rule, std::string_view also) {
    if (node.kind != NodeKind::object) {
        reader.error(node, "three values belong here: {\"low\": .., \"likely\": .., \"high\": ..}");
        return false;
    }
    constexpr std::string_view names[] = {"low", "likely", "high"};
    T* const values[] = {&out.low, &out.likely, &out.high};
    bool good = true;
    for (const Node& member : node.children) {
        if (is_remark(member.key) || (!also.empty() && member.key == also) ||
            std::ranges::find(names, member.key) != std::end(names))
            continue;
        std::vector<std::string_view> known{names[0], names[1], names[2]};
        if (!also.empty()) known.push_back(also);
        reader.error_at_key(member, unknown_word(member.key, "key here", known));
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

template <class T>
bool read_value(Reader& reader, const Node& node, Spread<T>& out, const Rule& rule) {
    return read_spread(reader, node, out, rule, {});
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
        // In a list that stands for itself it is a key like any other that is not known, and list and nodes stay in
        // step.
        if (remove != nullptr && before == nullptr && standing > 0) {
            reader.error_at_key(*remove, "nothing to remove: the list that is extended holds no such thing");
            good = false;
            continue;
        }
        if (before != nullptr && remove != nullptr && remove->kind == NodeKind::boolean && remove->boolean) {
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

}  // namespace patchwright::io
