#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "check.hpp"
#include "patchwright/intake/import.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/sheet/job_json.hpp"
#include "patchwright/units/parse.hpp"

/// What every survey keeps to, whatever is in it: faults with places, and a draft whose job file is read as JSON, whose
/// distances stand in order, and which the reader refuses when something could not be read.
namespace patchwright::fuzz {

inline bool is_question(const std::string& text) { return text.starts_with('?'); }

inline void must_be_sound(const intake::DraftRun& run, bool& asks) {
    must(run.id.size() <= 200, "a name is short", run.id);
    for (const std::string* text : {&run.length, &run.bore, &run.material, &run.depth, &run.joint_spacing})
        asks = asks || is_question(*text);
    for (const auto& defect : run.defects) {
        for (const std::string* text :
             {&defect.at, &defect.to, &defect.kind, &defect.size, &defect.clock, &defect.inflow})
            asks = asks || is_question(*text);
        if (is_question(defect.at)) continue;
        const auto at = parse_length(defect.at);
        must(at && *at >= Length{}, "a defect has a place", defect.at);
        if (defect.to.empty() || is_question(defect.to)) continue;
        const auto to = parse_length(defect.to);
        must(to && *to >= *at, "a defect ends after it begins", defect.to);
    }
    for (const auto& fitting : run.fittings) {
        for (const std::string* text : {&fitting.at, &fitting.kind, &fitting.angle, &fitting.bore, &fitting.clock})
            asks = asks || is_question(*text);
        const auto at = parse_length(fitting.at);
        must(is_question(fitting.at) || (at && *at >= Length{}), "a fitting has a place", fitting.at);
    }
}

inline void import_soundly(std::string_view bytes) {
    const auto imported = intake::import_survey(bytes, "fuzz.txt", {"F-1", "1.2 m"});
    const int lines = lines_of(bytes);
    for (const auto& diagnostic : imported.diagnostics) must_be_placed(diagnostic, lines);
    bool asks = false;
    for (const auto& run : imported.draft.runs) must_be_sound(run, asks);
    // Things may be missing or doubtful in what was surveyed, but the file that is written is whole JSON.
    const auto text = sheet::job_json(imported.draft);
    must(nlohmann::json::accept(text), "the draft is JSON", text);
    const auto read = io::read_job(text, "draft.json");
    const int written = lines_of(text);
    for (const auto& diagnostic : read.diagnostics) must_be_placed(diagnostic, written);
    must(!asks || io::has_errors(read.diagnostics), "a question is refused", text);
}

}  // namespace patchwright::fuzz
