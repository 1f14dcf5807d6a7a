#include "patchwright/working/working.hpp"

#include <cassert>

namespace patchwright {

void Working::add(const Formula& formula, std::initializer_list<Operand> operands, double result) {
    if (!on_) return;
    assert(operands.size() == formula.inputs.size() && operands.size() <= Step::max_operands);
    Step step;
    step.formula = &formula;
    for (const Operand& operand : operands) step.operands[step.count++] = operand;
    step.result = result;
    steps_.push_back(step);
}

void Working::append(const Working& other) {
    if (on_) steps_.insert(steps_.end(), other.steps_.begin(), other.steps_.end());
}

}  // namespace patchwright
