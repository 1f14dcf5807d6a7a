#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>

#include "support/plan_rules.hpp"

namespace patchwright::test {
namespace {

/// Every key that docs/plan-json.md promises, by its path: [] steps into each member of a list.
constexpr std::string_view promised[] = {
    "patchwright_plan",
    "job.reference",
    "job.title",
    "yard.name",
    "yard.demonstration",
    "runs[].id",
    "runs[].verdicts[].defect",
    "runs[].verdicts[].verdict",
    "runs[].verdicts[].reasons",
    "runs[].fittings[].id",
    "runs[].fittings[].kind",
    "runs[].fittings[].at_m",
    "patches[].id",
    "patches[].run",
    "patches[].defects",
    "patches[].start_m",
    "patches[].end_m",
    "patches[].bore_mm",
    "patches[].liner.design_thickness_mm",
    "patches[].liner.governing",
    "patches[].liner.felt",
    "patches[].liner.layers",
    "patches[].liner.installed_thickness_mm",
    "patches[].liner.cut_length_mm",
    "patches[].liner.cut_width_mm",
    "patches[].packer.id",
    "patches[].packer.material",
    "patches[].packer.method",
    "patches[].packer.from",
    "patches[].packer.mark_m",
    "patches[].packer.tests.bench_pressure_bar",
    "patches[].packer.tests.hold_min",
    "patches[].pressure.outside_bar",
    "patches[].pressure.minimum_bar",
    "patches[].pressure.set_bar",
    "patches[].pressure.maximum_bar",
    "patches[].pressure.stored_energy_j",
    "patches[].resin.id",
    "patches[].resin.total_g",
    "patches[].resin.part_a_g",
    "patches[].resin.part_b_g",
    "patches[].resin.roller_gap_mm",
    "patches[].cure.pipe_temperature_c",
    "patches[].cure.resin_temperature_c",
    "patches[].cure.resin_conditioned",
    "patches[].cure.heating",
    "patches[].cure.pour_by_min",
    "patches[].cure.inflate_by_min",
    "patches[].cure.crease_by_min",
    "patches[].cure.working_time_min",
    "patches[].cure.gel_min",
    "patches[].cure.let_down_min",
    "patches[].cure.late_probability",
    "patches[].cure.soft_probability",
    "patches[].cure.table[].pipe_temperature_c",
    "patches[].cure.table[].let_down_min",
    "patches[].cost",
    "batches[].id",
    "batches[].patches",
    "batches[].resin",
    "batches[].total_g",
    "batches[].part_a_g",
    "batches[].part_b_g",
    "batches[].mix_at",
    "batches[].date",
    "schedule.days[].date",
    "schedule.days[].tasks[].patch",
    "schedule.days[].tasks[].what",
    "schedule.days[].tasks[].start",
    "schedule.days[].tasks[].finish",
    "schedule.days[].finish",
    "schedule.proven_optimal",
    "schedule.bound_min",
    "whole.net",
    "whole.proven_optimal",
    "whole.bound_net",
    "whole.compared",
    "whole.tried_only",
    "layout.cost",
    "layout.proven_optimal",
    "letter.kind",
    "letter.excavations",
    "letter.conditions",
    "price.minimum_charge",
    "price.price_list_beyond",
    "price.drivers.patch",
    "price.drivers.dig",
    "price.currency",
    "price.floor",
    "price.ceiling",
    "price.suggested",
    "price.saving_to_customer",
    "price.patch.direct",
    "price.patch.risk",
    "price.patch.overhead",
    "price.patch.profit",
    "price.patch.net",
    "price.patch.p10",
    "price.patch.p50",
    "price.patch.p80",
    "price.patch.p90",
    "price.dig.direct",
    "price.dig.risk",
    "price.dig.overhead",
    "price.dig.profit",
    "price.dig.net",
    "price.dig.p10",
    "price.dig.p50",
    "price.dig.p80",
    "price.dig.p90",
    "assumptions",
    "warnings",
    "cautions",
};

bool has(const nlohmann::json& node, std::string_view path) {
    if (path.empty()) return true;
    if (path.starts_with("[]")) {
        if (!node.is_array()) return false;
        path.remove_prefix(std::min<std::size_t>(3, path.size()));
        for (const auto& member : node) {
            if (!has(member, path)) return false;
        }
        return true;
    }
    const auto stop = std::min(path.find_first_of(".["), path.size());
    const std::string key{path.substr(0, stop)};
    if (!node.is_object() || !node.contains(key)) return false;
    path.remove_prefix(stop);
    if (path.starts_with(".")) path.remove_prefix(1);
    return has(node.at(key), path);
}

bool is_decimal(const std::string& text) {
    const auto from = text.starts_with("-") ? 1U : 0U;
    const auto point = text.find('.');
    if (point == std::string::npos || point == from || text.size() != point + 3) return false;
    return text.find_first_not_of("0123456789", from) == point &&
           text.find_first_not_of("0123456789", point + 1) == std::string::npos;
}

/// Text that is no number although it should be one: "nan mm", "-inf".
bool no_number(const std::string& text) {
    for (const std::string_view word : {"nan", "inf"}) {
        const auto body = std::string_view{text}.substr(text.starts_with("-") ? 1 : 0);
        if (body == word || body.starts_with(std::string{word} + " ")) return true;
    }
    return false;
}

void walk(const nlohmann::json& node, const std::string& path, std::vector<std::string>& faults) {
    // Only a task of no patch and a cure without heating may be null: a NaN would be written as null.
    if (node.is_null() && !path.ends_with("].patch") && !path.ends_with(".cure.heating"))
        faults.push_back(path + " is null");
    if (node.is_string() && no_number(node.get_ref<const std::string&>())) faults.push_back(path + " is no number");
    if (node.is_array()) {
        for (std::size_t i = 0; i < node.size(); ++i) walk(node[i], fmt::format("{}[{}]", path, i), faults);
    }
    if (!node.is_object()) return;
    for (const auto& [key, value] : node.items()) {
        const auto place = path + "." + key;
        const bool unit_key = key.ends_with("_mm") || key.ends_with("_m") || key.ends_with("_g") ||
                              key.ends_with("_bar") || key.ends_with("_min") || key.ends_with("_c") ||
                              key.ends_with("_j");
        if (unit_key && !path.ends_with(".shown") && !value.is_number()) faults.push_back(place + " is no number");
        walk(value, place, faults);
    }
}

}  // namespace

std::vector<std::string> broken_json(const std::string& text) {
    std::vector<std::string> faults;
    const nlohmann::json json = nlohmann::json::parse(text, nullptr, false);
    if (json.is_discarded()) return {"not JSON"};
    for (const auto path : promised) {
        if (!has(json, path)) faults.push_back(fmt::format("key {} is missing", path));
    }
    walk(json, "", faults);
    for (const char* side : {"patch", "dig"}) {
        for (const char* layer : {"direct", "risk", "overhead", "profit", "net", "p10", "p50", "p80", "p90"}) {
            const auto& amount = json["price"][side][layer];
            if (!amount.is_string() || !is_decimal(amount))
                faults.push_back(fmt::format("price.{}.{} has not two places", side, layer));
        }
    }
    return faults;
}

}  // namespace patchwright::test
