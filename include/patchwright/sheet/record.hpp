#pragma once
#include <string>

#include "patchwright/sheet/sheets.hpp"

/// Before and after the work: the blank record of a plan, and what a record says beside the plan.
namespace patchwright::sheet {

/// A record file to fill in, with every patch of the plan in order of work: blank texts, and what the plan says in
/// "_help" keys, which the reader of record files skips. Same plan, same bytes.
std::string record_starter(const Context& context);

}  // namespace patchwright::sheet
