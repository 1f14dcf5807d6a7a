#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/sheet/sheets.hpp"
#include "patchwright/working/working.hpp"

namespace patchwright::sheet {

/// A figure of the sheets after the work, with what it is held to and where that comes from.
struct AskedDone {
    std::string name;   ///< "A-P1.done.deflated", "A.LC.time"
    std::string label;  ///< "Deflated"
    Show show = Show::ratio;
    std::optional<double> value;  ///< as done
    std::string shown;            ///< done, limit and verdict
    std::string from;             ///< of a limit that is not computed: one sentence
    const Working* working = nullptr;
    std::vector<std::pair<double, std::string>> limits;  ///< with the text in which the sheet prints each
};
/// Of everything that `Context::recorded` holds to a figure; empty without one.
std::vector<AskedDone> asked_done(const Context& context);

}  // namespace patchwright::sheet
