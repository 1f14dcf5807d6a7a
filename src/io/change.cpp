// A job or yard file with some of its keys set to other values.
#include "patchwright/io/change.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <charconv>
#include <nlohmann/json.hpp>
#include <optional>

#include "patchwright/io/nearest.hpp"
#include "patchwright/units/error.hpp"
#include "source.hpp"
#include "yard_json.hpp"

namespace patchwright::io {
namespace {

using Json = nlohmann::ordered_json;

/// The key by which things of a list are told apart, and its value; nothing when it has none.
std::optional<std::pair<std::string, std::string>> name_of(const Json& item) {
    if (!item.is_object()) return std::nullopt;
    for (const char* key : {"id", "surface", "soil"}) {
        const auto found = item.find(key);
        if (found != item.end() && found->is_string()) return std::pair{std::string{key}, found->get<std::string>()};
    }
    return std::nullopt;
}

std::optional<std::size_t> place_in(const Json& list, const std::string& key) {
    for (std::size_t i = 0; i < list.size(); ++i) {
        const auto name = name_of(list[i]);
        if (name && name->second == key) return i;
    }
    return std::nullopt;
}

std::optional<std::size_t> number(const std::string& key) {
    std::size_t value = 0;
    const auto* end = key.data() + key.size();
    const auto read = std::from_chars(key.data(), end, value);
    return read.ec == std::errc{} && read.ptr == end ? std::optional{value} : std::nullopt;
}

/// One change on its way down the tree. `base` is the same place of the file that this one extends, or null.
class Way {
public:
    explicit Way(const Change& change) : change_{change} {}

    void go(Json& root, const Json* base) {
        Json* at = &root;
        for (step_ = 0; step_ + 1 < change_.path.size(); ++step_) {
            const bool list = at->is_array();
            refuse_single(*at);
            at = list ? &in_list(*at, base) : &in_object(*at, base);
            base = list ? base_in_list(base) : base_in_object(base);
        }
        refuse_single(*at);
        const auto value = Json::parse(change_.value);
        if (at->is_array())
            value.is_null() ? take_from_list(*at, base) : set_in_list(*at, base, value);
        else if (value.is_null())
            take_from_object(*at);
        else
            (*at)[key()] = value;
    }

private:
    const std::string& key() const { return change_.path[step_]; }
    /// The way so far, for messages.
    std::string here() const {
        return step_ == 0
                   ? fmt::format("the {}", word(change_.file))
                   : fmt::format("{}", fmt::join(change_.path.begin(),
                                                 change_.path.begin() + static_cast<std::ptrdiff_t>(step_), "."));
    }
    void refuse_single(const Json& at) const {
        if (at.is_structured()) return;
        throw InputError(
            fmt::format("{} is a single value: no \"{}\" lies in it", io::quoted(here(), 80), io::quoted(key())));
    }

    Json& in_object(Json& at, const Json* base) const {
        if (!at.contains(key())) {
            const Json* under = base_in_object(base);
            const bool named = under != nullptr && under->is_array() && !under->empty() && name_of(under->front());
            // A list without names is replaced as a whole, so all of it is said; of others what differs is enough.
            if (under != nullptr && under->is_array())
                at[key()] = named ? Json::array() : *under;
            else
                at[key()] = Json::object();
        }
        return at[key()];
    }
    const Json* base_in_object(const Json* base) const {
        return base != nullptr && base->is_object() && base->contains(key()) ? &(*base)[key()] : nullptr;
    }
    const Json* base_in_list(const Json* base) const {
        if (base == nullptr || !base->is_array()) return nullptr;
        const auto place = place_in(*base, key());
        return place ? &(*base)[*place] : nullptr;
    }

    std::optional<std::size_t> found(const Json& list) const {
        if (const auto place = place_in(list, key())) return place;
        const auto place = number(key());
        return place && *place < list.size() ? place : std::nullopt;
    }
    Json& in_list(Json& list, const Json* base) const {
        if (const auto place = found(list)) return list[*place];
        const Json* extended = base_in_list(base);
        if (extended == nullptr) throw InputError(no_such(list, base));
        const auto name = *name_of(*extended);
        list.push_back({{name.first, name.second}});
        return list.back();
    }
    void set_in_list(Json& list, const Json* base, const Json& value) const {
        const auto place = found(list);
        if (place)
            list[*place] = value;
        else if (number(key()) == list.size() || base_in_list(base) != nullptr)
            list.push_back(value);
        else
            throw InputError(no_such(list, base));
    }
    void take_from_list(Json& list, const Json* base) const {
        const Json* extended = base_in_list(base);
        const auto place = found(list);
        if (!place && extended == nullptr) throw InputError(no_such(list, base));
        if (place) list.erase(list.begin() + static_cast<std::ptrdiff_t>(*place));
        if (extended == nullptr) return;
        const auto name = *name_of(*extended);
        list.push_back({{name.first, name.second}, {"remove", true}});
    }
    void take_from_object(Json& at) const {
        if (at.erase(key()) == 0)
            throw InputError(
                fmt::format("{} has no \"{}\" that could be taken out", io::quoted(here(), 80), io::quoted(key())));
    }

    std::string no_such(const Json& list, const Json* base) const {
        std::vector<std::string> names;
        const auto add = [&](const Json& items) {
            for (const auto& item : items)
                if (const auto name = name_of(item)) names.push_back(name->second);
        };
        add(list);
        if (base != nullptr && base->is_array()) add(*base);
        const std::vector<std::string_view> known{names.begin(), names.end()};
        // Of names as short as "A" each is near to every other.
        const auto near = key().size() < 3 ? std::string_view{} : nearest(key(), known);
        auto message = fmt::format("{} has no \"{}\"", io::quoted(here(), 80), io::quoted(key()));
        if (!near.empty()) return message + fmt::format("; did you mean \"{}\"?", near);
        if (names.size() > 12) names.resize(12);
        if (!names.empty()) return message + fmt::format("; it has {}", fmt::join(names, ", "));
        return message + (list.empty() ? "; it is empty" : fmt::format("; its places are 0 to {}", list.size() - 1));
    }

    const Change& change_;
    std::size_t step_ = 0;
};

}  // namespace

std::string with_changes(std::string_view file, FileKind kind, const std::vector<Change>& changes) {
    Json root = Json::parse(file);
    const bool extends = kind == FileKind::yard && root.contains("extends");
    const Json base = extends ? Json::parse(yard_json()) : Json{};
    for (const Change& change : changes)
        if (change.file == kind) Way{change}.go(root, extends ? &base : nullptr);
    return root.dump();
}

std::string_view builtin_yard_text() { return yard_json(); }

}  // namespace patchwright::io
