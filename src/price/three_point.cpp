#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "patchwright/price/risk.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::price {
namespace {

void need_order(const job::Spread<double>& s) {
    const bool finite = std::isfinite(s.low) && std::isfinite(s.likely) && std::isfinite(s.high);
    if (!(finite && s.low <= s.likely && s.likely <= s.high)) {
        throw RangeError(
            fmt::format("three-point value: need low <= likely <= high, got {}, {}, {}", s.low, s.likely, s.high));
    }
}
void need_probability(double p) {
    if (!(p >= 0.0 && p <= 1.0)) throw RangeError(fmt::format("a probability lies between 0 and 1, got {}", p));
}

}  // namespace

Moments triangular(const job::Spread<double>& s) {
    need_order(s);
    // The variance by differences: no digits are lost when the three lie close together.
    const double u = s.likely - s.low;
    const double v = s.high - s.likely;
    return {(s.low + s.likely + s.high) / 3.0, (u * u + v * v + u * v) / 18.0};
}

Moments pert(const job::Spread<double>& s) {
    need_order(s);
    const double sd = (s.high - s.low) / 6.0;
    return {(s.low + 4.0 * s.likely + s.high) / 6.0, sd * sd};
}

Moments beta_pert(const job::Spread<double>& s) {
    need_order(s);
    const double mean = (s.low + 4.0 * s.likely + s.high) / 6.0;
    return {mean, (mean - s.low) * (s.high - mean) / 7.0};
}

double triangular_inverse(const job::Spread<double>& s, double p) {
    need_order(s);
    need_probability(p);
    const double range = s.high - s.low;
    if (range <= 0.0) return s.likely;
    if (p * range < s.likely - s.low) return s.low + std::sqrt(p * range * (s.likely - s.low));
    return s.high - std::sqrt((1.0 - p) * range * (s.high - s.likely));
}

double expected_one_redo(double p, double redo) {
    need_probability(p);
    return p * redo;
}
double expected_redo_until_good(double p, double redo) {
    if (!(p >= 0.0 && p < 1.0)) {
        throw RangeError(fmt::format("a repair that always fails is never done: need 0 <= p < 1, got {}", p));
    }
    return p / (1.0 - p) * redo;
}
double expected_failure(double p, double q, double remove, double redo, double dig) {
    need_probability(p);
    need_probability(q);
    return p * (remove + (1.0 - q) * redo + q * dig);
}

double Event::mean() const { return expected_failure(probability, q, triangular(cost).mean, then_first, then_second); }

Means mean_cost(const Model& model) {
    const auto of = [&model](const MethodModel& method) {
        double sum = method.fixed;
        for (const Term& t : method.terms) {
            double product = t.cents * triangular(model.variables[static_cast<std::size_t>(t.first)].spread).mean;
            if (t.second >= 0) product *= triangular(model.variables[static_cast<std::size_t>(t.second)].spread).mean;
            sum += product;
        }
        return sum;
    };
    Means means{of(model.patch), of(model.dig)};
    for (const Event& e : model.events) {
        if (e.of_patch) means.patch += e.mean();
        if (e.of_dig) means.dig += e.mean();
    }
    const double scope = triangular(model.scope).mean;
    return {scope * means.patch, scope * means.dig};
}

}  // namespace patchwright::price
