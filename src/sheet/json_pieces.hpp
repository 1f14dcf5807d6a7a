#pragma once
#include <optional>

#include "json_part.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"

/// The parts of the plan's JSON, one function each. Keys are those of docs/plan-json.md and stay.
namespace patchwright::sheet {

Json runs_json(const Context& context);
Json patch_json(const Context& context, const plan::Patch& patch);
Json batches_json(const Context& context, std::optional<int> day);
Json schedule_json(const Context& context, std::optional<int> day);
Json layout_json(const Context& context);
Json whole_job_json(const Context& context);
Json whole_json(const Context& context);
/// Patches that only the length of the day keeps from being made.
Json not_planned_json(const Context& context);
Json price_json(const Context& context, bool inside);
/// Only what the customer may know.
Json customer_price_json(const Context& context);
/// The letter's dates, excavations, conditions and tax.
Json letter_json(const Context& context);
Json kits_json(const Context& context);
Json cutting_json(const Context& context);
Json assumptions_json(const Context& context);
Json cautions_json(const Context& context);
/// All of a sheet, block for block; a blank value is null.
Json sheet_json(const Sheet& sheet);
/// The rows of a sheet's tables as objects keyed by their column titles.
Json tables_json(const Sheet& sheet);

}  // namespace patchwright::sheet
