#pragma once
// Resins invented for the tests: generic ambient epoxies, no product. Times as they stand in the demonstration yard.
#include "patchwright/job/yard.hpp"

namespace patchwright::test {

inline job::DataPoint pot_life(double celsius, double minutes, double grams = 100.0) {
    return {job::DataPointKind::pot_life, Temperature::celsius(celsius), minutes * unit::minute, grams * unit::g, {}};
}
inline job::DataPoint gel(double celsius, double minutes) {
    return {job::DataPointKind::gel, Temperature::celsius(celsius), minutes * unit::minute, {}, {}};
}
inline job::DataPoint strip(double celsius, double minutes) {
    return {job::DataPointKind::strip, Temperature::celsius(celsius), minutes * unit::minute, {}, {}};
}

inline job::Resin bare_epoxy() {
    job::Resin r;
    r.id = "bare";
    r.parts_a = 100.0;
    r.parts_b = 30.0;
    r.density_a = 1150.0 * unit::kg_m3;
    r.density_b = 1030.0 * unit::kg_m3;
    r.application_min = Temperature::celsius(5.0);
    r.application_max = Temperature::celsius(30.0);
    r.heat_of_reaction = 250.0 * unit::J_g;
    r.specific_heat = 1900.0 * unit::J_kgK;
    r.conductivity = 0.20 * unit::W_mK;
    r.gel_conversion = 0.577;
    r.glass_start = Temperature::celsius(-40.0);
    r.glass_end = Temperature::celsius(70.0);
    r.glass_lambda = 0.45;
    r.highest_safe = Temperature::celsius(125.0);
    r.safe_pot_mass = 2.0 * unit::kg;
    return r;
}
inline job::Resin fast() {
    job::Resin r = bare_epoxy();
    r.id = "fast";
    r.data = {pot_life(23, 20), gel(5, 245), gel(10, 160), gel(20, 75), strip(10, 190), strip(20, 100)};
    return r;
}
inline job::Resin standard() {
    job::Resin r = bare_epoxy();
    r.id = "standard";
    r.safe_pot_mass = 4.0 * unit::kg;
    r.data = {pot_life(23, 35), gel(5, 415), gel(10, 270), gel(20, 125), strip(10, 315), strip(20, 170)};
    return r;
}
inline job::Resin slow() {
    job::Resin r = bare_epoxy();
    r.id = "slow";
    r.safe_pot_mass = 6.0 * unit::kg;
    r.data = {pot_life(23, 70), gel(5, 770), gel(10, 505), gel(20, 230), strip(10, 585), strip(20, 315)};
    return r;
}

inline job::Limits usual_limits() {
    job::Limits l;
    l.resin_temperature = Temperature::celsius(20.0);
    l.pot_share = 0.6;
    l.working_conversion = 0.20;
    l.crease_share_of_gel = 0.5;
    l.crease_step = 1.0 * unit::minute;
    l.release_share = 0.90;
    l.temperature_doubt = 3.0 * unit::K;
    l.measured_doubt = 1.0 * unit::K;
    l.late_at_most = 0.05;
    l.soft_at_most = 0.02;
    l.hands_shared = 0.5;
    return l;
}

}  // namespace patchwright::test
