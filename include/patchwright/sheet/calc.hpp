#pragma once
#include <string>
#include <utility>
#include <vector>

#include "patchwright/units/format.hpp"
#include "patchwright/working/working.hpp"

/// One calculation on its own, as `patchwright calc` prints it.
namespace patchwright::sheet {

/// A figure that went in or came out.
struct CalcValue {
    std::string key;    ///< as in JSON, with its unit: "bore_mm"
    std::string label;  ///< "bore"
    Show show = Show::ratio;
    double value = 0;  ///< SI, as in Operand
    std::string text;  ///< for what is no number: "LC", "water buckling"; then `show` and `value` say nothing
    Origin origin = Origin::given;
    std::string shown{};  ///< text instead of the usual form of `show`, for figures far from its range; may be empty
};
struct CalcResult {
    std::string name, title;
    std::vector<CalcValue> inputs, results;
    Working working;
    std::vector<std::string> remarks;  ///< whole sentences
};

/// {"calc": name, "inputs": {...}, "assumed": [keys], "results": {..., "shown": {...}}, "steps": [...], "remarks":
/// [...]} Numbers in the unit that ends their key. Throws RangeError for a value that is not finite.
std::string calc_json(const CalcResult& result, UnitSystem units);
/// Inputs with their origin, results, remarks and the working, at most `width` columns.
std::string calc_text(const CalcResult& result, UnitSystem units, std::size_t width = 80);

}  // namespace patchwright::sheet
