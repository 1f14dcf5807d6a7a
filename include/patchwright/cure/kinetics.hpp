#pragma once
#include <cstdint>

#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

/// How fast a two-part resin turns from liquid to solid.
namespace patchwright::cure {

/// Universal gas constant, J/(mol K): exact by the definition of the SI, 2019.
inline constexpr double gas_constant = 8.31446261815324;

/// Glass temperature of a resin against its conversion.
///
/// Tg = Tg0 + (Tg1 - Tg0) lambda a / (1 - (1 - lambda) a).
/// Source: DiBenedetto equation in the form of Pascault and Williams (1990), from memory.
struct Glass {
    Temperature start{};  ///< Tg of the unreacted mix
    Temperature end{};    ///< Tg at full conversion
    double lambda = 0.45;
};

/// What slows the reaction when the material turns glassy.
enum class DiffusionLimit : std::uint8_t {
    none,
    conversion,  ///< Chern & Poehlein: factor 1 / (1 + exp(C (a - ac))), ac = ac0 + acT T
    glass,       ///< factor 1 / (1 + exp((Tg(a) - T - offset) / width))
};

/// Kamal-Sourour kinetics: da/dt = (k1 + k2 a^m) (1 - a)^n times the diffusion factor, k = A exp(-E / (R T)).
///
/// Source: Kamal & Sourour, Polym. Eng. Sci. 13 (1973) 59, from memory.
/// Range: 0 <= a < 1; temperatures of 230 to 600 K. Ambient epoxies: m = 1, n = 2.
struct Kinetics {
    Frequency rate_1{}, rate_2{};        ///< A1, A2
    MolarEnergy energy_1{}, energy_2{};  ///< E1, E2
    double order_m = 1.0, order_n = 2.0;
    DiffusionLimit limit = DiffusionLimit::none;
    double conversion_sharpness = 30.0;    ///< C
    double conversion_limit_at_0_k = 0.0;  ///< ac0
    double conversion_limit_per_k = 0.0;   ///< acT, 1/K
    Glass glass;
    TemperatureDifference glass_offset = 10.0 * unit::K;  ///< glass temperature reached above the cure temperature
    TemperatureDifference glass_width = 6.0 * unit::K;
};

/// da/dt. Throws RangeError for a conversion outside 0 to 1 or a temperature outside the range above.
Frequency conversion_rate(const Kinetics& kinetics, double conversion, Temperature temperature);

/// Time from one conversion to another at constant temperature: the integral of da / (da/dt).
/// Gauss-Legendre in panels; relative error below 1e-8 for smooth sets (measured against the closed forms).
/// Throws RangeError unless 0 <= from <= to < 1.
Duration isothermal_time(const Kinetics& kinetics, double from, double to, Temperature temperature);

/// Conversion after `time` at constant temperature, by the inverse of `isothermal_time`.
double isothermal_conversion(const Kinetics& kinetics, double from, Duration time, Temperature temperature);

/// Throws RangeError for a conversion outside 0 to 1.
Temperature glass_temperature(const Glass& glass, double conversion);
/// Conversion at which the glass temperature reaches `temperature`, limited to 0 to 1.
double conversion_at_glass(const Glass& glass, Temperature temperature);
/// Conversion that a cure at `temperature` ends near: glass temperature `offset` above it, at most 1.
double attainable_conversion(const Glass& glass, Temperature temperature,
                             TemperatureDifference offset = 10.0 * unit::K);

}  // namespace patchwright::cure
