#include "support/plan_rules.hpp"

#include "support/faults.hpp"

namespace patchwright::test {

std::vector<std::string> broken_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan,
                                      const std::string& json) {
    Faults all;
    all.take(broken_layout_rules(job, yard, plan));
    all.take(broken_design_rules(job, yard, plan));
    all.take(broken_day_rules(job, yard, plan));
    all.take(broken_money_rules(plan));
    all.take(broken_workings(plan));
    all.take(broken_json(json));
    return all.list;
}

}  // namespace patchwright::test
