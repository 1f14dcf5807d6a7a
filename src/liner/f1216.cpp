#include "patchwright/liner/f1216.hpp"

#include <array>
#include <cmath>
#include <limits>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::liner::f1216 {
namespace {

constexpr std::array reduction_symbols{Symbol{"q", "ovality", Show::percent}};
constexpr Formula reduction_formula{
    "f1216.c",         {"C", "ovality reduction", Show::ratio},           "C = [(1 - q) / (1 + q)^2]^3",
    reduction_symbols, "ASTM F1216-09, Appendix X1, symbols of eq. X1.1", "liner",
};
constexpr std::array long_modulus_symbols{Symbol{"E", "short-term flexural modulus", Show::modulus},
                                          Symbol{"k", "share left after creep", Show::percent}};
constexpr Formula long_modulus_formula{
    "liner.el",
    {"EL", "long-term flexural modulus", Show::modulus},
    "EL = k E",
    long_modulus_symbols,
    "ASTM F1216-09, Appendix X1; share by specification, 50 % usual",
    "liner",
};
constexpr std::array long_strength_symbols{Symbol{"s", "short-term flexural strength", Show::modulus},
                                           Symbol{"k", "share left after creep", Show::percent}};
constexpr Formula long_strength_formula{
    "liner.sl",
    {"sL", "long-term flexural strength", Show::modulus},
    "sL = k s",
    long_strength_symbols,
    "ASTM F1216-09, Appendix X1; share by specification, 50 % usual",
    "liner",
};
constexpr std::array water_symbols{Symbol{"gw", "unit weight of water", Show::unit_weight},
                                   Symbol{"h", "water over the invert", Show::run_distance}};
constexpr Formula water_formula{
    "f1216.p",
    {"P", "outside water pressure at the invert", Show::soil_pressure},
    "P = gw h",
    water_symbols,
    "ASTM F1216-09, Appendix X1, symbols of eq. X1.1",
    "liner",
};
constexpr std::array x11_symbols{Symbol{"D", "bore of the host", Show::thickness},
                                 Symbol{"K", "enhancement by the host", Show::ratio},
                                 Symbol{"EL", "long-term flexural modulus", Show::modulus},
                                 Symbol{"C", "ovality reduction", Show::ratio},
                                 Symbol{"P", "outside water pressure at the invert", Show::soil_pressure},
                                 Symbol{"N", "safety factor", Show::ratio},
                                 Symbol{"v", "Poisson's ratio", Show::ratio}};
constexpr Formula x11_formula{
    "f1216.x1.1",
    {"t1", "thickness against water buckling", Show::thin},
    "t = D / ([2 K EL C / (P N (1 - v^2))]^(1/3) + 1)",
    x11_symbols,
    "ASTM F1216-09, Appendix X1, eq. X1.1",
    "liner",
};
constexpr std::array x12_symbols{Symbol{"D", "bore of the host", Show::thickness},
                                 Symbol{"q", "ovality", Show::percent},
                                 Symbol{"sL", "long-term flexural strength", Show::modulus},
                                 Symbol{"P", "outside water pressure at the invert", Show::soil_pressure},
                                 Symbol{"N", "safety factor", Show::ratio}};
constexpr Formula x12_formula{
    "f1216.x1.2",
    {"t2", "thickness against bending of an oval ring", Show::thin},
    "1.5 q (1+q) (D/t)^2 - 0.5 (1+q) (D/t) = sL / (P N), solved for t",
    x12_symbols,
    "ASTM F1216-09, Appendix X1, eq. X1.2",
    "liner",
};
constexpr std::array x13_symbols{
    Symbol{"D", "bore of the host", Show::thickness}, Symbol{"N", "safety factor", Show::ratio},
    Symbol{"qt", "total load", Show::soil_pressure},  Symbol{"EL", "long-term flexural modulus", Show::modulus},
    Symbol{"Rw", "buoyancy factor", Show::ratio},     Symbol{"B'", "elastic support", Show::ratio},
    Symbol{"C", "ovality reduction", Show::ratio},    Symbol{"E's", "soil modulus", Show::modulus}};
constexpr Formula x13_formula{
    "f1216.x1.3",
    {"t3", "thickness against soil buckling", Show::thin},
    "t = (12/32)^(1/3) D [(N qt)^2 / (EL Rw B' C E's)]^(1/3)",
    x13_symbols,
    "ASTM F1216-09, Appendix X1, eq. X1.3, C inside the root",
    "liner",
};
constexpr std::array x14_symbols{Symbol{"D", "bore of the host", Show::thickness},
                                 Symbol{"S", "least stiffness, 0.093 psi", Show::soil_pressure},
                                 Symbol{"E", "short-term flexural modulus", Show::modulus}};
constexpr Formula x14_formula{
    "f1216.x1.4",
    {"t4", "thickness for stiffness", Show::thin},
    "t = D (12 S / E)^(1/3)",
    x14_symbols,
    "ASTM F1216-09, Appendix X1, eq. X1.4, short-term modulus",
    "liner",
};
constexpr std::array glock_symbols{
    Symbol{"D", "bore of the host", Show::thickness}, Symbol{"N", "safety factor", Show::ratio},
    Symbol{"P", "outside water pressure at the invert", Show::soil_pressure},
    Symbol{"v", "Poisson's ratio", Show::ratio}, Symbol{"EL", "long-term flexural modulus", Show::modulus}};
constexpr Formula glock_formula{
    "liner.glock",
    {"tG", "thickness by the second method, for comparison only", Show::thin},
    "t = D [N P (1 - v^2) / EL]^(1/2.2)",
    glock_symbols,
    "Glock's form for a tight liner in a rigid host, from memory; D is the bore",
    "liner",
};

constexpr double glock_power = 2.2;

/// 1 - v^2
double plane_strain(const Ring& r) { return 1.0 - *r.poisson * *r.poisson; }
double dimension_ratio(const Ring& ring, Length t) { return *ring.bore / t; }

}  // namespace

double ovality_reduction(double ovality) {
    if (!(ovality >= 0.0) || !(ovality < 1.0))
        throw RangeError(fmt::format("ovality must be from 0 to below 100 %, got {} %", 100.0 * ovality));
    const double base = (1.0 - ovality) / ((1.0 + ovality) * (1.0 + ovality));
    return base * base * base;
}

Ring ring(const ThicknessInput& input, Working& working) {
    Ring r;
    r.bore = input.bore;
    r.ovality = input.ovality;
    r.reduction = ovality_reduction(*r.ovality);
    working.add(reduction_formula, {r.ovality}, r.reduction);
    r.short_modulus = input.wall.modulus;
    r.short_strength = input.wall.flexural_strength;
    r.long_term_share = input.wall.long_term_share;
    r.long_modulus = *r.long_term_share * *r.short_modulus;
    working.add(long_modulus_formula, {r.short_modulus, r.long_term_share}, r.long_modulus);
    r.strength_is_long_term = input.wall.strength_is_long_term;
    r.long_strength = r.strength_is_long_term ? *r.short_strength : *r.long_term_share * *r.short_strength;
    r.poisson = input.wall.poisson;
    r.enhancement = input.enhancement;
    r.safety = input.safety;
    return r;
}

Pressure water_at_invert(const Sourced<Length>& head, Working& working) {
    const Pressure water = load::water_pressure(*head);
    working.add(water_formula, {{load::f1216_water, Origin::looked_up}, head}, water);
    return water;
}

Length water_buckling(const Ring& r, Pressure water, Working& working) {
    const double inside = 2.0 * *r.enhancement * r.reduction / (*r.safety * plane_strain(r)) * (r.long_modulus / water);
    const Length t = *r.bore / (std::cbrt(inside) + 1.0);
    working.add(x11_formula, {r.bore, r.enhancement, r.long_modulus, r.reduction, water, r.safety, r.poisson}, t);
    return t;
}

Pressure water_carried(const Ring& r, Length t) {
    const double slender = dimension_ratio(r, t) - 1.0;
    return 2.0 * *r.enhancement * r.reduction / (*r.safety * plane_strain(r)) / (slender * slender * slender) *
           r.long_modulus;
}

Length ovality_bending(const Ring& r, Pressure water, Working& working) {
    const double square = 1.5 * *r.ovality * (1.0 + *r.ovality);
    const double linear = 0.5 * (1.0 + *r.ovality);
    const double stress = r.long_strength / (*r.safety * water);
    const double ratio = (linear + std::sqrt(linear * linear + 4.0 * square * stress)) / (2.0 * square);
    const Length t = *r.bore / ratio;
    const Origin origin = r.strength_is_long_term ? r.short_strength.origin : Origin::computed;
    if (!r.strength_is_long_term) {
        working.add(long_strength_formula, {r.short_strength, r.long_term_share}, r.long_strength);
    }
    working.add(x12_formula, {r.bore, r.ovality, Operand{r.long_strength, origin}, water, r.safety}, t);
    return t;
}

Pressure bending_carried(const Ring& r, Length t) {
    const double ratio = dimension_ratio(r, t);
    const double per_pressure = (1.5 * *r.ovality * ratio - 0.5) * (1.0 + *r.ovality) * ratio;
    if (per_pressure <= 0.0) return Pressure::from_si(std::numeric_limits<double>::infinity());
    return r.long_strength / (*r.safety * per_pressure);
}

Length soil_buckling(const Ring& r, const Ground& g, Working& working) {
    const double load = *r.safety * (g.load / r.long_modulus);
    const double held = g.buoyancy * g.support * r.reduction * (g.soil_modulus / r.long_modulus);
    const Length t = std::cbrt(12.0 / 32.0 * load * load / held) * *r.bore;
    working.add(x13_formula,
                {r.bore,
                 r.safety,
                 g.load,
                 r.long_modulus,
                 g.buoyancy,
                 g.support,
                 r.reduction,
                 {g.soil_modulus, g.modulus_origin}},
                t);
    return t;
}

Pressure soil_carried(const Ring& r, const Ground& g, Length t) {
    const double slender = dimension_ratio(r, t);
    const double inside = 32.0 / 12.0 * g.buoyancy * g.support * r.reduction * (g.soil_modulus / r.long_modulus) /
                          (slender * slender * slender);
    return std::sqrt(inside) / *r.safety * r.long_modulus;
}

Length stiffness(const Ring& r, Working& working) {
    const Length t = std::cbrt(12.0 * (min_stiffness / *r.short_modulus)) * *r.bore;
    working.add(x14_formula, {r.bore, {min_stiffness, Origin::looked_up}, r.short_modulus}, t);
    return t;
}

Pressure stiffness_of(const Ring& r, Length t) {
    const double ratio = dimension_ratio(r, t);
    return *r.short_modulus / (12.0 * ratio * ratio * ratio);
}

Pressure glock_pressure(Pressure long_modulus, double poisson, Length t, Length bore) {
    return std::pow(t / bore, glock_power) / (1.0 - poisson * poisson) * long_modulus;
}

Length glock_thickness(const Ring& r, Pressure water, Working& working) {
    const double share = *r.safety * plane_strain(r) * (water / r.long_modulus);
    const Length t = std::pow(share, 1.0 / glock_power) * *r.bore;
    working.add(glock_formula, {r.bore, r.safety, water, r.poisson, r.long_modulus}, t);
    return t;
}

}  // namespace patchwright::liner::f1216
