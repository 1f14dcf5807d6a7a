#pragma once
#include "patchwright/excavation/excavation.hpp"
#include "patchwright/io/read.hpp"

/// An invented drain to dig up: 100 mm clay under concrete, rates of the demonstration yard.
namespace patchwright::excavation::ground {

inline job::Run run(double depth_m = 1.35) {
    job::Run r;
    r.id = "A";
    r.length = 20.0 * unit::m;
    r.bore = 100.0 * unit::mm;
    r.material = job::Material::clay;
    r.depth = depth_m * unit::m;
    return r;
}
inline job::Dig dig(job::Surface surface = job::Surface::concrete, job::Soil soil = job::Soil::b) {
    job::Dig d;
    d.surface = {surface, Origin::given};
    d.soil = {soil, Origin::given};
    return d;
}
inline Place place(const job::Run& r, double from_m, double to_m) { return {&r, {}, from_m * unit::m, to_m * unit::m}; }
inline const job::DigRates& rates() { return io::builtin_yard().dig_rates; }

}  // namespace patchwright::excavation::ground
