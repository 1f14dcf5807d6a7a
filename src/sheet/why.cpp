#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "json_part.hpp"
#include "near.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/working/render.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

/// A figure with its full name, wherever it lives in the plan.
struct Asked {
    std::string name;
    const plan::Figure* figure = nullptr;
};

std::vector<Asked> all_figures(const Context& c) {
    std::vector<Asked> list;
    for (const auto& patch : c.plan->patches) {
        for (const auto& figure : patch.figures) list.push_back({patch.id + "." + figure.name, &figure});
    }
    for (const auto& figure : c.plan->figures) list.push_back({figure.name, &figure});
    return list;
}

void add_steps(const Context& c, const Working& working, std::vector<Block>& blocks) {
    for (const auto& step : render(working, c.units)) {
        blocks.push_back(paragraph(
            fmt::format("{} = {}   {}", step.result.symbol, step.result.value, step.result.meaning), Emphasis::strong));
        blocks.push_back(paragraph("  " + step.formula));
        Table table;
        table.columns = {{""}, {""}, {"", Align::right}, {""}};
        for (const auto& input : step.inputs)
            table.rows.push_back({"  " + input.symbol, input.meaning, input.value, input.origin});
        if (!table.rows.empty()) blocks.push_back({table});
        blocks.push_back(paragraph("Source: " + source_text(step)));
    }
}

void add_figure_block(const Context& c, const Asked& asked, Sheet& sheet) {
    Card card;
    card.title = asked.name;
    card.subtitle = format(asked.figure->show, asked.figure->value, c.units);
    add_steps(c, asked.figure->working, card.blocks);
    sheet.blocks.push_back({card});
}

void add_verdict_block(const Context& c, const std::string& name, const survey::Judgement& judgement, Sheet& sheet) {
    Card card;
    card.title = name;
    card.subtitle = survey::word(judgement.verdict);
    card.blocks.push_back({Bullets{judgement.reasons}});
    add_steps(c, judgement.working, card.blocks);
    sheet.blocks.push_back({card});
}

void add_layout_block(const Context& c, Sheet& sheet) {
    const auto& layout = c.plan->layout;
    Card card;
    card.title = "layout";
    card.subtitle = fmt::format("sum of the patches' marginal costs {}{}", format(layout.cost),
                                layout.proven_optimal ? ", proven the least" : "");
    if (!layout.difference.empty()) card.blocks.push_back(paragraph(layout.difference));
    for (const auto& run : c.plan->runs) {
        Table table;
        table.title = fmt::format("Run {}: {} candidate patches were priced; the cheapest sets", run.id,
                                  run.solution.candidates.size());
        table.columns = {{"Set"}, {"Patches"}, {"Cost", Align::right}};
        for (std::size_t i = 0; i < std::min<std::size_t>(5, run.solution.best.size()); ++i) {
            std::string spans;
            for (const int k : run.solution.best[i].chosen) {
                const auto& candidate = run.solution.candidates[static_cast<std::size_t>(k)];
                spans += (spans.empty() ? "" : ", ") +
                         fmt::format("{:.2f}-{:.2f} m", candidate.start / 100.0, candidate.end / 100.0);
            }
            table.rows.push_back({std::to_string(i + 1), spans,
                                  format(Money::cents(run.solution.best[i].cost, c.yard->rates.currency))});
        }
        if (!table.rows.empty()) card.blocks.push_back({table});
        if (!run.unanswered.empty()) card.blocks.push_back({Bullets{run.unanswered}});
    }
    card.blocks.push_back(paragraph("All candidates: why JOB layout -f json."));
    sheet.blocks.push_back({card});
}

[[noreturn]] void unknown(const Context& c, const std::string& what) {
    const auto names = askable(c);
    const auto near = nearest(what, names);
    throw InputError(fmt::format("nothing called \"{}\" can be asked{}; \"why JOB\" lists what can", what,
                                 near.empty() ? "" : fmt::format("; did you mean \"{}\"?", near)));
}

}  // namespace

std::vector<std::string> askable(const Context& c) {
    std::vector<std::string> names;
    for (const auto& asked : all_figures(c)) names.push_back(asked.name);
    for (const auto& run : c.plan->runs) {
        for (const auto& verdict : run.verdicts) names.push_back(verdict.defect + ".verdict");
    }
    names.push_back("layout");
    return names;
}

Sheet why_sheet(const Context& c, const std::string& what) {
    Sheet sheet;
    sheet.kind = what.empty() ? "Calculation report" : "Why";
    sheet.title = c.job->title;
    sheet.reference = c.job->reference;
    sheet.subject = what;
    if (c.yard->demonstration) sheet.banners.push_back("demonstration yard and prices, not yours");
    const auto figures = all_figures(c);
    bool found = false;
    // One working may stand behind several figures (A and B of a mix): in the whole report it is printed once.
    for (const auto& asked : figures) {
        const bool whole_patch = !what.empty() && asked.name.starts_with(what + ".");
        if (!what.empty() && asked.name != what && !whole_patch) continue;
        add_figure_block(c, asked, sheet);
        found = true;
    }
    for (const auto& run : c.plan->runs) {
        for (const auto& verdict : run.verdicts) {
            const auto name = verdict.defect + ".verdict";
            if (!what.empty() && name != what && verdict.defect != what) continue;
            add_verdict_block(c, name, verdict.judgement, sheet);
            found = true;
        }
    }
    if (what.empty() || what == "layout") {
        add_layout_block(c, sheet);
        found = true;
    }
    if (!found) unknown(c, what);
    return sheet;
}

namespace {

Json step_json(const RenderedStep& step) {
    Json json;
    json["id"] = step.id;
    json["symbol"] = step.result.symbol;
    json["meaning"] = step.result.meaning;
    json["formula"] = step.formula;
    json["inputs"] = Json::array();
    for (const auto& input : step.inputs) {
        json["inputs"].push_back({{"symbol", input.symbol},
                                  {"meaning", input.meaning},
                                  {"key", input.key},
                                  {"value", tidy(input.number)},
                                  {"shown", input.value},
                                  {"origin", input.origin}});
    }
    json["result"] = {{"key", step.result.key}, {"value", tidy(step.result.number)}, {"shown", step.result.value}};
    json["source"] = step.source;
    json["page"] = step.page;
    return json;
}

Json layout_candidates(const Context& c) {
    Json json;
    json["candidates"] = Json::array();
    json["chosen"] = Json::array();
    for (const auto& run : c.plan->runs) {
        const auto& job_run =
            *std::find_if(c.job->runs.begin(), c.job->runs.end(), [&](const auto& r) { return r.id == run.id; });
        const auto base = static_cast<int>(json["candidates"].size());
        for (const auto& candidate : run.solution.candidates) {
            Json defects = Json::array();
            for (int t = candidate.first_target; t <= candidate.last_target; ++t) {
                const auto defect = run.target_defects[static_cast<std::size_t>(t)];
                defects.push_back(job_run.defects[static_cast<std::size_t>(defect)].id);
            }
            const auto packer = run.carrier_packers[static_cast<std::size_t>(candidate.carrier)];
            json["candidates"].push_back(
                {{"run", run.id},
                 {"start_m", tidy(candidate.start / 100.0)},
                 {"end_m", tidy(candidate.end / 100.0)},
                 {"packer", packer},
                 {"defects", std::move(defects)},
                 {"cost", decimal_text(Money::cents(candidate.cost, c.yard->rates.currency))}});
        }
        for (const int k : run.chosen) json["chosen"].push_back(base + k);
    }
    if (!c.plan->runs.empty()) {
        json["gap_m"] = tidy(c.plan->runs.front().problem.gap / 100.0);
        json["lap_m"] = tidy(c.plan->runs.front().problem.lap / 100.0);
    }
    json["cost"] = decimal_text(c.plan->layout.cost);
    json["proven_optimal"] = c.plan->layout.proven_optimal;
    return json;
}

}  // namespace

std::string why_json(const Context& c, const std::string& what) {
    Json json;
    if (what == "layout") {
        json = layout_candidates(c);
    } else {
        json["figures"] = Json::array();
        bool found = false;
        for (const auto& asked : all_figures(c)) {
            if (!what.empty() && asked.name != what && !asked.name.starts_with(what + ".")) continue;
            found = true;
            Json steps = Json::array();
            for (const auto& step : render(asked.figure->working, c.units)) steps.push_back(step_json(step));
            json["figures"].push_back({{"what", asked.name},
                                       {"value", tidy(json_value(asked.figure->show, asked.figure->value))},
                                       {"shown", format(asked.figure->show, asked.figure->value, c.units)},
                                       {"steps", std::move(steps)}});
        }
        for (const auto& run : c.plan->runs) {
            for (const auto& verdict : run.verdicts) {
                const auto name = verdict.defect + ".verdict";
                if (!what.empty() && name != what && verdict.defect != what) continue;
                found = true;
                Json steps = Json::array();
                for (const auto& step : render(verdict.judgement.working, c.units)) steps.push_back(step_json(step));
                json["figures"].push_back({{"what", name},
                                           {"value", survey::word(verdict.judgement.verdict)},
                                           {"reasons", verdict.judgement.reasons},
                                           {"steps", std::move(steps)}});
            }
        }
        if (!found) unknown(c, what);
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace patchwright::sheet
