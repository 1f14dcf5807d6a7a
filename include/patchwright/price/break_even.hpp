#pragma once
#include <functional>
#include <string>
#include <vector>

#include "patchwright/units/money.hpp"

namespace patchwright::price {

/// A place in the table and the plot: both methods at one value.
struct BreakEvenPoint {
    double at = 0.0;    ///< in `unit` of its table; the place in the list for surfaces
    std::string label;  ///< "1.50 m", "3", "grass"
    Money patch{}, dig{};
};
struct BreakEven {
    std::string what;        ///< "depth", "number of patches", "surface"
    std::vector<double> at;  ///< where the cheaper method changes: none, one or several
    std::string unit;
    std::string words;                   ///< one sentence
    std::vector<BreakEvenPoint> points;  ///< plot data
};

/// Where f changes sign on [low, high]: scanned in `steps` equal steps, each change narrowed by bisection to
/// `tolerance`. f may jump: the place of the jump is found. Finds changes at least one step apart.
/// Throws RangeError unless low < high, steps >= 1, tolerance > 0.
std::vector<double> crossings(const std::function<double(double)>& f, double low, double high, int steps,
                              double tolerance);

}  // namespace patchwright::price
