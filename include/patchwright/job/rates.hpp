#pragma once
#include <optional>

#include "patchwright/job/spread.hpp"
#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"

/// What a team and its plant cost, and how a price is made of it.
namespace patchwright::job {

struct Rates {
    Currency currency;
    int crew_size = 2;
    MoneyPer<Duration> wage{};   ///< paid, each person
    Share on_costs, productive;  ///< hour cost = wage * (1 + on_costs) / productive
    Money vehicle_per_day{}, jetter_per_day{}, camera_per_day{}, compressor_per_day{}, cutter_per_day{};
    MoneyPer<Length> travel_cost{};
    Length travel_distance{};
    MoneyPer<Length> film{};
    Money consumables_per_patch{}, consumables_per_visit{};
    Share felt_waste;
    Share overhead;                 ///< of direct + risk
    Money overhead_per_crew_day{};  ///< used instead when not zero
    Share profit;
    bool profit_is_margin = false;
    Money minimum_charge{};
    Money round_to{};
    Share discount;
    Share tax;
    std::optional<Share> tax_materials;  ///< on the material part of the price; none: as `tax`
    bool tax_registered = true;
    Share suggested_share;  ///< of the way from floor to ceiling
    Money survey_price{};
    Spread<double> labour_spread, material_spread, plant_spread;  ///< factors round 1
    Share shared_causes;  ///< rank correlation of tasks that share a cause (ground, access, water)
    int validity_days = 30;
    Money premium_overnight{};
};

}  // namespace patchwright::job
