#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "patchwright/excavation/excavation.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/units/money.hpp"
#include "patchwright/working/working.hpp"

/// What it costs us, what digging costs, and the number in between.
namespace patchwright::price {

enum class LineKind : std::uint8_t {
    labour,
    material,
    plant,
    wear,
    job_specific,
    mobilisation,
    disposal,
    surface,
    subcontract
};
std::string_view word(LineKind k);
struct Line {
    LineKind kind = LineKind::labour;
    std::string words;  ///< "Felt 3 mm, 2 cuts"
    double quantity = 0.0;
    std::string unit;  ///< "h", "m2"
    Money rate{}, amount{};
};

/// What patching needs, gathered by the plan from the other modules.
struct PatchWorks {
    Duration crew_time{};  ///< of the whole team over all days, from the schedule
    int days = 0, visits = 0, patches = 0;
    struct Material {
        std::string words;
        double quantity = 0;
        std::string unit;
        Money rate{}, amount{};
    };
    std::vector<Material> materials;  ///< felt by the cutting plan, kits, film
    std::vector<Material> wear;       ///< packers and bladders
    bool cutter_needed = false, overnight = false;
    std::vector<Money> redo_cost;  ///< of each patch: marginal cost of doing it once more
    std::vector<Money> dig_cost;   ///< of each patch: digging that place instead
};

struct BuildUp {
    std::vector<Line> lines;
    Money direct{}, risk{}, overhead{}, profit{}, net{};  ///< direct + risk + overhead + profit = net, to the cent
    Money tax{}, gross{}, discount{};
    Money p10{}, p50{}, p80{}, p90{};  ///< of net
};
/// What moves the spread, greatest first.
struct Driver {
    std::string words;
    Money low{}, high{};
    double share = 0;
};
struct RiskRun {
    std::array<Money, 4> patch_quantiles, dig_quantiles;  ///< P10 P50 P80 P90 of cost
    double patch_cheaper = 0.0;
    std::vector<Driver> patch_drivers, dig_drivers;
    int trials = 0;
};
struct BreakEven {
    std::string what;
    std::vector<double> at;
    std::string unit;
    std::string words;
};
struct Bracket {
    Money floor{}, ceiling{}, suggested{}, saving{};
    bool bid = true;
    std::string why_floor, why_ceiling, why_suggested;
};

struct Offer {
    BuildUp patch, dig;       ///< same defects, equal scope
    BuildUp unavoidable_dig;  ///< in both sides alike
    std::vector<excavation::Pit> pits;
    Bracket bracket;
    RiskRun risk;
    std::vector<BreakEven> break_even;
    bool estimate_only = false;          ///< certainty below survey
    double band_low = 0, band_high = 0;  ///< of the certainty class, as shares of the price
    std::vector<std::string> warnings;
};

struct Input {
    const job::Job* job = nullptr;
    const job::Yard* yard = nullptr;
    PatchWorks works;
    std::vector<excavation::Place> dig_places;          ///< defects that patches cover
    std::vector<excavation::Place> unavoidable_places;  ///< verdict dig
    std::uint64_t seed = 1;
    int trials = 10000;
};
Offer make_offer(const Input& input, Working& working);

/// Crew hour cost: wage (1 + on-costs) / productive share, times the crew.
MoneyPer<Duration> crew_hour(const job::Rates& rates, Working& working);
/// Marginal cost of one sleeve for the layout: felt, resin, film, crew time, wear and the expected cost of failure.
struct Marginal {
    Area felt{};
    Money felt_money{}, resin_money{}, film_money{}, wear{};
    Duration crew_time{};
    Money reopening{};
    Length length{};
    Length bore{};
};
Money marginal_cost(const Marginal& m, const job::Yard& yard, Working& working);

}  // namespace patchwright::price
