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
    std::vector<int> carrier_option;      ///< carrier to place in PlanContext::packers
    std::vector<int> connection_fitting;  ///< connection to place in Run::fittings
    std::vector<int> target_defects;      ///< target to place in Run::defects
    std::vector<std::string> remarks;     ///< rules that could not be held, and why
};
/// What becomes of each defect of a run, in its order.
std::vector<Verdict> verdicts_of(const job::Run& run, const job::Limits& limits, UnitSystem units);

RunRules run_rules(const PlanContext& context, const Designer& designer, const std::vector<Verdict>& verdicts);

/// Why defects stay uncovered, in words, and what would lift it; defects with one reason share a line.
std::vector<std::string> obstacle_words(const PlanContext& context, const Designer& designer, const RunRules& rules,
                                        const std::vector<layout::Obstacle>& obstacles);

}  // namespace patchwright::plan
