// The import of surveys, both forms, header bytes included: faults with places, and a draft whose job file is read
// as JSON and whose distances stand in order.
#include <cstddef>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>

#include "check.hpp"
#include "patchwright/job/read.hpp"
#include "patchwright/sheet/job_json.hpp"
#include "patchwright/survey/import.hpp"
#include "patchwright/units/parse.hpp"

using namespace patchwright;

namespace {

void must_be_sound(const survey::DraftRun& run) {
    fuzz::must(run.id.size() <= 200, "a name is short", run.id);
    for (const auto& defect : run.defects) {
        const auto at = parse_length(defect.at);
        fuzz::must(at && *at >= Length{}, "a defect has a place", defect.at);
        if (defect.to.empty()) continue;
        const auto to = parse_length(defect.to);
        fuzz::must(to && *to >= *at, "a defect ends after it begins", defect.to);
    }
    for (const auto& fitting : run.fittings) {
        const auto at = parse_length(fitting.at);
        fuzz::must(at && *at >= Length{}, "a fitting has a place", fitting.at);
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes{reinterpret_cast<const char*>(data), size};
    const auto imported = survey::import_survey(bytes, "fuzz.txt", {"F-1", "1.2 m"});
    for (const auto& diagnostic : imported.diagnostics) fuzz::must_be_placed(diagnostic, bytes);
    for (const auto& run : imported.draft.runs) must_be_sound(run);
    // Things may be missing or doubtful in what was surveyed, but the file that is written is whole JSON.
    const auto text = sheet::job_json(imported.draft);
    fuzz::must(nlohmann::json::accept(text), "the draft is JSON", text);
    const auto read = job::read_job(text, "draft.json");
    for (const auto& diagnostic : read.diagnostics) fuzz::must_be_placed(diagnostic, text);
    return 0;
}
