#pragma once
#include <vector>

#include "patchwright/job/yard.hpp"
#include "patchwright/plan/plan.hpp"

/// What may be changed so that a patch can be made after all, in ways that the files can say.
namespace patchwright::plan {

/// Where no resin keeps its promises in that run: what takes least of the crew first.
std::vector<Remedy> remedies_of_resin(const job::Job& job, const job::Yard& yard, int run);
/// Where a day that is so much too short holds it: what is no longer day.
std::vector<Remedy> remedies_of_day(const job::Job& job, const job::Yard& yard, int run, schedule::Minute short_by);
/// Changes job and yard as its `changes` do the files.
void apply(const Remedy& remedy, job::Job& job, job::Yard& yard);

}  // namespace patchwright::plan
