#include <algorithm>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "patchwright/io/read.hpp"
#include "patchwright/sheet/learn.hpp"
#include "patchwright/units/format.hpp"
#include "words.hpp"

/// What records say of the yard's own figures.
namespace patchwright::sheet {
namespace {

using Json = nlohmann::ordered_json;

/// To a tenth of a minute, as the yard file takes it.
std::string minutes(Duration time) { return fmt::format("{:.1f} min", time.in(unit::minute)); }
std::string three(const job::Spread<Duration>& s) {
    return fmt::format("{:.1f}, {:.1f}, {:.1f}", s.low.in(unit::minute), s.likely.in(unit::minute),
                       s.high.in(unit::minute));
}
std::string percent(double share) { return fmt::format("{:.2f} %", 100.0 * share); }

Json three_json(const job::Spread<Duration>& s) {
    return {{"low", minutes(s.low)}, {"likely", minutes(s.likely)}, {"high", minutes(s.high)}};
}
std::string money(Money amount) { return fmt::format("{} {}", decimal_text(amount), amount.currency().code()); }

/// Of a risk that the built-in yard has too only what changes; of the firm's own all that such a risk must say.
Json risk_json(const job::Risk& risk, double probability) {
    Json json = Json::object();
    json["id"] = risk.id;
    json["probability"] = percent(probability);
    const auto& known = io::builtin_yard().risks;
    if (std::any_of(known.begin(), known.end(), [&](const job::Risk& other) { return other.id == risk.id; }))
        return json;
    json["words"] = risk.words;
    json["cost"] = {
        {"low", money(risk.cost.low)}, {"likely", money(risk.cost.likely)}, {"high", money(risk.cost.high)}};
    json["consequence"] = risk.consequence == job::Risk::Consequence::redo ? "redo" : "dig";
    return json;
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

void add_packers(const learn::Learned& learned, Sheet& sheet) {
    if (learned.packers.empty()) return;
    Table table;
    table.title = "Uses of packers in these records";
    table.columns = {{"Packer"}, {"Uses", Align::right}, {"In its life, by the yard", Align::right}};
    for (const auto& p : learned.packers)
        table.rows.push_back(
            {p.id, fmt::format("{}", p.uses), p.expected > 0 ? fmt::format("{}", p.expected) : "not in the yard"});
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
    add_packers(learned, sheet);
    if (sheet.blocks.empty())
        sheet.blocks.push_back(
            paragraph("These records note no task with its times, and of no sleeve what became of it."));
    sheet.blocks.push_back(paragraph(fmt::format(
        "The yard's own durations count as {:.0f} tasks, its rates as {:.0f} sleeves. Nothing changes unless "
        "you take it: -f json writes these figures as a yard file.",
        learn::durations_count_as, learn::rates_count_as)));
    if (!learned.unused.empty()) sheet.blocks.push_back({Bullets{learned.unused}});
    return sheet;
}

std::string learned_yard(const learn::Learned& learned, const job::Yard& yard) {
    Json json = Json::object();
    json["_help"] = Json::array({fmt::format(
        "Learned from {} record{}, docs/methods/learn.md. With a yard file of your own: take these keys over.",
        learned.records, learned.records == 1 ? "" : "s")});
    json["patchwright_yard"] = 1;
    json["extends"] = "builtin";
    if (!learned.durations.empty()) json["durations"] = Json::object();
    for (const auto& d : learned.durations) {
        json["durations"]["_help_" + std::string{d.key}] =
            fmt::format("from {} noted; before {}", d.noted, three(d.before));
        json["durations"][std::string{d.key}] = three_json(d.after);
    }
    if (!learned.rates.empty()) json["risks"] = Json::array();
    for (const auto& r : learned.rates) {
        const auto risk =
            std::find_if(yard.risks.begin(), yard.risks.end(), [&](const auto& other) { return other.id == r.risk; });
        json["risks"].push_back(risk_json(*risk, r.after));
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace patchwright::sheet
