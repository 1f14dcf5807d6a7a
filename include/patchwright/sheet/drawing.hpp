#pragma once
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

/// A drawing as shapes in millimetres of paper, y downwards. SVG, PNG and PDF are renderers of it.
namespace patchwright::sheet {

enum class Ink : std::uint8_t { black, dark, mid, light, white };  ///< greys only: nothing is told by colour
enum class Dash : std::uint8_t { solid, dashed, dotted };
enum class Hatch : std::uint8_t { none, slanted, crossed, dots };

struct Point {
    double x = 0, y = 0;
};
struct Line {
    Point a, b;
    double width = 0.25;
    Ink ink = Ink::black;
    Dash dash = Dash::solid;
    bool arrow = false;
};
struct Polygon {
    std::vector<Point> points;
    bool filled = false;
    double width = 0.25;
    Ink ink = Ink::black, fill = Ink::light;
    Hatch hatch = Hatch::none;
    bool closed = true;
};
struct Arc {
    Point centre;
    double radius = 0, from_deg = 0, to_deg = 360;
    double width = 0.25;
    Ink ink = Ink::black;
    bool filled = false;
    Ink fill = Ink::light;
};
struct Label {
    Point at;
    std::string text;
    double size = 3.0;
    int anchor = 0;  ///< -1: `at` is the left end of the base line, 0 its middle, 1 its right end
    bool bold = false;
    bool vertical = false;  ///< reads upwards
    bool plate = false;     ///< on a white plate, so that lines behind do not cross the letters
    Ink ink = Ink::black;
};
using Shape = std::variant<Line, Polygon, Arc, Label>;

struct Drawing {
    std::string name, title;
    double width = 180, height = 80;  ///< mm
    std::vector<Shape> shapes;
};

struct Context;

/// One under the other, with their titles.
Drawing stacked(const std::vector<Drawing>& drawings);

/// `packers`: with the marks of the packers and from where they come, which are the crew's.
Drawing draw_run(const Context& context, int run, bool packers = true);
/// One low strip: mouths, fittings, the sleeves of those patches and from where their marks are measured. `half`: so
/// wide that two stand beside each other on the page.
Drawing draw_run_small(const Context& context, int run, const std::vector<std::size_t>& patches, bool half = false);
Drawing draw_section(const Context& context, int patch);
Drawing draw_day(const Context& context, int day, bool titled = true);
Drawing draw_cure(const Context& context, int patch);
Drawing draw_bracket(const Context& context);
Drawing draw_cutting(const Context& context);

}  // namespace patchwright::sheet
