#pragma once
#include <string>
#include <vector>

#include "design.hpp"
#include "patchwright/layout/layout.hpp"
#include "patchwright/plan/plan.hpp"

namespace patchwright::plan {

/// The layout's rules for one run: which spans to cover, where ends may not lie, what each packer may reach.
struct RunRules {
    layout::Problem problem;
    std::vector<int> carrier_option;     ///< carrier to place in Setting::packers
    std::vector<int> connection_fitting; ///< connection to place in Run::fittings
    std::vector<int> target_defects;     ///< target to place in Run::defects
};
RunRules run_rules(const Setting& setting, const Designer& designer, const std::vector<Verdict>& verdicts);

/// Why a defect stays uncovered, in words, and what would lift it.
std::string obstacle_words(const Setting& setting, const Designer& designer, const RunRules& rules,
                           const layout::Obstacle& obstacle);

}  // namespace patchwright::plan
