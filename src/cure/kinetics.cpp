#include "patchwright/cure/kinetics.hpp"

#include <fmt/core.h>

#include <array>
#include <cmath>

#include "patchwright/units/error.hpp"
#include "rate_law.hpp"

namespace patchwright::cure {
namespace {

void check_conversion(double a, const char* name) {
    if (!(a >= 0.0 && a <= 1.0)) throw RangeError(fmt::format("{} must lie between 0 and 1, not {}", name, a));
}
void check_temperature(Temperature t) {
    if (!(t.in_kelvin() >= 230.0 && t.in_kelvin() <= 600.0))
        throw RangeError(fmt::format("cure: temperature {:.1f} °C is outside -43 to 327 °C", t.in_celsius()));
}

}  // namespace

namespace detail {

double isothermal_seconds(const RateLaw& law, double from, double to, double kelvin, int panels) {
    // Nodes and weights of the 8-point Gauss-Legendre rule: Abramowitz & Stegun, table 25.4.
    constexpr std::array<double, 4> node{0.183434642495650, 0.525532409916329, 0.796666477413627, 0.960289856497536};
    constexpr std::array<double, 4> weight{0.362683783378362, 0.313706645877887, 0.222381034453374, 0.101228536290376};
    if (!(to > from)) return 0.0;
    // Panels crowd towards both ends, where 1 / rate is steep: x = from + span s^2 (3 - 2 s).
    const double span = to - from;
    const RateLaw::Factors factors = law.factors(kelvin);
    double sum = 0.0;
    for (int p = 0; p < panels; ++p) {
        const double middle = (p + 0.5) / panels;
        const double half = 0.5 / panels;
        for (std::size_t i = 0; i < node.size(); ++i) {
            for (const double sign : {-1.0, 1.0}) {
                const double s = middle + sign * node[i] * half;
                const double slope = 6.0 * s * (1.0 - s);
                sum += weight[i] * half * slope * span / law(from + span * s * s * (3.0 - 2.0 * s), factors).value;
            }
        }
    }
    return sum;
}

}  // namespace detail

Frequency conversion_rate(const Kinetics& kinetics, double conversion, Temperature temperature) {
    check_conversion(conversion, "conversion");
    check_temperature(temperature);
    return Frequency::from_si(detail::RateLaw{kinetics}(conversion, temperature.in_kelvin()).value);
}

Duration isothermal_time(const Kinetics& kinetics, double from, double to, Temperature temperature) {
    check_conversion(from, "conversion at the start");
    check_temperature(temperature);
    if (!(to >= from && to < 1.0))
        throw RangeError(fmt::format("conversion at the end must lie between {} and 1, not {}", from, to));
    return Duration::from_si(
        detail::isothermal_seconds(detail::RateLaw{kinetics}, from, to, temperature.in_kelvin(), 32));
}

double isothermal_conversion(const Kinetics& kinetics, double from, Duration time, Temperature temperature) {
    check_conversion(from, "conversion at the start");
    check_temperature(temperature);
    if (!(time.si() >= 0.0) || !is_finite(time)) throw RangeError("cure: time must be a positive duration");
    const detail::RateLaw law{kinetics};
    double low = from;
    double high = 1.0 - 1e-9;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        const double seconds = detail::isothermal_seconds(law, from, middle, temperature.in_kelvin(), 32);
        (seconds < time.si() ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

Temperature glass_temperature(const Glass& glass, double conversion) {
    check_conversion(conversion, "conversion");
    const double share = glass.lambda * conversion / (1.0 - (1.0 - glass.lambda) * conversion);
    return glass.start + share * (glass.end - glass.start);
}

double conversion_at_glass(const Glass& glass, Temperature temperature) {
    const double x = (temperature - glass.start) / (glass.end - glass.start);
    if (x <= 0.0) return 0.0;
    if (x >= 1.0) return 1.0;
    return x / (glass.lambda + (1.0 - glass.lambda) * x);
}

double attainable_conversion(const Glass& glass, Temperature temperature, TemperatureDifference offset) {
    return conversion_at_glass(glass, temperature + offset);
}

}  // namespace patchwright::cure
