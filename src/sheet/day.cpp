#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>

#include <fmt/format.h>

#include "blocks.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

const schedule::PatchTimes& times_of(const Context& c, std::size_t patch) { return c.plan->schedule.patches[patch]; }

std::vector<std::size_t> patches_of(const Context& c, int day) {
    std::vector<std::size_t> list;
    for (std::size_t i = 0; i < c.plan->patches.size(); ++i) {
        if (times_of(c, i).day == day) list.push_back(i);
    }
    return list;
}

void add_header(const Context& c, int day, Sheet& sheet) {
    const auto& tasks = c.plan->schedule.days[static_cast<std::size_t>(day)];
    const auto& site = c.job->site;
    Fields plan;
    plan.columns = 4;
    plan.fields = list_of<Field>(Field{"Leave the yard", format(site.start), Emphasis::arm},
                                 Field{"Back by plan", clock_text(tasks.finish), Emphasis::arm},
                                 Field{"Air, reckoned with", show(c, Show::temperature, *site.air_temperature)},
                                 Field{"Day must end by", format(site.finish)});
    if (!c.job->customer.site_address.empty()) plan.fields.push_back({"Site", c.job->customer.site_address});
    sheet.blocks.push_back({std::move(plan)});
    Fields blanks;
    blanks.columns = 5;
    for (const char* label : {"Crew", "Vehicle", "Weather", "Left yard", "On site", "Back", "Air temp.", "Resin temp.",
                              "Pipe temp.", "Gas test"}) {
        blanks.fields.push_back({label, "", Emphasis::normal, true});
    }
    sheet.blocks.push_back({std::move(blanks)});
}

void add_order(const Context& c, int day, Sheet& sheet) {
    sheet.blocks.push_back(heading("Order of work"));
    Table table;
    table.columns = {{"From"}, {"To"}, {"What"}, {"Where"}, {"Done at", Align::left, true}};
    const auto& tasks = c.plan->schedule.days[static_cast<std::size_t>(day)].tasks;
    // With three or four sleeves there is no room for each handling of the wet one: its card has the hard times.
    const bool in_one = patches_of(c, day).size() > 2;
    const schedule::Task* before = nullptr;
    for (const auto& task : tasks) {
        const bool goes_on = in_one && before != nullptr && task.patch && before->patch == task.patch &&
                             task.what > schedule::What::wet_out && task.what <= schedule::What::crease &&
                             before->finish == task.start;
        before = &task;
        if (goes_on) {
            auto& row = table.rows.back();
            row[1] = clock_text(task.finish);
            row[2] = fmt::format("wet-out to {}{}", schedule::word(task.what), task.critical ? " *" : "");
            continue;
        }
        std::string where;
        if (task.patch) {
            where = c.plan->patches[static_cast<std::size_t>(*task.patch)].id;
        } else if (task.run) {
            where = "run " + c.job->runs[job::index(*task.run)].id;
        }
        std::string what{schedule::word(task.what)};
        if (task.critical) what += " *";
        // The hard times of a patch are written down on its card.
        const bool on_card = task.what >= schedule::What::wet_out && task.what <= schedule::What::let_down;
        table.rows.push_back(list_of<std::string>(clock_text(task.start), clock_text(task.finish), std::move(what),
                                                  std::move(where), on_card ? "card" : ""));
    }
    table.side_by_side = table.rows.size() > 30 ? 4 : table.rows.size() > 8 ? 3 : 1;
    sheet.blocks.push_back({std::move(table)});
    sheet.blocks.push_back(
        paragraph(fmt::format("* on the critical chain: a minute lost here is a minute later home. {}",
                              c.plan->schedule.proven_optimal ? "No order of this work ends earlier (proven)."
                                                              : "A better order may exist (not proven).")));
    sheet.blocks.push_back({Picture{drawn(c, [&] { return draw_day(c, day, false); }), day_chart(c, day)}});
}

void add_water(const Context& c, int day, Sheet& sheet) {
    std::set<int> runs;
    for (const auto i : patches_of(c, day)) runs.insert(c.plan->patches[i].run);
    if (runs.empty()) return;
    int from = 1 << 30, to = 0;
    for (const auto& shut : c.plan->schedule.blocked) {
        if (shut.day != day) continue;
        from = std::min(from, shut.from);
        to = std::max(to, shut.to);
    }
    sheet.blocks.push_back(heading("Water and flow"));
    Bullets list;
    list.items.push_back(
        fmt::format("Occupier's notice: no water, no toilet, no washing machine from {} until the crew says so, {} at "
                    "the earliest.",
                    clock_text(from), clock_text(to)));
    for (const auto& flow : c.plan->flows) {
        if (!runs.count(flow.run)) continue;
        const auto& run = c.job->runs[static_cast<std::size_t>(flow.run)];
        if (!flow.known) {
            list.items.push_back(
                fmt::format("Run {}: no flow data. Before mixing, watch the inflow for ten minutes and write it down: "
                            "______ l/s. Room "
                            "upstream: ______ l. The pipe is blocked for up to {}.",
                            run.id, show(c, Show::span, flow.blocked)));
        } else if (flow.verdict.holds) {
            list.items.push_back(
                fmt::format("Run {}: blocked up to {}; the room upstream fills in {}. Holds, if the inflow stays.",
                            run.id, show(c, Show::span, flow.blocked), show(c, Show::span, flow.verdict.fills_in)));
        } else {
            list.items.push_back(
                fmt::format("Run {}: blocked up to {}, but the room upstream fills in {}. Pump round it: {} at least, "
                            "with a standby pump.",
                            run.id, show(c, Show::span, flow.blocked), show(c, Show::span, flow.verdict.fills_in),
                            show(c, Show::flow, flow.verdict.pump)));
        }
    }
    sheet.blocks.push_back({std::move(list)});
}

/// How a pot behaves that is left standing, once for each that differs.
std::string pots(const Context& c, int day) {
    std::string text;
    for (const auto& batch : c.plan->batches) {
        if (batch.day != day) continue;
        const auto& resin = c.yard->resins[static_cast<std::size_t>(batch.resin)];
        const auto words = fmt::format(
            " {} of {} left in the pot is 10 K warmer after some {}, gels after {} and reaches {}{}.",
            show(c, Show::scale_mass, batch.batch.total / static_cast<double>(batch.batch.buckets)), resin.id,
            latest(c, batch.bucket.alarm), latest(c, batch.bucket.pot_life),
            show(c, Show::temperature, Temperature::celsius(std::round(batch.bucket.hottest.in_celsius()))),
            batch.bucket.most > Mass{} ? "; never more than " + show(c, Show::big_mass, batch.bucket.most) + " in one"
                                       : "");
        if (text.find(words) == std::string::npos) text += words;
    }
    return text;
}

void add_mixes(const Context& c, int day, Sheet& sheet) {
    Table table;
    const bool pots_differ = std::any_of(c.plan->batches.begin(), c.plan->batches.end(), [&](const auto& batch) {
        return batch.day == day && batch.batch.buckets > 1;
    });
    table.columns = {{"Mix"}, {"At"}, {"For"}, {"Resin"}, {"A", Align::right}, {"B", Align::right}, {"Pour by"}};
    if (pots_differ) table.columns.push_back({"Pots"});
    for (const auto& batch : c.plan->batches) {
        if (batch.day != day) continue;
        std::string ids;
        for (const int p : batch.batch.patches) {
            ids += (ids.empty() ? "" : ", ") + c.plan->patches[static_cast<std::size_t>(p)].id;
        }
        const auto pots = static_cast<double>(batch.batch.buckets);
        table.rows.push_back(list_of<std::string>(
            batch.id, format(batch.mix_at), std::move(ids), c.yard->resins[static_cast<std::size_t>(batch.resin)].id,
            show(c, Show::scale_mass, batch.batch.part_a / pots), show(c, Show::scale_mass, batch.batch.part_b / pots),
            latest(c, batch.batch.pour_by)));
        if (pots_differ)
            table.rows.back().push_back(batch.batch.buckets > 1 ? fmt::format("{}, each so", batch.batch.buckets)
                                                                : "1");
    }
    if (table.rows.empty()) return;
    sheet.blocks.push_back(heading("Mixes"));
    sheet.blocks.push_back({std::move(table)});
    sheet.blocks.push_back(paragraph(
        "The clock starts when A meets B. \"Pour by\" is minutes after that, for the bucket only." + pots(c, day)));
}

std::set<int> runs_of(const Context& c, const std::vector<std::size_t>& patches) {
    std::set<int> runs;
    for (const auto i : patches) runs.insert(c.plan->patches[i].run);
    return runs;
}

/// Findings of the runs that the crew is at on that day; those of runs where nothing is patched stand on the first.
void add_findings(const Context& c, int day, const std::vector<std::size_t>& patches, Sheet& sheet) {
    const auto today = runs_of(c, patches);
    std::set<int> worked;
    for (const auto& p : c.plan->patches) worked.insert(p.run);
    Bullets other;
    for (std::size_t r = 0; r < c.plan->runs.size(); ++r) {
        const auto place = static_cast<int>(r);
        if (!today.count(place) && (worked.count(place) || day > 0)) continue;
        const auto& run = c.plan->runs[r];
        for (const auto& verdict : run.verdicts) {
            if (survey::wants_patch(verdict.judgement.verdict)) continue;
            other.items.push_back(
                fmt::format("{}: {}. {}", verdict.defect, survey::word(verdict.judgement.verdict),
                            verdict.judgement.reasons.empty() ? "" : verdict.judgement.reasons.front()));
        }
        for (const auto& words : run.unanswered) other.items.push_back("No patch. " + words);
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
void add_doubts_of_day(const Context& c, int day, const std::vector<std::size_t>& patches, Sheet& sheet) {
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
        for (std::size_t i = 0; i < c.plan->patches.size(); ++i) {
            if (!names(text, c.plan->patches[i].id)) continue;
            if (std::find(patches.begin(), patches.end(), i) != patches.end()) return true;
            other = true;
        }
        for (std::size_t r = 0; r < c.job->runs.size(); ++r) {
            const auto& id = c.job->runs[r].id;
            if (!names(text, "run " + id) && !names(text, "Run " + id)) continue;
            if (runs.count(static_cast<int>(r))) return true;
            other = true;
        }
        return !other;
    };
    Bullets warnings, assumed;
    for (const auto& words : c.plan->warnings) {
        // The one stands under "Not patched", the other among the mixes and on the card.
        const bool told = words.starts_with("No patch for") || words.starts_with("weigh the mix of");
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
    add("Assumed, because nobody said", assumed);
    if (!both.columns.empty()) sheet.blocks.push_back({std::move(both)});
}

/// Water and the mixes beside each other.
void add_water_and_mixes(const Context& c, int day, Sheet& sheet) {
    Sheet water, mixes;
    add_water(c, day, water);
    add_mixes(c, day, mixes);
    if (water.blocks.empty() || mixes.blocks.empty()) {
        for (auto* part : {&water, &mixes})
            std::move(part->blocks.begin(), part->blocks.end(), std::back_inserter(sheet.blocks));
        return;
    }
    Columns both;
    both.columns = list_of<std::vector<Block>>(std::move(water.blocks), std::move(mixes.blocks));
    both.shares = {1.0, 1.15};
    sheet.blocks.push_back({std::move(both)});
}

void add_cautions(const Context& c, Sheet& sheet) {
    // Their sources stand on the plan; here the room is needed for larger type.
    sheet.blocks.push_back(heading("Cautions for this job"));
    for (const auto* caution : c.plan->cautions) {
        sheet.blocks.push_back({Caution{std::string{caution->title}, std::string{caution->text}, {}}});
    }
}

void add_abort(Sheet& sheet) {
    Card card;
    card.title = "If it goes wrong";
    card.blocks.push_back({Bullets{{
        "Late, not in place at the inflate-by time: do not inflate. Pull the packer out now, strip the felt in the "
        "open, spread leftover resin thin outside. Clean the packer before it sets. Mix afresh.",
        "Bladder leaks or pressure falls: before the crease-by time let down, pull out, strip. After it hold the "
        "pressure with compressor and relief valve, never above the set figure, and stand clear of the pipe's line.",
        "Packer stuck after let-down: vent fully, open the valve, wait until the bladder has shrunk. Pull steadily by "
        "hand from both ends in turn, never by vehicle. If it does not come, stop and ring the office. Do not cut air "
        "lines under pressure.",
        "Power or compressor lost: shut the valve at the packer, read the gauge each five minutes. Falling below the "
        "least pressure before gel: let down, pull out. After gel: hold.",
        "Water backs up: start the pump. If it rises still: before gel let down and pull out, after gel keep pumping "
        "and hold.",
        "Someone feels unwell, or the gas alarm sounds: out and away from the opening, air on, call for help. Nobody "
        "goes in after.",
    }}});
    sheet.blocks.push_back({std::move(card)});
}

void add_remarks(const Context& c, int day, const std::vector<std::size_t>& patches, Sheet& sheet) {
    add_findings(c, day, patches, sheet);
    add_doubts_of_day(c, day, patches, sheet);
}

/// Each packer that must be built, once.
void add_build_cards(const Context& c, const std::vector<std::size_t>& patches, bool new_page, Sheet& sheet) {
    std::set<std::string> shown;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        if (!p.build || !shown.insert(p.option.packer.id).second) continue;
        if (new_page && shown.size() == 1) sheet.blocks.push_back({PageBreak{}});
        sheet.blocks.push_back(build_card(c, i));
    }
}

/// Two cards a row, four a page; the tables for what is measured on site under the last ones.
void add_cards(const Context& c, const std::vector<std::size_t>& patches, Sheet& sheet) {
    sheet.blocks.push_back({PageBreak{}});
    if (patches.size() == 1) sheet.blocks.push_back(patch_card(c, patches.front()));
    for (std::size_t i = 0; patches.size() > 1 && i < patches.size(); i += 2) {
        if (i > 0 && i % 4 == 0) sheet.blocks.push_back({PageBreak{}});
        Columns row;
        for (std::size_t k = i; k < std::min(i + 2, patches.size()); ++k)
            row.columns.push_back(list_of<Block>(patch_card(c, patches[k])));
        sheet.blocks.push_back({std::move(row)});
    }
    add_site_tables(c, patches, sheet);
}

Sheet day_sheet(const Context& c, int d) {
    const auto days = c.plan->schedule.days.size();
    Sheet sheet;
    sheet.kind = "Day sheet";
    sheet.title = c.job->title;
    sheet.reference = c.job->reference;
    sheet.subject = days > 1 ? fmt::format("{} (day {} of {})", day_name(c, d), d + 1, days) : day_name(c, d);
    if (c.yard->demonstration) {
        sheet.banners.push_back(
            "Demonstration yard: invented resins and packers, not yours. Do not work from this sheet.");
    }
    sheet.compact = true;
    const auto patches = patches_of(c, d);
    add_header(c, d, sheet);
    add_water_and_mixes(c, d, sheet);
    add_load_list(c, patches, sheet);
    add_order(c, d, sheet);
    // What does not fit the back: with three or four cards there is no room beside them.
    const bool crowded_back = patches.size() > 2;
    if (crowded_back) add_abort(sheet);
    add_cautions(c, sheet);
    if (crowded_back) add_remarks(c, d, patches, sheet);
    add_cards(c, patches, sheet);
    if (!crowded_back) {
        add_abort(sheet);
        add_remarks(c, d, patches, sheet);
    }
    sheet.blocks.push_back({Signature{{"Crew lead", "Date", "Weights checked by"}}});
    add_build_cards(c, patches, crowded_back, sheet);
    return sheet;
}

}  // namespace

std::vector<Sheet> day_sheets(const Context& c, std::optional<int> day) {
    std::vector<Sheet> sheets;
    const auto days = static_cast<int>(c.plan->schedule.days.size());
    if (days == 0) sheets.push_back(no_patch_sheet(c));
    for (int d = 0; d < days; ++d) {
        if (!day || *day == d) sheets.push_back(day_sheet(c, d));
    }
    return sheets;
}

}  // namespace patchwright::sheet
