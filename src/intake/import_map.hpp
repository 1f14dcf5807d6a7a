#pragma once
#include "import_exchange.hpp"
#include "import_run.hpp"

namespace patchwright::intake {

/// One survey of the exchange forms as a run; its id is given by the caller.
RunInWork run_of(const Survey& survey, std::string id, Faults& faults);

/// Where distances begin and which node lies at the far end.
void read_ends(const Survey& survey, RunInWork& run, Faults& faults);
/// Bore, material, depth, length of a pipe, remarks of the header; what is unknown or of another edition as notes.
void read_header(const Survey& survey, RunInWork& run, Faults& faults);
/// The anticipated length (ABQ), or nothing with an error.
std::optional<Measure<Length>> anticipated_length(const Survey& survey, RunInWork& run, Faults& faults);

/// The survey is one of a manhole or an inspection chamber: header fields from CAA on.
bool is_manhole(const Survey& survey);

}  // namespace patchwright::intake
