// The jobs alone, without the test library: the fuzz targets use them too.
#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "support/dice.hpp"
#include "support/jobs.hpp"

namespace patchwright::test {
namespace {

using Json = nlohmann::ordered_json;

std::string metres(int centimetres) { return fmt::format("{}.{:02} m", centimetres / 100, centimetres % 100); }

Json random_fitting(Dice& dice, int length, int bore) {
    Json fitting;
    fitting["at"] = metres(dice.between(50, length - 50));
    if (dice.chance(50)) {
        constexpr int angles[] = {15, 30, 45, 45, 67, 90};
        fitting["kind"] = "bend";
        fitting["angle"] = fmt::format("{} deg", dice.one_of(angles));
        if (dice.chance(70)) fitting["radius"] = fmt::format("{} mm", bore * dice.between(10, 30) / 10);
    } else {
        fitting["kind"] = "junction";
        fitting["bore"] = fmt::format("{} mm", dice.chance(50) ? bore : 75);
        fitting["clock"] = std::to_string(dice.between(1, 12));
        if (dice.chance(70)) fitting["live"] = dice.chance(70);
    }
    return fitting;
}

Json random_defect(Dice& dice, int number, int length) {
    struct Kind {
        const char* word;
        bool percent;
        int most;  ///< mm or percent
    };
    constexpr Kind kinds[] = {
        {"fissure", false, 6},
        {"fissure", false, 6},
        {"break", false, 40},
        {"collapse", false, 60},
        {"deformation", true, 14},
        {"surface damage", false, 4},
        {"displaced joint", false, 14},
        {"displaced joint", false, 14},
        {"defective connection", false, 20},
        {"intruding connection", false, 20},
        {"root intrusion", true, 30},
        {"attached deposit", true, 20},
        {"infiltration", false, 0},
        {"exfiltration", false, 0},
        {"missing wall", false, 40},
    };
    constexpr const char* inflows[] = {"none", "sweating", "dripping", "running", "gushing"};
    const Kind& kind = dice.one_of(kinds);
    Json defect;
    defect["id"] = fmt::format("D{}", number);
    const int at = dice.between(0, length);
    defect["at"] = metres(at);
    if (dice.chance(50)) defect["to"] = metres(std::min(length, at + dice.between(0, 120)));
    defect["kind"] = kind.word;
    if (dice.chance(50)) defect["clock"] = fmt::format("{}-{}", dice.between(1, 12), dice.between(1, 12));
    if (kind.most > 0 && dice.chance(85)) {
        defect["size"] = fmt::format("{} {}", dice.between(1, kind.most), kind.percent ? "%" : "mm");
    }
    if (dice.chance(25)) defect["inflow"] = dice.one_of(inflows);
    if (dice.chance(40)) defect["surrounding_sound"] = dice.chance(70);
    return defect;
}

Json random_run(Dice& dice, int number) {
    constexpr int bores[] = {99, 100, 100, 102, 150, 150, 148, 75, 70, 125, 225};
    constexpr const char* materials[] = {"clay",        "concrete", "cast iron", "PVC-U", "asbestos cement",
                                         "pitch fibre", "other"};
    constexpr const char* resins[] = {"fast", "standard", "slow"};
    const int bore = dice.one_of(bores);
    const int length = dice.between(250, 3500);
    const int depth = dice.between(60, 280);
    Json run;
    run["id"] = fmt::format("R{}", number);
    run["from"] = "up";
    run["to"] = "down";
    run["length"] = metres(length);
    run["bore"] = fmt::format("{} mm", bore);
    if (dice.chance(20)) run["measured_bore"] = fmt::format("{} mm", bore - 1);
    run["material"] = dice.one_of(materials);
    if (dice.chance(15)) run["condition"] = "fully deteriorated";
    if (dice.chance(50)) run["ovality"] = fmt::format("{} %", dice.between(0, 8));
    run["depth"] = metres(depth);
    if (dice.chance(40)) run["water_table"] = metres(dice.between(10, depth + 40));
    run["ground_temperature"] = fmt::format("{} C", dice.between(3, 24));
    const int access = dice.between(0, 9);
    run["access"] = access == 0  ? Json::array()
                    : access < 4 ? Json{"up"}
                    : access < 6 ? Json{"down"}
                                 : Json{"up", "down"};
    if (dice.chance(25)) run["joint_spacing"] = metres(dice.between(60, 300));
    if (dice.chance(30)) run["reopening_allowed"] = true;
    if (dice.chance(15)) run["resin"] = dice.one_of(resins);
    if (dice.chance(40)) {
        run["flow"] = {{"inflow", fmt::format("0.0{} l/s", dice.between(0, 9))},
                       {"storage", fmt::format("{} l", dice.between(0, 400))}};
    }
    run["fittings"] = Json::array();
    for (int n = dice.between(0, 2); n > 0; --n) run["fittings"].push_back(random_fitting(dice, length, bore));
    run["defects"] = Json::array();
    const int defects = dice.between(0, 4);
    for (int n = 1; n <= defects; ++n) run["defects"].push_back(random_defect(dice, n, length));
    return run;
}

}  // namespace

nlohmann::ordered_json random_job(Dice& dice, const std::string& reference) {
    constexpr const char* surfaces[] = {"grass", "block", "asphalt", "concrete"};
    constexpr const char* soils[] = {"A", "B", "C", "rock"};
    constexpr const char* certainties[] = {"call", "photo", "survey"};
    Json job;
    job["patchwright_job"] = 1;
    job["reference"] = reference;
    if (dice.chance(50)) job["title"] = "Invented for a test";
    if (dice.chance(60)) job["date"] = "2026-02-27";
    job["units"] = dice.chance(30) ? "us" : "metric";
    job["certainty"] = dice.one_of(certainties);
    job["site"] = {{"start", "07:30"},
                   {"finish", dice.chance(80) ? "17:00" : "13:00"},
                   {"air_temperature", fmt::format("{} C", dice.between(4, 28))}};
    if (dice.chance(50)) job["site"]["travel"] = fmt::format("{} min", dice.between(5, 90));
    job["runs"] = Json::array();
    const int runs = dice.between(1, 3);
    for (int n = 1; n <= runs; ++n) job["runs"].push_back(random_run(dice, n));
    job["dig"] = {{"surface", dice.one_of(surfaces)},
                  {"soil", dice.one_of(soils)},
                  {"hand_dig_only", dice.chance(20)},
                  {"services_near", dice.chance(30)}};
    return job;
}

nlohmann::ordered_json random_job(std::uint32_t seed) {
    Dice dice{seed};
    return random_job(dice, fmt::format("T-{}", seed));
}

std::string line(const nlohmann::ordered_json& job) { return job.dump(); }

nlohmann::ordered_json long_run(int defects) {
    Json job;
    job["patchwright_job"] = 1;
    job["reference"] = "long run";
    Json run{{"id", "L"},
             {"from", "up"},
             {"to", "down"},
             {"length", metres(90 * defects + 400)},
             {"bore", "150 mm"},
             {"material", "clay"},
             {"depth", "1.50 m"},
             {"ground_temperature", "10 C"},
             {"access", {"up", "down"}}};
    for (int n = 1; n <= defects; ++n) {
        run["defects"].push_back(
            {{"id", fmt::format("D{}", n)}, {"at", metres(90 * n)}, {"kind", "fissure"}, {"size", "3 mm"}});
    }
    job["runs"].push_back(std::move(run));
    return job;
}

}  // namespace patchwright::test
