#pragma once
#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/whatif/whatif.hpp"

namespace patchwright::whatif {

/// The other conditions of a job, not worked out yet; those that it or its yard leaves no room for go to `not_listed`.
std::vector<Alternative> levers(const plan::Plan& made, std::vector<NotListed>& not_listed);

}  // namespace patchwright::whatif
