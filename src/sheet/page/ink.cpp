#include "ink.hpp"

#include <cmath>

namespace patchwright::sheet {

double grey(Ink ink) {
    switch (ink) {
        case Ink::black:
            return 0.0;
        case Ink::dark:
            return 0.28;
        case Ink::mid:
            return 0.55;
        case Ink::light:
            return 0.86;
        case Ink::white:
            return 1.0;
    }
    return 0.0;
}

std::array<double, 2> dashes(Dash dash) {
    switch (dash) {
        case Dash::solid:
            return {0, 0};
        case Dash::dashed:
            return {1.8, 1.1};
        case Dash::dotted:
            return {0.35, 0.9};
    }
    return {0, 0};
}

std::array<Point, 3> arrow_head(const Line& line) {
    const double angle = std::atan2(line.b.y - line.a.y, line.b.x - line.a.x);
    const auto corner = [&](double turn) {
        return Point{line.b.x - arrow_length * std::cos(angle + turn),
                     line.b.y - arrow_length * std::sin(angle + turn)};
    };
    return {line.b, corner(0.33), corner(-0.33)};
}

}  // namespace patchwright::sheet
