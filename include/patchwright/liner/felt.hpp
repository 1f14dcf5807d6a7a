#pragma once
#include <vector>

#include "patchwright/job/felt.hpp"
#include "patchwright/job/limits.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

namespace patchwright::job {
struct Yard;
}  // namespace patchwright::job

/// Which felt, how many layers, and how it is cut.
namespace patchwright::liner {

struct FeltChoice {
    int felt = 0;  ///< place in Yard::felts
    int layers = 1;
    Length installed{};  ///< layers * thickness under pressure
};
/// Every felt and layer count of the yard that gives at least `design` and at most `most` in that bore, thinnest first,
/// then fewest layers, then cheapest per area, then in the yard's order. Empty: none does.
/// Sheet: the yard must have a roll or piece wide enough for the outermost layer. Sewn tube: every layer's bore must
/// lie in the tube's range, and no tube may be longer round than the bore it is pressed against (it would fold).
/// Throws RangeError unless bore > 0 and design >= 0, all finite.
std::vector<FeltChoice> felt_choices(const job::Yard& yard, Length bore, Length design, Length most);

/// One piece of felt.
struct FeltCut {
    int layer = 1;             ///< 1 lies on the host
    Length length{}, width{};  ///< cut sizes; a sewn tube's width is its flat width
    int plies = 1;             ///< 2 for a sewn tube laid flat
    Area area() const { return static_cast<double>(plies) * (length * width); }
};
struct CutSizes {
    std::vector<FeltCut> pieces;  ///< one per layer
    Length length{};              ///< cut length, all layers alike
    Length width{};               ///< of the outermost (widest) layer
    Area felt_area{};             ///< of felt in all layers: both plies of a tube, seam overlaps included
    Length seam_overlap{};        ///< zero for a sewn tube
};
/// Sheet: width = pi * (D - 2 * depth of the layer's middle) + seam overlap. Length = sleeve + 2 * end trim,
/// lengthened by take-up: L / (1 - take_up).
/// `sleeve` is the sleeve as installed: defect, both overlaps and the positioning allowance are in it already.
/// Seam overlap: `seam_overlap_small` for bores to 100 mm, `seam_overlap_large` above.
/// Throws RangeError when felt, layers or sizes make no sleeve (no length, wall thicker than the bore, take-up not
/// in [0, 1), NaN).
CutSizes cut_sizes(const job::Felt& felt, const FeltChoice& choice, Length bore, Length sleeve,
                   const job::Limits& limits, Working& working);

/// True when each piece fits, unturned, on a roll or on a piece in stock, one at a time.
/// Whether all of a job fit together is for `cutting`.
bool can_be_cut(const job::Felt& felt, const CutSizes& cut);

}  // namespace patchwright::liner
