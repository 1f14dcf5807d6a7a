#include "patchwright/packer/options.hpp"

#include <algorithm>

#include "hair.hpp"
#include "patchwright/job/yard.hpp"

namespace patchwright::packer {
namespace {

/// Deflated, on its way. Soft bladders are taken at their round diameter. Calibration hose hardly stretches, so it is
/// folded: its own material's section, pi d w a layer, packed to half: sqrt(8 d w layers).
Length deflated_diameter(const job::Bladder& bladder) {
    if (bladder.material != job::BladderMaterial::pvc_hose) return bladder.diameter;
    return sqrt(8.0 * bladder_layers(bladder) * (bladder.diameter * bladder.wall));
}

bool can_be_clamped(const job::Chassis& chassis, const job::Bladder& bladder) {
    return bladder.diameter * bladder.stretch >= chassis.diameter;
}

Option built_from(const job::Yard& yard, int chassis_place, int bladder_place) {
    const job::Chassis& chassis = yard.chassis[static_cast<std::size_t>(chassis_place)];
    const job::Bladder& bladder = yard.bladders[static_cast<std::size_t>(bladder_place)];
    const job::Limits& limits = yard.limits;
    const int layers = bladder_layers(bladder);

    Option option;
    option.to_build = true;
    option.chassis = chassis_place;
    option.bladder = bladder_place;
    job::Packer& packer = option.packer;
    packer.id = chassis.id + " + " + bladder.id;
    packer.shape = job::PackerShape::straight;
    packer.material = bladder.material;
    packer.rigid_length = chassis.fitting_length;
    packer.rigid_diameter = chassis.diameter + 2.0 * layers * bladder.wall;
    packer.travelling_diameter = std::max(deflated_diameter(bladder), packer.rigid_diameter);
    packer.bore_min = std::max(chassis.bore_min, packer.travelling_diameter / limits.travel_share);
    packer.bore_max = std::min(chassis.bore_max, bladder.diameter * bladder.stretch);
    packer.projection = limits.bladder_projection;
    packer.usable_min = 2.0 * limits.overlap;
    packer.usable_max = bladder.roll_length / layers - 2.0 * (limits.bladder_projection + limits.bladder_fold_over);
    if (limits.longest_sleeve > Length{}) packer.usable_max = std::min(packer.usable_max, limits.longest_sleeve);
    packer.overall_length = packer.usable_max + 2.0 * (packer.projection + chassis.fitting_length);
    packer.fill_pressure = bladder.fill_pressure;
    packer.rated_pressure = bladder.rated_pressure;
    packer.hose_length = limits.air_hose_length;
    packer.hose_bore = limits.air_hose_bore;
    packer.count = chassis.count;
    packer.price = chassis.price;
    packer.expected_uses = chassis.expected_uses;
    return option;
}

Length longest_tail(const job::Packer& packer) {
    return std::max(packer.projection, (packer.overall_length - packer.usable_max) / 2.0);
}

Money per_use(Money price, int expected_uses) { return scaled(price, 1.0 / std::max(expected_uses, 1)); }

}  // namespace

int bladder_layers(const job::Bladder& bladder) {
    return bladder.doubled || bladder.material == job::BladderMaterial::pvc_hose ? 2 : 1;
}

std::vector<Option> options(const job::Yard& yard) {
    std::vector<Option> all;
    for (const job::Packer& packer : yard.packers) {
        if (packer.count > 0) all.push_back({packer, false, -1, -1});
    }
    for (std::size_t c = 0; c < yard.chassis.size(); ++c) {
        for (std::size_t b = 0; b < yard.bladders.size(); ++b) {
            if (yard.chassis[c].count <= 0 || !can_be_clamped(yard.chassis[c], yard.bladders[b])) continue;
            Option option = built_from(yard, static_cast<int>(c), static_cast<int>(b));
            const job::Packer& packer = option.packer;
            if (packer.bore_min <= packer.bore_max && packer.usable_min <= packer.usable_max) {
                all.push_back(std::move(option));
            }
        }
    }
    return all;
}

Length tail(const Option& option, Length sleeve) {
    const job::Packer& packer = option.packer;
    if (option.to_build) return packer.projection + packer.rigid_length;
    return std::max(packer.projection, (packer.overall_length - sleeve) / 2.0);
}

Length overall_length(const Option& option, Length sleeve) { return sleeve + 2.0 * tail(option, sleeve); }

bool felt_over_rigid(const job::Packer& packer) { return packer.rigid_length > longest_tail(packer); }

Length min_bore(const job::Packer& packer, Length felt, const job::Limits& limits) {
    const Length rigid = packer.rigid_diameter + (felt_over_rigid(packer) ? 2.0 * felt : Length{});
    return std::max(rigid, (packer.travelling_diameter + 2.0 * felt) / limits.travel_share);
}

std::string unfit(const Option& option, const job::Limits& limits, Length bore, Length sleeve, Length felt) {
    const job::Packer& packer = option.packer;
    if (bore < packer.bore_min - hair) return "The bore is below the packer's range.";
    if (bore > packer.bore_max + hair) return "The bore is above the packer's range.";
    if (sleeve < packer.usable_min - hair) return "The sleeve is shorter than the packer carries.";
    if (sleeve > packer.usable_max + hair) return "The sleeve is longer than the packer carries.";
    if (min_bore(packer, felt, limits) > bore + hair) {
        return "With its wet sleeve the packer is too thick to be moved through the bore.";
    }
    return {};
}

Money wear(const job::Yard& yard, const Option& option, Length sleeve) {
    const Money fittings = per_use(option.packer.price, option.packer.expected_uses);
    if (!option.to_build) return fittings;
    const job::Bladder& bladder = yard.bladders.at(static_cast<std::size_t>(option.bladder));
    const Length cut = sleeve + 2.0 * (yard.limits.bladder_projection + yard.limits.bladder_fold_over);
    return fittings + per_use(cost(bladder.price, bladder_layers(bladder) * cut), bladder.expected_uses);
}

}  // namespace patchwright::packer
