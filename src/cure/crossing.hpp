#pragma once
// Where within a step a conversion passes a value.
#include <algorithm>

namespace patchwright::cure::detail {

struct Knot {
    double time = 0.0, value = 0.0, rate = 0.0;
};

/// Cubic through both values and rates, at `time`.
inline double between(const Knot& a, const Knot& b, double time) {
    const double h = b.time - a.time;
    if (h <= 0.0) return b.value;
    const double s = (time - a.time) / h;
    const double r = 1.0 - s;
    return (1.0 + 2.0 * s) * r * r * a.value + s * s * (3.0 - 2.0 * s) * b.value +
           h * s * r * (r * a.rate - s * b.rate);
}

/// Time at which a condition, false at `a` and true at `b`, turns true; bisection to 1e-9 of the step.
template <class Condition>
double turn(double a, double b, Condition&& holds) {
    for (int i = 0; i < 30; ++i) {
        const double middle = 0.5 * (a + b);
        (holds(middle) ? b : a) = middle;
    }
    return b;
}

/// Time at which a rising value passes `target` between two knots.
inline double crossing(const Knot& a, const Knot& b, double target) {
    return turn(a.time, b.time, [&](double t) { return between(a, b, t) >= target; });
}

}  // namespace patchwright::cure::detail
