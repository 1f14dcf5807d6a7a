#pragma once
#include <string>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/limits.hpp"
#include "patchwright/job/packers.hpp"
#include "patchwright/units/quantity.hpp"

namespace patchwright::job {
struct Yard;
}  // namespace patchwright::job

namespace patchwright::packer {

/// A packer of the yard, or one that can be built from its chassis and bladders.
struct Option {
    job::Packer packer;  ///< as if it stood built
    bool to_build = false;
    int chassis = -1, bladder = -1;  ///< places in the yard, when to be built
};

/// Built packers first, in the yard's order, then every chassis with every bladder that fits it.
///
/// A bladder fits a chassis when it can be stretched over the end fitting and when some bore is left that is wide
/// enough to travel in (yard's travel share) and narrow enough for the bladder's stretch. Calibration hose is always
/// built doubled, so half a roll is the longest piece. The clamp's diameter grows by the bladder's walls.
std::vector<Option> options(const job::Yard& yard);

/// Layers of bladder, one inside the other: calibration hose is always used double, others when the yard says so.
int bladder_layers(const job::Bladder& bladder);

/// Packer beyond each end of a sleeve that lies centred on it. A packer built to measure has the same tail for every
/// sleeve; one that stands built is longer past a short sleeve: (overall - sleeve) / 2, never less than its projection.
Length tail(const Option& option, Length sleeve);
/// Tip to tip with a sleeve of that length on it.
Length overall_length(const Option& option, Length sleeve);

/// The stiff part lies under the sleeve (a core), so that the wet felt adds to its diameter: it is longer than the
/// packer's tail past its longest sleeve.
bool felt_over_rigid(const job::Packer& packer);

/// Smallest bore in which the packer with `felt` of wet sleeve round it can be moved: the greater of rigid diameter
/// (plus twice the felt where it lies over it) and (travelling diameter + 2 felt) / travel share.
/// Also what a later patch must find when it passes a cured one.
Length min_bore(const job::Packer& packer, Length felt, const job::Limits& limits);

/// Why the packer is not for that bore and sleeve, one sentence without figures; empty when it is.
std::string unfit(const Option& option, const job::Limits& limits, Length bore, Length sleeve, Length felt);

/// Wear of one use: price / expected uses; for a packer built to measure, its fittings' share and the bladder's.
Money wear(const job::Yard& yard, const Option& option, Length sleeve);

}  // namespace patchwright::packer
