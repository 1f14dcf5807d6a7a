#pragma once
#include <array>

#include "fonts.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/model.hpp"

/// The drawing description on a cairo surface.
namespace patchwright::sheet {

/// 0 black to 1 white.
double grey(Ink ink);
/// Lengths of dash and gap in mm; none for a solid line.
std::array<double, 2> dashes(Dash dash);
inline constexpr double hatch_step = 1.4;    ///< mm between hatch lines
inline constexpr double arrow_length = 2.2;  ///< mm
/// The three corners of the arrow head at `line.b`.
std::array<Point, 3> arrow_head(const Line& line);

/// One unit of the surface is a millimetre of the drawing.
void paint(cairo_t* cairo, const Drawing& drawing, Fonts& fonts);

/// A picture from a file in a rectangle.
void paint(cairo_t* cairo, const Image& image, double x, double y, double width, double height);

}  // namespace patchwright::sheet
