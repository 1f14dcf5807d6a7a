#pragma once
// The standard normal distribution.
#include <cmath>
#include <limits>
#include <numbers>

namespace patchwright::cure::detail {

inline double normal_cumulative(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

/// Inverse of `normal_cumulative`: Newton's rule on the smaller tail, from a rational first guess (Abramowitz &
/// Stegun 26.2.23, error below 4.5e-4). Infinite at 0 and 1.
inline double normal_quantile(double p) {
    if (!(p > 0.0)) return -std::numeric_limits<double>::infinity();
    if (!(p < 1.0)) return std::numeric_limits<double>::infinity();
    const double tail = p < 0.5 ? p : 1.0 - p;
    const double t = std::sqrt(-2.0 * std::log(tail));
    double z = t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
    for (int i = 0; i < 2; ++i) {
        const double density = std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
        z += (normal_cumulative(-z) - tail) / density;
    }
    return p < 0.5 ? -z : z;
}

}  // namespace patchwright::cure::detail
