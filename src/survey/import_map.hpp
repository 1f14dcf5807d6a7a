#pragma once
#include "import_exchange.hpp"
#include "import_run.hpp"

namespace patchwright::survey::intake {

/// One survey of the exchange form as a run; its id is given by the caller.
RunInWork run_of(const Survey& survey, std::string id, Faults& faults);

/// "3" and "3-9" from two fields; nothing when both are absent. Faults are told.
std::optional<ClockRange> clock_of(const Placed* from, const Placed* to, Faults& faults, bool& fine);

}  // namespace patchwright::survey::intake
