#include "patchwright/price/break_even.hpp"

#include <cmath>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::price {

std::vector<double> crossings(const std::function<double(double)>& f, double low, double high, int steps,
                              double tolerance) {
    if (!(low < high && steps >= 1 && tolerance > 0.0 && std::isfinite(low) && std::isfinite(high))) {
        throw RangeError(fmt::format("break-even: cannot scan from {} to {} in {} steps", low, high, steps));
    }
    std::vector<double> found;
    double left = low;
    bool left_positive = f(left) > 0.0;
    for (int i = 1; i <= steps; ++i) {
        const double right = low + (high - low) * i / steps;
        const bool right_positive = f(right) > 0.0;
        if (left_positive != right_positive) {
            double a = left;
            double b = right;
            while (b - a > tolerance) {
                const double middle = 0.5 * (a + b);
                if (middle <= a || middle >= b) break;
                ((f(middle) > 0.0) == left_positive ? a : b) = middle;
            }
            found.push_back(0.5 * (a + b));
        }
        left = right;
        left_positive = right_positive;
    }
    return found;
}

}  // namespace patchwright::price
