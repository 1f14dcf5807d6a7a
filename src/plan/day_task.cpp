#include "day_task.hpp"

#include <algorithm>
#include <bit>
#include <cstdint>
#include <map>
#include <optional>

namespace patchwright::plan {

DayOfPatches with_patches(const DayTask& day, const PatchList& patches) {
    DayOfPatches work;
    work.patches = patches;
    for (const Sleeve* sleeve : day.lying) work.patches.push_back(sleeve->options.front().patch);
    for (const Sleeve* sleeve : day.sleeves) work.overnight.push_back(sleeve->overnight);
    work.lying.assign(day.sleeves.size(), false);
    work.lying.resize(work.patches.size(), true);
    work.overnight.resize(work.patches.size(), false);
    work.prepared = day.prepared;
    return work;
}

namespace {

/// With more sleeves on the day than `few` no more than `max_of_many` are heated: a heater that stays with a sleeve
/// until it is let down gets round to no more.
constexpr std::size_t few = 4;
constexpr int max_of_many = 2;

/// The way with the shortest cure among those with that heater, or with any; nullptr: none.
const Patch* quickest(const Sleeve& sleeve, std::optional<int> heater) {
    const SleeveOption* best = nullptr;
    for (const auto& option : sleeve.options)
        if ((!heater || option.heater == *heater) && (best == nullptr || option.cure < best->cure)) best = &option;
    return best != nullptr ? best->patch : nullptr;
}

bool may_have(const Sleeve& sleeve, int heater) {
    return std::any_of(sleeve.options.begin(), sleeve.options.end(),
                       [&](const SleeveOption& option) { return option.heater == heater; });
}

}  // namespace

bool meets_another(const job::Job& job, const DayTask& day, int run, std::string_view access) {
    const auto meets = [&](const Sleeve* sleeve) {
        const auto& other = job.runs[static_cast<std::size_t>(sleeve->run)];
        return sleeve->run != run && (other.from == access || other.to == access);
    };
    return std::any_of(day.sleeves.begin(), day.sleeves.end(), meets) ||
           std::any_of(day.lying.begin(), day.lying.end(), meets);
}

namespace {

/// Sleeves of the day that may take packers of these kinds; one more than there are where there is no kind.
int rivals(const DayTask& day, const std::vector<int>& kinds) {
    const auto takes = [&](const Sleeve* sleeve) {
        return std::any_of(sleeve->options.begin(), sleeve->options.end(), [&](const SleeveOption& option) {
            return std::find(kinds.begin(), kinds.end(), option.kind) != kinds.end();
        });
    };
    return static_cast<int>(std::count_if(day.sleeves.begin(), day.sleeves.end(), takes) +
                            std::count_if(day.lying.begin(), day.lying.end(), takes)) +
           (kinds.empty() ? 1 : 0);
}

}  // namespace

const std::vector<int>& UsefulWays::of(std::size_t sleeve, int heater) {
    const auto place = known_.find({sleeve, heater});
    if (place != known_.end()) return place->second;
    return known_.emplace(std::pair{sleeve, heater}, find(sleeve, heater)).first->second;
}

std::vector<int> UsefulWays::find(std::size_t i, int heater) const {
    const Sleeve& sleeve = *day_.sleeves[i];
    if (sleeve.overnight) return {0};  // the next day finds it as it is
    const auto company = [&](const std::vector<const Sleeve*>& list) {
        return std::count_if(list.begin(), list.end(), [&](const Sleeve* s) { return s->run == sleeve.run; });
    };
    const bool alone = company(day_.sleeves) + company(day_.lying) == 1;
    std::vector<int> ways;
    for (std::size_t k = 0; k < sleeve.options.size(); ++k) {
        const auto& option = sleeve.options[k];
        if (option.heater != heater) continue;
        int cheaper_packers = 0;
        std::vector<int> kinds;
        bool beaten = false;
        for (const int w : ways) {
            const auto& other = sleeve.options[static_cast<std::size_t>(w)];
            if (other.cure > option.cure) continue;
            const bool same_mouth = other.patch->rigging.from == option.patch->rigging.from;
            if (!same_mouth && (!alone || meets_another(job_, day_, sleeve.run, option.patch->rigging.from))) continue;
            beaten = beaten || other.kind == option.kind;
            if (std::find(kinds.begin(), kinds.end(), other.kind) != kinds.end()) continue;
            kinds.push_back(other.kind);
            cheaper_packers += other.count;
        }
        if (!beaten && cheaper_packers < rivals(day_, kinds)) ways.push_back(static_cast<int>(k));
    }
    return ways;
}

bool can_be_heated(const DayTask& day) {
    return std::any_of(day.sleeves.begin(), day.sleeves.end(), [](const Sleeve* sleeve) {
        return std::any_of(sleeve->options.begin(), sleeve->options.end(),
                           [](const SleeveOption& option) { return option.heater >= 0; });
    });
}

std::vector<const DayHeating*> heatings_to_bound(const DayTask& day, const DayHeating& none, bool heaters) {
    std::vector<const DayHeating*> list{&none};
    if (heaters && can_be_heated(day)) list.push_back(nullptr);
    return list;
}

std::vector<DayHeating> ways_to_heat(const PlanContext& context, const DayTask& day) {
    std::vector<DayHeating> list;
    const std::size_t n = day.sleeves.size();
    for (int h = 0; h < static_cast<int>(context.yard.heaters.size()); ++h) {
        std::vector<std::uint32_t> sets;
        for (std::uint32_t set = 1; set < 1U << n; ++set) {
            bool possible = n <= few || std::popcount(set) <= max_of_many;
            for (std::size_t i = 0; i < n; ++i)
                possible = possible && ((set >> i & 1U) == 0 || may_have(*day.sleeves[i], h));
            if (possible) sets.push_back(set);
        }
        for (const std::uint32_t set : sets) {
            DayHeating heating;
            for (std::size_t i = 0; i < n; ++i) heating.heated.push_back((set >> i & 1U) != 0);
            const int most = std::min(context.yard.heaters[static_cast<std::size_t>(h)].count, std::popcount(set));
            for (int units = 1; units <= most; ++units) {
                heating.heater = {h, units};
                list.push_back(heating);
            }
        }
    }
    return list;
}

schedule::DayWork with_any(const PlanContext& context, const DayTask& day, const PatchList& chosen, int extra_persons,
                           const DayHeating* heating) {
    auto list = with_patches(day, chosen);
    const auto fixed = chosen.size();
    PatchList patches{chosen};
    std::vector<bool> overnight;
    std::map<int, int> packers;  // of each kind that one of the open sleeves may take
    for (std::size_t i = fixed; i < day.sleeves.size(); ++i) {
        const Patch* patch =
            quickest(*day.sleeves[i], heating != nullptr ? std::optional{heating->of(i)} : std::nullopt);
        if (patch == nullptr) continue;  // has no way on such a day: the search finds none either
        patches.push_back(patch);
        overnight.push_back(day.sleeves[i]->overnight);
        for (const auto& option : day.sleeves[i]->options) packers[option.kind] = option.count;
    }
    const auto open = overnight.size();
    list.overnight.resize(fixed);
    list.lying.assign(fixed, false);
    list.overnight.insert(list.overnight.end(), overnight.begin(), overnight.end());
    for (const Sleeve* sleeve : day.lying) patches.push_back(sleeve->options.front().patch);
    list.lying.resize(fixed + open, false);
    list.lying.resize(patches.size(), true);
    list.overnight.resize(patches.size(), false);
    list.patches = std::move(patches);
    list.extra_persons = extra_persons;
    if (heating != nullptr) list.heaters = heating->heater.units;
    auto work = crew_day(context, list);
    int count = 0;
    for (const auto& [kind, of_kind] : packers) count += of_kind;
    for (std::size_t k = fixed; k < fixed + open; ++k) {
        auto& item = work.patches[k];
        item.packer = static_cast<int>(work.packers.size());
        if (heating == nullptr) item.heater = -1;
        item.from_any_end = true;
    }
    if (open > 0) work.packers.push_back({{}, count});
    for (auto& item : work.patches) item.after.clear();
    // From which mouth the others come is open: where runs meet, no access more may be needed.
    const auto meet = [](const schedule::RunWork& a, const schedule::RunWork& b) {
        const auto has = [&](int access) { return access >= 0 && (access == b.access_from || access == b.access_to); };
        return a.place != b.place && (has(a.access_from) || has(a.access_to));
    };
    for (auto& run : work.runs)
        if (open > 0 && std::any_of(work.runs.begin(), work.runs.end(), [&](const auto& r) { return meet(run, r); }))
            run.open_access.minutes = 0;
    return work;
}

}  // namespace patchwright::plan
