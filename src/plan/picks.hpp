#pragma once
#include <map>
#include <memory>
#include <string>
#include <tuple>
#include <vector>

#include "combine.hpp"
#include "design.hpp"
#include "patchwright/plan/plan.hpp"
#include "rules.hpp"

/// From places in a layout to patches that stand there.
namespace patchwright::plan {

/// A patch of a layout: which candidate, and by which of its ways the packer comes in.
struct Pick {
    int run = 0;
    layout::Candidate candidate;
    int way = 0;
    int resin = -1;  ///< as in SleeveRequest
};

/// One run on its way through the plan.
struct RunWorkspace {
    Designer designer;
    RunRules rules;
    packer::WallIndex walls;
    /// Patches as they stand in some whole job, by their pick and number in the run: most jobs share most of them.
    using PlaceKey = std::tuple<layout::Centimetre, layout::Centimetre, int, int, int, layout::Cost, int, int, int>;
    std::map<PlaceKey, Patch> placed;
    RunWorkspace(Setting& setting, int run)
        : designer{setting, run}, walls{setting.job.runs[static_cast<std::size_t>(run)]} {}
};
using Spaces = std::vector<std::unique_ptr<RunWorkspace>>;

/// Price of a sleeve at a place: its design's, if it has one and a packer can be brought there and lie there.
std::optional<layout::Cost> price_at(Setting& setting, const RunPlan& run, RunWorkspace& space,
                                     const layout::Candidate& c, int resin = -1);
layout::Pricer pricer(Setting& setting, const RunPlan& run, RunWorkspace& space);

std::vector<Pick> picks_of(const std::vector<RunPlan>& runs, const Combination& combination);
/// The patches in the order of the picks, named by run and place. The workspaces keep them.
PatchList patches_of(Setting& setting, const std::vector<RunPlan>& runs, Spaces& spaces,
                     const std::vector<Pick>& picks);
/// "A-P1 3.65 m to 4.65 m on R100-10; ..."
std::string spans_text(const PatchList& patches, UnitSystem units);

}  // namespace patchwright::plan
