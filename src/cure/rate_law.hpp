#pragma once
// The rate of conversion and its derivatives, in SI doubles: the innermost loop of every simulation.
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "exponential.hpp"
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
          one_energy_{k.energy_1 == k.energy_2 || k.rate_1.si() == 0.0},
          usual_orders_{k.order_m == 1.0 && k.order_n == 2.0},
          limit_{k.limit},
          usual_{one_energy_ && usual_orders_ && limit_ == DiffusionLimit::glass},
          sharpness_{k.conversion_sharpness},
          limit_0_{k.conversion_limit_at_0_k},
          limit_1_{k.conversion_limit_per_k},
          glass_0_{k.glass.start.in_kelvin()},
          glass_span_{k.glass.end.in_kelvin() - k.glass.start.in_kelvin()},
          lambda_{k.glass.lambda},
          offset_{k.glass_offset.si()},
          per_width_{1.0 / k.glass_width.si()} {}

    /// The Arrhenius factors of one temperature, for those who ask about many conversions at it.
    struct Factors {
        double temperature = 0.0, k_1 = 0.0, k_2 = 0.0;
    };
    Factors factors(double temperature) const { return factors<false>(temperature); }

    Rate operator()(double conversion, double temperature) const {
        return rate<false>(conversion, factors(temperature));
    }
    Rate operator()(double conversion, const Factors& f) const { return rate<false>(conversion, f); }

    /// Of many cells: `take(i, rate)` for each. The usual law has a loop of its own, without a branch in it: a
    /// quarter off the time of a history (`bench_cure`).
    template <class Take>
    void each(std::size_t count, const double* conversion, const double* temperature, Take&& take) const {
        const RateLaw law = *this;  // a copy: nothing that is written meanwhile can change it
        if (usual_) {
            for (std::size_t i = 0; i < count; ++i)
                take(i, law.rate<true>(conversion[i], law.factors<true>(temperature[i])));
        } else {
            for (std::size_t i = 0; i < count; ++i) take(i, law(conversion[i], temperature[i]));
        }
    }

    Glass glass() const {
        return {Temperature::kelvin(glass_0_), Temperature::kelvin(glass_0_ + glass_span_), lambda_};
    }
    double glass_temperature(double a) const {
        return glass_0_ + glass_span_ * lambda_ * a / (1.0 - (1.0 - lambda_) * a);
    }

private:
    /// `known_usual`: the law is the usual one, orders 1 and 2, one activation energy, held up by the glass alone.
    template <bool known_usual>
    Factors factors(double temperature) const {
        const double inverse = 1.0 / temperature;
        const double k_2 = exponential(ln_2_ - b_2_ * inverse);
        return {temperature, known_usual || one_energy_ ? ratio_ * k_2 : exponential(ln_1_ - b_1_ * inverse), k_2};
    }
    template <bool known_usual>
    Rate rate(double conversion, const Factors& f) const {
        const double a = std::clamp(conversion, 0.0, 1.0 - 1e-9);
        const double inverse = 1.0 / f.temperature;
        Rate r = known_usual || usual_orders_ ? usual(f.k_1, f.k_2, a, inverse) : general(f.k_1, f.k_2, a, inverse);
        if (known_usual || limit_ == DiffusionLimit::glass) {
            const double per = 1.0 / (1.0 - (1.0 - lambda_) * a);
            const double reach = glass_span_ * lambda_ * per;
            slow_down(r, (glass_0_ + reach * a - f.temperature - offset_) * per_width_, reach * per * per_width_,
                      -per_width_);
        } else if (limit_ == DiffusionLimit::conversion) {
            slow_down(r, sharpness_ * (a - limit_0_ - limit_1_ * f.temperature), sharpness_, -sharpness_ * limit_1_);
        }
        return r;
    }
    Rate usual(double k_1, double k_2, double a, double inverse) const {
        const double b = 1.0 - a;
        const double sum = k_1 + k_2 * a;
        return {sum * b * b, b * (k_2 * b - 2.0 * sum), (k_1 * b_1_ + k_2 * a * b_2_) * b * b * inverse * inverse};
    }
    Rate general(double k_1, double k_2, double a, double inverse) const {
        const double seed = std::max(a, 1e-8);  // a^m has no finite slope at 0 when m < 1
        const double a_m = m_ == 0.0 ? 1.0 : std::pow(a, m_);
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
    bool usual_;
    double sharpness_, limit_0_, limit_1_, glass_0_, glass_span_, lambda_, offset_, per_width_;
};

/// Seconds from one conversion to another at constant temperature, `panels` panels of 8 Gauss points.
double isothermal_seconds(const RateLaw& law, double from, double to, double kelvin, int panels);

}  // namespace patchwright::cure::detail
