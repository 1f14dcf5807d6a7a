#include "patchwright/load/wheel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <fmt/core.h>

#include "patchwright/load/load.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::load {
namespace {

constexpr std::array impact_symbols{Symbol{"Hs", "cover over the crown", Show::run_distance}};
constexpr Formula impact_formula{
    "load.impact",
    {"F'", "impact of wheels", Show::ratio},
    "F' = 1.50 to 1 ft, 1.35 to 2 ft, 1.15 to 3 ft, 1.00 below",
    impact_symbols,
    "Moser, Buried Pipe Design, Table 2.5",
    "load",
};
constexpr std::array wheel_symbols{Symbol{"W", "wheel load, AASHTO H-20", Show::force},
                                   Symbol{"a", "footprint along the axle", Show::tape},
                                   Symbol{"b", "footprint along the road", Show::tape},
                                   Symbol{"s", "distance of the wheels", Show::run_distance},
                                   Symbol{"Hs", "cover over the crown", Show::run_distance},
                                   Symbol{"D", "width of the strip", Show::thickness},
                                   Symbol{"F'", "impact of wheels", Show::ratio}};
constexpr Formula wheel_formula{
    "load.wheel",
    {"Ws", "traffic load", Show::soil_pressure},
    "Ws = F' W/(a b) max over places of the mean over D of (I1 + I2)",
    wheel_symbols,
    "AASHTO H-20; Newmark (1935); placing derived here",
    "load",
};

/// `newmark_corner` continued to negative sides, odd in each: corners add up to any rectangle.
double signed_corner(double m, double n) {
    const double root = std::sqrt(1.0 + m * m + n * n);
    const double product = m * n / root;
    return (std::atan(product) + product * (1.0 / (1.0 + m * m) + 1.0 / (1.0 + n * n))) / (2.0 * std::numbers::pi);
}

/// Share of the footprint's pressure felt at depth z, at x from its middle on its axis; a lies along x, b across.
double footprint_share(double a, double b, double x, double z) {
    const double half = 0.5 * b / z;
    return 2.0 * (signed_corner((x + 0.5 * a) / z, half) - signed_corner((x - 0.5 * a) / z, half));
}

/// Both wheels, on the axle's line at x from the middle of the first; the second stands at x = spacing.
double pair_share(double x, double z) {
    const double a = h20.along_axle.si(), b = h20.along_road.si();
    return footprint_share(a, b, x, z) + footprint_share(a, b, x - h20.spacing.si(), z);
}

/// Mean over a strip by Gauss-Legendre with three points: exact to the sixth power of width over depth.
template <class Stress>
double strip_mean(double width, const Stress& stress) {
    const double reach = 0.5 * width * std::sqrt(0.6);
    return (5.0 * stress(-reach) + 8.0 * stress(0.0) + 5.0 * stress(reach)) / 18.0;
}

double greatest_share(double width, double depth) {
    constexpr int places = 13;  // every 3 in from under a wheel to midway
    double greatest = 0.0;
    for (int i = 0; i < places; ++i) {
        const double x = 0.5 * h20.spacing.si() * i / (places - 1);
        greatest = std::max(greatest, strip_mean(width, [&](double d) { return pair_share(x + d, depth); }));
    }
    return greatest;
}

}  // namespace

double newmark_corner(double m, double n) {
    if (!(m >= 0.0) || !(n >= 0.0))
        throw RangeError(fmt::format("corner stress: m and n must be zero or more, got {} and {}", m, n));
    // Beyond this the quarter is reached to the last bit, and squares would overflow.
    constexpr double endless = 1e9;
    return signed_corner(std::min(m, endless), std::min(n, endless));
}

Pressure point_load_stress(Force load, Length depth, Length offset) {
    if (!(depth.si() > 0.0) || !is_finite(depth) || !is_finite(offset) || !is_finite(load))
        throw RangeError(fmt::format("point load: needs a depth above zero, got {} m", depth.in(unit::m)));
    const double slant = std::hypot(depth.si(), offset.si());
    const double cosine = depth.si() / slant;
    const Area sphere = Area::from_si(slant * slant);
    return 3.0 / (2.0 * std::numbers::pi) * cosine * cosine * cosine * (load / sphere);
}

double impact_factor(Length cover) {
    if (!(cover.si() >= 0.0))
        throw RangeError(fmt::format("impact: cover must be zero or more, got {} m", cover.in(unit::m)));
    if (cover <= 1.0 * unit::ft) return 1.50;
    if (cover <= 2.0 * unit::ft) return 1.35;
    if (cover <= 3.0 * unit::ft) return 1.15;
    return 1.00;
}

Pressure wheel_load(const Sourced<Length>& cover, const Sourced<Length>& width, Working& working) {
    if (!(*cover >= min_cover_under_wheels) || !is_finite(*cover))
        throw RangeError(fmt::format(
            "wheel load: under wheels the cover must be 0.6 m or more, got {} m; have an engineer look at it",
            cover->in(unit::m)));
    if (!(width->si() > 0.0) || !is_finite(*width))
        throw RangeError(fmt::format("wheel load: the strip needs a width, got {} mm", width->in(unit::mm)));
    const double impact = impact_factor(*cover);
    working.add(impact_formula, {cover}, impact);
    const Pressure contact = h20.wheel / (h20.along_axle * h20.along_road);
    const Pressure stress = impact * greatest_share(width->si(), cover->si()) * contact;
    working.add(wheel_formula,
                {{h20.wheel, Origin::looked_up},
                 {h20.along_axle, Origin::looked_up},
                 {h20.along_road, Origin::looked_up},
                 {h20.spacing, Origin::looked_up},
                 cover,
                 width,
                 impact},
                stress);
    return stress;
}

}  // namespace patchwright::load
