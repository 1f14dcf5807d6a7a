#pragma once
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// What a road wheel puts on a pipe under cover.
namespace patchwright::load {

/// AASHTO H-20: one wheel, its footprint and the distance to the other wheel of the axle.
/// Source: ANSI/AWWA C101 (A21.1) for the wheel; A. P. Moser, Buried Pipe Design, p. 35 for footprint and spacing.
/// The longer side of the footprint lies along the axle (common practice, no source).
struct WheelPair {
    Force wheel = 16000.0 * unit::lbf;
    Length along_axle = 20.0 * unit::in;
    Length along_road = 18.0 * unit::in;
    Length spacing = 72.0 * unit::in;
};
inline constexpr WheelPair h20{};

/// Share of a uniform load on a rectangle a x b that is felt at depth z under its corner, m = a/z, n = b/z:
///   I = (1 / 2 pi) [ atan(m n / sqrt(1+m^2+n^2)) + m n / sqrt(1+m^2+n^2) (1/(1+m^2) + 1/(1+n^2)) ].
/// Newmark's form of Boussinesq's half-space; this writing needs no change of branch. Tends to 1/4.
/// Source: N. M. Newmark, Univ. of Illinois Eng. Exp. Sta. Circular 24 (1935); H. G. Poulos and E. H. Davis,
///         Elastic Solutions for Soil and Rock Mechanics (1974), sec. 3.4 (both from memory).
/// Throws RangeError for negative or NaN arguments.
double newmark_corner(double m, double n);

/// Vertical stress of a point load W at depth H and horizontal distance x: p = 3 W H^3 / (2 pi r^5), r^2 = H^2 + x^2.
/// Source: Boussinesq (1885), as in A. P. Moser, Buried Pipe Design, ch. 2.
/// Throws RangeError unless H is positive and all is finite.
Pressure point_load_stress(Force load, Length depth, Length offset);

/// Impact of road wheels: 1.50 to 1 ft of cover, 1.35 to 2 ft, 1.15 to 3 ft, 1.00 below.
/// Source: A. P. Moser, Buried Pipe Design, Table 2.5. Throws RangeError for negative or NaN cover.
double impact_factor(Length cover);

/// Greatest vertical stress of the H-20 pair at `cover`, mean over a strip of `width`, impact included.
/// The pipe runs along the road, anywhere from under one wheel to midway between both; across the road is never worse.
/// Source: Newmark as above, H-20 as above, `impact_factor`; placing derived here, docs/methods/load.md.
/// Accuracy: within 0.6 % of the finest placing and summing for widths to 1 m.
/// Throws RangeError for cover below 0.6 m, or a width that is not positive and finite.
Pressure wheel_load(const Sourced<Length>& cover, const Sourced<Length>& width, Working& working);
inline Pressure wheel_load(Length cover, Length width, Working& working) {
    return wheel_load({cover, Origin::computed}, {width, Origin::computed}, working);
}

}  // namespace patchwright::load
