#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "json_part.hpp"
#include "near.hpp"
#include "patchwright/plan/figures.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/working/render.hpp"
#include "why_record.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

/// A figure with its full name, wherever it lives in the plan.
struct Asked {
    std::string name, label;
    Show show = Show::ratio;
    double value = 0;
    std::string shown;
    const Working* working = nullptr;
    int owner = -1;                                        ///< figures of one patch or mix have one number
    bool directed = false;                                 ///< rounded to the safe side, not to the nearest
    bool done = false;                                     ///< noted on site: `shown` is its whole verdict
    std::string from{};                                    ///< of what is not computed
    std::vector<std::pair<double, std::string>> limits{};  ///< of what was done
};

/// Money with its currency, all else as the table of figures says.
std::string text_of(const Context& c, Show show, plan::Rounding rounding, double value) {
    if (show == Show::money) return format(Money::cents(std::llround(value), c.yard().rates.currency));
    return plan::shown(show, rounding, value, c.units);
}

template <class Owner>
void add_all(const Context& c, std::span<const plan::FigureKind<Owner>> kinds, const Owner& owner, int number,
             std::vector<Asked>& list) {
    for (const auto& kind : kinds) {
        if (!kind.applies_to(owner)) continue;
        list.push_back({fmt::format("{}.{}", owner.id, kind.name), std::string{kind.label}, kind.show,
                        kind.value(owner), text_of(c, kind.show, kind.rounding, kind.value(owner)),
                        &kind.working(owner), number, kind.rounding != plan::Rounding::nearest});
    }
}

std::vector<Asked> all_figures(const Context& c) {
    std::vector<Asked> list;
    int number = 0;
    for (const auto& patch : c.plan->patches) add_all(c, plan::patch_figures(), patch, number++, list);
    for (const auto& batch : c.plan->batches) add_all(c, plan::batch_figures(), batch, number++, list);
    for (const auto& f : c.plan->figures)
        list.push_back(
            {f.name, {}, f.show, f.value, text_of(c, f.show, plan::Rounding::nearest, f.value), &f.working, number});
    for (auto& asked : asked_done(c))
        list.push_back({std::move(asked.name), std::move(asked.label), asked.show, asked.value.value_or(std::nan("")),
                        std::move(asked.shown), asked.working, ++number, false, true, std::move(asked.from),
                        std::move(asked.limits)});
    return list;
}

/// The steps of a figure, in which it and every limit or wait of that patch or mix is written as the sheets write it:
/// one figure has one text.
std::vector<RenderedStep> steps_of(const Context& c, const std::vector<Asked>& all, const Asked& asked) {
    auto steps = render(*asked.working, c.units);
    const auto rewrite = [&](RenderedOperand& operand, double value) {
        const auto is = [&](const Asked& other) {
            const auto suffix = json_suffix(other.show);
            return other.value == value && (suffix.empty() ? other.show == Show::money : operand.key.ends_with(suffix));
        };
        if (!asked.done && is(asked)) {
            operand.value = asked.shown;
            return;
        }
        const auto limit =
            std::find_if(asked.limits.begin(), asked.limits.end(), [&](const auto& l) { return l.first == value; });
        if (limit != asked.limits.end()) {
            operand.value = limit->second;
            return;
        }
        const auto other = std::find_if(all.begin(), all.end(), [&](const Asked& figure) {
            return figure.owner == asked.owner && figure.directed && is(figure);
        });
        if (other != all.end()) operand.value = other->shown;
    };
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const auto& step = asked.working->steps()[i];
        rewrite(steps[i].result, step.result);
        for (std::size_t k = 0; k < steps[i].inputs.size(); ++k) rewrite(steps[i].inputs[k], step.inputs()[k].value);
    }
    return steps;
}

void add_steps(const std::vector<RenderedStep>& steps, std::vector<Block>& blocks) {
    for (const auto& step : steps) {
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

/// Where the yard has the times from that a sleeve's cure is fitted to; empty for other figures.
std::string data_source_words(const Context& c, const Asked& asked) {
    for (const auto& p : c.plan->patches) {
        const auto& resin = c.plan->resin_of(p);
        if (asked.working == &p.working(plan::Calculation::cure) && !resin.source.empty())
            return fmt::format("Data of resin {}: {}.", resin.id, resin.source);
    }
    return {};
}

void add_figure_block(const Context& c, const std::vector<Asked>& all, const Asked& asked, Sheet& sheet) {
    Card card;
    card.title = asked.name;
    card.subtitle = asked.shown;
    if (!asked.label.empty()) card.subtitle = fmt::format("{}: {}", asked.label, card.subtitle);
    add_steps(steps_of(c, all, asked), card.blocks);
    if (!asked.from.empty()) card.blocks.push_back(paragraph(asked.from));
    if (auto words = data_source_words(c, asked); !words.empty()) card.blocks.push_back(paragraph(std::move(words)));
    sheet.blocks.push_back({card});
}

void add_verdict_block(const Context& c, const std::string& name, const survey::Assessment& assessment, Sheet& sheet) {
    Card card;
    card.title = name;
    card.subtitle = survey::word(assessment.verdict);
    card.blocks.push_back({Bullets{assessment.reasons}});
    add_steps(render(assessment.working, c.units), card.blocks);
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
                                  format(Money::cents(run.solution.best[i].cost, c.yard().rates.currency))});
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
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = what;
    if (c.yard().demonstration) sheet.banners.push_back("demonstration prices, not yours");
    const auto figures = all_figures(c);
    bool found = false;
    // One working may stand behind several figures (A and B of a mix): in the whole report it is printed once.
    for (const auto& asked : figures) {
        const bool whole_patch = !what.empty() && asked.name.starts_with(what + ".");
        if (!what.empty() && asked.name != what && !whole_patch) continue;
        add_figure_block(c, figures, asked, sheet);
        found = true;
    }
    for (const auto& run : c.plan->runs) {
        for (const auto& verdict : run.verdicts) {
            const auto name = verdict.defect + ".verdict";
            if (!what.empty() && name != what && verdict.defect != what) continue;
            add_verdict_block(c, name, verdict.assessment, sheet);
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
    Json json = Json::object();
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
    Json json = Json::object();
    json["candidates"] = Json::array();
    json["chosen"] = Json::array();
    for (const auto& run : c.plan->runs) {
        const auto& job_run =
            *std::find_if(c.job().runs.begin(), c.job().runs.end(), [&](const auto& r) { return r.id == run.id; });
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
                 {"cost", decimal_text(Money::cents(candidate.cost, c.yard().rates.currency))}});
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
    Json json = Json::object();
    if (what == "layout") {
        json = layout_candidates(c);
    } else {
        json["figures"] = Json::array();
        bool found = false;
        const auto all = all_figures(c);
        for (const auto& asked : all) {
            if (!what.empty() && asked.name != what && !asked.name.starts_with(what + ".")) continue;
            found = true;
            Json steps = Json::array();
            for (const auto& step : steps_of(c, all, asked)) steps.push_back(step_json(step));
            json["figures"].push_back(
                {{"what", asked.name},
                 {"label", asked.label},
                 {"value", std::isnan(asked.value) ? Json(nullptr) : Json(tidy(json_value(asked.show, asked.value)))},
                 {"shown", asked.shown},
                 {"steps", std::move(steps)}});
            if (!asked.from.empty()) json["figures"].back()["from"] = asked.from;
        }
        for (const auto& run : c.plan->runs) {
            for (const auto& verdict : run.verdicts) {
                const auto name = verdict.defect + ".verdict";
                if (!what.empty() && name != what && verdict.defect != what) continue;
                found = true;
                Json steps = Json::array();
                for (const auto& step : render(verdict.assessment.working, c.units)) steps.push_back(step_json(step));
                json["figures"].push_back({{"what", name},
                                           {"value", survey::word(verdict.assessment.verdict)},
                                           {"reasons", verdict.assessment.reasons},
                                           {"steps", std::move(steps)}});
            }
        }
        if (!found) unknown(c, what);
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace patchwright::sheet
