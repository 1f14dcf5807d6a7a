#pragma once
#include <compare>

#include "patchwright/units/quantity.hpp"

namespace patchwright {

/// A point on the temperature scale. Only differences of points are quantities:
/// 10 °C + 10 °C has no meaning and does not compile.
class Temperature {
public:
    constexpr Temperature() = default;  ///< 0 °C
    static constexpr Temperature kelvin(double k) { return Temperature{k}; }
    static constexpr Temperature celsius(double c) { return Temperature{c + 273.15}; }
    static constexpr Temperature fahrenheit(double f) { return celsius((f - 32.0) / 1.8); }

    constexpr double in_kelvin() const { return kelvin_; }
    constexpr double in_celsius() const { return kelvin_ - 273.15; }
    constexpr double in_fahrenheit() const { return in_celsius() * 1.8 + 32.0; }

    constexpr auto operator<=>(const Temperature&) const = default;
    friend constexpr TemperatureDifference operator-(Temperature a, Temperature b) {
        return TemperatureDifference::from_si(a.kelvin_ - b.kelvin_);
    }
    friend constexpr Temperature operator+(Temperature t, TemperatureDifference d) {
        return Temperature{t.kelvin_ + d.si()};
    }
    friend constexpr Temperature operator-(Temperature t, TemperatureDifference d) {
        return Temperature{t.kelvin_ - d.si()};
    }

private:
    constexpr explicit Temperature(double k) : kelvin_{k} {}
    double kelvin_ = 273.15;
};

}  // namespace patchwright
