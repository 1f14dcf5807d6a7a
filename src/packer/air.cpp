#include "patchwright/packer/air.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "patchwright/units/error.hpp"

namespace patchwright::packer {
namespace {

constexpr double kappa = 1.4;  // ratio of specific heats of air, PCC-2 501-II
// PCC-2 501-II gives the heat of explosion of TNT as 4 266 920 J/kg.
constexpr SpecificEnergy tnt_energy = SpecificEnergy::from_si(4266920.0);
constexpr double scaled_distance = 20.0;  // m/kg^(1/3), PCC-2 501-III: biological effects excluded

constexpr std::array<Symbol, 5> shut_in_inputs{{{"p1", "reading when shut", Show::gauge_pressure},
                                                {"pa1", "atmosphere when shut", Show::test_pressure},
                                                {"T1", "air temperature when shut", Show::temperature},
                                                {"pa2", "atmosphere later", Show::test_pressure},
                                                {"T2", "air temperature later", Show::temperature}}};
constexpr Formula air_shut_in_formula{
    "air.shut_in",  {"p2", "expected reading", Show::gauge_pressure}, "p2 = (p1 + pa1) T2 / T1 - pa2, T in kelvin",
    shut_in_inputs, "gas law at fixed volume, absolute pressure",     "pressure"};

constexpr std::array<Symbol, 3> leak_inputs{{{"pe", "expected reading", Show::gauge_pressure},
                                             {"po", "observed reading", Show::gauge_pressure},
                                             {"da", "allowed drop", Show::test_pressure}}};
constexpr Formula leak_formula{"air.lost",
                               {"dl", "pressure lost by leaking", Show::test_pressure},
                               "dl = pe - po; tight when dl <= da",
                               leak_inputs,
                               "common practice, no source",
                               "pressure"};

constexpr std::array<Symbol, 4> energy_inputs{{{"Pt", "absolute pressure inside", Show::gauge_pressure},
                                               {"Pa", "atmosphere", Show::test_pressure},
                                               {"V", "air volume", Show::litres},
                                               {"k", "ratio of specific heats", Show::ratio}}};
constexpr Formula energy_formula{
    "air.stored_energy", {"E", "stored energy", Show::energy},       "E = Pt V / (k - 1) [1 - (Pa/Pt)^((k-1)/k)]",
    energy_inputs,       "ASME PCC-2, Article 501, Appendix 501-II", "pressure"};

// One step: a packer's TNT equivalent is a fraction of a gram, which no sheet would show.
constexpr std::array<Symbol, 1> distance_inputs{{{"E", "stored energy", Show::energy}}};
constexpr Formula distance_formula{"air.distance",
                                   {"R", "distance", Show::run_distance},
                                   "R = 20 m/kg^(1/3) (2 W)^(1/3), TNT equivalent W = E / 4266920 J/kg",
                                   distance_inputs,
                                   "ASME PCC-2, Article 501, Appendices 501-II and 501-III",
                                   "pressure"};

constexpr std::array<Symbol, 2> thrust_inputs{
    {{"p", "pressure on the face", Show::gauge_pressure}, {"D", "bore", Show::tape}}};
constexpr Formula thrust_formula{"air.end_thrust",      {"F", "force on the end fitting", Show::force},
                                 "F = p pi D^2 / 4",    thrust_inputs,
                                 "pressure times area", "pressure"};

constexpr std::array<Symbol, 3> plug_inputs{{{"gw", "unit weight of water", Show::unit_weight},
                                             {"h", "head of standing water", Show::run_distance},
                                             {"D", "bore", Show::tape}}};
constexpr Formula plug_formula{"air.plug_thrust",     {"F", "push of water on a plug", Show::force},
                               "F = gw h pi D^2 / 4", plug_inputs,
                               "pressure times area", "pressure"};

constexpr std::array<Symbol, 4> volume_inputs{{{"D", "bore", Show::tape},
                                               {"Lb", "inflated length", Show::run_distance},
                                               {"dh", "hose bore", Show::tape},
                                               {"Lh", "hose length", Show::run_distance}}};
constexpr Formula volume_formula{"air.volume",  {"V", "air volume", Show::litres}, "V = pi/4 (D^2 Lb + dh^2 Lh)",
                                 volume_inputs, "geometry; the hose counted in",   "pressure"};

double circle(double diameter) { return std::numbers::pi / 4.0 * diameter * diameter; }

template <Dim D>
void require(bool holds, Quantity<D> value, const char* message) {
    if (!holds || !is_finite(value)) throw RangeError(message);
}

}  // namespace

Pressure shut_in_reading(const ShutIn& air, Working& working) {
    const Pressure absolute = *air.gauge + *air.atmosphere_before;
    require(absolute >= Pressure{}, absolute, "shut-in reading: the gauge reading is below a full vacuum");
    require(*air.atmosphere_after >= Pressure{}, *air.atmosphere_after,
            "shut-in reading: the atmosphere is an absolute pressure, about 1013 mbar at sea level");
    const double before = air.before->in_kelvin(), after = air.after->in_kelvin();
    if (!(before > 0.0 && after > 0.0 && std::isfinite(before) && std::isfinite(after))) {
        throw RangeError("shut-in reading: the temperature is below absolute zero");
    }
    const Pressure reading = absolute * (after / before) - *air.atmosphere_after;
    working.add(air_shut_in_formula, {air.gauge, air.atmosphere_before, air.before, air.atmosphere_after, air.after},
                reading);
    return reading;
}

Pressure shut_in_reading(Pressure gauge, Temperature before, Temperature after, Pressure atmosphere_before,
                         Pressure atmosphere_after, Working& working) {
    constexpr Origin origin = Origin::computed;
    return shut_in_reading(ShutIn{{gauge, origin},
                                  {before, origin},
                                  {after, origin},
                                  {atmosphere_before, Origin::assumed},
                                  {atmosphere_after, Origin::assumed}},
                           working);
}

LeakVerdict leak_verdict(Pressure expected, Sourced<Pressure> observed, Sourced<Pressure> allowed, Working& working) {
    require(*allowed >= Pressure{}, *allowed, "leak verdict: the allowed drop must not be negative");
    require(true, expected, "leak verdict: the expected reading is not a number");
    require(true, *observed, "leak verdict: the observed reading is not a number");
    LeakVerdict verdict;
    verdict.expected = expected;
    verdict.lost = expected - *observed;
    verdict.tight = verdict.lost <= *allowed;
    working.add(leak_formula, {expected, observed, allowed}, verdict.lost);
    return verdict;
}

StoredEnergy stored_energy(Volume volume, Sourced<Pressure> gauge, Working& working, Pressure atmosphere) {
    require(volume >= Volume{}, volume, "stored energy: the air volume must not be negative");
    require(*gauge >= Pressure{}, *gauge, "stored energy: give the gauge pressure, zero or more");
    require(atmosphere > Pressure{}, atmosphere, "stored energy: the atmosphere must be more than zero");
    const Pressure inside = *gauge + atmosphere;
    StoredEnergy stored;
    stored.energy = inside * volume / (kappa - 1.0) * (1.0 - std::pow(atmosphere / inside, (kappa - 1.0) / kappa));
    stored.tnt = stored.energy / tnt_energy;
    stored.distance = scaled_distance * std::cbrt(2.0 * stored.tnt.in(unit::kg)) * unit::m;
    const double megajoule = stored.energy.in(1e6 * unit::J);
    const Length floor = megajoule <= 135.5 ? 30.0 * unit::m : megajoule <= 271.0 ? 60.0 * unit::m : Length{};
    stored.table_distance = std::max(floor, stored.distance);
    working.add(energy_formula,
                {Operand{inside, gauge.origin}, Operand{atmosphere, Origin::assumed}, volume,
                 Operand{kappa, Origin::looked_up}},
                stored.energy);
    working.add(distance_formula, {stored.energy}, stored.distance);
    return stored;
}

Force end_thrust(Sourced<Pressure> pressure, Sourced<Length> bore, Working& working) {
    require(*pressure >= Pressure{}, *pressure, "end thrust: give the gauge pressure, zero or more");
    require(*bore > Length{}, *bore, "end thrust: the bore must be more than zero");
    const Force force = *pressure * (circle(1.0) * (*bore * *bore));
    working.add(thrust_formula, {pressure, bore}, force);
    return force;
}

Force plug_thrust(Sourced<Length> head, Sourced<Length> bore, Working& working) {
    require(*head >= Length{}, *head, "plug thrust: the head of water must not be negative");
    require(*bore > Length{}, *bore, "plug thrust: the bore must be more than zero");
    const Force force = constant::water_unit_weight * *head * (circle(1.0) * (*bore * *bore));
    working.add(plug_formula, {Operand{constant::water_unit_weight, Origin::looked_up}, head, bore}, force);
    return force;
}

Volume air_volume(Sourced<Length> bore, Sourced<Length> inflated_length, Sourced<Length> hose_bore,
                  Sourced<Length> hose_length, Working& working) {
    for (const Length part : {*bore, *inflated_length, *hose_bore, *hose_length}) {
        require(part >= Length{}, part, "air volume: bores and lengths must not be negative");
    }
    const Volume volume = circle(1.0) * (*bore * *bore * *inflated_length + *hose_bore * *hose_bore * *hose_length);
    working.add(volume_formula, {bore, inflated_length, hose_bore, hose_length}, volume);
    return volume;
}

}  // namespace patchwright::packer
