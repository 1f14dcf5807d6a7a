// Other conditions as JSON and as a table of comma-separated values.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "csv.hpp"
#include "json_part.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/sheet/whatif.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

using whatif::Alternative;
using whatif::Upshot;

std::vector<std::string> changes_of(const Alternative& a) {
    std::vector<std::string> list;
    for (const auto& change : a.changes) list.push_back(io::text(change));
    return list;
}

void add_upshot(Part& part, const Upshot& u) {
    part.json["days"] = u.days;
    part.json["back"] = Json::array();
    for (const auto minute : u.back) part.json["back"].push_back(clock_text(minute));
    part.json["patches"] = u.patches;
    part.json["digs"] = u.digs;
    part.json["not_planned"] = u.waiting;
    part.money("own", u.own);
    part.figure("overtime_min", Show::minutes, u.overtime);
    part.json["helper_days"] = u.helper_days;
    part.figure("late_probability", Show::percent, u.late_probability);
}

}  // namespace

std::string whatif_json(const Context& c, const whatif::WhatIf& w) {
    Json json = Json::object();
    json["patchwright_whatif"] = 1;
    json["job"] = {{"reference", c.job().reference}, {"title", c.job().title}};
    json["yard"] = {{"name", c.yard().name}, {"demonstration", c.yard().demonstration}};
    json["currency"] = c.yard().rates.currency.code();
    Part as_is{c.units};
    add_upshot(as_is, w.as_is);
    json["as_is"] = std::move(as_is).done();
    json["plans"] = Json::array();
    for (const auto& a : w.list) {
        Part part{c.units};
        part.json["lever"] = whatif::word(a.lever);
        part.json["words"] = a.words;
        part.json["changes"] = changes_of(a);
        add_upshot(part, a.upshot);
        part.json["places_more"] = a.places_more;
        if (a.saves)
            part.money("saves", *a.saves);
        else
            part.json["saves"] = nullptr;
        json["plans"].push_back(std::move(part).done());
    }
    json["not_listed"] = Json::array();
    for (const auto& item : w.not_listed) json["not_listed"].push_back({{"words", item.words}, {"why", item.why}});
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string whatif_csv(const Context& c, const whatif::WhatIf& w) {
    std::string csv =
        "lever,words,changes,days,patches,digs,not_planned,currency,own,saves,overtime_min,helper_days,chance_late\n";
    const auto row = [&](std::string_view lever, const std::string& words, const std::string& changes, const Upshot& u,
                         const std::string& saves) {
        csv += fmt::format("{},{},{},{},{},{},{},{},{},{},{:.0f},{},{:.4f}\n", lever, csv_text(words),
                           csv_text(changes), u.days, u.patches, u.digs, u.waiting, c.yard().rates.currency.code(),
                           decimal_text(u.own), saves, u.overtime.in(unit::minute), u.helper_days, u.late_probability);
    };
    row("as it is", "", "", w.as_is, "");
    for (const auto& a : w.list)
        row(whatif::word(a.lever), a.words, fmt::format("{}", fmt::join(changes_of(a), " ")), a.upshot,
            a.saves ? decimal_text(*a.saves) : "");
    return csv;
}

}  // namespace patchwright::sheet
