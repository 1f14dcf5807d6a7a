// Job and yard files changed at random: values, and the structure around them.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <iterator>
#include <utility>
#include <vector>

#include "support/dice.hpp"
#include "support/jobs.hpp"

namespace patchwright::test {
namespace {

using Json = nlohmann::ordered_json;

/// Every value of the job that is text, and every object and list that holds something.
void collect(Json& node, std::vector<Json*>& texts, std::vector<Json*>& holders) {
    if (node.is_string()) texts.push_back(&node);
    if (!node.is_structured() || node.empty()) return;
    holders.push_back(&node);
    for (auto& child : node) collect(child, texts, holders);
}

/// The first number in a text times a factor, or another number.
void change_number(Dice& dice, std::string& text) {
    const auto from = text.find_first_of("0123456789");
    if (from == std::string::npos) return;
    const auto to = std::min(text.find_first_not_of("0123456789.", from), text.size());
    constexpr double factors[] = {0.0, 0.01, 0.3, 0.5, 0.9, 1.1, 1.5, 2.0, 5.0, 40.0};
    const double value = std::strtod(text.substr(from, to - from).c_str(), nullptr) * dice.one_of(factors);
    text.replace(from, to - from, fmt::format("{:.2f}", value));
}

void change_once(Dice& dice, Json& job) {
    constexpr const char* words[] = {"clay",
                                     "cast iron",
                                     "PVC-U",
                                     "asbestos cement",
                                     "bend",
                                     "junction",
                                     "fissure",
                                     "break",
                                     "collapse",
                                     "deformation",
                                     "missing wall",
                                     "root intrusion",
                                     "infiltration",
                                     "running",
                                     "grass",
                                     "rock",
                                     "A",
                                     "fully deteriorated",
                                     "us",
                                     "call",
                                     "photo",
                                     "highway",
                                     "aircraft"};
    std::vector<Json*> texts, holders;
    collect(job, texts, holders);
    switch (dice.between(0, 5)) {
        case 0:
        case 1:
        case 2: {
            auto& text = dice.one_of(texts)->get_ref<std::string&>();
            change_number(dice, text);
            break;
        }
        case 3:
            *dice.one_of(texts) = dice.one_of(words);
            break;
        case 4: {
            auto& holder = *dice.one_of(holders);
            auto place = holder.begin();
            std::advance(place, dice.between(0, static_cast<int>(holder.size()) - 1));
            holder.erase(place);
            break;
        }
        default: {
            auto& holder = *dice.one_of(holders);
            if (!holder.is_array()) break;
            Json copy = dice.one_of(holder);
            if (copy.is_object() && copy.contains("id")) copy["id"] = fmt::format("X{}", dice.between(1, 1000));
            holder.push_back(std::move(copy));
        }
    }
}

/// Every node of the file but the root.
void collect_nodes(Json& node, std::vector<Json*>& nodes) {
    if (!node.is_structured()) return;
    for (auto& child : node) {
        nodes.push_back(&child);
        collect_nodes(child, nodes);
    }
}

/// What stands under `key` anywhere in the file.
void collect_under(Json& node, const std::string& key, std::vector<Json*>& nodes) {
    if (!node.is_structured()) return;
    for (auto it = node.begin(); it != node.end(); ++it) {
        if (node.is_object() && it.key() == key) nodes.push_back(&*it);
        collect_under(*it, key, nodes);
    }
}

/// A number times a factor, in text or as it is.
void scale(Dice& dice, Json& value) {
    if (value.is_string()) return change_number(dice, value.get_ref<std::string&>());
    constexpr int factors[] = {-1, 0, 2, 3, 10, 1000};
    if (value.is_number_integer())
        value = value.get<long>() * dice.one_of(factors);
    else if (value.is_number())
        value = value.get<double>() * dice.one_of(factors) / 4.0;
    else if (value.is_boolean())
        value = !value.get<bool>();
}

/// The value of one key takes the place of another's of the same name: of the same kind, in a place that it was not
/// made for.
void exchange(Dice& dice, Json& file, std::vector<Json*>& holders) {
    auto& holder = *dice.one_of(holders);
    if (!holder.is_object()) return std::reverse(holder.begin(), holder.end());
    auto place = holder.begin();
    std::advance(place, dice.between(0, static_cast<int>(holder.size()) - 1));
    std::vector<Json*> same;
    collect_under(file, place.key(), same);
    const Json other = *dice.one_of(same);  // a copy: it may hold the place
    *place = other;
}

void bend_once(Dice& dice, Json& file) {
    std::vector<Json*> texts, holders, nodes;
    collect(file, texts, holders);
    collect_nodes(file, nodes);
    if (nodes.empty() || texts.empty()) return;
    switch (dice.between(0, 9)) {
        case 0:
        case 1:
        case 2:
        case 3:
            return scale(dice, *dice.one_of(nodes));
        case 4:
        case 5:
            return exchange(dice, file, holders);
        case 6: {  // a part where another was, of whatever kind
            const Json other = *dice.one_of(nodes);
            *dice.one_of(nodes) = other;
            return;
        }
        case 7: {
            const Json values[] = {nullptr, true, 0, -1, 1e300, "", "0 mm", Json::array(), Json::object()};
            *dice.one_of(nodes) = dice.one_of(values);
            return;
        }
        default:
            change_once(dice, file);
    }
}

}  // namespace

nlohmann::ordered_json mutated(nlohmann::ordered_json job, Dice& dice, int times) {
    for (int n = times; n > 0; --n) change_once(dice, job);
    return job;
}

nlohmann::ordered_json mutated(nlohmann::ordered_json job, std::uint32_t seed) {
    Dice dice{seed};
    const int times = dice.between(1, 4);
    return mutated(std::move(job), dice, times);
}

nlohmann::ordered_json bent(nlohmann::ordered_json file, Dice& dice, int times) {
    for (int n = times; n > 0; --n) bend_once(dice, file);
    return file;
}

}  // namespace patchwright::test
