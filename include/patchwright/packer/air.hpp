#pragma once
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"
#include "patchwright/working/working.hpp"

/// Air under pressure. Page: docs/methods/pressure.md.
namespace patchwright::packer {

/// Reading of a shut gauge after a temperature change, fixed volume, ideal gas:
///   p2 = (p1 + pa1) T2 / T1 - pa2, kelvin.
/// Throws RangeError for a vacuum beyond absolute zero or a non-finite value.
struct ShutIn {
    Sourced<Pressure> gauge;
    Sourced<Temperature> before, after;
    Sourced<Pressure> atmosphere_before, atmosphere_after;
};
Pressure shut_in_reading(const ShutIn& air, Working& working);
Pressure shut_in_reading(Pressure gauge, Temperature before, Temperature after, Pressure atmosphere_before,
                         Pressure atmosphere_after, Working& working);

/// Is a shut packer leaking? Drop left after temperature and barometer are taken out, against what is allowed.
struct LeakVerdict {
    Pressure expected{};  ///< reading if nothing leaked
    Pressure lost{};      ///< expected - observed; negative: the air warmed more than said
    bool tight = false;   ///< lost <= allowed
};
LeakVerdict leak_verdict(Pressure expected, Sourced<Pressure> observed, Sourced<Pressure> allowed, Working& working);

/// Energy of compressed air, ASME PCC-2 Article 501: Appendix 501-II
///   E = Pt V / (k - 1) [1 - (Pa/Pt)^((k-1)/k)], k = 1.4, absolute pressures;
/// TNT = E / 4 266 920 J/kg; Appendix 501-III: R = 20 m/kg^(1/3) (2 TNT)^(1/3).
struct StoredEnergy {
    Energy energy{};
    Mass tnt{};
    Length distance{};        ///< R; for parts thrown, not for a hose that whips
    Length table_distance{};  ///< the rule for test vessels: max(30 m, R) to 135.5 MJ, max(60 m, R) to 271 MJ, then R
};
/// Gauge pressure over `atmosphere` (ISO 2533; the standard itself works with 101 000 Pa). Throws RangeError for a
/// negative volume or pressure.
StoredEnergy stored_energy(Volume volume, Sourced<Pressure> gauge, Working& working,
                           Pressure atmosphere = constant::standard_atmosphere);

/// F = p pi D^2 / 4: pull on an end fitting of an inflated packer, or push of standing water on a plug.
Force end_thrust(Sourced<Pressure> pressure, Sourced<Length> bore, Working& working);
Force plug_thrust(Sourced<Length> head, Sourced<Length> bore, Working& working);

/// Air in an inflated packer and its line.
Volume air_volume(Sourced<Length> bore, Sourced<Length> inflated_length, Sourced<Length> hose_bore,
                  Sourced<Length> hose_length, Working& working);

}  // namespace patchwright::packer
