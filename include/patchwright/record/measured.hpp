#pragma once
#include <vector>

#include "patchwright/cure/cure.hpp"
#include "patchwright/job/record.hpp"
#include "patchwright/plan/plan.hpp"

/// What was noted of a sleeve, as the cure's model wants it.
namespace patchwright::record {

/// Temperatures noted from mixing to `until`, in order of time, of one minute the last: those of a probe at the sleeve,
/// or those in its pipe. Nothing where mixing is not noted.
std::vector<cure::Note> temperature_notes(const job::PatchRecord& noted, Duration until, bool at_sleeve);

/// The plan's conditions with what was measured in their place. The pipe is as warm as the mean of `in_pipe` from
/// inflating to `until`, straight between notes, constant before the first and after the last; without notes as it was
/// measured before mixing. Hands are as long as they took until it was inflated, where that is noted.
cure::Conditions as_measured(const job::PatchRecord& noted, const plan::Patch& planned,
                             const std::vector<cure::Note>& in_pipe, Duration until);

/// A probe's notes from mixing on: until it is at its sleeve it is as warm as the resin when it was mixed.
std::vector<cure::Note> from_mixing(std::vector<cure::Note> probe, const job::PatchRecord& noted,
                                    const plan::Patch& planned);

}  // namespace patchwright::record
