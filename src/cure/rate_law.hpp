#pragma once
// The rate of conversion and its derivatives, in SI doubles: the innermost loop of every simulation.
#include <algorithm>
#include <cmath>

#include "patchwright/cure/kinetics.hpp"

namespace patchwright::cure::detail {

struct Rate {
    double value = 0.0;           ///< 1/s
    double by_conversion = 0.0;   ///< 1/s
    double by_temperature = 0.0;  ///< 1/(s K)
};

class RateLaw {
public:
    explicit RateLaw(const Kinetics& k)
        : ln_1_{std::log(k.rate_1.si())},
          ln_2_{std::log(k.rate_2.si())},
          b_1_{k.energy_1.si() / gas_constant},
          b_2_{k.energy_2.si() / gas_constant},
          ratio_{k.rate_1.si() / k.rate_2.si()},
          m_{k.order_m},
          n_{k.order_n},
          one_energy_{k.energy_1 == k.energy_2},
          usual_orders_{k.order_m == 1.0 && k.order_n == 2.0},
          limit_{k.limit},
          sharpness_{k.conversion_sharpness},
          limit_0_{k.conversion_limit_at_0_k},
          limit_1_{k.conversion_limit_per_k},
          glass_0_{k.glass.start.in_kelvin()},
          glass_span_{k.glass.end.in_kelvin() - k.glass.start.in_kelvin()},
          lambda_{k.glass.lambda},
          offset_{k.glass_offset.si()},
          width_{k.glass_width.si()} {}

    Rate operator()(double conversion, double temperature) const {
        const double a = std::clamp(conversion, 0.0, 1.0 - 1e-9);
        const double k_2 = std::exp(ln_2_ - b_2_ / temperature);
        const double k_1 = one_energy_ ? ratio_ * k_2 : std::exp(ln_1_ - b_1_ / temperature);
        Rate r = usual_orders_ ? usual(k_1, k_2, a, temperature) : general(k_1, k_2, a, temperature);
        if (limit_ == DiffusionLimit::glass) {
            const double den = 1.0 - (1.0 - lambda_) * a;
            const double x = (glass_0_ + glass_span_ * lambda_ * a / den - temperature - offset_) / width_;
            slow_down(r, x, glass_span_ * lambda_ / (den * den * width_), -1.0 / width_);
        } else if (limit_ == DiffusionLimit::conversion) {
            slow_down(r, sharpness_ * (a - limit_0_ - limit_1_ * temperature), sharpness_, -sharpness_ * limit_1_);
        }
        return r;
    }

    Glass glass() const {
        return {Temperature::kelvin(glass_0_), Temperature::kelvin(glass_0_ + glass_span_), lambda_};
    }
    double glass_temperature(double a) const {
        return glass_0_ + glass_span_ * lambda_ * a / (1.0 - (1.0 - lambda_) * a);
    }

private:
    Rate usual(double k_1, double k_2, double a, double temperature) const {
        const double b = 1.0 - a;
        const double sum = k_1 + k_2 * a;
        return {sum * b * b, b * (k_2 * b - 2.0 * sum),
                (k_1 * b_1_ + k_2 * a * b_2_) * b * b / (temperature * temperature)};
    }
    Rate general(double k_1, double k_2, double a, double temperature) const {
        const double seed = std::max(a, 1e-8);  // a^m has no finite slope at 0 when m < 1
        const double a_m = m_ == 0.0 ? 1.0 : std::pow(a, m_);
        const double b = 1.0 - a;
        const double b_n = n_ == 0.0 ? 1.0 : std::pow(b, n_);
        const double sum = k_1 + k_2 * a_m;
        return {sum * b_n, (k_2 * m_ * a_m / seed - sum * n_ / b) * b_n,
                (k_1 * b_1_ + k_2 * a_m * b_2_) * b_n / (temperature * temperature)};
    }
    /// Multiplies by 1 / (1 + exp(x)).
    static void slow_down(Rate& r, double x, double x_by_a, double x_by_temperature) {
        if (x < -20.0) return;  // factor within 2e-9 of 1
        const double e = std::exp(std::min(x, 100.0));
        const double factor = 1.0 / (1.0 + e);
        const double slope = -e * factor * factor;
        r.by_conversion = r.by_conversion * factor + r.value * slope * x_by_a;
        r.by_temperature = r.by_temperature * factor + r.value * slope * x_by_temperature;
        r.value *= factor;
    }

    double ln_1_, ln_2_, b_1_, b_2_, ratio_, m_, n_;
    bool one_energy_, usual_orders_;
    DiffusionLimit limit_;
    double sharpness_, limit_0_, limit_1_, glass_0_, glass_span_, lambda_, offset_, width_;
};

/// Seconds from one conversion to another at constant temperature, `panels` panels of 8 Gauss points.
double isothermal_seconds(const RateLaw& law, double from, double to, double kelvin, int panels);

}  // namespace patchwright::cure::detail
