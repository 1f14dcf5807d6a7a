#include "cmd_calc_arguments.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "patchwright/units/error.hpp"

namespace patchwright::cli {
namespace {

std::string lower(std::string_view text) {
    std::string out{text};
    std::transform(out.begin(), out.end(), out.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return out;
}

/// "condition of the pipe: sound, broken" is "condition of the pipe" on the sheet.
std::string label(std::string_view meaning) { return std::string{meaning.substr(0, meaning.find_first_of(":;,"))}; }

}  // namespace

std::string json_key(std::string_view name, std::string_view suffix) {
    std::string key{name};
    std::replace_if(
        key.begin(), key.end(), [](char c) { return c == '-' || c == ' '; }, '_');
    return key.append(suffix);
}

Arguments::Arguments(const std::vector<CalcOption>& options, Given given, sheet::CalcResult& result)
    : options_{options}, given_{std::move(given)}, result_{result} {}

void Arguments::require_all() const {
    WrongUse missing;
    for (const CalcOption& wanted : options_) {
        if (wanted.need == Need::optional || has(wanted.name)) continue;
        missing.messages.push_back(fmt::format("calc {}: --{} is missing: {}, for example --{} \"{}\"", result_.name,
                                               wanted.name, wanted.meaning, wanted.name, wanted.example));
    }
    if (!missing.messages.empty()) throw missing;
}

const CalcOption& Arguments::option(std::string_view name) const {
    return *std::find_if(options_.begin(), options_.end(), [&](const CalcOption& o) { return o.name == name; });
}

void Arguments::refuse(std::string_view name, const std::string& text, const std::string& why) const {
    throw WrongUse{{fmt::format("calc {}: --{} \"{}\": {}; for example --{} \"{}\"", result_.name, name, text, why,
                                name, option(name).example)}};
}

void Arguments::refuse(std::string_view name, const std::string& why) const {
    const auto typed = given_.find(name);
    refuse(name, typed == given_.end() ? std::string{} : typed->second, why);
}

template <class T>
Sourced<T> Arguments::read(std::string_view name, Parsed<T> (*parse)(std::string_view), std::optional<T> yard) const {
    const auto typed = given_.find(name);
    if (typed == given_.end() && yard) return {*yard, Origin::yard};
    const std::string text = typed == given_.end() ? std::string{option(name).assumed} : typed->second;
    const Parsed<T> value = parse(text);
    if (!value) refuse(name, text, value.error().message);
    return {*value, typed == given_.end() ? Origin::assumed : Origin::given};
}

void Arguments::put(std::string_view name, Show show, double value, Origin origin) {
    result_.inputs.push_back({json_key(name, json_suffix(show)), label(option(name).meaning), show, value, {}, origin});
}

void Arguments::put_text(std::string_view name, std::string text, Origin origin) {
    result_.inputs.push_back(
        {json_key(name, ""), label(option(name).meaning), Show::ratio, 0.0, std::move(text), origin});
}

void Arguments::note(std::string_view name, std::string_view label, Show show, double value, Origin origin) {
    result_.inputs.push_back({json_key(name, json_suffix(show)), std::string{label}, show, value, {}, origin});
}

Sourced<Length> Arguments::length(std::string_view name, Show show, std::optional<Length> yard) {
    const auto value = read(name, parse_length, yard);
    // A felt, a head of water or an air line may be none; a pipe, a bend or a trench of nothing is a slip of the pen.
    constexpr std::array<std::string_view, 8> of_something{"bore",  "length",   "width",  "depth",
                                                           "cover", "diameter", "radius", "thickness"};
    const bool something = std::find(of_something.begin(), of_something.end(), name) != of_something.end();
    if (value->si() < 0.0 || (something && value->si() == 0.0))
        throw RangeError(fmt::format("calc {}: --{} {}; for example --{} \"{}\"", result_.name, name,
                                     something ? "must be above zero" : "cannot be negative", name,
                                     option(name).example));
    put(name, show, value->si(), value.origin);
    return value;
}

Sourced<Pressure> Arguments::pressure(std::string_view name, Show show, std::optional<Pressure> yard) {
    const auto value = read(name, parse_pressure, yard);
    put(name, show, value->si(), value.origin);
    return value;
}

Sourced<Temperature> Arguments::temperature(std::string_view name) {
    const auto value = read(name, parse_temperature, std::optional<Temperature>{});
    put(name, Show::temperature, value->in_kelvin(), value.origin);
    return value;
}

Sourced<TemperatureDifference> Arguments::temperature_step(std::string_view name,
                                                           std::optional<TemperatureDifference> yard) {
    const auto value = read(name, parse_temperature_difference, yard);
    put(name, Show::temperature_step, value->si(), value.origin);
    return value;
}

Sourced<Angle> Arguments::angle(std::string_view name) {
    const auto value = read(name, parse_angle, std::optional<Angle>{});
    put(name, Show::angle, value->si(), value.origin);
    return value;
}

Sourced<Mass> Arguments::mass(std::string_view name) {
    const auto value = read(name, parse_mass, std::optional<Mass>{});
    put(name, Show::scale_mass, value->si(), value.origin);
    return value;
}

Sourced<Duration> Arguments::duration(std::string_view name) {
    const auto value = read(name, parse_duration, std::optional<Duration>{});
    put(name, Show::span, value->si(), value.origin);
    return value;
}

std::vector<Arguments::TimedTemperature> Arguments::timed_temperatures(std::string_view name) {
    const auto typed = given_.find(name);
    const std::string text = typed == given_.end() ? std::string{} : typed->second;
    std::vector<TimedTemperature> list;
    for (std::size_t begin = 0; begin <= text.size();) {
        const auto comma = std::min(text.find(',', begin), text.size());
        const auto note = text.substr(begin, comma - begin);
        begin = comma + 1;
        const auto at = note.find(" at ");
        if (at == std::string::npos)
            refuse(name, text, "write times and temperatures as \"10 min at 14 C, 1 h at 12 C\"");
        const auto after = parse_duration(std::string_view{note}.substr(0, at));
        const auto temperature = parse_temperature(std::string_view{note}.substr(at + 4));
        if (!after) refuse(name, text, after.error().message);
        if (!temperature) refuse(name, text, temperature.error().message);
        if (!list.empty() && *after <= list.back().after) refuse(name, text, "the times must rise");
        list.push_back({*after, *temperature});
    }
    put_text(name, text, Origin::given);
    return list;
}

Sourced<UnitWeight> Arguments::unit_weight(std::string_view name, std::optional<UnitWeight> yard) {
    const auto value = read(name, parse_unit_weight, yard);
    put(name, Show::unit_weight, value->si(), value.origin);
    return value;
}

Sourced<double> Arguments::share(std::string_view name) {
    const auto percent = read(name, parse_percent, std::optional<double>{});
    put(name, Show::percent, *percent / 100.0, percent.origin);
    return {*percent / 100.0, percent.origin};
}

Sourced<double> Arguments::number(std::string_view name, std::optional<double> yard) {
    const auto value = read(name, parse_number, yard);
    put(name, Show::ratio, *value, value.origin);
    return value;
}

Sourced<int> Arguments::whole(std::string_view name, int least, int most) {
    const auto value = read(name, parse_number, std::optional<double>{});
    if (*value != std::floor(*value) || *value < least || *value > most) {
        refuse(name, fmt::format("give a whole number from {} to {}", least, most));
    }
    put(name, Show::count, *value, value.origin);
    return {static_cast<int>(*value), value.origin};
}

Money Arguments::money(std::string_view name) {
    const auto value = read(name, parse_money, std::optional<Money>{});
    put_text(name, decimal_text(*value), value.origin);
    return *value;
}

Date Arguments::date(std::string_view name) {
    const auto value = read(name, parse_date, std::optional<Date>{});
    put_text(name, format(*value), value.origin);
    return *value;
}

Sourced<std::size_t> Arguments::choice(std::string_view name, const std::vector<std::string>& words,
                                       std::optional<std::size_t> yard) {
    const auto typed = given_.find(name);
    if (typed == given_.end() && yard) {
        put_text(name, words.at(*yard), Origin::yard);
        return {*yard, Origin::yard};
    }
    const std::string text = typed == given_.end() ? std::string{option(name).assumed} : typed->second;
    // The word itself, or as much of its beginning as tells it from the others ("fully").
    std::vector<std::size_t> meant;
    for (std::size_t place = 0; place < words.size(); ++place) {
        if (lower(words[place]) == lower(text)) meant.assign(1, place);
        if (lower(words[place]) == lower(text)) break;
        if (!text.empty() && lower(words[place]).starts_with(lower(text))) meant.push_back(place);
    }
    if (meant.size() == 1) {
        const Origin origin = typed == given_.end() ? Origin::assumed : Origin::given;
        put_text(name, words[meant.front()], origin);
        return {meant.front(), origin};
    }
    refuse(name, text, fmt::format("give one of: {}", fmt::join(words, ", ")));
}

void put_result(sheet::CalcResult& result, std::string_view name, std::string_view label, Show show, double value) {
    result.results.push_back(
        {json_key(name, json_suffix(show)), std::string{label}, show, value, {}, Origin::computed});
}

void put_result(sheet::CalcResult& result, std::string_view name, std::string_view label, Temperature value) {
    put_result(result, name, label, Show::temperature, value.in_kelvin());
}

void put_text(sheet::CalcResult& result, std::string_view key, std::string_view label, std::string_view text) {
    result.results.push_back(
        {std::string{key}, std::string{label}, Show::ratio, 0.0, std::string{text}, Origin::computed});
}

}  // namespace patchwright::cli
