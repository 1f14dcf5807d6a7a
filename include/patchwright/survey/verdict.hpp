#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/limits.hpp"
#include "patchwright/working/working.hpp"

/// What can be done about each defect. Decides, never places.
///
/// Rules and limits: docs/methods/verdicts.md. All limits are the yard's; their defaults are common practice, no
/// source. A limit is met when the figure is at or below it.
namespace patchwright::survey {

/// What is done first where roots stand in, once for the run.
inline constexpr std::string_view cut_roots = "cut the roots back flush with the wall";

enum class Verdict : std::uint8_t { patch, prepare, junction_piece, dig, look_again };
std::string_view word(Verdict v);  ///< "patch", "prepare", "junction piece", "dig", "look again"

struct Assessment {
    Verdict verdict = Verdict::look_again;
    std::vector<std::string> reasons;       ///< whole sentences; the first is the deciding one
    std::vector<std::string> preparations;  ///< what to do first, in order: "cut the roots back flush"
    bool wall_missing = false;              ///< design as fully deteriorated, void behind it filled first
    bool below_scope = false;               ///< bore below the published standards' scope
    std::optional<double>
        ovality_percent;  ///< deformation at the defect: the design takes the larger of it and the run's
    Working working;      ///< the limits that were compared
};

/// The verdict on one defect by the yard's limits.
/// A defect without the figure that its verdict hangs on gets `look_again`, never a guess. A figure given as a share
/// of the bore counts where a length is wanted, and the other way round.
/// The step limit is min(limits.step_share * bore, limits.step_most), the hole limit limits.hole_share * bore.
/// `units` only decides how figures are written in the reasons.
/// Throws RangeError if bore, place or a figure of the defect is not finite, or is negative, or the bore is zero.
Assessment judge(const job::Run& run, const job::Defect& defect, const job::Limits& limits,
                 UnitSystem units = UnitSystem::metric);

/// A patch that mends the defect is wanted: patch, prepare or junction piece.
bool wants_patch(Verdict v);

/// Remarks on the run as a whole: many defects close together, a host that needs care, a bore below scope: advice, not
/// verdicts. `assessments` in the order of `run.defects`. Throws std::logic_error if there is not one assessment a
/// defect.
std::vector<std::string> run_remarks(const job::Run& run, const std::vector<Assessment>& assessments,
                                     const job::Limits& limits, UnitSystem units = UnitSystem::metric);

/// Advice to line the run as a whole when its sleeves, `lined` long together with laps counted once, cover more of it
/// than the yard's share.
std::optional<std::string> lined_remark(const job::Run& run, Length lined, const job::Limits& limits,
                                        UnitSystem units = UnitSystem::metric);

}  // namespace patchwright::survey
