#pragma once
#include <map>
#include <memory>
#include <string>
#include <tuple>
#include <vector>

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
    ResinChoice choice;
};

/// One run on its way through the plan.
struct RunWorkspace {
    Designer designer;
    RunRules rules;
    packer::WallIndex walls;
    /// Patches at their places, by pick: whole jobs share most of them.
    using PlaceKey = std::tuple<layout::Centimetre, layout::Centimetre, int, int, int, layout::Cost, int, ResinChoice>;
    std::map<PlaceKey, Patch> placed;
    RunWorkspace(PlanContext& context, int run)
        : designer{context, run}, walls{context.job.runs[static_cast<std::size_t>(run)]} {}
};
using Spaces = std::vector<std::unique_ptr<RunWorkspace>>;

/// Price of a sleeve at a place: its design's, if it has one and a packer can be brought there and lie there.
std::optional<layout::Cost> price_at(PlanContext& context, const RunPlan& run, RunWorkspace& space,
                                     const layout::Candidate& c, const ResinChoice& choice = {});
layout::Pricer pricer(PlanContext& context, const RunPlan& run, RunWorkspace& space);

/// The patch of a pick, as yet without a name. The workspace keeps it.
const Patch& placed(PlanContext& context, const RunPlan& run, RunWorkspace& space, const Pick& pick);
/// "A 3.65 m to 4.65 m on R100-10; ...", in the order given
std::string spans_text(const PlanContext& context, const PatchList& patches);

}  // namespace patchwright::plan
