#pragma once
#include "context.hpp"
#include "day_book.hpp"
#include "job_cost.hpp"

namespace patchwright::plan {

/// What sleeves take at least, in whichever ways and on whichever days they are set.
struct LeastWork {
    double cost = 0.0;  ///< JobCost::sleeve, cents
    Duration hands{};   ///< from wet-out to its place in the pipe
    Duration cures{};   ///< at an air line; nothing of one that is let down the next day

    void add(const Sleeve& sleeve);
    LeastWork& operator+=(const LeastWork& other);
};
/// The lesser of both in every respect.
LeastWork least(const LeastWork& a, const LeastWork& b);

/// What a job of such sleeves costs at least, cents: the hands' work or the cures at the air lines, whichever takes
/// longer, and as many days as that fills.
double least_cost(const PlanContext& context, const JobCost& cost, const LeastWork& work);

}  // namespace patchwright::plan
