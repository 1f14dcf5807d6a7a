#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "blocks.hpp"
#include "recorded.hpp"
#include "words.hpp"

/// The as-built file: planned beside done.
namespace patchwright::sheet {
namespace {

using record::Verdict;

std::string title_case(std::string_view what) {
    std::string text{what};
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

Table checks_table(const Context& c, const std::vector<record::Check>& checks) {
    Table table;
    table.columns = {{""}, {"Planned"}, {"Done"}, {"Limit"}, {"Verdict"}};
    for (const auto& check : checks) {
        auto text = check_text(c, check);
        table.rows.push_back({title_case(check.what), std::move(text.planned), std::move(text.done),
                              std::move(text.limit), std::move(text.verdict)});
    }
    return table;
}

std::string cure_words(const Context& c, const record::Patch& built) {
    if (!built.cure) return fmt::format("Cure not followed again: {}.", built.why_no_cure);
    const auto& cure = *built.cure;
    const auto deflated = built.record->deflated_after().value_or(Duration{});
    const auto rests =
        cure.notes == 0 ? std::string{"no temperature noted while it cured"}
                        : fmt::format("{} temperature{} noted while it cured", cure.notes, cure.notes > 1 ? "s" : "");
    const auto hard = is_finite(cure.hard) ? "likely hard after " + earliest(c, cure.hard)
                                           : std::string{"not likely to get hard at that temperature"};
    return fmt::format(
        "Cure followed again {} {} ({}): degree of cure {} when it was deflated after {}; {}; soft when deflated: {}.",
        cure.at_sleeve ? "along the probe at the sleeve, last at" : "in a pipe at",
        show(c, Show::temperature, cure.pipe), rests, format(Show::conversion, cure.conversion, c.units),
        show(c, Show::span, deflated), hard, one_in(cure.soft_probability));
}

/// What the look at the witness says beside the model.
std::string witness_words(const Context& c, const record::Patch& built) {
    if (!built.cure || !built.cure->witness_soft) return {};
    const auto& r = *built.record;
    const auto words = fmt::format(" Witness {} after {} ({}); by the model one in that pipe is still soft then: {}.",
                                   *r.witness.hard == job::YesNo::yes ? "hard" : "not hard",
                                   show(c, Show::span, r.after_mixing(r.witness.at).value_or(Duration{})),
                                   format(*r.witness.at), one_in(*built.cure->witness_soft));
    const bool doubted = built.cure->soft_probability > c.yard().limits.soft_at_most;
    return words + (doubted ? " The chance for the sleeve is the model's alone, without that look." : "");
}

std::string resin_words(const Context& c, const job::PatchRecord& r) {
    const auto part = [&](const char* name, const std::optional<Mass>& mass, const std::string& batch) {
        if (!mass && batch.empty()) return std::string{};
        return fmt::format("{}{}{}", name, mass ? " " + show(c, Show::scale_mass, *mass) : "",
                           batch.empty() ? "" : ", batch " + batch);
    };
    const auto a = part("A", r.part_a, r.part_a_batch), b = part("B", r.part_b, r.part_b_batch);
    const auto left = r.left_over ? "; left over " + show(c, Show::scale_mass, *r.left_over) : std::string{};
    return a + (a.empty() || b.empty() ? "" : "; ") + b + left;
}

/// What was noted and is held to nothing.
Fields more_fields(const Context& c, const record::Patch& built) {
    const auto& r = *built.record;
    Fields fields;
    fields.columns = 2;
    const auto given = [&](const char* label, std::string value) {
        if (!value.empty()) fields.fields.push_back({label, std::move(value)});
    };
    given("Done on", built.date ? format(*built.date) : "");
    given("By", r.who);
    given("Resin", resin_words(c, r));
    given("Bore as measured", r.measured_bore ? show(c, Show::tape, *r.measured_bore) : "");
    given("Packer stuck", r.stuck ? std::string{job::word(*r.stuck)} : "");
    given("Film after", r.film);
    given("Photos", fmt::format("{}", fmt::join(r.photos, ", ")));
    for (const auto& note : r.noted)
        if (!note.text.empty()) fields.fields.push_back({note.label, note.text});
    given("Ticked", fmt::format("{}", fmt::join(r.ticked, "; ")));
    given("Remark", r.remark);
    return fields;
}

/// Entries before the last one: what became of the sleeves that do not lie there.
Bullets former_entries(const Recorded& recorded, const record::Patch& built, const std::string& id) {
    Bullets list;
    for (const auto& entry : recorded.record->patches) {
        if (entry.id != id || &entry == built.record) continue;
        const auto outcome = entry.outcome.value_or(job::SleeveOutcome::done);
        list.items.push_back(fmt::format("Before: {}{}{}", job::word(outcome),
                                         entry.mixed_at ? ", mixed at " + format(*entry.mixed_at) : "",
                                         entry.remark.empty() ? "" : ". " + entry.remark));
    }
    return list;
}

std::string lies_words(const Context& c, const plan::Patch& p, const record::Patch& built) {
    if (built.record == nullptr) return "nothing noted";
    if (!built.in_pipe()) return fmt::format("{}: no sleeve lies there", job::word(*built.record->outcome));
    const auto &start = built.record->starts_at, &end = built.record->ends_at;
    if (!start || !end) return "lies where it was planned, as far as was noted";
    return fmt::format("lies from {} to {} from {} (planned {} to {})", show(c, Show::run_distance, *start),
                       show(c, Show::run_distance, *end), c.plan->run_of(p).from, show(c, Show::run_distance, p.start),
                       show(c, Show::run_distance, p.end));
}

Block built_card(const Context& c, const Recorded& recorded, const record::Patch& built) {
    const auto& p = c.plan->patches[built.patch];
    const auto& run = c.plan->run_of(p);
    Card card;
    card.title = fmt::format("Patch {}", p.id);
    card.subtitle = fmt::format("run {} ({} to {}), mends {}; {}", run.id, run.from, run.to, defect_ids(c, p),
                                lies_words(c, p, built));
    if (auto former = former_entries(recorded, built, p.id); !former.items.empty())
        card.blocks.push_back({std::move(former)});
    if (!built.checks.empty()) {
        card.blocks.push_back({checks_table(c, built.checks)});
        card.blocks.push_back(paragraph(cure_words(c, built) + witness_words(c, built)));
    }
    if (built.record != nullptr) card.blocks.push_back({more_fields(c, built)});
    return {std::move(card)};
}

void add_summary(const Context& c, const Recorded& recorded, Sheet& sheet) {
    Table table;
    table.columns = {{"Patch"},
                     {"Run"},
                     {"Begins, from the run's start", Align::right},
                     {"Ends", Align::right},
                     {"Kept", Align::right},
                     {"Missed", Align::right},
                     {"Not noted", Align::right},
                     {"Soft when deflated"}};
    const auto lies = as_lies(c, recorded);
    for (const auto& built : recorded.built->patches) {
        const auto& p = lies.patches[built.patch];
        const bool in = built.record == nullptr || built.in_pipe();
        const auto place = [&](Length at) { return in ? show(c, Show::run_distance, at) : std::string{"-"}; };
        table.rows.push_back(
            {p.id, c.plan->run_of(p).id, place(p.start), place(p.end), fmt::format("{}", built.count(Verdict::kept)),
             fmt::format("{}", built.count(Verdict::missed)), fmt::format("{}", built.count(Verdict::not_noted)),
             built.cure ? one_in(built.cure->soft_probability) : "-"});
    }
    sheet.blocks.push_back({std::move(table)});
    Bullets missed;
    const auto add = [&](const std::string& where, const std::vector<record::Check>& checks) {
        for (const auto& check : checks) {
            if (check.verdict != Verdict::missed) continue;
            const auto text = check_text(c, check);
            missed.items.push_back(fmt::format("{}: {} {}{}", where, check.what, text.done,
                                               text.limit.empty() ? "" : ", limit " + text.limit));
        }
    };
    for (std::size_t d = 0; d < recorded.built->days.size(); ++d)
        add(day_name(c, static_cast<int>(d)), {recorded.built->left[d], recorded.built->days[d]});
    for (const auto& built : recorded.built->patches) add(c.plan->patches[built.patch].id, built.checks);
    for (const auto& test : recorded.built->tests)
        add(fmt::format("run {}, {}", test.record->run, test_words(test.record->method)), test.checks);
    if (missed.items.empty()) {
        sheet.blocks.push_back(paragraph("No limit was missed in what was noted.", Emphasis::strong));
        return;
    }
    sheet.blocks.push_back(heading("Limits that were missed", 2));
    sheet.blocks.push_back({std::move(missed)});
}

void add_days(const Context& c, const Recorded& recorded, Sheet& sheet) {
    Table table;
    table.columns = {{"Day"}, {"Who"}, {""}, {"Planned"}, {"Done"}, {"Limit"}, {"Verdict"}};
    for (std::size_t d = 0; d < recorded.built->days.size(); ++d) {
        auto back = recorded.built->days[d];
        std::string who = std::exchange(back.done_words, {});
        auto name = day_name(c, static_cast<int>(d));
        for (const auto* check : {&recorded.built->left[d], &std::as_const(back)}) {
            auto text = check_text(c, *check);
            table.rows.push_back({std::exchange(name, {}), std::exchange(who, {}), title_case(check->what),
                                  std::move(text.planned), std::move(text.done), std::move(text.limit),
                                  std::move(text.verdict)});
        }
    }
    sheet.blocks.push_back({std::move(table)});
}

/// The runs as they are now.
void add_drawings(const Context& c, const Recorded& recorded, Sheet& sheet) {
    if (!c.drawings) return;
    draw_runs(c, as_lies(c, recorded), true, sheet);
}

void add_other_notes(const Recorded& recorded, Sheet& sheet) {
    Bullets list;
    for (const auto& day : recorded.record->days)
        if (!day.remark.empty()) list.items.push_back(day.remark);
    for (const auto& remark : recorded.record->remarks) list.items.push_back(remark);
    for (const auto& page : recorded.record->sheets) {
        for (const auto& note : page.noted)
            if (!note.text.empty())
                list.items.push_back(fmt::format("{}, {}: {}: {}", page.kind, page.subject, note.label, note.text));
        if (!page.ticked.empty())
            list.items.push_back(
                fmt::format("{}, {}: ticked: {}", page.kind, page.subject, fmt::join(page.ticked, "; ")));
    }
    if (list.items.empty()) return;
    sheet.blocks.push_back(heading("Also noted", 2));
    sheet.blocks.push_back({std::move(list)});
}

}  // namespace

std::vector<Sheet> as_built_sheets(const Context& c, const Recorded& recorded) {
    Sheet sheet;
    sheet.kind = "As-built record";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = c.job().customer.site_address;
    sheet.compact = true;
    if (c.yard().demonstration)
        sheet.banners.emplace_back("Demonstration yard: invented resins and packers, not yours.");
    add_days(c, recorded, sheet);
    add_summary(c, recorded, sheet);
    add_other_notes(recorded, sheet);
    // Below what was missed: who signs has read it, and the line never stands alone on a last page.
    sheet.blocks.push_back({Signature{{"Crew lead", "Date", "Checked by", "Date"}}});
    add_drawings(c, recorded, sheet);
    for (const auto& built : recorded.built->patches) sheet.blocks.push_back(built_card(c, recorded, built));
    std::vector<Sheet> sheets{std::move(sheet)};
    add_tests(c, recorded, sheets);
    return sheets;
}

}  // namespace patchwright::sheet
