#pragma once
#include <optional>
#include <string>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"

namespace patchwright::survey {

/// How a defect that wants another look may turn out: the worst that a patch still mends, and what lies beyond.
struct Outcomes {
    job::Defect mended, beyond;
    std::string mended_if, beyond_if;  ///< "up to 31 mm wide, with sound wall round it", "larger"
};
/// By the limits of docs/methods/verdicts.md. None for a defect that has its verdict already, or that no patch would
/// mend whatever the camera shows. `units` only decides how figures are written.
std::optional<Outcomes> outcomes(const job::Run& run, const job::Defect& defect, const job::Limits& limits,
                                 UnitSystem units = UnitSystem::metric);

}  // namespace patchwright::survey
