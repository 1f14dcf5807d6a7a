#pragma once
#include <string>

#include "patchwright/sheet/city.hpp"

/// Words that the city's page, table and JSON share.
namespace patchwright::sheet {

/// As a row of the page: "every place patched".
std::string_view fate_words(city::Fate fate);
/// As a key: "patch".
std::string_view fate_key(city::Fate fate);
std::string_view worst_words(city::WorstBy by);
/// A job's figure in a list of the worst, and its unit: "3", "places".
struct WorstFigure {
    std::string value, unit;
};
WorstFigure worst_figure(city::WorstBy by, const city::Planned& plan);

}  // namespace patchwright::sheet
