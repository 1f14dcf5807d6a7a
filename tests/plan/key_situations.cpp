#include "key_situations.hpp"

#include <algorithm>

#include "support/project_file.hpp"

namespace patchwright::test {

using nlohmann::json;

json without_help(json value) {
    if (value.is_object())
        for (auto it = value.begin(); it != value.end();)
            it = it.key().starts_with("_help") ? value.erase(it) : std::next(it);
    if (value.is_structured())
        for (auto& child : value) child = without_help(child);
    return value;
}

namespace {

/// One run with one place on it, in the demonstration yard, to be changed.
struct Ground {
    json job, run, yard;
    Ground() : yard(without_help(json::parse(project_file("data/yard.json")))) {
        job = {{"patchwright_job", 1},
               {"reference", "K-1"},
               {"dig", {{"surface", "concrete"}, {"soil", "B"}}},
               {"site", {{"start", "06:00"}, {"finish", "20:00"}, {"travel", "10 min"}, {"air_temperature", "12 C"}}}};
        run = {{"id", "A"},
               {"from", "MH1"},
               {"to", "MH2"},
               {"length", "30 m"},
               {"bore", "100 mm"},
               {"material", "clay"},
               {"depth", "1.4 m"},
               {"ground_temperature", "10 C"},
               {"access", {"MH1", "MH2"}},
               {"traffic", "none"}};
        run["defects"] = json::array({{{"id", "A1"}, {"at", "9.90 m"}, {"kind", "fissure"}, {"size", "2 mm"}}});
    }
    Case named(const std::string& name) const {
        json whole = job;
        whole["runs"] = json::array({run});
        return {name, std::move(whole), yard};
    }
};

/// What is in the drain and how the packer gets there.
void add_drains(std::vector<Situation>& list) {
    Ground branch;  // the place is at a branch that carries flow
    branch.run["fittings"] = json::array({{{"id", "kitchen"},
                                           {"at", "10 m"},
                                           {"kind", "junction"},
                                           {"bore", "100 mm"},
                                           {"clock", "2"},
                                           {"live", true}}});
    list.push_back({branch.named("branch"),
                    {"job: runs[].reopening_allowed", "job: runs[].fittings[].id", "job: runs[].fittings[].clock",
                     "job: runs[].fittings[].remark"}});
    Ground wet;
    wet.run["defects"][0]["inflow"] = "dripping";
    list.push_back({wet.named("wet"), {"yard: resins[].tolerates_damp", "job: runs[].defects[].code"}});
    Ground built;  // no packer stands ready, and there is a bend on the way
    for (auto& packer : built.yard["packers"]) packer["count"] = 0;
    built.run["access"] = {"MH1"};
    built.run["fittings"] = json::array({{{"at", "6 m"}, {"kind", "bend"}, {"angle", "45 deg"}, {"radius", "150 mm"}}});
    list.push_back({built.named("built"), {"yard: chassis[].id", "yard: chassis[].diameter", "yard: bladders[].id"}});
}

/// Felts and resins that the demonstration does without.
void add_materials(std::vector<Situation>& list) {
    Ground tube;
    std::erase_if(tube.yard["felts"].get_ref<json::array_t&>(),
                  [](const json& felt) { return felt["id"] != "tube-100"; });
    list.push_back({tube.named("tube"),
                    {"yard: felts[].form", "yard: felts[].flat_width", "yard: felts[].tube_bore_min",
                     "yard: felts[].tube_bore_max"}});
    Ground rolls;  // nothing in stock: felt comes off new rolls
    for (auto& felt : rolls.yard["felts"]) felt["stock"] = json::array();
    list.push_back({rolls.named("rolls"), {"yard: felts[].roll_width"}});
    Ground cold;
    cold.job["site"]["resin_temperature"] = "3 C";
    list.push_back({cold.named("cold"), {"yard: conditioning.to"}});
    Ground thick;  // a wall that heats itself
    thick.job["site"]["air_temperature"] = "24 C";
    thick.run["ground_temperature"] = "22 C";
    thick.run["bore"] = "200 mm";
    thick.yard["limits"]["least_thickness"] = "6 mm";
    list.push_back({thick.named("thick"), {"yard: resins[].highest_safe", "yard: resins[].source"}});
}

/// Digs, and prices that not every job has.
void add_digs_and_prices(std::vector<Situation>& list) {
    Ground deep;
    deep.run["defects"][0] = {{"id", "A1"}, {"at", "9.90 m"}, {"to", "16 m"}, {"kind", "collapse"}};
    deep.run["depth"] = "6.5 m";
    deep.run["material"] = "asbestos cement";
    deep.run["traffic"] = "highway";
    deep.job["dig"]["surface"] = "grass";
    list.push_back({deep.named("deep"),
                    {"yard: dig_rates.asbestos_surcharge", "yard: dig_rates.engineer_design",
                     "yard: dig_rates.outputs[].days_soft", "yard: dig_rates.outputs[].metres_soft",
                     "yard: dig_rates.soils[].compacted_factor", "yard: dig_rates.traffic_management_per_day"}});
    Ground paved;
    paved.run["defects"][0] = {{"id", "A1"}, {"at", "9.90 m"}, {"kind", "collapse"}};
    list.push_back({paved.named("paved"), {"yard: dig_rates.soils[].loose_factor"}});
    Ground extras;
    extras.job["extras"] = json::array({{{"words", "Root cutting"}, {"quantity", 2}, {"rate", "90.00 EUR"}},
                                        {{"words", "Access chamber raised"}, {"quantity", 1}}});
    list.push_back({extras.named("extras"),
                    {"yard: price_list.extras", "yard: price_list.extras[].words", "yard: price_list.extras[].unit",
                     "yard: price_list.extras[].rate", "yard: price_list.extras[].cost"}});
    Ground call;
    call.job["certainty"] = "call";
    list.push_back({call.named("call"), {"yard: rates.survey_price"}});
    Ground night;  // no day holds the cure
    night.run["resin"] = "standard";
    night.job["site"]["finish"] = "13:00";
    night.yard["limits"]["overnight_cure"] = true;
    for (auto& heater : night.yard["heaters"]) heater["count"] = 0;
    list.push_back({night.named("night"), {"yard: rates.premium_overnight"}});
    Ground helper;  // whoever cures is watched, and there are two of them
    helper.run["defects"].push_back({{"id", "A2"}, {"at", "17 m"}, {"kind", "fissure"}, {"size", "2 mm"}});
    helper.yard["limits"]["alarm_gauge"] = false;
    helper.yard["limits"]["watcher_may_work"] = false;
    helper.yard["limits"]["helpers"] = 1;
    helper.yard["rates"]["helper_per_day"] = "20.00 EUR";
    list.push_back({helper.named("helper"), {"yard: rates.helper_per_day"}});
}

}  // namespace

const std::vector<Situation>& situations() {
    static const std::vector<Situation> list = [] {
        std::vector<Situation> all;
        add_drains(all);
        add_materials(all);
        add_digs_and_prices(all);
        return all;
    }();
    return list;
}

}  // namespace patchwright::test
