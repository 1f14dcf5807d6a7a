#include <fmt/format.h>

#include "blocks.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

std::string joined(const std::vector<std::string>& sentences) {
    std::string text;
    for (const auto& sentence : sentences) text += (text.empty() ? "" : " ") + sentence;
    return text;
}

/// What was found on one run, and why no sleeve answers it.
void add_run(const Context& c, std::size_t r, Sheet& sheet) {
    const auto& run = c.job().runs[r];
    const auto& planned = c.plan->runs[r];
    sheet.blocks.push_back(heading(fmt::format("Run {}: {} to {}", run.id, run.from, run.to)));
    if (run.defects.empty()) {
        sheet.blocks.push_back(paragraph("No defect is listed on this run."));
        return;
    }
    Table table;
    table.columns = {{"Finding"}, {"Verdict"}, {"Reason"}};
    for (std::size_t d = 0; d < run.defects.size(); ++d) {
        const auto& assessment = planned.verdicts[d].assessment;
        const bool wanted = survey::wants_patch(assessment.verdict);
        table.rows.push_back(
            {defect_words(c, run.defects[d]),
             wanted ? "wants a sleeve, none can be placed" : std::string{survey::word(assessment.verdict)},
             joined(assessment.reasons)});
    }
    sheet.blocks.push_back({table});
    Bullets list;
    for (const auto& words : planned.unanswered) list.items.push_back("No patch for " + words);
    for (const auto& words : planned.remarks) list.items.push_back(words);
    if (list.items.empty()) return;
    sheet.blocks.push_back(heading("What stands in the way", 3));
    sheet.blocks.push_back({list});
}

}  // namespace

Sheet no_patch_sheet(const Context& c) {
    Sheet sheet;
    sheet.kind = "Day sheet";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = "no day of patching";
    if (c.yard().demonstration)
        sheet.banners.push_back(
            "Demonstration yard: invented resins and packers, not yours. Do not work from this sheet.");
    sheet.blocks.push_back(paragraph("Nothing on this job can be patched: there is no day of work and nothing to load.",
                                     Emphasis::strong));
    for (std::size_t r = 0; r < c.plan->runs.size(); ++r) add_run(c, r, sheet);
    Bullets other;
    for (const auto& words : c.plan->warnings) {
        // Those of the runs stand above.
        if (!words.starts_with("No patch for") && !words.starts_with("Run ")) other.items.push_back(words);
    }
    if (!other.items.empty()) {
        sheet.blocks.push_back(heading("Warnings"));
        sheet.blocks.push_back({other});
    }
    return sheet;
}

}  // namespace patchwright::sheet
