#pragma once
#include "patchwright/liner/thickness.hpp"

/// The equations of ASTM F1216 Appendix X1 one by one, and two others to hold beside them.
/// Edition: F1216-09; in X1.3 the factor C stands inside the root (since F1216-07b, June 2007).
/// `design_thickness` is made of these. None checks its input: `design_thickness` has done so.
namespace patchwright::liner::f1216 {

/// C = [(1 - q) / (1 + q)^2]^3, q as a share. Throws RangeError unless 0 <= q < 1.
double ovality_reduction(double ovality);

/// What the ring is made of, once the long-term shares are taken.
struct Ring {
    Sourced<Length> bore;             ///< D
    Sourced<double> ovality;          ///< q
    double reduction = 1.0;           ///< C
    Sourced<Pressure> short_modulus;  ///< E
    Sourced<Pressure> short_strength;
    Sourced<double> long_term_share;
    Pressure long_modulus{};                       ///< EL
    Pressure long_strength{};                      ///< sL
    bool strength_is_long_term = false;            ///< sL was given, not worked out
    Sourced<double> poisson, enhancement, safety;  ///< v, K, N
};
Ring ring(const ThicknessInput& input, Working& working);

/// P = 62.4 lb/ft3 * head above the INVERT.
Pressure water_at_invert(const Sourced<Length>& head, Working& working);

/// X1.1: t = D / ([2 K EL C / (P N (1 - v^2))]^(1/3) + 1).
Length water_buckling(const Ring& ring, Pressure water, Working& working);
/// Pressure that X1.1 lets a wall of `t` carry: 2 K EL C / (N (1 - v^2) (DR - 1)^3).
Pressure water_carried(const Ring& ring, Length t);

/// X1.2: 1.5 q (1+q) DR^2 - 0.5 (1+q) DR = sL / (P N), greater root, t = D/DR. Needs q > 0.
Length ovality_bending(const Ring& ring, Pressure water, Working& working);
/// Pressure that X1.2 lets a wall of `t` carry; infinite where the ring is too thick for bending to count.
Pressure bending_carried(const Ring& ring, Length t);

/// Soil side of X1.3.
struct Ground {
    Pressure load{};          ///< qt
    double buoyancy = 1.0;    ///< Rw
    double support = 1.0;     ///< B'
    Pressure soil_modulus{};  ///< E's
    Origin modulus_origin = Origin::computed;
};
/// X1.3: qt = (1/N) [32 Rw B' E's C EL I / D^3]^(1/2), I = t^3/12
///   -> t = (12/32)^(1/3) D [(N qt)^2 / (EL Rw B' C E's)]^(1/3). The standard rounds the first factor to 0.721.
Length soil_buckling(const Ring& ring, const Ground& ground, Working& working);
/// Load that X1.3 lets a wall of `t` carry.
Pressure soil_carried(const Ring& ring, const Ground& ground, Length t);

/// X1.4: E / (12 DR^3) >= 0.093 psi with the SHORT-term modulus -> t = D (12 * 0.093 psi / E)^(1/3).
inline constexpr Pressure min_stiffness = 0.093 * unit::psi;
Length stiffness(const Ring& ring, Working& working);
/// E / (12 DR^3) of a wall of `t`.
Pressure stiffness_of(const Ring& ring, Length t);

/// Glock, tight liner in a rigid round host without friction: p = EL / (1 - v^2) (t/D)^2.2, D the BORE of the host.
/// Source: form from memory; Omara, Guice, Straughan and Akl, ASCE (1997) find it the best fit to tests.
Pressure glock_pressure(Pressure long_modulus, double poisson, Length t, Length bore);
/// Thickness by Glock with the long-term modulus and the safety N: t = D [N P (1 - v^2) / EL]^(1/2.2).
Length glock_thickness(const Ring& ring, Pressure water, Working& working);

}  // namespace patchwright::liner::f1216
