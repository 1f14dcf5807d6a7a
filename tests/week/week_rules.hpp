#pragma once
#include <string>
#include <vector>

#include "patchwright/week/week.hpp"

namespace patchwright::test {

/// Every rule of docs/week.md on a finished week: times, hours, windows, dates, drives, packers, parts in order; and of
/// every stop the day rules of its plan, minute by minute. Shares no code with the search nor with what writes the
/// days. One sentence for each rule that is broken.
std::vector<std::string> broken_week_rules(const week::Input& input, const week::Week& week);

}  // namespace patchwright::test
