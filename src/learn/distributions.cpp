// Student's t and the gamma distribution, and the two conjugate updates.
#include <cmath>
#include <limits>

#include "patchwright/learn/learn.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::learn {
namespace {

constexpr double exact = 1e-15;
constexpr int max_terms = 10000;

/// Regularised lower incomplete gamma function, by its series: Abramowitz & Stegun 6.5.29.
double gamma_below(double shape, double x) {
    if (x <= 0.0) return 0.0;
    double term = 1.0 / shape, sum = term;
    for (int n = 1; n < max_terms && term > exact * sum; ++n) {
        term *= x / (shape + n);
        sum += term;
    }
    return std::min(1.0, sum * std::exp(shape * std::log(x) - x - std::lgamma(shape)));
}

/// Regularised incomplete beta function, by its continued fraction with Lentz's rule: Abramowitz & Stegun 26.5.8.
double beta_below(double a, double b, double x) {
    if (x <= 0.0) return 0.0;
    if (x >= 1.0) return 1.0;
    if (x > (a + 1.0) / (a + b + 2.0)) return 1.0 - beta_below(b, a, 1.0 - x);
    constexpr double tiny = 1e-300;
    double c = 1.0, d = 1.0 - (a + b) * x / (a + 1.0);
    d = 1.0 / (std::abs(d) < tiny ? tiny : d);
    double fraction = d;
    for (int m = 1; m < max_terms; ++m) {
        double change = 1.0;
        const double even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        const double odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        for (const double step : {even, odd}) {
            d = 1.0 + step * d;
            d = 1.0 / (std::abs(d) < tiny ? tiny : d);
            c = 1.0 + step / c;
            if (std::abs(c) < tiny) c = tiny;
            change = c * d;
            fraction *= change;
        }
        if (std::abs(change - 1.0) < exact) break;
    }
    const double front = std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) + a * std::log(x) + b * std::log1p(-x);
    return std::exp(front) * fraction / a;
}

double student_below(double t, double degrees) {
    const double tail = 0.5 * beta_below(0.5 * degrees, 0.5, degrees / (degrees + t * t));
    return t < 0.0 ? tail : 1.0 - tail;
}

/// Where a rising function reaches p, between two bounds.
template <class Below>
double bisected(double low, double high, double p, const Below& below) {
    for (int i = 0; i < 200 && high - low > 1e-13 * std::max(1.0, std::abs(low)); ++i) {
        const double middle = 0.5 * (low + high);
        (below(middle) < p ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

void check(double p, double parameter) {
    if (!(p > 0.0 && p < 1.0) || !(parameter > 0.0) || !std::isfinite(parameter))
        throw RangeError("quantile: the chance must lie between 0 and 1, the parameter above 0");
}

}  // namespace

double student_quantile(double p, double degrees) {
    check(p, degrees);
    double reach = 1.0;
    while (reach < 1e12 && (student_below(reach, degrees) < p || student_below(-reach, degrees) > p)) reach *= 2.0;
    return bisected(-reach, reach, p, [&](double t) { return student_below(t, degrees); });
}

double gamma_quantile(double p, double shape) {
    check(p, shape);
    double reach = 1.0;
    while (reach < 1e12 && gamma_below(shape, reach) < p) reach *= 2.0;
    return bisected(0.0, reach, p, [&](double x) { return gamma_below(shape, x); });
}

LogNormal LogNormal::with(const std::vector<double>& values) const {
    if (values.empty()) return *this;
    const double n = static_cast<double>(values.size());
    double average = 0.0, squares = 0.0;
    for (const double v : values) average += v / n;
    for (const double v : values) squares += (v - average) * (v - average);
    LogNormal after;
    after.mean_counts = mean_counts + n;
    after.mean = (mean_counts * mean + n * average) / after.mean_counts;
    after.sd_counts = sd_counts + n;
    const double moved = mean_counts * n * (average - mean) * (average - mean) / after.mean_counts;
    after.sd = std::sqrt((sd_counts * sd * sd + squares + moved) / after.sd_counts);
    return after;
}

double LogNormal::mean_quantile(double p) const {
    return mean + student_quantile(p, sd_counts) * sd / std::sqrt(mean_counts);
}

double LogNormal::of_next() const { return sd * std::sqrt(1.0 + 1.0 / mean_counts); }

double GammaRate::quantile(double p) const { return gamma_quantile(p, shape) / exposure; }

}  // namespace patchwright::learn
