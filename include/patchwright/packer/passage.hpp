#pragma once
#include <optional>
#include <string>

#include "patchwright/job/job.hpp"
#include "patchwright/job/limits.hpp"
#include "patchwright/job/packers.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// What gets through a fitting. Page: docs/methods/packer.md.
namespace patchwright::packer {

/// Longest stiff cylinder of diameter d that turns through a bend of bore D, centre-line radius R >= D/2:
///   L = 2 sqrt((D - d)(2R + d))
/// and, when `angle` is less than the arc 2 acos((R - D/2 + d) / (R + D/2)) that this length needs, the longer
///   L = 2 (R + D/2 - (R - D/2 + d) cos(angle/2)) / sin(angle/2).
/// Derived here (plane geometry; the end disc's curve touches only for d > D), see docs/methods/packer.md.
/// Without `angle` the bend is taken as long enough. Throws RangeError unless 0 < d <= D, R >= D/2 and, if given,
/// 0 < angle <= 180 deg.
Length longest_through_bend(Sourced<Length> bore, Sourced<Length> radius, Sourced<Length> diameter,
                            std::optional<Sourced<Angle>> angle, Working& working);
Length longest_through_bend(Length bore, Length radius, Length diameter, std::optional<Angle> angle, Working& working);

/// Bend that the length of `longest_through_bend` needs to be fully inside it; below, the short form holds.
Angle arc_needed(Length bore, Length radius, Length diameter);

/// Centre-line radius: the survey's, else by material and bore (from memory, tight side, flagged as looked up):
/// cast iron by the hubless quarter-bend table, clay, concrete and asbestos cement one bore, all others half a bore.
Sourced<Length> bend_radius(const job::Fitting& fitting, const job::Run& run);

/// The part of the run that a fitting takes up: a bend its arc, a junction its opening, a size change a point.
struct Extent {
    Length from{}, to{};
};
Extent extent(const job::Fitting& fitting, const job::Run& run);

/// May this packer pass or cross that fitting, with `felt` of wet sleeve round it?
struct Passage {
    bool passes = false;          ///< may travel through
    bool may_lie_across = false;  ///< may be inflated with the sleeve across it
    std::string reason;           ///< one sentence without figures; empty when both hold
    Length stiff{}, longest{};    ///< stiff length and what the bend lets through; zero when not a bend
};
/// Bends: the stiff part by `longest_through_bend` with the felt where it lies over it. Soft bladders (silicone,
/// rubber) lie across bends up to the yard's crossing angle, and up to 90 deg when the radius is long and the bore is
/// 75 mm or more; a core under the sleeve lies on straights only; calibration hose neither travels through nor lies in
/// a bend, it creases and the cured sleeve grips it. Source: common practice, no source.
/// Junctions: pass. Size changes: pass when the smaller bore lets the packer through, never lain across.
Passage passage(const job::Run& run, const job::Limits& limits, const job::Fitting& fitting, const job::Packer& packer,
                Length felt, Working& working);

}  // namespace patchwright::packer
