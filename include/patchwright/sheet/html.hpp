#pragma once
#include <functional>
#include <string>
#include <vector>

#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/model.hpp"

namespace patchwright::sheet {

/// Sheets as one HTML file without outside parts: no network, no framework, no fonts of its own. Prints on A4 and
/// Letter, one sheet after the other; with scripts off it is the plain sheet. With scripts on a card that carries
/// `Limits` gets fields for what is measured, which look the limits up in the card's own table (nothing else is
/// computed), two countdowns, and the page a button that saves what was noted as a record file.
/// `draw` gives a picture as SVG. Same sheets, same bytes.
std::string html(const std::vector<Sheet>& sheets, const std::function<std::string(const Drawing&)>& draw);

}  // namespace patchwright::sheet
