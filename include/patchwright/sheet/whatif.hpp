#pragma once
#include <string>

#include "patchwright/sheet/sheets.hpp"
#include "patchwright/whatif/whatif.hpp"

/// Other conditions for a job beside the plan as it is.
namespace patchwright::sheet {

/// A table of what changes the job most; of changes that were tried, the plans side by side.
Sheet whatif_sheet(const Context& context, const whatif::WhatIf& whatif);
/// The estimator's view with the five that save most.
Sheet inside_sheet(const Context& context, const whatif::WhatIf* whatif);
std::string whatif_json(const Context& context, const whatif::WhatIf& whatif);
/// A line a plan, the one as it is first.
std::string whatif_csv(const Context& context, const whatif::WhatIf& whatif);

}  // namespace patchwright::sheet
