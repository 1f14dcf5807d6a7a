#pragma once
#include <string>

#include "patchwright/city/summary.hpp"
#include "patchwright/sheet/model.hpp"

/// A city's survey counted and added up, from a stream's plans. See docs/city.md.
namespace patchwright::sheet {

/// One page.
Sheet city_sheet(const city::Summary& city);
/// A figure a line: part, what, reference, value, unit.
std::string city_csv(const city::Summary& city);
/// Stable keys.
std::string city_json(const city::Summary& city);

}  // namespace patchwright::sheet
