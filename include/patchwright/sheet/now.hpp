#pragma once
#include <string>

#include "patchwright/sheet/sheets.hpp"
#include "patchwright/site/now.hpp"

/// What a crew hears that asks from the hole. Keys of the JSON: docs/plan-json.md.
namespace patchwright::sheet {

/// Five lines at most, for a telephone: what lies in the pipe, what is in hand, what comes next, when the crew is back.
/// Below them what they rest on, and with `order` the rest of the day task by task.
std::string now_text(const Context& context, const site::Now& now, const TextStyle& style, bool order);
Sheet now_sheet(const Context& context, const site::Now& now);
std::string now_json(const Context& context, const site::Now& now);

}  // namespace patchwright::sheet
