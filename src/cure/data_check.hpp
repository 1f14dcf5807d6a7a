#pragma once
#include <string>
#include <vector>

#include "calibrate.hpp"

namespace patchwright::cure::detail {

/// Throws InputError for properties and data that no resin can have, with what would be right.
void refuse_impossible(const job::Resin& resin);

/// What the reader of a fit should know: points that it misses, data that is thin.
std::vector<std::string> remarks(const job::Resin& resin, const Fitted& fit);

}  // namespace patchwright::cure::detail
