// The week as JSON and as a table of comma-separated values.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "csv.hpp"
#include "json_part.hpp"
#include "week_words.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

using week::CrewDay;
using week::Visit;

/// A crew's day as the days before the week have it: without what only a planned one knows.
Json kept_json(const week::KeptStop& stop) {
    return {{"job", stop.job},
            {"part", stop.part + 1},
            {"arrive", clock_text(stop.arrive)},
            {"leave", clock_text(stop.leave)},
            {"promised", stop.promised},
            {"revision", stop.revision}};
}

Json stop_json(const WeekContext& c, const Visit& visit) {
    const auto& address = address_of(c, visit);
    Json json{{"job", address.job.reference},     {"title", address.job.title},
              {"part", visit.part + 1},           {"parts", address.plan.schedule.days.size()},
              {"drive_min", visit.drive},         {"arrive", clock_text(visit.arrive)},
              {"leave", clock_text(visit.leave)}, {"wait_min", visit.wait},
              {"promised", visit.promised},       {"revision", visit.revision}};
    json["patches"] = Json::array();
    for (std::size_t p = 0; p < address.plan.patches.size(); ++p) {
        const auto& times = address.plan.schedule.patches[p];
        if (times.day != visit.part) continue;
        json["patches"].push_back({{"id", address.plan.patches[p].id},
                                   {"mix", clock_text(times.mix)},
                                   {"inflate_by", clock_text(times.inflate_by)},
                                   {"let_down", clock_text(times.let_down)}});
    }
    return json;
}

Json day_json(const WeekContext& c, const CrewDay& day) {
    Json json{{"date", format(day.date)},     {"crew", day.crew},       {"leave", clock_text(day.leave)},
              {"back", clock_text(day.back)}, {"drive_min", day.drive}, {"overtime_min", day.overtime},
              {"helpers", day.helpers}};
    json["stops"] = Json::array();
    for (const Visit& visit : day.stops) json["stops"].push_back(stop_json(c, visit));
    return json;
}

Json move_json(const std::optional<week::KeptStop>& stop) {
    if (!stop) return nullptr;
    return {{"date", format(stop->date)}, {"crew", stop->crew}, {"arrive", clock_text(stop->arrive)}};
}

Json job_json(const WeekContext& c, const week::Address& address) {
    Json json{{"reference", address.job.reference},
              {"title", address.job.title},
              {"parts", address.plan.schedule.days.size()},
              {"patches", address.plan.patches.size()},
              {"done", address.done}};
    if (!address.left_out.empty()) json["left_out"] = address.left_out;
    if (address.cost) {
        const auto& cost = *address.cost;
        json["cost"] = {{"alone", decimal_text(cost.alone)},
                        {"shared", decimal_text(cost.shared)},
                        {"saving", decimal_text(cost.saving())},
                        {"offered", decimal_text(cost.offered)},
                        {"offered_shared", decimal_text(shared_offer(c, cost))}};
    }
    return json;
}

Json felt_json(const WeekContext& c, const plan::FeltCutting& cut) {
    Json json{{"felt", c.yard->felts[static_cast<std::size_t>(cut.felt)].id},
              {"proven_optimal", cut.plan.proven_optimal},
              {"cost", decimal_text(cut.cost)}};
    json["pieces"] = Json::array();
    for (const auto& placed : cut.plan.placements) {
        const auto& piece = cut.pieces[static_cast<std::size_t>(placed.piece)];
        json["pieces"].push_back({{"piece", piece.name},
                                  {"length_mm", piece.length},
                                  {"width_mm", piece.width},
                                  {"from", cut.stock[static_cast<std::size_t>(placed.stock)].name},
                                  {"copy", placed.copy + 1},
                                  {"along_mm", placed.along},
                                  {"across_mm", placed.across}});
    }
    return json;
}

}  // namespace

std::string week_json(const WeekContext& c) {
    const auto& week = *c.week;
    Json json = Json::object();
    json["patchwright_week"] = 1;
    json["yard"] = {{"name", c.yard->name}, {"demonstration", c.yard->demonstration}};
    json["currency"] = c.yard->rates.currency.code();
    json["dates"] = Json::array();
    for (const Date date : week.dates) json["dates"].push_back(format(date));
    json["crews"] = week.crews;
    json["crew_days"] = week.days.size();
    json["drive_min"] = week.drive;
    json["overtime_min"] = week.overtime;
    json["proven_optimal"] = week.proven_optimal;
    json["bound_crew_days"] = week.bound_crew_days;
    json["days"] = Json::array();
    for (const CrewDay& day : week.days) json["days"].push_back(day_json(c, day));
    json["jobs"] = Json::array();
    for (const auto& address : week.jobs) json["jobs"].push_back(job_json(c, address));
    json["moves"] = Json::array();
    for (const auto& move : week.moves)
        json["moves"].push_back(
            {{"job", move.job}, {"part", move.part + 1}, {"was", move_json(move.was)}, {"now", move_json(move.now)}});
    json["purchases"] = Json::array();
    for (const auto& item : week.purchases)
        json["purchases"].push_back(
            {{"item", item.item}, {"quantity", item.quantity}, {"needed", format(item.needed)}});
    json["cutting"] = Json::array();
    for (const auto& cut : week.cutting) json["cutting"].push_back(felt_json(c, cut));
    json["assumptions"] = Json::array();
    for (const auto& assumption : week.assumptions) json["assumptions"].push_back(assumption_text(assumption));
    json["warnings"] = week.warnings;
    json["earlier"] = Json::array();
    for (const auto& stop : week.earlier)
        json["earlier"].push_back(
            {{"date", format(stop.date)}, {"crew", stop.crew}, {"stops", Json::array({kept_json(stop)})}});
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string week_csv(const WeekContext& c) {
    std::string csv = "date,crew,stop,job,title,part,parts,drive_min,arrive,leave,wait_min,patches,site\n";
    for (const CrewDay& day : c.week->days) {
        for (std::size_t k = 0; k < day.stops.size(); ++k) {
            const Visit& visit = day.stops[k];
            const auto& address = address_of(c, visit);
            csv += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{}\n", format(day.date), day.crew, k + 1,
                               csv_text(address.job.reference), csv_text(address.job.title), visit.part + 1,
                               address.plan.schedule.days.size(), visit.drive, clock_text(visit.arrive),
                               clock_text(visit.leave), visit.wait, csv_text(patches_text(c, visit)),
                               csv_text(site_of(address.job)));
        }
    }
    return csv;
}

}  // namespace patchwright::sheet
