#include "mixes.hpp"

#include <algorithm>
#include <map>
#include <string_view>
#include <utility>

namespace patchwright::plan {
namespace {

/// Names in the order in which they first came up.
class Seen {
public:
    int place_of(std::string_view name) {
        const auto place = std::find(names_.begin(), names_.end(), name);
        const auto found = static_cast<int>(place - names_.begin());
        if (place == names_.end()) names_.push_back(name);
        return found;
    }

private:
    std::vector<std::string_view> names_;
};

resin::Portion portion(const PlanContext& context, const PatchList& patches, std::size_t i, int group) {
    const auto& p = *patches[i];
    const auto& d = context.yard.durations;
    resin::Portion portion;
    portion.patch = static_cast<int>(i);
    portion.mass = p.need.in_sleeve();
    portion.wet_out = p.conditions.wet_out;
    portion.pour = poured_share * p.conditions.wet_out;
    portion.to_inflated = d.load.likely + d.position.likely + d.inflate.likely;
    portion.crease = d.crease.likely;
    portion.inflate_by = p.cure.sheet.inflate_by;
    portion.crease_by = p.cure.sheet.crease_by;
    portion.group = group;
    portion.packer_count = p.option.packer.count;
    return portion;
}

/// Everything that the mixes of one resin follow from.
Numbers key_of(int resin, const std::vector<resin::Portion>& portions, const PatchList& patches) {
    Numbers key;
    key.reserve(1 + 16 * portions.size());
    key.push_back(static_cast<double>(resin));
    for (const auto& p : portions) {
        const auto& cure = patches[static_cast<std::size_t>(p.patch)]->cure;
        key.push_back(patches[static_cast<std::size_t>(p.patch)]->conditions.resin->in_kelvin());
        key.insert(key.end(), {cure.shaping.likely.si(), cure.shaping.log_sd, cure.gel.likely.si(), cure.gel.log_sd});
        key.insert(key.end(),
                   {static_cast<double>(p.patch), p.mass.si(), p.wet_out.si(), p.pour.si(), p.to_inflated.si(),
                    p.crease.si(), p.inflate_by.si(), p.crease_by.si(), static_cast<double>(p.group),
                    static_cast<double>(p.packer), static_cast<double>(p.packer_count)});
    }
    return key;
}

const resin::BatchPlan& batches_of(PlanContext& context, int resin, const std::vector<resin::Portion>& portions,
                                   const PatchList& patches) {
    // The air is as warm at one sleeve of a site as at the other; the resin is as warm as its group's.
    const auto& conditions = patches[static_cast<std::size_t>(portions.front().patch)]->conditions;
    auto key = key_of(resin, portions, patches);
    auto place = context.batches.find(key);
    if (place == context.batches.end()) {
        const auto pour_by = [&](Mass mass, int group) {
            const auto first = std::find_if(portions.begin(), portions.end(),
                                            [&](const resin::Portion& p) { return p.group == group; });
            const auto at = *patches[static_cast<std::size_t>(first->patch)]->conditions.resin;
            return context.cures().pour_by(resin, mass, at, std::max(*conditions.air, *conditions.van));
        };
        const auto late = [&](const std::vector<int>& order, std::size_t which) {
            return late_in_mix(context.yard.limits, patches, order, which);
        };
        Working working = Working::off();
        place = context.batches
                    .emplace(std::move(key), resin::plan_batches(context.yard.resins[static_cast<std::size_t>(resin)],
                                                                 portions, pour_by, context.yard.limits, working, late))
                    .first;
    }
    return place->second;
}

}  // namespace

double late_in_mix(const job::Limits& limits, const PatchList& patches, const std::vector<int>& order,
                   std::size_t which) {
    std::vector<cure::SleeveTasks> tasks;
    for (const int p : order) tasks.push_back(patches[static_cast<std::size_t>(p)]->tasks);
    const auto& self = *patches[static_cast<std::size_t>(order[which])];
    return cure::late_probability(cure::hands_in_mix(tasks, which, limits), self.cure);
}

Mixes plan_mixes(PlanContext& context, const PatchList& patches, const std::vector<int>& groups) {
    std::map<int, std::vector<resin::Portion>> by_resin;
    Seen packer_kinds;
    for (std::size_t i = 0; i < patches.size(); ++i) {
        auto p = portion(context, patches, i, groups[i]);
        p.packer = packer_kinds.place_of(patches[i]->option.packer.id);
        auto& portions = by_resin[patches[i]->resin];
        if (portions.empty()) portions.reserve(patches.size());
        portions.push_back(p);
    }
    Mixes result;
    result.mixes.reserve(patches.size());
    for (auto& [index, portions] : by_resin) {
        const auto& resin = context.yard.resins[static_cast<std::size_t>(index)];
        const auto& plan = batches_of(context, index, portions, patches);
        for (auto batch : plan.batches) {
            // A sleeve that has a pot of its own must leave it in time to be inflated, whatever the pot allows.
            if (batch.patches.size() == 1) {
                const auto& patch = *patches[static_cast<std::size_t>(batch.patches.front())];
                batch.pour_by = std::min(batch.pour_by, patch.cure.sheet.pour_by);
            }
            result.mixes.push_back({std::move(batch), index});
        }
        for (const auto& kit : plan.kits_to_buy) result.kits_to_buy.push_back({resin.id, kit});
        result.opened.push_back({index, plan.kits, plan.purchase});
        result.purchase += plan.purchase;
        result.warnings.insert(result.warnings.end(), plan.warnings.begin(), plan.warnings.end());
    }
    return result;
}

}  // namespace patchwright::plan
