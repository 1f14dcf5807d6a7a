// "site.finish=18:00" taken apart: which file, which keys, which value.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <nlohmann/json.hpp>

#include "patchwright/io/change.hpp"
#include "patchwright/units/error.hpp"
#include "utf8.hpp"
#include "yard_fields.hpp"

namespace patchwright::io {
namespace {

/// No key of either file lies deeper; what is given as a value may.
constexpr std::size_t deepest_path = 8;

template <class T>
std::vector<std::string_view> keys_of() {
    std::vector<std::string_view> keys;
    for (const auto& field : Described<T>::fields()) keys.push_back(field.key);
    return keys;
}

bool holds(const std::vector<std::string_view>& keys, std::string_view key) {
    return std::find(keys.begin(), keys.end(), key) != keys.end();
}

/// "limits.overtime" for what was typed as "overtime": keys one level down, where nothing has to be named on the way.
std::vector<std::string> keys_within(std::string_view key) {
    std::vector<std::string> list;
    const auto look = [&](std::string_view section, const std::vector<std::string_view>& keys) {
        const auto near = holds(keys, key) ? key : nearest(key, keys);
        if (!near.empty()) list.push_back(fmt::format("{}.{}", section, near));
    };
    look("site", keys_of<Site>());
    look("dig", keys_of<Dig>());
    look("price", keys_of<PriceWish>());
    look("customer", keys_of<Customer>());
    look("runs.0", keys_of<Run>());
    look("limits", keys_of<Limits>());
    look("durations", keys_of<Durations>());
    look("rates", keys_of<Rates>());
    look("conditioning", keys_of<Conditioning>());
    look("dig_rates", keys_of<DigRates>());
    look("dig_market", keys_of<DigMarket>());
    look("firm", keys_of<Firm>());
    // What is spelt as typed is meant; only without it what is near.
    const auto same = [&](const std::string& found) {
        return std::string_view{found}.ends_with(fmt::format(".{}", key));
    };
    if (std::any_of(list.begin(), list.end(), same))
        std::erase_if(list, [&](const auto& found) { return !same(found); });
    if (list.size() > 3) list.resize(3);
    return list;
}

FileKind file_of(const std::string& key) {
    const auto job = keys_of<Job>(), yard = keys_of<Yard>();
    const bool in_job = holds(job, key), in_yard = holds(yard, key);
    if (in_job && in_yard)
        throw InputError(fmt::format("\"{0}\" is a key of job and yard; write job:{0} or yard:{0}", key));
    if (in_job || in_yard) return in_job ? FileKind::job : FileKind::yard;
    auto known = job;
    known.insert(known.end(), yard.begin(), yard.end());
    std::vector<std::string> near;
    if (const auto first = nearest(key, known); !first.empty()) near.emplace_back(first);
    for (auto& found : keys_within(key)) near.push_back(std::move(found));
    if (near.empty())
        throw InputError(
            fmt::format("\"{}\" is no key of a job or yard file; docs/fields.md lists them all", io::quoted(key)));
    throw InputError(fmt::format("\"{}\" is no key of a job or yard file; did you mean {}?", io::quoted(key),
                                 fmt::join(near, " or ")));
}

/// Where a key in double quotes ends, past its quote.
std::size_t end_of_quoted(std::string_view text, std::size_t start) {
    for (std::size_t i = start + 1; i < text.size(); ++i) {
        if (text[i] == '\\')
            ++i;
        else if (text[i] == '"')
            return i + 1;
    }
    throw InputError("a key in double quotes has no end");
}

/// Takes a key off the front; `text` then begins with what follows it.
std::string take_key(std::string_view& text) {
    std::string key;
    if (text.starts_with('"')) {
        const auto end = end_of_quoted(text, 0);
        const auto json = nlohmann::json::parse(text.substr(0, end), nullptr, false);
        if (!json.is_string()) throw InputError("a key in double quotes is no JSON text");
        key = json.get<std::string>();
        text.remove_prefix(end);
    } else {
        const auto end = std::min(text.find_first_of(".="), text.size());
        key = text.substr(0, end);
        text.remove_prefix(end);
    }
    if (key.empty()) throw InputError("a key is missing; what belongs here is KEY=VALUE, such as site.finish=18:00");
    return key;
}

std::string value_of(std::string_view text) {
    const Document document = parse_document(text);
    if (document.complete && !document.faults.any_errors()) return std::string{text};
    return nlohmann::json(text).dump();
}

bool needs_quotes(std::string_view key) {
    return key.empty() || key.find_first_of(".=:\"\\") != std::string_view::npos;
}

}  // namespace

Change parse_change(std::string_view text) {
    for (std::size_t i = 0; i < text.size(); i += utf8_step(text.substr(i)))
        if (utf8_sequence(text.substr(i)) == 0) throw InputError("this is not UTF-8");
    Change change;
    std::string_view rest = text;
    bool named = false;
    for (const auto kind : {FileKind::job, FileKind::yard}) {
        const auto prefix = fmt::format("{}:", word(kind));
        if (named || !rest.starts_with(prefix)) continue;
        named = true;
        change.file = kind;
        rest.remove_prefix(prefix.size());
    }
    change.path.push_back(take_key(rest));
    while (rest.starts_with('.')) {
        rest.remove_prefix(1);
        change.path.push_back(take_key(rest));
    }
    if (!rest.starts_with('='))
        throw InputError("a value is missing; what belongs here is KEY=VALUE, such as site.finish=18:00");
    rest.remove_prefix(1);
    if (change.path.size() > deepest_path)
        throw InputError(fmt::format("no key lies deeper than {} levels", deepest_path));
    if (!named) change.file = file_of(change.path.front());
    change.value = value_of(rest);
    return change;
}

std::string text(const Change& change) {
    std::vector<std::string> keys;
    for (const auto& key : change.path) keys.push_back(needs_quotes(key) ? nlohmann::json(key).dump() : key);
    const auto json = nlohmann::json::parse(change.value);
    std::string value = json.dump();
    // A text without its quotes, where it is read as a text without them too.
    if (json.is_string() && value_of(json.get<std::string>()) == value) value = json.get<std::string>();
    const bool in_job = holds(keys_of<Job>(), change.path.front()),
               in_yard = holds(keys_of<Yard>(), change.path.front());
    const bool told = change.file == FileKind::job ? in_job && !in_yard : in_yard && !in_job;
    return fmt::format("{}{}={}", told ? "" : fmt::format("{}:", word(change.file)), fmt::join(keys, "."), value);
}

}  // namespace patchwright::io
