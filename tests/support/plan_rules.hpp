#pragma once
#include <string>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/plan/plan.hpp"

/// What must hold for every plan, checked on the finished plan by rules written anew from the page "Layout, stated
/// exactly" (docs/methods/layout.md) and from docs/plan-json.md: nothing here calls what made the plan.
namespace patchwright::test {

/// One sentence for each rule that is broken; empty: all hold.
std::vector<std::string> broken_layout_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan);
std::vector<std::string> broken_design_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan);
std::vector<std::string> broken_day_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan);
std::vector<std::string> broken_money_rules(const plan::Plan& plan);
/// Figures without a working, or whose working ends in another number.
std::vector<std::string> broken_workings(const plan::Plan& plan);
/// Numbers that are none (null, "nan", "inf"), and keys of docs/plan-json.md that are missing.
std::vector<std::string> broken_json(const std::string& json);
/// All of these.
std::vector<std::string> broken_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan,
                                      const std::string& json);

}  // namespace patchwright::test
