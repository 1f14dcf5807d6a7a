#include <algorithm>
#include <charconv>
#include <iterator>
#include <map>
#include <set>
#include <string_view>

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

/// From there the next word of a text; empty: none.
std::string_view next_word(std::string_view text, std::size_t from = 0) {
    while (from < text.size() && !in_word(text[from])) ++from;
    std::size_t end = from;
    while (end < text.size() && in_word(text[end])) ++end;
    return text.substr(std::min(from, text.size()), end - from);
}

/// Which of many names may stand in a text, by their first words: a large job has thousands of names and of texts.
class Index {
public:
    void add(const std::string& name, std::size_t place) { places_[std::string{next_word(name)}].insert(place); }
    std::set<std::size_t> of(const std::string& text) const {
        std::set<std::size_t> found;
        const auto look_up = [&](std::string_view word) {
            if (const auto known = places_.find(std::string{word}); known != places_.end())
                found.insert(known->second.begin(), known->second.end());
        };
        look_up({});  // names without a letter or digit
        for (auto word = next_word(text); !word.empty();) {
            look_up(word);
            word = next_word(text, static_cast<std::size_t>(word.data() - text.data()) + word.size());
        }
        return found;
    }

private:
    std::map<std::string, std::set<std::size_t>> places_;
};

/// Says "on day 2", where there is such a day, of another day than that one.
bool of_another_day(const std::string& text, std::size_t days, int day) {
    constexpr std::string_view before = "on day ";
    for (auto at = text.find(before); at != std::string::npos; at = text.find(before, at + 1)) {
        const auto number = next_word(text, at + before.size());
        if ((at > 0 && in_word(text[at - 1])) || number.data() != text.data() + at + before.size()) continue;
        std::size_t said = 0;
        const auto read = std::from_chars(number.data(), number.data() + number.size(), said);
        const bool whole = read.ec == std::errc{} && read.ptr == number.data() + number.size() && number.front() != '0';
        if (whole && said >= 1 && said <= days && said != static_cast<std::size_t>(day) + 1) return true;
    }
    return false;
}

/// Whether what is said concerns a day: not what names only patches or runs of other days, or another day.
class Concerns {
public:
    Concerns(const Context& c, int day, const Patches& patches)
        : c_{c}, day_{day}, today_{patches.begin(), patches.end()}, runs_{runs_of(c, patches)} {
        for (std::size_t i = 0; i < c.plan->patches.size(); ++i) patch_names_.add(c.plan->patches[i].id, i);
        for (std::size_t r = 0; r < c.job().runs.size(); ++r) run_names_.add(c.job().runs[r].id, r);
    }

    bool operator()(const std::string& text) const {
        if (of_another_day(text, c_.plan->schedule.days.size(), day_)) return false;
        const auto patches = patch_names_.of(text);
        // Said of a patch of another day, though the crew is at its run today.
        for (const auto i : patches)
            if (today_.count(i) == 0 && text.starts_with(c_.plan->patches[i].id + ": ")) return false;
        bool other = false;
        for (const auto i : patches) {
            if (!names(text, c_.plan->patches[i].id)) continue;
            if (today_.count(i) > 0) return true;
            other = true;
        }
        for (const auto r : run_names_.of(text)) {
            const auto& id = c_.job().runs[r].id;
            if (!names(text, "run " + id) && !names(text, "Run " + id)) continue;
            if (runs_.count(static_cast<int>(r)) > 0) return true;
            other = true;
        }
        return !other;
    }

private:
    const Context& c_;
    int day_;
    std::set<std::size_t> today_;
    std::set<int> runs_;
    Index patch_names_, run_names_;
};

/// Warnings and assumptions without those that name only patches or runs of other days, or another day.
void add_doubts_of_day(const Context& c, int day, const Patches& patches, Sheet& sheet) {
    const Concerns concerns{c, day, patches};
    Bullets warnings, assumed;
    for (const auto& words : c.plan->warnings) {
        // They stand under "Not patched", among the mixes and on the card, with the water; prices are not for here.
        const bool told = words.starts_with("No patch for") || words.starts_with("weigh the mix of") ||
                          words.starts_with("price:") || names(words, "is shut");
        const bool twice = std::find(warnings.items.begin(), warnings.items.end(), words) != warnings.items.end();
        if (!told && !twice && concerns(words)) warnings.items.push_back(words);
    }
    warnings.items = together(c, warnings.items);
    std::vector<job::Assumption> of_day;
    std::copy_if(c.plan->assumptions.begin(), c.plan->assumptions.end(), std::back_inserter(of_day),
                 [&](const job::Assumption& a) { return a.where != "dig" && a.where != "job" && concerns(a.where); });
    assumed.items = assumption_lines(of_day, patches.size() > 3);
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
