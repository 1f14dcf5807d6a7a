#pragma once
#include <string>
#include <vector>

#include "calibrate.hpp"
#include "patchwright/job/read.hpp"

namespace patchwright::cure::detail {

/// Properties and data that no resin can have, with what would be right.
std::vector<job::ResinFault> impossible(const job::Resin& resin);
/// Figures that the fit misses by so much that they cannot all be of one resin.
std::vector<job::ResinFault> unmet(const job::Resin& resin, const Fitted& fit);

/// What the reader of a fit should know: points that it misses, data that is thin.
std::vector<std::string> remarks(const job::Resin& resin, const Fitted& fit);

}  // namespace patchwright::cure::detail
