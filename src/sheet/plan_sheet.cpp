#include <fmt/format.h>

#include "blocks.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

void add_runs(const Context& c, Sheet& sheet) {
    for (std::size_t r = 0; r < c.plan->runs.size(); ++r) {
        const auto& run = c.job().runs[r];
        const auto& planned = c.plan->runs[r];
        Card card;
        card.title = fmt::format("Run {}", run.id);
        card.subtitle = fmt::format("{} to {}, {}, {} {}, {} deep", run.from, run.to,
                                    show(c, Show::run_distance, run.length), show(c, Show::tape, run.working_bore()),
                                    job::word(run.material), show(c, Show::run_distance, run.depth));
        Table table;
        table.columns = {{"Defect"}, {"Verdict"}, {"Because"}};
        for (std::size_t d = 0; d < run.defects.size(); ++d) {
            const auto& assessment = planned.verdicts[d].assessment;
            std::string because;
            for (const auto& reason : assessment.reasons) because += (because.empty() ? "" : " ") + reason;
            for (const auto& preparation : assessment.preparations) because += " First: " + preparation + ".";
            const auto& defect = run.defects[d];
            auto found = defect_words(c, defect);
            if (!defect.code.empty()) found += fmt::format(" ({})", defect.code);
            table.rows.push_back({std::move(found), std::string{survey::word(assessment.verdict)}, because});
        }
        card.blocks.push_back({table});
        Bullets fittings;
        for (const auto& fitting : run.fittings) fittings.items.push_back(fitting_words(c, fitting));
        card.blocks.push_back({std::move(fittings)});
        card.blocks.push_back({Bullets{planned.remarks}});
        card.blocks.push_back({Bullets{planned.unanswered}});
        card.blocks.push_back({Picture{drawn(c, [&] { return draw_run(c, static_cast<int>(r)); }), {}}});
        sheet.blocks.push_back({card});
    }
}

void add_patches(const Context& c, Sheet& sheet) {
    Table table;
    table.title = "Patches, in order of work";
    table.columns = {{"Patch"},
                     {"From"},
                     {"To"},
                     {"Packer"},
                     {"Way in"},
                     {"Mark", Align::right},
                     {"Wall"},
                     {"Resin", Align::right},
                     {"Set", Align::right},
                     {"Deflate", Align::right}};
    for (const auto& p : c.plan->patches) {
        table.rows.push_back({p.id, show(c, Show::run_distance, p.start), show(c, Show::run_distance, p.end),
                              p.option.packer.id, fmt::format("{} {}", packer::word(p.rigging.method), p.rigging.from),
                              show(c, Show::run_distance, p.rigging.mark), show(c, Show::thickness, p.felt.installed),
                              show(c, Show::scale_mass, p.need.total), show(c, Show::gauge_pressure, p.pressure.set),
                              earliest(c, p.cure.sheet.let_down)});
    }
    sheet.blocks.push_back({table});
    sheet.blocks.push_back(paragraph(
        fmt::format("Sum of the patches' marginal costs {}{}. {}", format(c.plan->layout.cost),
                    c.plan->layout.proven_optimal ? ", proven the least possible" : "", c.plan->layout.difference)));
}

}  // namespace

Sheet plan_sheet(const Context& c) {
    Sheet sheet;
    sheet.kind = "Plan";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = c.job().date ? format(*c.job().date) : "";
    add_money_banner(c, sheet);
    add_notes(c, sheet);
    add_runs(c, sheet);
    if (!c.plan->patches.empty()) add_patches(c, sheet);
    for (std::size_t d = 0; d < c.plan->schedule.days.size(); ++d) {
        sheet.blocks.push_back(heading(day_name(c, static_cast<int>(d)), 2));
        sheet.blocks.push_back(
            {Picture{drawn(c, [&] { return draw_day(c, static_cast<int>(d)); }), day_chart(c, static_cast<int>(d))}});
    }
    if (!c.plan->patches.empty()) {
        const auto& offer = c.plan->offer;
        sheet.blocks.push_back(heading("Price", 2));
        Table table;
        table.columns = {{""}, {"Net", Align::right}};
        table.rows = {{"Floor", format(offer.bracket.floor)},
                      {"Own price", format(offer.bracket.own)},
                      {"Suggested", format(offer.bracket.suggested)},
                      {"Offered", offer.offered.lines.empty() ? "no offer" : format(offer.offered.total)},
                      {"Ceiling (digging)", format(offer.bracket.ceiling)},
                      {"Customer saves", format(offer.saving)}};
        sheet.blocks.push_back({table});
    }
    sheet.blocks.push_back(heading("Cautions", 2));
    for (const auto* caution : c.plan->cautions) {
        sheet.blocks.push_back(
            {Caution{std::string{caution->title}, std::string{caution->text}, std::string{caution->source}}});
    }
    add_doubts(c, sheet);
    return sheet;
}

}  // namespace patchwright::sheet
