#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "blocks.hpp"
#include "day_parts.hpp"
#include "words.hpp"

/// What a day's figures rest on, and what the day leaves undone.
namespace patchwright::sheet {
namespace {

/// What the survey says of the defects of a run that stand in those words and are in no patch.
std::string remarks_on(const Context& c, std::size_t run, const std::string& words) {
    std::string remarks;
    const auto& defects = c.job().runs[run].defects;
    for (std::size_t d = 0; d < defects.size(); ++d) {
        const auto& defect = defects[d];
        if (!defect.remark.empty() && names(words, defect.id) && !in_a_patch(c, run, d))
            remarks += fmt::format(" {}: \"{}\"", defect.id, defect.remark);
    }
    return remarks;
}

/// Findings of the runs that the crew is at on that day; those of runs where nothing is patched stand on the first.
void add_findings(const Context& c, int day, const Patches& patches, Sheet& sheet) {
    const auto today = runs_of(c, patches);
    std::set<int> worked;
    for (const auto& p : c.plan->patches) worked.insert(p.run);
    Bullets other;
    for (std::size_t r = 0; r < c.plan->runs.size(); ++r) {
        const auto place = static_cast<int>(r);
        if (!today.count(place) && (worked.count(place) || day > 0)) continue;
        const auto& run = c.plan->runs[r];
        for (std::size_t d = 0; d < run.verdicts.size(); ++d) {
            const auto& verdict = run.verdicts[d];
            if (survey::wants_patch(verdict.assessment.verdict)) continue;
            const auto& defect = c.job().runs[r].defects[d];
            other.items.push_back(
                fmt::format("{}: {}. {}{}", verdict.defect, survey::word(verdict.assessment.verdict),
                            verdict.assessment.reasons.empty() ? "" : verdict.assessment.reasons.front(),
                            defect.remark.empty() ? "" : fmt::format(" \"{}\"", defect.remark)));
        }
        for (const auto& words : run.unanswered) other.items.push_back("No patch. " + words + remarks_on(c, r, words));
    }
    if (other.items.empty()) return;
    sheet.blocks.push_back(heading("Not patched"));
    sheet.blocks.push_back({std::move(other)});
}

/// Warnings that say the same of several patches, as one.
std::vector<std::string> together(const Context& c, const std::vector<std::string>& warnings) {
    std::vector<std::pair<std::string, std::string>> merged;  // ids, what is said of them
    for (const auto& words : warnings) {
        std::string ids, said = words;
        for (const auto& p : c.plan->patches) {
            for (const auto& start : {"patch " + p.id + ": ", p.id + ": "}) {
                if (!ids.empty() || !words.starts_with(start)) continue;
                ids = p.id;
                said = words.substr(start.size());
            }
        }
        const auto same = std::find_if(merged.begin(), merged.end(),
                                       [&](const auto& row) { return !ids.empty() && row.second == said; });
        if (same == merged.end())
            merged.emplace_back(std::move(ids), std::move(said));
        else
            same->first += ", " + ids;
    }
    std::vector<std::string> lines;
    for (const auto& [ids, said] : merged) lines.push_back(ids.empty() ? said : fmt::format("{}: {}", ids, said));
    return lines;
}

/// Warnings and assumptions without those that name only patches or runs of other days, or another day.
void add_doubts_of_day(const Context& c, int day, const Patches& patches, Sheet& sheet) {
    const auto runs = runs_of(c, patches);
    std::vector<std::string> other_days;
    for (std::size_t d = 0; d < c.plan->schedule.days.size(); ++d) {
        if (static_cast<int>(d) != day) other_days.push_back(fmt::format("on day {}", d + 1));
    }
    const auto concerns = [&](const std::string& text) {
        bool other = false;
        for (const auto& words : other_days) {
            if (names(text, words)) return false;
        }
        // Said of a patch of another day, though the crew is at its run today.
        for (std::size_t i = 0; i < c.plan->patches.size(); ++i) {
            const bool today = std::find(patches.begin(), patches.end(), i) != patches.end();
            if (!today && text.starts_with(c.plan->patches[i].id + ": ")) return false;
        }
        for (std::size_t i = 0; i < c.plan->patches.size(); ++i) {
            if (!names(text, c.plan->patches[i].id)) continue;
            if (std::find(patches.begin(), patches.end(), i) != patches.end()) return true;
            other = true;
        }
        for (std::size_t r = 0; r < c.job().runs.size(); ++r) {
            const auto& id = c.job().runs[r].id;
            if (!names(text, "run " + id) && !names(text, "Run " + id)) continue;
            if (runs.count(static_cast<int>(r))) return true;
            other = true;
        }
        return !other;
    };
    Bullets warnings, assumed;
    for (const auto& words : c.plan->warnings) {
        // They stand under "Not patched", among the mixes and on the card, with the water; prices are not for here.
        const bool told = words.starts_with("No patch for") || words.starts_with("weigh the mix of") ||
                          words.starts_with("price:") || names(words, "is shut");
        const bool twice = std::find(warnings.items.begin(), warnings.items.end(), words) != warnings.items.end();
        if (!told && !twice && concerns(words)) warnings.items.push_back(words);
    }
    warnings.items = together(c, warnings.items);
    for (const auto& a : c.plan->assumptions) {
        if (a.where != "dig" && a.where != "job" && concerns(a.where)) assumed.items.push_back(assumption_text(a));
    }
    Columns both;
    const auto add = [&](const char* words, Bullets& list) {
        if (!list.items.empty()) both.columns.push_back(list_of<Block>(heading(words), Block{std::move(list)}));
    };
    add("Warnings", warnings);
    add("Assumed (not given)", assumed);
    if (!both.columns.empty()) sheet.blocks.push_back({std::move(both)});
}

}  // namespace

void add_remarks(const Context& c, int day, const Patches& patches, Sheet& sheet) {
    add_findings(c, day, patches, sheet);
    add_doubts_of_day(c, day, patches, sheet);
}

}  // namespace patchwright::sheet
