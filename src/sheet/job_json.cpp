#include "patchwright/sheet/job_json.hpp"

#include <nlohmann/json.hpp>
#include "json_part.hpp"

namespace patchwright::sheet {
namespace {

void put(Json& object, const char* key, const std::string& text) {
    if (!text.empty()) object[key] = text;
}

Json fitting_json(const intake::DraftFitting& fitting) {
    Json out = Json::object();
    put(out, "at", fitting.at);
    put(out, "kind", fitting.kind);
    put(out, "angle", fitting.angle);
    put(out, "bore", fitting.bore);
    put(out, "clock", fitting.clock);
    put(out, "remark", fitting.remark);
    return out;
}

Json defect_json(const intake::DraftDefect& defect) {
    Json out = Json::object();
    put(out, "id", defect.id);
    put(out, "at", defect.at);
    put(out, "to", defect.to);
    put(out, "kind", defect.kind);
    put(out, "size", defect.size);
    put(out, "clock", defect.clock);
    put(out, "inflow", defect.inflow);
    if (defect.surrounding_sound) out["surrounding_sound"] = *defect.surrounding_sound;
    put(out, "code", defect.code);
    put(out, "remark", defect.remark);
    return out;
}

Json run_json(const intake::DraftRun& run, Help help) {
    Json out = Json::object();
    put(out, "id", run.id);
    put(out, "from", run.from);
    put(out, "to", run.to);
    put(out, "length", run.length);
    put(out, "bore", run.bore);
    put(out, "material", run.material);
    put(out, "depth", run.depth);
    put(out, "joint_spacing", run.joint_spacing);
    // The beginning is what the reader assumes; left out, `check` asks whether the crew can work from the far end too.
    if (!run.access.empty() && run.access != run.from) out["access"] = Json::array({run.access});
    if (help == Help::starter) {
        out["_help_run"] = Json::array({
            "Distances run from \"from\" along the pipe. \"depth\" is from the ground to the pipe's invert.",
            "Material: clay, concrete, cast iron, PVC-U, asbestos cement, pitch fibre, other.",
            "Worth adding: \"water_table\" (depth of the ground water below ground), \"ground_temperature\" of the "
            "pipe's "
            "wall, \"access\" (list of the ends from which the crew can work), \"measured_bore\".",
        });
        out["_help_fittings"] = Json::array({
            "{ \"at\": \"6.80 m\", \"kind\": \"bend\", \"angle\": \"45 deg\" }",
            "{ \"at\": \"11.20 m\", \"kind\": \"junction\", \"bore\": \"100 mm\", \"clock\": \"2\" }",
        });
    }
    if (!run.fittings.empty() || help == Help::starter) {
        out["fittings"] = Json::array();
        for (const auto& fitting : run.fittings) out["fittings"].push_back(fitting_json(fitting));
    }
    if (help == Help::starter) {
        out["_help_defects"] = Json::array({
            "{ \"id\": \"A1\", \"at\": \"3.90 m\", \"to\": \"4.40 m\", \"kind\": \"fissure\", \"clock\": \"10-2\", "
            "\"size\": \"3 mm\" }",
            "Kind: fissure, break, collapse, deformation, surface damage, displaced joint, defective connection, "
            "intruding connection, root intrusion, attached deposit, infiltration, exfiltration, missing wall.",
            "\"size\" is a length for openings, steps and holes, and a percentage for deformation, roots and deposits.",
        });
    }
    if (!run.defects.empty() || help == Help::starter) {
        out["defects"] = Json::array();
        for (const auto& defect : run.defects) out["defects"].push_back(defect_json(defect));
    }
    return out;
}

}  // namespace

std::string job_json(const intake::Draft& draft, Help help) {
    Json out = Json::object();
    if (help == Help::starter) {
        out["_help"] = Json::array({
            "A starter: put in what you know, then run \"patchwright check\" on it. Keys that begin with _help are "
            "skipped.",
            "Every quantity is text with its unit: \"100 mm\", \"4 1/2 in\", \"6 ft 3 in\", \"9 C\", \"48 F\".",
            "What is left out gets a default that the sheets name as assumed; docs/job-file.md lists every key.",
        });
    }
    out["patchwright_job"] = 1;
    put(out, "reference", draft.reference);
    put(out, "title", draft.title);
    out["units"] = draft.units == UnitSystem::us ? "us" : "metric";
    if (help == Help::starter) {
        out["_help_certainty"] =
            "What the figures rest on: call, photo or survey. The less certain, the wider the price's range.";
    }
    if (draft.certainty) out["certainty"] = job::word(*draft.certainty);
    if (!draft.site_address.empty()) out["customer"] = {{"site_address", draft.site_address}};
    out["runs"] = Json::array();
    for (const auto& run : draft.runs) out["runs"].push_back(run_json(run, help));
    if (help == Help::starter) {
        out["_help_site"] = Json::array({
            "Worth adding: \"date\": \"2026-04-14\" and",
            "\"site\": { \"start\": \"08:00\", \"finish\": \"16:30\", \"travel\": \"35 min\", \"air_temperature\": "
            "\"11 C\" }",
        });
        out["_help_dig"] = Json::array({
            "For the price beside the price of digging: \"dig\": { \"surface\": \"concrete\", \"soil\": \"B\" }",
            "Surface: grass, block, asphalt, concrete. Soil: A, B, C, rock.",
        });
    }
    if (!draft.notes.empty()) out["notes"] = draft.notes;
    // Text from outside may hold anything: what is no UTF-8 is replaced, never thrown at the user.
    return out.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace patchwright::sheet
