#include "job_cost.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "patchwright/packer/packer.hpp"
#include "patchwright/price/price.hpp"

namespace patchwright::plan {
namespace {

double cents(Money money) { return static_cast<double>(money.in_cents()); }

/// Mean of a triangular factor; 1 where the yard gives none.
double mean(const job::Spread<double>& factor) {
    return factor.likely > 0.0 ? (factor.low + factor.likely + factor.high) / 3.0 : 1.0;
}

double mean_cents(const job::Spread<Money>& money) {
    return (cents(money.low) + cents(money.likely) + cents(money.high)) / 3.0;
}

}  // namespace

Money felt_money(const job::Yard& yard, const Patch& patch) {
    const auto& felt = yard.felts[static_cast<std::size_t>(patch.felt.felt)];
    const Money list = cost(felt.price, patch.cut.felt_area);
    return list + share_of(list, yard.rates.felt_waste);
}

Money resin_money(const job::Resin& resin, Mass mass) {
    std::optional<Money> best;
    for (const auto& kit : resin.kits) {
        const double kits = kit.splittable ? mass / kit.mass : std::ceil(mass / kit.mass - 1e-9);
        const Money money = scaled(kit.price, kits);
        if (!best || money < *best) best = money;
    }
    return best.value_or(Money{});
}

Money conditioning_money(const job::Yard& yard, const Patch& patch) {
    return patch.conditioned ? yard.conditioning.cost_per_patch : Money{};
}

Money film_money(const job::Yard& yard, const Patch& patch) {
    const auto& resin = yard.resins[static_cast<std::size_t>(patch.resin)];
    if (packer::contact(patch.option.packer.material, resin.kind) != packer::Contact::film_needed) return {};
    return cost(yard.rates.film, packer::overall_length(patch.option, patch.length()));
}

Duration yard_time(const job::Yard& yard, const Patch& patch) {
    if (!yard.limits.prepare_in_yard) return {};  // done on site, on the day's clock
    const auto& d = yard.durations;
    const Duration alone = d.cut.likely + (patch.option.to_build ? d.build.likely : Duration{}) +
                           std::max(d.bench_test.likely, yard.limits.bench_hold);
    return alone / std::max(1, yard.rates.crew_size);
}

JobCost::JobCost(const job::Yard& yard)
    : yard_{yard},
      labour_{mean(yard.rates.labour_spread)},
      material_{mean(yard.rates.material_spread)},
      plant_{mean(yard.rates.plant_spread)} {
    Working off = Working::off();
    const auto& rates = yard.rates;
    team_minute_ = cents(cost(price::crew_hour(rates, off), 1000.0 * unit::minute)) / 1000.0;
    if (!rates.tax_registered) bought_ = 1.0 + rates.tax.as_double();
}

double JobCost::sleeve(const Patch& patch) const {
    const auto& rates = yard_.rates;
    const auto& resin = yard_.resins[static_cast<std::size_t>(patch.resin)];
    const double materials = cents(felt_money(yard_, patch)) + cents(resin_money(resin, patch.need.total)) +
                             cents(conditioning_money(yard_, patch)) + cents(film_money(yard_, patch)) +
                             cents(rates.consumables_per_patch);
    double sum = materials * (material_ + bought_ - 1.0);
    sum += cents(packer::wear(yard_, patch.option, patch.length())) * bought_;
    sum += yard_time(yard_, patch).in(unit::minute)*team_minute_ * labour_;
    for (const auto& risk : yard_.risks) {
        if (risk.of_dig) continue;
        double then = 0.0;
        if (risk.consequence == job::Risk::Consequence::redo) {
            const double dug = risk.then_dig.as_double();
            then = (1.0 - dug) * cents(patch.redo) + dug * cents(patch.dig_instead);
        } else if (risk.consequence == job::Risk::Consequence::dig) {
            then = cents(patch.dig_instead);
        }
        sum += risk.probability.as_double() * (mean_cents(risk.cost) + then);
    }
    return sum;
}

double JobCost::mix_loss(int resin) const {
    const auto& r = yard_.resins[static_cast<std::size_t>(resin)];
    return cents(resin_money(r, yard_.limits.fixed_loss)) * (material_ + bought_ - 1.0);
}

double JobCost::heaters(const DayHeater& heater) const {
    if (heater.units == 0) return 0.0;
    const auto& kind = yard_.heaters[static_cast<std::size_t>(heater.heater)];
    return static_cast<double>(heater.units) * cents(kind.hire_per_day) * (plant_ + bought_ - 1.0);
}

double JobCost::cheapest_heater() const {
    std::optional<double> least;
    for (int h = 0; h < static_cast<int>(yard_.heaters.size()); ++h)
        least = std::min(least.value_or(heaters({h, 1})), heaters({h, 1}));
    return least.value_or(0.0);
}

double JobCost::day(schedule::Minute minutes, schedule::Minute over, int helpers, bool overnight) const {
    const auto& rates = yard_.rates;
    const double plant = cents(rates.vehicle_per_day) + cents(rates.jetter_per_day) + cents(rates.camera_per_day) +
                         cents(rates.compressor_per_day);
    double sum = static_cast<double>(minutes) * team_minute_ * labour_;
    sum += static_cast<double>(over) * team_minute_ * labour_ * rates.overtime_premium.as_double();
    sum += plant * (plant_ + bought_ - 1.0);
    sum += cents(rates.consumables_per_visit) * (material_ + bought_ - 1.0);
    sum += 2.0 * cents(cost(rates.travel_cost, rates.travel_distance));
    sum += cents(rates.overhead_per_crew_day);
    sum += static_cast<double>(helpers) * cents(rates.helper_per_day) * labour_;
    if (overnight) sum += cents(rates.premium_overnight);
    return sum;
}

}  // namespace patchwright::plan
