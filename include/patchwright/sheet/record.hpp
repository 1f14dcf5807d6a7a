#pragma once
#include <string>
#include <vector>

#include "patchwright/job/record.hpp"
#include "patchwright/record/as_built.hpp"
#include "patchwright/sheet/sheets.hpp"

/// Before and after the work: the blank record of a plan, and what a record says beside the plan.
namespace patchwright::sheet {

/// A record file to fill in, with every patch of the plan in order of work: blank texts, and what the plan says in
/// "_help" keys, which the reader of record files skips. Same plan, same bytes.
std::string record_starter(const Context& context);

/// The record with what stands on the lines of its cards, as the page in a browser saves them, in the places of the
/// record's own keys where those are blank. A bare number has the unit in which the sheet prints such a figure. What
/// cannot be read stays a note.
job::Record with_card_notes(job::Record record, UnitSystem units);

/// A record held beside its plan.
struct Recorded {
    const job::Record* record = nullptr;
    const record::AsBuilt* built = nullptr;
};
/// The as-built file: what was planned, done and allowed, patch by patch; the acceptance tests on a sheet of their own.
std::vector<Sheet> as_built_sheets(const Context& context, const Recorded& recorded);
/// The customer's page, in the offer's voice: what lies where since when, and what is guaranteed. A patch that missed
/// a limit is not on it.
Sheet guarantee_sheet(const Context& context, const Recorded& recorded);
/// Keys of both: docs/plan-json.md. The customer's page has nothing in it but what it prints.
std::string guarantee_json(const Context& context, const Recorded& recorded);
std::string as_built_json(const Context& context, const Recorded& recorded);

}  // namespace patchwright::sheet
