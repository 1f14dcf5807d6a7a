#pragma once
#include <optional>

#include "patchwright/job/spread.hpp"
#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"

/// What a team and its plant cost, and how a price is made of it. Usual figures: data/yard.json alone, as for limits.
namespace patchwright::job {

struct Rates {
    Currency currency;
    int crew_size{};
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
    bool profit_is_margin{};
    Money minimum_charge{};
    Money round_to{};
    Share discount;
    Share tax;
    std::optional<Share> tax_materials;  ///< on the material part of the price; none: as `tax`
    bool tax_registered{};
    Share suggested_share;  ///< of the way from floor to ceiling
    Money survey_price{};
    Spread<double> labour_spread, material_spread, plant_spread;  ///< factors round 1
    Share shared_causes;  ///< rank correlation of tasks that share a cause (ground, access, water)
    int validity_days{};
    Money premium_overnight{};
    Share overtime_premium;  ///< on the wage, for minutes past the finish
    Money helper_per_day{};  ///< one more person for a day; zero: none is hired
};

}  // namespace patchwright::job
