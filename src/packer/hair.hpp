#pragma once
#include "patchwright/units/quantity.hpp"

namespace patchwright::packer {

/// Slack when lengths are compared: differences of positions, and what a search finds, miss round figures by the last
/// digit.
inline constexpr Length hair = 1e-3 * unit::mm;

}  // namespace patchwright::packer
