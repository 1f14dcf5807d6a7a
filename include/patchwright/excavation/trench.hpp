#pragma once
#include <vector>

#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Widths and volumes of trenches and pits.
namespace patchwright::excavation {

/// Least clear width of a trench in which people work, the larger of two tables:
/// by pipe size, OD + x with x = 0.40 m to DN 225, 0.50 m to DN 350, 0.70 m to DN 700 (0.40 m throughout where the
/// sides are battered at 60 degrees or flatter); by depth of a trench with vertical sides, none below 1.00 m,
/// 0.80 m to 1.75 m, 0.90 m to 4.00 m, 1.00 m deeper.
/// DN is taken as the outside diameter, which never makes the trench narrower than the tables ask.
/// Source: EN 1610:2015, 6.2, tables 1 and 2. Clear inside the sheeting.
/// Throws RangeError unless 0 < outside diameter <= 0.7 m and 0 < depth <= 15 m.
Length least_width_en1610(Length outside_diameter, Length depth, bool battered, Working& working);
inline Length least_width_en1610(Length outside_diameter, Length depth, Working& working) {
    return least_width_en1610(outside_diameter, depth, false, working);
}

/// The greater of OD + 16 in (400 mm) and 1.25 OD + 12 in (300 mm).
/// Source: ASTM D2321, section 6 (trench width). The rule knows no depth.
/// Throws RangeError unless 0 < outside diameter <= 1.5 m.
Length least_width_d2321(Length outside_diameter, Working& working);

/// The narrowest bucket that is at least `least` wide; `least` itself when none is (the digger takes two cuts).
/// Common practice, no source. Throws RangeError unless `least` is positive.
Length bucket_width(Length least, const std::vector<Length>& buckets);

/// Outside diameter of the plastic pipe that replaces a drain of that bore: the smallest of the nominal outside
/// diameters of EN 1401-1, table 3 (and 40 to 90 mm of EN 1329-1) whose bore with a wall of OD/34 (SN 4) is
/// at least 0.97 of the old bore; the largest of them, 500 mm, where none is. Throws RangeError unless `bore` is
/// positive.
Length replacement_diameter(Length bore);
/// Whether the list above holds a pipe of about that bore: 25 to 480 mm. Outside it a price is a guess.
bool replacement_listed(Length bore);

/// Prismoid with all four sides battered at `slope` horizontal per vertical (0: vertical):
/// V = D [b L + z D (b + L) + 4/3 z^2 D^2].
struct Trench {
    Length width{}, length{}, depth{}, top_width{}, top_length{};
    double slope = 0.0;
    Volume volume{};
    Area sheeted{};   ///< 2 (b + L) D: the four sides, were they sheeted
    Area top_area{};  ///< opening at ground level
};
/// Exact for the shape: the prismoidal rule integrates a cubic. The average of top and bottom area overstates a pit.
/// Throws RangeError unless width, length and depth are positive and 0 <= slope <= 10.
Trench trench(Length width, Length length, Length depth, double slope, Working& working);

/// Volume of the lowest `height` of a trench; `height` is held between 0 and the depth.
Volume volume_below(const Trench& t, Length height);

/// V = D/6 (A_bottom + 4 A_middle + A_top), for shapes that are not a trench of one depth.
/// Throws RangeError on negative areas or a depth that is not positive.
Volume prismoidal_volume(Area bottom, Area middle, Area top, Length depth);

/// Long trench of which only the two long sides are battered: V = L D (b + z D). Same errors as `trench`.
Volume side_battered_volume(Length width, Length length, Length depth, double slope);

}  // namespace patchwright::excavation
