#pragma once
#include <optional>
#include <string>

#include "patchwright/plan/plan.hpp"

namespace patchwright::plan {

/// A patch in its planned place, on another packer.
struct Redesign {
    std::optional<Patch> patch;  ///< nothing: none of the yard serves
    std::string why_not;         ///< then: one sentence
};

/// Designs a patch of a plan anew with the packers of `left`, the yard without those that are lost: same place, same
/// defects, same resin, since its felt is cut and its resin is loaded. The cheapest packer that every rule of the
/// layout and of the design allows there, from the planned mouth where it can come from there. Without working.
Redesign design_again(const job::Job& job, const job::Yard& left, const Patch& planned);

}  // namespace patchwright::plan
