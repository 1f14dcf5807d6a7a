#pragma once
#include <vector>

#include "setting.hpp"

namespace patchwright::plan {

/// The cutting plans of a set of patches, one for each felt, in the yard's order of felts.
std::vector<FeltCutting> cut_felts(const Setting& setting, const std::vector<Patch>& patches);

}  // namespace patchwright::plan
