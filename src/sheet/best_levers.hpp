#pragma once
#include "patchwright/sheet/whatif.hpp"

namespace patchwright::sheet {

/// The five other conditions that save most, as a part of another sheet.
void add_best_levers(const Context& context, const whatif::WhatIf& whatif, Sheet& sheet);

/// What the crew could still change before it leaves, and what the whole plan then comes to. No money: it is the
/// crew's.
void add_this_morning(const Context& context, const whatif::WhatIf& whatif, Sheet& sheet);

}  // namespace patchwright::sheet
