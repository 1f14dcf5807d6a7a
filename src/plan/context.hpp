#pragma once
#include <map>
#include <memory>
#include <mutex>
#include <tuple>
#include <vector>

#include "numbers.hpp"
#include "patchwright/cure/cure.hpp"
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

/// What every step of one plan shares. The cure models are fitted when first asked for, once a resin.
class PlanContext {
public:
    PlanContext(const job::Job& job_file, const job::Yard& yard_file, const Options& plan_options)
        : job{job_file},
          yard{yard_file},
          options{plan_options},
          packers{packer::options(yard_file)},
          models_(yard_file.resins.size()) {}

    const job::Job& job;
    const job::Yard& yard;
    const Options& options;
    const std::vector<packer::Option> packers;

    /// May be asked for from several threads at once; throws as the model's constructor does, each time.
    const cure::Model& model(int resin) {
        auto& slot = models_[static_cast<std::size_t>(resin)];
        const std::lock_guard lock{slot.fitting};
        if (!slot.model) slot.model = std::make_unique<cure::Model>(yard.resins[static_cast<std::size_t>(resin)]);
        return *slot.model;
    }
    /// Latest end of pouring for a mixed mass of a resin, remembered: whole jobs ask for the same few mixes again and
    /// again.
    Duration pour_by(int resin, Mass mixed, Temperature at, Temperature air) {
        const std::tuple key{resin, mixed.si(), at.in_kelvin(), air.in_kelvin()};
        auto place = pour_by_.find(key);
        if (place == pour_by_.end())
            place = pour_by_.emplace(key, model(resin).pour_by(mixed, at, air, yard.limits)).first;
        return place->second;
    }
    /// Hands-on time from mixing to shaped of a sleeve of that length with a mix of its own. May be asked for from
    /// several threads at once.
    const cure::Hands& hands(Length sleeve) {
        const std::lock_guard lock{hands_guard_};
        auto place = hands_.find(sleeve.si());
        if (place == hands_.end())
            place = hands_
                        .emplace(sleeve.si(),
                                 cure::hands_of(cure::sleeve_tasks(yard.durations, sleeve, yard.limits), yard.limits))
                        .first;
        return place->second;
    }
    /// What whole jobs ask for again and again: days, cuts by felt and pieces, mixes by resin and portions.
    std::map<std::vector<cutting::Millimetre>, FeltCut> cuts;
    ByNumbers<resin::BatchPlan> batches;

    Working working() const { return options.working ? Working{} : Working::off(); }

private:
    struct Fitted {
        std::mutex fitting;
        std::unique_ptr<cure::Model> model;
    };
    std::vector<Fitted> models_;
    std::mutex hands_guard_;
    std::map<double, cure::Hands> hands_;  ///< by metres
    std::map<std::tuple<int, double, double, double>, Duration> pour_by_;
};

}  // namespace patchwright::plan
