#pragma once
#include <cmath>
#include <compare>
#include <numbers>

/// Quantities with their dimension in the type; numbers inside are SI base units.
/// No implicit conversion from or to double: write `200.0 * unit::mm`, read `d.in(unit::mm)`.
/// What the type does not catch: two quantities of one dimension that mean different things
/// (ring and axial stress). Use named struct fields for those, not long argument lists.
namespace patchwright {

/// Exponents of the base dimensions. `angle` is carried so that degrees are not mistaken for ratios.
struct Dim {
    int length = 0, mass = 0, time = 0, temperature = 0, amount = 0, angle = 0;
    constexpr bool operator==(const Dim&) const = default;
};
constexpr Dim operator+(Dim a, Dim b) {
    return {a.length + b.length,           a.mass + b.mass,     a.time + b.time,
            a.temperature + b.temperature, a.amount + b.amount, a.angle + b.angle};
}
constexpr Dim operator-(Dim a, Dim b) {
    return {a.length - b.length,           a.mass - b.mass,     a.time - b.time,
            a.temperature - b.temperature, a.amount - b.amount, a.angle - b.angle};
}

/// A number with a physical dimension, held in SI base units.
template <Dim D>
class Quantity {
public:
    constexpr Quantity() = default;
    static constexpr Quantity from_si(double value) { return Quantity{value}; }

    constexpr double si() const { return si_; }
    constexpr double in(Quantity unit) const { return si_ / unit.si_; }

    constexpr auto operator<=>(const Quantity&) const = default;
    constexpr Quantity operator-() const { return Quantity{-si_}; }
    constexpr Quantity& operator+=(Quantity o) {
        si_ += o.si_;
        return *this;
    }
    constexpr Quantity& operator-=(Quantity o) {
        si_ -= o.si_;
        return *this;
    }
    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.si_ + b.si_}; }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity{a.si_ - b.si_}; }
    friend constexpr Quantity operator*(double k, Quantity q) { return Quantity{k * q.si_}; }
    friend constexpr Quantity operator*(Quantity q, double k) { return Quantity{k * q.si_}; }
    friend constexpr Quantity operator/(Quantity q, double k) { return Quantity{q.si_ / k}; }

private:
    constexpr explicit Quantity(double si) : si_{si} {}
    double si_ = 0.0;
};

/// Wraps an SI value; a dimensionless result decays to plain double.
template <Dim D>
constexpr auto make_quantity(double si) {
    if constexpr (D == Dim{})
        return si;
    else
        return Quantity<D>::from_si(si);
}
template <Dim A, Dim B>
constexpr auto operator*(Quantity<A> a, Quantity<B> b) {
    return make_quantity<A + B>(a.si() * b.si());
}
template <Dim A, Dim B>
constexpr auto operator/(Quantity<A> a, Quantity<B> b) {
    return make_quantity<A - B>(a.si() / b.si());
}
template <Dim A>
constexpr auto operator/(double k, Quantity<A> a) {
    return make_quantity<Dim{} - A>(k / a.si());
}

template <Dim D>
constexpr Quantity<D> abs(Quantity<D> q) {
    return q.si() < 0.0 ? -q : q;
}
template <Dim D>
bool is_finite(Quantity<D> q) {
    return std::isfinite(q.si());
}

using Length = Quantity<Dim{.length = 1}>;
using Area = Quantity<Dim{.length = 2}>;
using Volume = Quantity<Dim{.length = 3}>;
using Mass = Quantity<Dim{.mass = 1}>;
using Duration = Quantity<Dim{.time = 1}>;
using Frequency = Quantity<Dim{.time = -1}>;
using Velocity = Quantity<Dim{.length = 1, .time = -1}>;
using VolumeFlow = Quantity<Dim{.length = 3, .time = -1}>;
using Force = Quantity<Dim{.length = 1, .mass = 1, .time = -2}>;
using Pressure = Quantity<Dim{.length = -1, .mass = 1, .time = -2}>;
using Energy = Quantity<Dim{.length = 2, .mass = 1, .time = -2}>;
using Power = Quantity<Dim{.length = 2, .mass = 1, .time = -3}>;
using PowerDensity = Quantity<Dim{.length = -1, .mass = 1, .time = -3}>;
using Density = Quantity<Dim{.length = -3, .mass = 1}>;
using UnitWeight = Quantity<Dim{.length = -2, .mass = 1, .time = -2}>;
using ArealMass = Quantity<Dim{.length = -2, .mass = 1}>;
using LinearMass = Quantity<Dim{.length = -1, .mass = 1}>;
using SpecificEnergy = Quantity<Dim{.length = 2, .time = -2}>;
using MolarEnergy = Quantity<Dim{.length = 2, .mass = 1, .time = -2, .amount = -1}>;
using TemperatureDifference = Quantity<Dim{.temperature = 1}>;
using SpecificHeat = Quantity<Dim{.length = 2, .time = -2, .temperature = -1}>;
using Conductivity = Quantity<Dim{.length = 1, .mass = 1, .time = -3, .temperature = -1}>;
using HeatTransfer = Quantity<Dim{.mass = 1, .time = -3, .temperature = -1}>;
using Diffusivity = Quantity<Dim{.length = 2, .time = -1}>;
using Angle = Quantity<Dim{.angle = 1}>;

inline double sin(Angle a) { return std::sin(a.si()); }
inline double cos(Angle a) { return std::cos(a.si()); }
inline Length sqrt(Area a) { return Length::from_si(std::sqrt(a.si())); }

/// Units by name. A constant is written as the expression that defines it, never as its result.
namespace unit {
inline constexpr Length m = Length::from_si(1.0);
inline constexpr Length mm = 1e-3 * m;
inline constexpr Length cm = 1e-2 * m;
inline constexpr Length km = 1e3 * m;
inline constexpr Length in = 25.4 * mm;
inline constexpr Length ft = 12.0 * in;
inline constexpr Length yd = 3.0 * ft;
inline constexpr Area m2 = m * m;
inline constexpr Area mm2 = mm * mm;
inline constexpr Area ft2 = ft * ft;
inline constexpr Volume m3 = m2 * m;
inline constexpr Volume litre = 1e-3 * m3;
inline constexpr Volume ml = 1e-3 * litre;
inline constexpr Volume ft3 = ft2 * ft;
inline constexpr Volume yd3 = yd * yd * yd;
inline constexpr Volume gallon = 231.0 * (in * in * in);  ///< US liquid gallon
inline constexpr Volume fluid_ounce = gallon / 128.0;     ///< US
inline constexpr Mass kg = Mass::from_si(1.0);
inline constexpr Mass g = 1e-3 * kg;
inline constexpr Mass tonne = 1e3 * kg;
inline constexpr Mass lb = 0.45359237 * kg;
inline constexpr Mass oz = lb / 16.0;
inline constexpr Mass us_ton = 2000.0 * lb;
inline constexpr Duration s = Duration::from_si(1.0);
inline constexpr Duration minute = 60.0 * s;
inline constexpr Duration h = 60.0 * minute;
inline constexpr Duration day = 24.0 * h;
inline constexpr Force N = Force::from_si(1.0);
inline constexpr Force kN = 1e3 * N;
inline constexpr Force lbf = Force::from_si(0.45359237 * 9.80665);
inline constexpr Pressure Pa = Pressure::from_si(1.0);
inline constexpr Pressure kPa = 1e3 * Pa;
inline constexpr Pressure MPa = 1e6 * Pa;
inline constexpr Pressure bar = 1e5 * Pa;
inline constexpr Pressure mbar = 1e-3 * bar;
inline constexpr Pressure psi = lbf / (in * in);
inline constexpr Pressure psf = lbf / ft2;
inline constexpr Energy J = Energy::from_si(1.0);
inline constexpr Energy kJ = 1e3 * J;
inline constexpr Energy ft_lbf = ft * lbf;
inline constexpr Power W = Power::from_si(1.0);
inline constexpr Density kg_m3 = kg / m3;
inline constexpr UnitWeight N_m3 = N / m3;
inline constexpr UnitWeight kN_m3 = kN / m3;
inline constexpr UnitWeight pcf = lbf / (ft2 * ft);
inline constexpr ArealMass g_m2 = g / m2;
inline constexpr VolumeFlow litre_s = litre / s;
inline constexpr SpecificEnergy J_g = J / g;
inline constexpr MolarEnergy kJ_mol = MolarEnergy::from_si(1e3);
inline constexpr TemperatureDifference K = TemperatureDifference::from_si(1.0);
inline constexpr SpecificHeat J_kgK = J / (kg * K);
inline constexpr Conductivity W_mK = W / (m * K);
inline constexpr HeatTransfer W_m2K = W / (m2 * K);
inline constexpr Diffusivity m2_s = m2 / s;
inline constexpr Angle rad = Angle::from_si(1.0);
inline constexpr Angle deg = (std::numbers::pi / 180.0) * rad;
}  // namespace unit

/// Physical constants used by more than one module.
namespace constant {
inline constexpr double gravity_m_s2 = 9.80665;         ///< standard gravity, CGPM 1901 (exact)
inline constexpr Density water = 1000.0 * unit::kg_m3;  ///< fresh water, rounded
/// Unit weight of water. ASTM F1216 works with 62.4 lb/ft3 (9802 N/m3); rho*g here gives 9806.65.
inline constexpr UnitWeight water_unit_weight = UnitWeight::from_si(1000.0 * gravity_m_s2);
inline constexpr Pressure standard_atmosphere = 101325.0 * unit::Pa;  ///< ISO 2533
}  // namespace constant

}  // namespace patchwright
