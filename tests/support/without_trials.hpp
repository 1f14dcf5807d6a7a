#pragma once
#include "patchwright/plan/plan.hpp"

namespace patchwright::test {

/// A plan without the spread of its price: most tests look at what is done, not at what it may come to.
inline plan::Options without_trials() {
    plan::Options options;
    options.trials = 0;
    return options;
}

}  // namespace patchwright::test
