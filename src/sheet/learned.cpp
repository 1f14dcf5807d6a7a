#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include "json_part.hpp"

#include "patchwright/io/change.hpp"
#include "patchwright/sheet/learn.hpp"
#include "patchwright/units/format.hpp"
#include "words.hpp"

/// What records say of the yard's own figures.
namespace patchwright::sheet {
namespace {

/// To a tenth of a minute, as the yard file takes it.
std::string minutes(Duration time) { return fmt::format("{:.1f} min", time.in(unit::minute)); }
std::string three(const job::Spread<Duration>& s) {
    return fmt::format("{:.1f}, {:.1f}, {:.1f}", s.low.in(unit::minute), s.likely.in(unit::minute),
                       s.high.in(unit::minute));
}
std::string percent(double share) { return fmt::format("{:.2f} %", 100.0 * share); }

/// Changes of the yard file, one key each.
class YardChanges {
public:
    void text(std::vector<std::string> path, std::string_view value) {
        list_.push_back(job::set_text(job::FileKind::yard, std::move(path), value));
    }
    void json(std::vector<std::string> path, const Json& value) {
        list_.push_back({job::FileKind::yard, std::move(path), value.dump()});
    }
    const std::vector<job::Change>& list() const { return list_; }

private:
    std::vector<job::Change> list_;
};

void put_durations(const learn::Learned& learned, YardChanges& yard) {
    for (const auto& d : learned.durations) {
        const std::string key{d.key};
        yard.text({"durations", "_help_" + key}, fmt::format("from {} noted; before {}", d.noted, three(d.before)));
        yard.text({"durations", key, "low"}, minutes(d.after.low));
        yard.text({"durations", key, "likely"}, minutes(d.after.likely));
        yard.text({"durations", key, "high"}, minutes(d.after.high));
    }
}

void put_resins(const learn::Learned& learned, YardChanges& yard) {
    for (const auto& r : learned.resins) {
        yard.text({"resins", r.id, "_help_rate"},
                  fmt::format("from {} gel times; before {:.3f}, {}", r.noted, r.before, percent(r.spread_before)));
        yard.json({"resins", r.id, "rate"}, std::round(1000.0 * r.after) / 1000.0);
        yard.text({"resins", r.id, "rate_spread"}, percent(std::clamp(r.spread_after, 0.01, 2.0)));
    }
    if (!learned.excess) return;
    yard.text({"limits", "_help_resin_excess"},
              fmt::format("from {} mixes; before {}", learned.excess->noted, percent(learned.excess->before)));
    yard.text({"limits", "resin_excess"}, percent(learned.excess->after));
}

void put_rates(const learn::Learned& learned, YardChanges& yard) {
    for (const auto& r : learned.rates) {
        yard.text({"risks", r.risk, "_help_probability"},
                  fmt::format("{} of {}; before {}", r.happened, r.sleeves, percent(r.before)));
        yard.text({"risks", r.risk, "probability"}, percent(r.after));
    }
}

void add_durations(const learn::Learned& learned, Sheet& sheet) {
    if (learned.durations.empty()) return;
    Table table;
    table.title = "Durations, minutes: low, likely, high";
    table.columns = {{"Task"}, {"Noted", Align::right}, {"Yard"}, {"Learned"}, {"Likely lies between, 8 in 10"}};
    for (const auto& d : learned.durations)
        table.rows.push_back({std::string{d.key}, fmt::format("{}", d.noted), three(d.before), three(d.after),
                              fmt::format("{:.1f} and {:.1f}", d.least.in(unit::minute), d.most.in(unit::minute))});
    sheet.blocks.push_back({std::move(table)});
}

void add_rates(const learn::Learned& learned, Sheet& sheet) {
    if (learned.rates.empty()) return;
    Table table;
    table.title = "Rates a sleeve";
    table.columns = {{"Risk"}, {"Happened"}, {"Yard"}, {"Learned"}, {"Lies between, 8 in 10"}};
    for (const auto& r : learned.rates)
        table.rows.push_back({r.risk, fmt::format("{} of {}", r.happened, r.sleeves), percent(r.before),
                              percent(r.after), fmt::format("{} and {}", percent(r.least), percent(r.most))});
    sheet.blocks.push_back({std::move(table)});
}

void add_resins(const learn::Learned& learned, Sheet& sheet) {
    if (learned.resins.empty()) return;
    Table table;
    table.title = "Rate of resins over their data sheets', from gel times; one sleeve in ten is quicker by more";
    table.columns = {{"Resin"},
                     {"Noted", Align::right},
                     {"Yard", Align::right},
                     {"by more than", Align::right},
                     {"Learned", Align::right},
                     {"by more than", Align::right},
                     {"Rate lies between, 8 in 10"}};
    for (const auto& r : learned.resins)
        table.rows.push_back({r.id, fmt::format("{}", r.noted), fmt::format("{:.3f}", r.before),
                              percent(r.spread_before), fmt::format("{:.3f}", r.after), percent(r.spread_after),
                              fmt::format("{:.3f} and {:.3f}", r.least, r.most)});
    sheet.blocks.push_back({std::move(table)});
}

void add_excess(const learn::Learned& learned, Sheet& sheet) {
    if (!learned.excess) return;
    const auto& e = *learned.excess;
    Table table;
    table.title = "Resin in the sleeves over what the felt's voids want";
    table.columns = {{""},        {"Mixes", Align::right},   {"Yard"},
                     {"Learned"}, {"Lies between, 8 in 10"}, {"9 mixes in 10 use at most"}};
    table.rows.push_back({"resin_excess", fmt::format("{}", e.noted), percent(e.before), percent(e.after),
                          fmt::format("{} and {}", percent(e.least), percent(e.most)), percent(e.nine_in_ten)});
    sheet.blocks.push_back({std::move(table)});
}

void add_packers(const learn::Learned& learned, Sheet& sheet) {
    if (learned.packers.empty()) return;
    Table table;
    table.title = "Packers: uses in these records, and what is left of their life when these are all they had";
    table.columns = {{"Packer"}, {"Uses", Align::right}, {"Life by the yard", Align::right}, {"Left", Align::right}};
    for (const auto& p : learned.packers) {
        const bool known = p.expected > 0;
        table.rows.push_back({p.id, fmt::format("{}", p.uses),
                              known ? fmt::format("{}", p.expected) : std::string{"not in the yard"},
                              !known         ? std::string{"-"}
                              : p.left() > 0 ? fmt::format("{}", p.left())
                                             : fmt::format("none: {} over", -p.left())});
    }
    sheet.blocks.push_back({std::move(table)});
}

}  // namespace

Sheet learned_sheet(const learn::Learned& learned, const job::Yard& yard) {
    Sheet sheet;
    sheet.kind = "Learned from records";
    sheet.title = yard.name;
    sheet.subject = fmt::format("{} record{}", learned.records, learned.records == 1 ? "" : "s");
    add_durations(learned, sheet);
    add_rates(learned, sheet);
    add_resins(learned, sheet);
    add_excess(learned, sheet);
    add_packers(learned, sheet);
    if (sheet.blocks.empty())
        sheet.blocks.push_back(
            paragraph("These records note no task with its times, and of no sleeve what became of it."));
    sheet.blocks.push_back(paragraph(fmt::format(
        "The yard's own durations count as {:.0f} tasks, its rates of failure as {:.0f} sleeves, its resin_excess as "
        "{:.0f} mixes, a data sheet as {:.0f} sleeve. Nothing changes unless you take it: -f json writes the yard file "
        "with these figures in it. Learn the next time from the yard as it was before, and from all records: none "
        "counts twice.",
        learn::durations_count_as, learn::rates_count_as, learn::durations_count_as, learn::sheet_counts_as)));
    if (!learned.unused.empty()) sheet.blocks.push_back({Bullets{learned.unused}});
    return sheet;
}

std::string learned_yard(const learn::Learned& learned, const std::string& yard_text) {
    YardChanges yard;
    std::vector<std::string> help{fmt::format("Learned from {} record{}, docs/methods/learn.md.", learned.records,
                                              learned.records == 1 ? "" : "s")};
    for (const auto& p : learned.packers)
        if (p.expected > 0)
            help.push_back(fmt::format("Packer {}: {} of {} uses noted, {} left.", p.id, p.uses, p.expected, p.left()));
    yard.json({"_help_learned"}, help);
    put_durations(learned, yard);
    put_resins(learned, yard);
    put_rates(learned, yard);
    const auto& from = yard_text.empty() ? std::string{R"({"patchwright_yard": 1, "extends": "builtin"})"} : yard_text;
    const auto text = io::with_changes(from, job::FileKind::yard, yard.list());
    return Json::parse(text).dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace patchwright::sheet
