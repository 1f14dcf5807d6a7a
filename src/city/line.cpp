#include "patchwright/city/line.hpp"

#include <algorithm>
#include <functional>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "patchwright/units/parse.hpp"
#include "patchwright/units/utf8.hpp"

namespace patchwright::city {
namespace {

using Json = nlohmann::json;

constexpr std::array<std::string_view, letters> letter_words{"offer", "estimate", "advice"};

std::array<std::string_view, verdicts> verdict_words() {
    std::array<std::string_view, verdicts> words;
    for (std::size_t v = 0; v < verdicts; ++v) words[v] = survey::word(static_cast<Verdict>(v));
    return words;
}

/// The first `bytes` of a text as code points, from 1.
int column_of(std::string_view text, std::size_t bytes) {
    const auto head = text.substr(0, bytes);
    const auto points = std::count_if(head.begin(), head.end(), std::not_fn(is_utf8_continuation));
    return static_cast<int>(points) + 1;
}

[[noreturn]] void no_plan(std::string_view key, std::string_view wanted) {
    throw LineFault{0, fmt::format("no plan as \"patchwright plan --stream\" writes it: \"{}\" {}", key, wanted)};
}

/// A value by its keys; the fault names them all.
const Json& value(const Json& json, std::initializer_list<const char*> path) {
    const Json* at = &json;
    std::string name;
    for (const char* key : path) {
        name += (name.empty() ? "" : ".") + std::string{key};
        const auto found = at->is_object() ? at->find(key) : at->end();
        if (!at->is_object() || found == at->end()) no_plan(name, "is not there");
        at = &*found;
    }
    return *at;
}
std::string text(const Json& json, std::initializer_list<const char*> path) {
    const Json& found = value(json, path);
    if (!found.is_string()) no_plan(*(path.end() - 1), "must be a text");
    return found.get<std::string>();
}
const Json& list(const Json& json, std::initializer_list<const char*> path) {
    const Json& found = value(json, path);
    if (!found.is_array()) no_plan(*(path.end() - 1), "must be a list");
    return found;
}
double chance(const Json& json, std::initializer_list<const char*> path) {
    const Json& found = value(json, path);
    const double number = found.is_number() ? found.get<double>() : -1.0;
    if (!(number >= 0.0 && number <= 1.0)) no_plan(*(path.end() - 1), "must be a number from 0 to 1");
    return number;
}

template <std::size_t N>
std::size_t place_of(std::string_view word, const std::array<std::string_view, N>& words, std::string_view key) {
    const auto found = std::find(words.begin(), words.end(), word);
    if (found == words.end()) no_plan(key, fmt::format("cannot be \"{}\"", word));
    return static_cast<std::size_t>(found - words.begin());
}

Money money(const Json& json, const char* key, const std::string& currency) {
    const auto amount = parse_money(text(json, {"price", key}) + " " + currency);
    if (!amount) no_plan(fmt::format("price.{}", key), amount.error().message);
    return *amount;
}

Planned planned(const Json& json) {
    Planned plan;
    plan.reference = text(json, {"job", "reference"});
    plan.title = text(json, {"job", "title"});
    plan.yard = text(json, {"yard", "name"});
    plan.demonstration = value(json, {"yard", "demonstration"}) == true;
    for (const Json& run : list(json, {"runs"}))
        for (const Json& verdict : list(run, {"verdicts"}))
            ++plan.places[place_of(text(verdict, {"verdict"}), verdict_words(), "verdict")];
    double in_time = 1.0, hard = 1.0;
    for (const Json& patch : list(json, {"patches"})) {
        ++plan.patches;
        in_time *= 1.0 - chance(patch, {"cure", "late_probability"});
        hard *= 1.0 - chance(patch, {"cure", "soft_probability"});
    }
    plan.late = 1.0 - in_time;
    plan.soft = 1.0 - hard;
    plan.too_long = static_cast<int>(list(json, {"not_planned"}).size());
    plan.days = static_cast<int>(list(json, {"schedule", "days"}).size());
    plan.letter = static_cast<Letter>(place_of(text(json, {"letter", "kind"}), letter_words, "letter.kind"));
    const std::string currency = text(json, {"price", "currency"});
    plan.floor = money(json, "floor", currency);
    plan.own = money(json, "own", currency);
    plan.offered = money(json, "offered", currency);
    plan.ceiling = money(json, "ceiling", currency);
    plan.currency = plan.offered.currency();
    return plan;
}

}  // namespace

std::string_view word(Letter letter) { return letter_words[static_cast<std::size_t>(letter)]; }

Line read_line(std::string_view bytes) {
    Json json;
    try {
        json = Json::parse(bytes);
    } catch (const Json::parse_error& error) {
        throw LineFault{column_of(bytes, error.byte > 0 ? error.byte - 1 : 0), "no JSON, or only a part of a line"};
    } catch (const Json::out_of_range&) {
        throw LineFault{0, "a number that is too large"};
    }
    Line line;
    if (json.is_object() && json.contains("error")) {
        line.error = text(json, {"error"});
        const Json& number = value(json, {"line"});
        if (!number.is_number_unsigned()) no_plan("line", "must be a whole number");
        line.line = number.get<std::size_t>();
        return line;
    }
    if (value(json, {"patchwright_plan"}) != 1) no_plan("patchwright_plan", "must be 1");
    line.plan = planned(json);
    return line;
}

}  // namespace patchwright::city
