#include <fmt/format.h>

#include "json_part.hpp"
#include "json_pieces.hpp"
#include "letter.hpp"
#include "patchwright/sheet/sheets.hpp"

namespace patchwright::sheet {
namespace {

std::string dumped(const Json& json, bool compact) {
    return compact ? json.dump(-1, ' ', false, Json::error_handler_t::replace)
                   : json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

Json header(const Context& c) {
    Json json = Json::object();
    json["patchwright_plan"] = 1;
    json["job"] = {{"reference", c.job().reference}, {"title", c.job().title}, {"notes", c.job().notes}};
    if (!c.job().dig.customer_note.empty()) json["job"]["customer_note"] = c.job().dig.customer_note;
    json["yard"] = {{"name", c.yard().name}, {"demonstration", c.yard().demonstration}};
    return json;
}

void add_footer(Json& json, const Context& c) {
    json["assumptions"] = assumptions_json(c);
    json["warnings"] = c.plan->warnings;
    json["cautions"] = cautions_json(c);
}

/// Verdicts with what is done about them in the letter's words; the limits behind them are ours.
Json customer_runs_json(const Context& c) {
    Json runs = Json::array();
    for (std::size_t r = 0; r < c.plan->runs.size(); ++r) {
        const auto& run = c.plan->runs[r];
        Json verdicts = Json::array();
        for (std::size_t d = 0; d < run.verdicts.size(); ++d) {
            verdicts.push_back({{"defect", run.verdicts[d].defect},
                                {"verdict", survey::word(run.verdicts[d].assessment.verdict)},
                                {"reasons", {remedy_words(c, r, d)}}});
        }
        runs.push_back({{"id", run.id}, {"verdicts", std::move(verdicts)}});
    }
    return runs;
}

}  // namespace

std::string plan_json(const Context& c, bool compact) {
    Json json = header(c);
    json["runs"] = runs_json(c);
    json["patches"] = Json::array();
    for (const auto& patch : c.plan->patches) json["patches"].push_back(patch_json(c, patch));
    json["batches"] = batches_json(c, std::nullopt);
    json["schedule"] = schedule_json(c, std::nullopt);
    json["layout"] = layout_json(c);
    json["whole"] = whole_json(c);
    json["whole_job"] = whole_job_json(c);
    json["not_planned"] = not_planned_json(c);
    json["price"] = price_json(c, true);
    json["letter"] = letter_json(c);
    json["kits"] = kits_json(c);
    json["cutting"] = cutting_json(c);
    add_footer(json, c);
    return dumped(json, compact);
}

std::string day_json(const Context& c, std::optional<int> day) {
    Json json = header(c);
    json["patches"] = Json::array();
    for (std::size_t i = 0; i < c.plan->patches.size(); ++i) {
        if (day && c.plan->schedule.patches[i].day != *day) continue;
        json["patches"].push_back(patch_json(c, c.plan->patches[i]));
    }
    json["batches"] = batches_json(c, day);
    json["schedule"] = schedule_json(c, day);
    add_footer(json, c);
    json["sheets"] = Json::array();
    for (const auto& sheet : day_sheets(c, day)) json["sheets"].push_back(sheet_json(sheet));
    return dumped(json, false);
}

std::string quote_json(const Context& c, bool inside) {
    Json json = header(c);
    if (inside) {
        json["price"] = price_json(c, true);
    } else {
        // The customer's offer: no build-up, no floor, nothing from which our cost could be worked out.
        json["job"].erase("notes");  // they are the crew's
        json["price"] = price_json(c, false);
        json["runs"] = customer_runs_json(c);
    }
    json["letter"] = letter_json(c);
    json["assumptions"] = inside ? assumptions_json(c) : Json(conditions(c));
    json["warnings"] = inside ? Json(c.plan->warnings) : Json::array();
    json["sheets"] = Json::array({sheet_json(inside ? inside_sheet(c) : quote_sheet(c))});
    return dumped(json, false);
}

std::string pick_json(const Context& c) {
    Json json = header(c);
    json["batches"] = batches_json(c, std::nullopt);
    json["kits"] = kits_json(c);
    json["cutting"] = cutting_json(c);
    const Sheet list = pick_list(c);
    json["items"] = tables_json(list);
    json["sheets"] = Json::array({sheet_json(list)});
    return dumped(json, false);
}

std::string error_json(const std::string& message, std::size_t line) {
    return dumped({{"error", message}, {"line", line}}, true);
}

std::string findings_json(const std::vector<io::Diagnostic>& findings) {
    Json list = Json::array();
    for (const auto& d : findings) {
        list.push_back({{"severity", d.severity == io::Severity::error ? "error" : "warning"},
                        {"file", d.file},
                        {"line", d.line},
                        {"column", d.column},
                        {"message", d.message},
                        {"pointer", d.pointer},
                        {"count", d.count}});
    }
    return dumped({{"findings", std::move(list)}}, false);
}

}  // namespace patchwright::sheet
