#pragma once
#include <vector>

#include "model.hpp"

/// Where the cheaper method changes: depth, number of patches, surface.
namespace patchwright::price {

std::vector<BreakEven> break_even_tables(const Input& input, const Parts& parts, const Model& model,
                                         const job::Rates& rates, const job::Rates& market);

}  // namespace patchwright::price
