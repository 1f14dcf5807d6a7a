#pragma once
#include <string>
#include <vector>

#include "patchwright/cutting/cutting.hpp"

namespace patchwright::test {

/// Independent check of a plan by the rules alone; empty means that it keeps them all.
std::vector<std::string> broken_cutting_rules(const std::vector<cutting::Piece>& pieces,
                                              const std::vector<cutting::Stock>& stock, cutting::Millimetre kerf,
                                              const cutting::CutPlan& plan);

}  // namespace patchwright::test
