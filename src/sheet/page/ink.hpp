#pragma once
#include <array>

#include "patchwright/sheet/drawing.hpp"

/// What the pen does, the same in every form of a drawing.
namespace patchwright::sheet {

/// 0 black to 1 white.
double grey(Ink ink);
/// Lengths of dash and gap in mm; none for a solid line.
std::array<double, 2> dashes(Dash dash);
inline constexpr double hatch_step = 1.4;    ///< mm between hatch lines
inline constexpr double arrow_length = 2.2;  ///< mm
/// The three corners of the arrow head at `line.b`.
std::array<Point, 3> arrow_head(const Line& line);

}  // namespace patchwright::sheet
