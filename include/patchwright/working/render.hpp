#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/working/working.hpp"

/// Text of a working, made only when asked.
namespace patchwright {

struct RenderedOperand {
    std::string symbol, meaning, value;  ///< value with its unit, as a sheet would show it
    std::string origin;                  ///< "given", "from the yard file", "assumed", "looked up", "computed"
    std::string key;                     ///< meaning as a JSON key with its unit: "design_thickness_mm"
    double number = 0.0;                 ///< the value in that unit
};
struct RenderedStep {
    std::string id, formula, source, page;
    RenderedOperand result;
    std::vector<RenderedOperand> inputs;
};

std::vector<RenderedStep> render(const Working& working, UnitSystem system);
/// The steps as indented lines for a terminal, at most `width` columns.
std::string working_text(const Working& working, UnitSystem system, std::size_t width = 80);
std::string_view origin_text(Origin origin);
/// Where a step comes from, with the page of docs/methods that tells more unless the source names it already.
std::string source_text(const RenderedStep& step);

}  // namespace patchwright
