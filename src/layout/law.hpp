#pragma once
#include "ground.hpp"

namespace patchwright::layout {

/// Asks the price of every length for every carrier and range of targets that lengths allow, and says whether
/// PriceLaw::rising holds, given PriceLaw::by_length.
bool prices_rise(const Problem& problem, const Needs& needs, const Pricer& price);

}  // namespace patchwright::layout
