#pragma once
#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/plan/whatif.hpp"

namespace patchwright::plan {

/// The other conditions of a job, not worked out yet; those that it or its yard leaves no room for go to `not_listed`.
std::vector<Alternative> levers(const job::Job& job, const job::Yard& yard, const Plan& made,
                                std::vector<NotListed>& not_listed);

}  // namespace patchwright::plan
