#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/job/job.hpp"

/// A job file in the making: what is known so far, and nothing else.
///
/// Quantities stand as the text that the job file will hold ("4.20 m", "4 in"), so that nothing is lost or rounded on
/// the way; an empty text is "not known" and is not written. The reader of the job file asks for what it needs.
namespace patchwright::survey {

struct DraftFitting {
    std::string at;
    job::FittingKind kind = job::FittingKind::bend;
    std::string angle, bore;
    std::optional<ClockRange> clock;
    std::string remark;
};

struct DraftDefect {
    std::string id, at, to;
    job::DefectKind kind = job::DefectKind::fissure;
    std::string size;
    std::optional<ClockRange> clock;
    std::optional<job::Inflow> inflow;
    std::optional<bool> surrounding_sound;
    std::string code, remark;
};

struct DraftRun {
    std::string id, from, to;
    std::string length, bore, depth;
    std::optional<job::Material> material;
    std::string access;  ///< the end that the survey entered by; empty: not written
    std::vector<DraftFitting> fittings;
    std::vector<DraftDefect> defects;
};

struct Draft {
    std::string reference, title;
    UnitSystem units = UnitSystem::metric;
    std::optional<job::Certainty> certainty;
    std::vector<DraftRun> runs;
    std::vector<std::string> notes;
};

}  // namespace patchwright::survey
