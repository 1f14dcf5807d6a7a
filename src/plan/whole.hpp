#pragma once
#include <string>
#include <vector>

#include "patchwright/plan/plan.hpp"
#include "setting.hpp"

namespace patchwright::plan {

/// One way of doing the whole job: the patches of a layout with their mixes, days, felt and money.
struct Whole {
    std::vector<Patch> patches;  ///< in order of work
    std::vector<Batch> batches;
    std::vector<std::pair<std::string, std::pair<Mass, int>>> kits_to_buy;
    std::vector<FeltCutting> cutting;
    schedule::Problem work;
    schedule::Schedule schedule;
    std::vector<FlowPlan> flows;
    price::PatchWorks works;
    std::vector<std::string> warnings;
    Money purchase;  ///< of resin kits
};

/// Mixes, order, cutting and the bill of what patching takes, for patches that are designed and placed.
/// Sharing a mix and mixing each sleeve on its own are both tried; fewer days, then less purchase, then earlier home
/// wins.
/// `steps` bounds the search for each day's order.
Whole compose(Setting& setting, const PatchList& patches, std::int64_t steps);

/// What `compose` would come to, without what is only read on sheets.
struct Sketch {
    int days = 0;
    std::size_t impossible = 0;  ///< patches that no day holds
    bool proven_optimal = false;
    price::PatchWorks works;
};
Sketch sketch(Setting& setting, const PatchList& patches, std::int64_t steps);

}  // namespace patchwright::plan
