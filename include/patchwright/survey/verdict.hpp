#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/working/working.hpp"

/// What can be done about each defect. Decides, never places.
namespace patchwright::survey {

enum class Verdict : std::uint8_t { patch, prepare, junction_piece, dig, look_again };
std::string_view word(Verdict v);  ///< "patch", "prepare", "junction piece", "dig", "look again"

struct Judgement {
    Verdict verdict = Verdict::look_again;
    std::vector<std::string> reasons;       ///< whole sentences; the first is the deciding one
    std::vector<std::string> preparations;  ///< what to do first, in order: "cut the roots back flush"
    bool wall_missing = false;              ///< design as fully deteriorated, void behind it filled first
    bool below_scope = false;               ///< bore below the published standards' scope
    Working working;                        ///< the limits that were compared
};

/// The verdict on one defect by the yard's limits (defaults: common practice, no source).
/// A defect without the figure that its verdict hangs on gets `look_again`, never a guess.
Judgement judge(const job::Run& run, const job::Defect& defect, const job::Limits& limits);

/// A patch that mends the defect is wanted: patch, prepare or junction piece.
bool wants_patch(Verdict v);

/// Remarks on the run as a whole: many defects close together, sag, soft host: advice, not verdicts.
std::vector<std::string> run_remarks(const job::Run& run, const std::vector<Judgement>& judgements,
                                     const job::Limits& limits);

}  // namespace patchwright::survey
