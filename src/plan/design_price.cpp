// What a sleeve that is designed costs the layout.
#include <algorithm>
#include <optional>

#include "design.hpp"
#include "patchwright/price/price.hpp"

namespace patchwright::plan {
namespace {

/// Money for a mass of resin at the cheapest kit's price per mass.
Money resin_by_mass(const job::Resin& resin, Mass mass) {
    std::optional<Money> best;
    for (const auto& kit : resin.kits) {
        const Money money = scaled(kit.price, mass / kit.mass);
        if (!best || money < *best) best = money;
    }
    return best.value_or(Money{});
}

}  // namespace

Money dig_instead(const job::Job& job, const job::Yard& yard, int run, Length length) {
    excavation::Place dug;
    dug.run = &job.runs[static_cast<std::size_t>(run)];
    dug.to = std::min(length, dug.run->length);
    return price::dig_instead(dug, job.dig, yard);
}

Money Designer::dig_instead(Length length) {
    const auto place = digs_.find(length.si());
    if (place != digs_.end()) return place->second;
    return digs_.emplace(length.si(), plan::dig_instead(context_.job, context_.yard, run_index_, length)).first->second;
}

void Designer::price(Patch& patch, Working& pricing) {
    const auto& yard = context_.yard;
    const auto& felt = yard.felts[static_cast<std::size_t>(patch.felt.felt)];
    const auto& resin = yard.resins[static_cast<std::size_t>(patch.resin)];
    const auto& rates = yard.rates;
    price::Marginal marginal;
    marginal.felt = patch.cut.felt_area;
    marginal.felt_money = cost(felt.price, patch.cut.felt_area);
    marginal.felt_money += share_of(marginal.felt_money, rates.felt_waste);
    marginal.resin_money = resin_by_mass(resin, patch.need.total);
    if (patch.conditioned) marginal.conditioning = yard.conditioning.cost_per_patch;
    if (packer::contact(patch.option.packer.material, resin.kind) == packer::Contact::film_needed) {
        marginal.film_money = cost(rates.film, packer::overall_length(patch.option, patch.length()));
    }
    marginal.wear = packer::wear(yard, patch.option, patch.length());
    // A cure binds one person of the team unless a gauge with alarm watches it.
    const Duration watched =
        yard.limits.alarm_gauge ? Duration{} : reference_cure(patch) / std::max(1, rates.crew_size);
    marginal.crew_time = hands_on(yard.durations, patch.length(), patch.option.to_build, 0) + watched;
    marginal.length = patch.length();
    marginal.bore = patch.bore;
    marginal.dig_instead = dig_instead(patch.length());
    patch.dig_instead = marginal.dig_instead;
    patch.redo = price::sleeve_cost(marginal, yard, pricing);
    patch.cost = price::marginal_cost(marginal, patch.redo, yard, pricing);
}

}  // namespace patchwright::plan
