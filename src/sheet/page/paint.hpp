#pragma once
#include "fonts.hpp"
#include "ink.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/model.hpp"

/// The drawing description on a cairo surface.
namespace patchwright::sheet {

/// One unit of the surface is a millimetre of the drawing.
void paint(cairo_t* cairo, const Drawing& drawing, Fonts& fonts);

/// A picture from a file in a rectangle.
void paint(cairo_t* cairo, const Image& image, double x, double y, double width, double height);

}  // namespace patchwright::sheet
