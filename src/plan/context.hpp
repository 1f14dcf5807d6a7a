#pragma once
#include <map>
#include <memory>
#include <utility>
#include <vector>

#include "known_cures.hpp"
#include "numbers.hpp"
#include "patchwright/cutting/cutting.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/packer/packer.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/resin/batch.hpp"
#include "patchwright/schedule/schedule.hpp"

namespace patchwright::plan {

/// Patches of one way to do the job, kept by the runs' workspaces.
using PatchList = std::vector<const Patch*>;

/// Pieces of one felt, cut.
struct FeltCut {
    cutting::CutPlan plan;
    Money cost;  ///< as in FeltCutting
};

/// What every step of one plan shares.
class PlanContext {
public:
    /// `known` are the cures of plans of the same yard, where there are any.
    PlanContext(const job::Job& job_file, const job::Yard& yard_file, const Options& plan_options,
                std::shared_ptr<KnownCures> known = nullptr)
        : job{job_file},
          yard{yard_file},
          options{plan_options},
          packers{packer::options(yard_file)},
          cures_{known != nullptr && known->serves(yard_file, plan_options.working)
                     ? std::move(known)
                     : std::make_shared<KnownCures>(yard_file, plan_options.working)},
          days_{plan_options.days != nullptr ? plan_options.days : std::make_shared<schedule::KnownDays>()} {}

    const job::Job& job;
    const job::Yard& yard;
    const Options& options;
    const std::vector<packer::Option> packers;

    /// May be asked from several threads at once.
    KnownCures& cures() const { return *cures_; }
    schedule::KnownDays& days() const { return *days_; }
    /// What whole jobs ask for again and again: days, cuts by felt and pieces, mixes by resin and portions.
    std::map<std::vector<cutting::Millimetre>, FeltCut> cuts;
    ByNumbers<resin::BatchPlan> batches;

    Working working() const { return options.working ? Working{} : Working::off(); }

private:
    std::shared_ptr<KnownCures> cures_;
    std::shared_ptr<schedule::KnownDays> days_;
};

}  // namespace patchwright::plan
