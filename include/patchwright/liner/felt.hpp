#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "patchwright/job/yard.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Which felt, how many layers, and how it is cut.
namespace patchwright::liner {

struct FeltChoice {
    int felt = 0;  ///< place in Yard::felts
    int layers = 1;
    Length installed{};  ///< layers * thickness under pressure
};
/// Every felt and layer count of the yard that gives at least `design` and at most `most` in that bore, thinnest first,
/// then fewest layers, then cheapest per area. Empty: none does.
std::vector<FeltChoice> felt_choices(const job::Yard& yard, Length bore, Length design, Length most);

/// One piece of felt.
struct FeltCut {
    int layer = 1;             ///< 1 lies on the host
    Length length{}, width{};  ///< cut sizes; a sewn tube's width is its flat width
    Area area() const { return length * width; }
};
struct CutSizes {
    std::vector<FeltCut> pieces;  ///< one per layer
    Length length{};              ///< cut length, all layers alike
    Length width{};               ///< of the outermost (widest) layer
    Area felt_area{};             ///< all layers
    Length seam_overlap{};
};
/// Sheet: width = pi * (D - 2 * depth of the layer's middle) + seam overlap. Length = sleeve + 2 * end trim,
/// lengthened by take-up: L / (1 - take_up).
CutSizes cut_sizes(const job::Felt& felt, const FeltChoice& choice, Length bore, Length sleeve,
                   const job::Limits& limits, Working& working);

}  // namespace patchwright::liner
