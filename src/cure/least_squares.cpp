#include "least_squares.hpp"

#include <algorithm>
#include <cmath>

namespace patchwright::cure::detail {
namespace {

double sum_of_squares(const std::vector<double>& r) {
    double sum = 0.0;
    for (const double x : r) sum += x * x;
    return sum;
}

/// Inverse of a small symmetric positive matrix, Gauss-Jordan; `scale` keeps the pivots alike.
Matrix inverse(Matrix a) {
    Matrix inv{};
    for (std::size_t i = 0; i < unknowns; ++i) inv[i][i] = 1.0;
    for (std::size_t i = 0; i < unknowns; ++i) {
        const double pivot = 1.0 / a[i][i];
        for (std::size_t j = 0; j < unknowns; ++j) {
            a[i][j] *= pivot;
            inv[i][j] *= pivot;
        }
        for (std::size_t k = 0; k < unknowns; ++k) {
            if (k == i) continue;
            const double factor = a[k][i];
            for (std::size_t j = 0; j < unknowns; ++j) {
                a[k][j] -= factor * a[i][j];
                inv[k][j] -= factor * inv[i][j];
            }
        }
    }
    return inv;
}

/// Rows of d residual / d (unknown / its unit).
std::vector<Vector> jacobian(const Residuals& residuals, const Vector& at, const std::vector<double>& r) {
    std::vector<Vector> rows(r.size());
    for (std::size_t j = 0; j < unknowns; ++j) {
        Vector moved = at;
        moved[j] += finite_step[j];
        const std::vector<double> changed = residuals(moved, &r, j);
        for (std::size_t i = 0; i < r.size(); ++i) rows[i][j] = (changed[i] - r[i]) / finite_step[j] * unit_of[j];
    }
    return rows;
}

/// What the residuals of one more trial say about the slopes: Broyden's update.
void update(std::vector<Vector>& rows, const Vector& step, const std::vector<double>& before,
            const std::vector<double>& after) {
    double length = 0.0;
    for (const double x : step) length += x * x;
    if (length <= 0.0) return;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        double missing = after[i] - before[i];
        for (std::size_t j = 0; j < unknowns; ++j) missing -= rows[i][j] * step[j];
        for (std::size_t j = 0; j < unknowns; ++j) rows[i][j] += missing * step[j] / length;
    }
}

Matrix normal_of(const std::vector<Vector>& rows) {
    Matrix normal{};
    for (const Vector& row : rows)
        for (std::size_t j = 0; j < unknowns; ++j)
            for (std::size_t k = 0; k < unknowns; ++k) normal[j][k] += row[j] * row[k];
    return normal;
}

/// Levenberg-Marquardt step against `rows`, each unknown moved by at most 1.5 of its units.
Vector step_of(const std::vector<Vector>& rows, const std::vector<double>& residuals, double damping) {
    Matrix damped = normal_of(rows);
    for (std::size_t j = 0; j < unknowns; ++j) damped[j][j] *= 1.0 + damping;
    const Matrix inv = inverse(damped);
    Vector right{};
    for (std::size_t i = 0; i < rows.size(); ++i)
        for (std::size_t j = 0; j < unknowns; ++j) right[j] -= rows[i][j] * residuals[i];
    Vector step{};
    for (std::size_t j = 0; j < unknowns; ++j) {
        for (std::size_t k = 0; k < unknowns; ++k) step[j] += inv[j][k] * right[k];
        step[j] = std::clamp(step[j], -1.5, 1.5);
    }
    return step;
}

/// Levenberg-Marquardt. ln(time) is nearly linear in the unknowns, so the slopes are computed once and then kept up by
/// Broyden's update; anew only when a step does not help.
}  // namespace

Minimum minimise(const Vector& start, const Residuals& residuals) {
    Minimum best;
    best.at = start;
    best.residuals = residuals(best.at, nullptr, 0);
    std::vector<Vector> rows = jacobian(residuals, best.at, best.residuals);
    bool fresh = true;
    double damping = 1e-3;
    for (int trial = 0; trial < 60; ++trial) {
        const Vector step = step_of(rows, best.residuals, damping);
        Vector next = best.at;
        double largest = 0.0;
        for (std::size_t j = 0; j < unknowns; ++j) {
            next[j] += step[j] * unit_of[j];
            largest = std::max(largest, std::abs(step[j]));
        }
        std::vector<double> r = residuals(next, nullptr, 0);
        const bool improved = sum_of_squares(r) <= sum_of_squares(best.residuals);
        update(rows, step, best.residuals, r);
        if (improved) {
            best.at = next;
            best.residuals = std::move(r);
            damping *= 0.2;
            fresh = false;
        }
        if (largest < 2e-3) break;
        if (improved) continue;
        damping *= 8.0;
        if (!fresh) {
            rows = jacobian(residuals, best.at, best.residuals);
            fresh = true;
        } else if (damping > 1e6) {
            break;
        }
    }
    best.inverse_normal = inverse(normal_of(rows));
    return best;
}

}  // namespace patchwright::cure::detail
