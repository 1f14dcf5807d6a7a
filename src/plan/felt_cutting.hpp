#pragma once
#include <vector>

#include "context.hpp"

namespace patchwright::plan {

/// The cutting plans of a set of patches, one for each felt, in the yard's order of felts.
std::vector<FeltCutting> cut_felts(PlanContext& context, const PatchList& patches);

/// What those cutting plans come to, without the plans.
struct FeltBill {
    int felt = 0;  ///< place in Yard::felts
    std::size_t pieces = 0;
    Money cost;
};
std::vector<FeltBill> felt_bills(PlanContext& context, const PatchList& patches);

}  // namespace patchwright::plan
