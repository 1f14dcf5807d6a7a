#pragma once
#include <vector>

#include "context.hpp"

namespace patchwright::plan {

/// Share of a wet-out after which the resin has left the pot: mixing and spreading come first, rolling after.
/// Common practice, no source.
inline constexpr double poured_share = 0.5;

/// The mixes of a set of patches: one plan per resin.
struct Mixes {
    struct One {
        resin::Batch batch;  ///< `patches` are places in the list given
        int resin = 0;
    };
    std::vector<One> mixes;
    std::vector<KitsToBuy> kits_to_buy;
    struct Opened {
        int resin = 0;
        std::vector<resin::KitCount> kits;
        Money money;
    };
    std::vector<Opened> opened;
    Money purchase;
    std::vector<std::string> warnings;
};
/// Chance that the sleeve at place `which` of a mix is not shaped in time, all hands before it counted; `order` are
/// places in the list given.
double late_in_mix(const job::Limits& limits, const PatchList& patches, const std::vector<int>& order,
                   std::size_t which);

/// Sleeves of one group may be wet from one mix; each has its own packer and air line then.
Mixes plan_mixes(PlanContext& context, const PatchList& patches, const std::vector<int>& groups);

}  // namespace patchwright::plan
