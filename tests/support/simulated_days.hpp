#pragma once
#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/plan/plan.hpp"

/// The two promises of a sleeve counted over drawn days, with random numbers: nothing here calls what computes them
/// (include/patchwright/cure/promise.hpp). A day draws each task of the hands from its triangle, all of them slow for
/// one shared cause; all temperatures warmer or colder together; and the resin's own rate.
namespace patchwright::test {

struct Days {
    int drawn = 0;
    double late = 0.0;  ///< share of the days on which the sleeve is not shaped in time
    double soft = 0.0;  ///< share on which it is not hard at the printed let-down
};

/// `patch`: place in the plan. The kinetics, and what the fit says of its own doubt, are the model's.
Days simulated_days(const job::Yard& yard, const plan::Plan& plan, std::size_t patch, int days, std::uint32_t seed);

}  // namespace patchwright::test
