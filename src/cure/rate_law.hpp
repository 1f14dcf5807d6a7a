#pragma once
// The rate of conversion and its derivatives, in SI doubles: the innermost loop of every simulation.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "exponential.hpp"
#include "patchwright/cure/kinetics.hpp"

namespace patchwright::cure::detail {

struct Rate {
    double value = 0.0;           ///< 1/s
    double by_conversion = 0.0;   ///< 1/s
    double by_temperature = 0.0;  ///< 1/(s K)
};

/// Rates of many cells, one array a quantity, so that the compiler can take several cells at once.
struct Rates {
    std::vector<double> value, by_conversion, by_temperature;
    void resize(std::size_t n) {
        value.resize(n);
        by_conversion.resize(n);
        by_temperature.resize(n);
    }
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
          one_energy_{k.energy_1 == k.energy_2 || k.rate_1.si() == 0.0},
          usual_orders_{k.order_m == 1.0 && k.order_n == 2.0},
          limit_{k.limit},
          sharpness_{k.conversion_sharpness},
          limit_0_{k.conversion_limit_at_0_k},
          limit_1_{k.conversion_limit_per_k},
          glass_0_{k.glass.start.in_kelvin()},
          glass_span_{k.glass.end.in_kelvin() - k.glass.start.in_kelvin()},
          lambda_{k.glass.lambda},
          offset_{k.glass_offset.si()},
          per_width_{1.0 / k.glass_width.si()} {}

    Rate operator()(double conversion, double temperature) const {
        const double a = std::clamp(conversion, 0.0, 1.0 - 1e-9);
        const auto [same, k_1, k_2] = factors(temperature);
        const double inverse = 1.0 / same;
        Rate r = usual_orders_ ? usual(k_1, k_2, a, inverse) : general(k_1, k_2, a, inverse);
        if (limit_ == DiffusionLimit::glass) {
            const double per = 1.0 / (1.0 - (1.0 - lambda_) * a);
            const double reach = glass_span_ * lambda_ * per;
            slow_down(r, (glass_0_ + reach * a - temperature - offset_) * per_width_, reach * per * per_width_,
                      -per_width_);
        } else if (limit_ == DiffusionLimit::conversion) {
            slow_down(r, sharpness_ * (a - limit_0_ - limit_1_ * temperature), sharpness_, -sharpness_ * limit_1_);
        }
        return r;
    }

    /// The Arrhenius factors of one temperature, for those who ask about many conversions at it.
    struct Factors {
        double temperature = 0.0, k_1 = 0.0, k_2 = 0.0;
    };
    Factors factors(double temperature) const {
        const double inverse = 1.0 / temperature;
        const double k_2 = exponential(ln_2_ - b_2_ * inverse);
        return {temperature, one_energy_ ? ratio_ * k_2 : exponential(ln_1_ - b_1_ * inverse), k_2};
    }
    /// The rate alone, without its derivatives; to the last bit the same number.
    double value(double conversion, const Factors& f) const {
        const double a = std::clamp(conversion, 0.0, 1.0 - 1e-9);
        const double b = 1.0 - a;
        const double v = usual_orders_ ? (f.k_1 + f.k_2 * a) * b * b
                                       : (f.k_1 + f.k_2 * power_of_conversion(a)) * (n_ == 0.0 ? 1.0 : std::pow(b, n_));
        if (limit_ == DiffusionLimit::none) return v;
        const double x = limit_ == DiffusionLimit::glass ? glass_excess(a, f.temperature)
                                                         : sharpness_ * (a - limit_0_ - limit_1_ * f.temperature);
        return v * (1.0 / (1.0 + exponential(std::clamp(x, -60.0, 100.0))));
    }
    double value(double conversion, double temperature) const { return value(conversion, factors(temperature)); }

    /// The same for `count` cells; to the last bit the same numbers.
    void many(std::size_t count, const double* conversion, const double* temperature, Rates& out) const {
        if (!(usual_orders_ && one_energy_ && limit_ == DiffusionLimit::glass)) {
            for (std::size_t i = 0; i < count; ++i) {
                const Rate r = (*this)(conversion[i], temperature[i]);
                out.value[i] = r.value;
                out.by_conversion[i] = r.by_conversion;
                out.by_temperature[i] = r.by_temperature;
            }
            return;
        }
        double* __restrict value = out.value.data();
        double* __restrict by_conversion = out.by_conversion.data();
        double* __restrict by_temperature = out.by_temperature.data();
        const RateLaw law = *this;
        for (std::size_t i = 0; i < count; ++i) {
            const double low = conversion[i] > 0.0 ? conversion[i] : 0.0;
            const double a = low < 1.0 - 1e-9 ? low : 1.0 - 1e-9;
            const double inverse = 1.0 / temperature[i];
            const double k_2 = exponential(law.ln_2_ - law.b_2_ * inverse);
            const double k_1 = law.ratio_ * k_2;
            const double b = 1.0 - a;
            const double sum = k_1 + k_2 * a;
            const double v = sum * b * b;
            const double va = b * (k_2 * b - 2.0 * sum);
            const double vt = (k_1 * law.b_1_ + k_2 * a * law.b_2_) * b * b * inverse * inverse;
            const double per = 1.0 / (1.0 - (1.0 - law.lambda_) * a);
            const double reach = law.glass_span_ * law.lambda_ * per;
            const double x = (law.glass_0_ + reach * a - temperature[i] - law.offset_) * law.per_width_;
            const double above = x > -60.0 ? x : -60.0;
            const double e = exponential(above < 100.0 ? above : 100.0);
            const double factor = 1.0 / (1.0 + e);
            const double slope = -e * factor * factor;
            value[i] = v * factor;
            by_conversion[i] = va * factor + v * slope * (reach * per * law.per_width_);
            by_temperature[i] = vt * factor + v * slope * -law.per_width_;
        }
    }

    /// The rates alone of `count` cells, without their derivatives; to the last bit the same numbers.
    void values(std::size_t count, const double* conversion, const double* temperature, double* __restrict out) const {
        if (!(usual_orders_ && one_energy_ && limit_ == DiffusionLimit::glass)) {
            for (std::size_t i = 0; i < count; ++i) out[i] = value(conversion[i], temperature[i]);
            return;
        }
        const RateLaw law = *this;
        for (std::size_t i = 0; i < count; ++i) {
            const double low = conversion[i] > 0.0 ? conversion[i] : 0.0;
            const double a = low < 1.0 - 1e-9 ? low : 1.0 - 1e-9;
            const double k_2 = exponential(law.ln_2_ - law.b_2_ * (1.0 / temperature[i]));
            const double b = 1.0 - a;
            const double v = (law.ratio_ * k_2 + k_2 * a) * b * b;
            const double x = law.glass_excess(a, temperature[i]);
            const double above = x > -60.0 ? x : -60.0;
            out[i] = v * (1.0 / (1.0 + exponential(above < 100.0 ? above : 100.0)));
        }
    }

    Glass glass() const {
        return {Temperature::kelvin(glass_0_), Temperature::kelvin(glass_0_ + glass_span_), lambda_};
    }
    double glass_temperature(double a) const {
        return glass_0_ + glass_span_ * lambda_ * a / (1.0 - (1.0 - lambda_) * a);
    }

private:
    double power_of_conversion(double a) const { return m_ == 0.0 ? 1.0 : std::pow(a, m_); }
    /// How far the glass temperature lies above the cell's, in widths of the slowing down.
    double glass_excess(double a, double temperature) const {
        const double per = 1.0 / (1.0 - (1.0 - lambda_) * a);
        const double reach = glass_span_ * lambda_ * per;
        return (glass_0_ + reach * a - temperature - offset_) * per_width_;
    }
    Rate usual(double k_1, double k_2, double a, double inverse) const {
        const double b = 1.0 - a;
        const double sum = k_1 + k_2 * a;
        return {sum * b * b, b * (k_2 * b - 2.0 * sum), (k_1 * b_1_ + k_2 * a * b_2_) * b * b * inverse * inverse};
    }
    Rate general(double k_1, double k_2, double a, double inverse) const {
        const double seed = std::max(a, 1e-8);  // a^m has no finite slope at 0 when m < 1
        const double a_m = power_of_conversion(a);
        const double b = 1.0 - a;
        const double b_n = n_ == 0.0 ? 1.0 : std::pow(b, n_);
        const double sum = k_1 + k_2 * a_m;
        return {sum * b_n, (k_2 * m_ * a_m / seed - sum * n_ / b) * b_n,
                (k_1 * b_1_ + k_2 * a_m * b_2_) * b_n * inverse * inverse};
    }
    /// Multiplies by 1 / (1 + exp(x)).
    static void slow_down(Rate& r, double x, double x_by_a, double x_by_temperature) {
        const double e = exponential(std::clamp(x, -60.0, 100.0));
        const double factor = 1.0 / (1.0 + e);
        const double slope = -e * factor * factor;
        r.by_conversion = r.by_conversion * factor + r.value * slope * x_by_a;
        r.by_temperature = r.by_temperature * factor + r.value * slope * x_by_temperature;
        r.value *= factor;
    }

    double ln_1_, ln_2_, b_1_, b_2_, ratio_, m_, n_;
    bool one_energy_, usual_orders_;
    DiffusionLimit limit_;
    double sharpness_, limit_0_, limit_1_, glass_0_, glass_span_, lambda_, offset_, per_width_;
};

/// Seconds from one conversion to another at constant temperature, `panels` panels of 8 Gauss points.
double isothermal_seconds(const RateLaw& law, double from, double to, double kelvin, int panels);

}  // namespace patchwright::cure::detail
