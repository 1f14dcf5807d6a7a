#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/sheet/drawing.hpp"

/// Helpers for the drawings: shapes in one call, and labels that keep out of each other's way.
namespace patchwright::sheet {

inline constexpr double paper_width = 182.0;  ///< mm, between the margins of A4

/// Width of a line of type in the sheets' family, as it is printed.
double label_width(std::string_view utf8, double size, bool bold = false);

/// The words cut off with an ellipsis so that they take `width` at most.
std::string fitted(const std::string& words, double size, double width, bool bold = false);
/// A name cut in its middle to at most `most` characters: what tells two apart stands at the ends.
std::string short_name(const std::string& name, std::size_t most = 16);

/// Room above or below a strip for labels on poles.
struct Flag {
    double x = 0;  ///< of the pole
    std::string text;
    bool bold = false;
    int lane = 0;       ///< 0 is next to the strip
    bool left = false;  ///< the text stands to the left of its pole
};
/// Gives each flag a lane and a side so that no text meets a text or a pole. Returns the number of lanes.
int arrange(std::vector<Flag>& flags, double size, double left, double right);

class Canvas {
public:
    Canvas(std::string name, std::string title, double width, double height);

    void line(Point a, Point b, double width = 0.25, Ink ink = Ink::black, Dash dash = Dash::solid);
    void arrow(Point a, Point b, double width = 0.35, Ink ink = Ink::black);
    void rectangle(double x, double y, double width, double height, Polygon style = {});
    void polygon(std::vector<Point> points, Polygon style = {});
    void arc(Arc arc) { drawing_.shapes.emplace_back(arc); }
    void text(Point at, const std::string& words, double size = 2.6, int anchor = -1, bool bold = false,
              bool plate = false, Ink ink = Ink::black);
    void text_upwards(Point at, std::string words, double size = 2.6, int anchor = 0);
    /// Poles from `strip_y` to their lane and the texts; lanes go up for `upwards`, else down.
    void flags(const std::vector<Flag>& flags, double strip_y, bool upwards, double size);
    /// The title in the upper left corner, and a line of smaller type under it when there is one.
    void title(const std::string& under = {});
    void set_height(double height) { drawing_.height = height; }
    double width() const { return drawing_.width; }
    Drawing take() { return std::move(drawing_); }

    static constexpr double lane = 3.5;  ///< height of a lane of flags

private:
    Drawing drawing_;
};

/// Styles used over and over.
Polygon filled(Ink fill, double line = 0.25);
Polygon hatched(Hatch hatch, Ink ink = Ink::black, double line = 0.25);

/// Round steps for a scale: about `wanted` of them over `span`, each 1, 2 or 5 times a power of ten.
double round_step(double span, int wanted);

}  // namespace patchwright::sheet
