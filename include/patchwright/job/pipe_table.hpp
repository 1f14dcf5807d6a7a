#pragma once
#include "patchwright/job/job.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

namespace patchwright::job {

/// Wall of a drain pipe by material and bore, for heat flow, cover and dig widths: never for strength.
/// Linear between bores of 100, 150 and 200 mm, in proportion to the bore outside them.
/// Source: EN 1401-1 SN4 minima for PVC-U (maker's table); the rest from memory of usual drain pipes,
/// common practice, no source. The origin is `looked_up`.
Sourced<Length> wall_thickness(Material material, Length bore);

}  // namespace patchwright::job
