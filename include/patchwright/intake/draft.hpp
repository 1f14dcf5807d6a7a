#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/job/job.hpp"

/// A job file in the making: what is known so far, and nothing else.
///
/// Values stand as the text that the job file will hold ("4.20 m", "4 in", "displaced joint"), so that nothing is lost
/// or rounded on the way; an empty text is "not known" and is not written. The reader of the job file asks for what it
/// needs. A text that begins with "?" is what a survey says and nobody could read: no reader of the job file takes it
/// for a value, so `check` points at it until somebody has looked.
namespace patchwright::intake {

struct DraftFitting {
    std::string at, kind;
    std::string angle, bore, clock;
    std::string remark;
};

struct DraftDefect {
    std::string id, at, to, kind;
    std::string size, clock, inflow;
    std::optional<bool> surrounding_sound;
    std::string code, remark;
};

struct DraftRun {
    std::string id, from, to;
    std::string length, bore, material, depth;
    std::string joint_spacing;  ///< length of one pipe
    std::string access;         ///< the end that the survey entered by; empty: not written
    std::vector<DraftFitting> fittings;
    std::vector<DraftDefect> defects;
};

struct Draft {
    std::string reference, title;
    std::string site_address;
    UnitSystem units = UnitSystem::metric;
    std::optional<job::Certainty> certainty;
    std::vector<DraftRun> runs;
    std::vector<std::string> notes;
};

}  // namespace patchwright::intake
