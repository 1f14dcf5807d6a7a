#pragma once
#include <string>
#include <vector>

#include "patchwright/plan/plan.hpp"

/// What an offer says besides its price, each figure from a whole plan of a changed job.
namespace patchwright::plan {

/// Fills in what the plan says of other jobs than this one:
/// `look_again`: each such defect mended, and dug, beside the rest of the job;
/// `break_even`: both prices with the first so many of the mended defects, at other depths, under other surfaces;
/// where the cheaper method changes between two depths, the place to 20 mm. Prices are own price and ceiling;
/// `variants`: see `variants`.
/// Nothing is averaged: every point is a plan. The same with any number of threads. Errors as `make_plan`.
void add_outlook(const Options& options, Plan& plan);

/// Of these only what the customer's letter says: `look_again`.
void add_look_again(const Options& options, Plan& plan);

/// A complete other way to do the same job within what the yard allows.
struct Variant {
    std::string words;  ///< "cheapest", "fewest days", "without night work"
    Plan plan;
};
/// The plan as made, the cheapest; then, where they differ from it, the one with the fewest days, the one without a
/// cure overnight, and the one that is surest to be in time, at most three in all. The others come from one resin for
/// the whole job, each resin of the yard in turn, and from a day without a cure overnight.
[[nodiscard]] std::vector<Variant> variants(const Options& options, const Plan& made);

/// Chance that some sleeve of the plan is not in place in time.
double late_probability(const Plan& plan);

}  // namespace patchwright::plan
