#pragma once
// Nonlinear least squares in four unknowns.
#include <array>
#include <cstddef>
#include <functional>
#include <vector>

namespace patchwright::cure::detail {

/// Unknowns of the fit, in this order.
enum Unknown : std::size_t { log_rate, activation, log_ratio, strip_margin, unknowns };
using Vector = std::array<double, unknowns>;
using Matrix = std::array<Vector, unknowns>;

/// Steps of the difference quotients, and working units in which all four unknowns are of size one.
inline constexpr Vector finite_step{1e-3, 100.0, 5e-3, 0.1};
inline constexpr Vector unit_of{1.0, 6e3, 0.7, 6.0};

/// Residuals at a place; where `base` is given, one unknown was moved away from the place that `base` belongs to, and
/// rows that do not depend on it may be copied.
using Residuals =
    std::function<std::vector<double>(const Vector& at, const std::vector<double>* base, std::size_t moved)>;

struct Minimum {
    Vector at{};
    std::vector<double> residuals;
    Matrix inverse_normal{};  ///< in working units
};

Minimum minimise(const Vector& start, const Residuals& residuals);

}  // namespace patchwright::cure::detail
