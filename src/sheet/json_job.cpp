#include <fmt/format.h>

#include "json_part.hpp"
#include "json_pieces.hpp"
#include "patchwright/io/change.hpp"
#include "patchwright/plan/figures.hpp"
#include "words.hpp"

namespace patchwright::sheet {

Json runs_json(const Context& c) {
    Json runs = Json::array();
    for (std::size_t r = 0; r < c.plan->runs.size(); ++r) {
        const auto& run = c.plan->runs[r];
        const auto& job_run = c.job().runs[r];
        Json json = Json::object();
        json["id"] = run.id;
        json["verdicts"] = Json::array();
        for (std::size_t d = 0; d < run.verdicts.size(); ++d) {
            const auto& verdict = run.verdicts[d];
            json["verdicts"].push_back({{"defect", verdict.defect},
                                        {"verdict", survey::word(verdict.assessment.verdict)},
                                        {"reasons", verdict.assessment.reasons},
                                        {"preparations", verdict.assessment.preparations}});
            // The plan's runs are the job's, in its order.
            if (const auto& remark = job_run.defects[d].remark; !remark.empty())
                json["verdicts"].back()["remark"] = remark;
            if (const auto& code = job_run.defects[d].code; !code.empty()) json["verdicts"].back()["code"] = code;
        }
        json["fittings"] = Json::array();
        for (const auto& fitting : job_run.fittings) {
            Json row{{"id", fitting.id}, {"kind", job::word(fitting.kind)}, {"at_m", tidy(fitting.at.in(unit::m))}};
            if (fitting.clock) row["clock"] = format(*fitting.clock);
            json["fittings"].push_back(std::move(row));
        }
        json["remarks"] = run.remarks;
        json["unanswered"] = run.unanswered;
        runs.push_back(std::move(json));
    }
    return runs;
}

Json batches_json(const Context& c, std::optional<int> day) {
    Json batches = Json::array();
    for (const auto& batch : c.plan->batches) {
        if (day && batch.day != *day) continue;
        Part part{c.units};
        part.json["id"] = batch.id;
        part.json["patches"] = Json::array();
        for (const int patch : batch.batch.patches) {
            part.json["patches"].push_back(c.plan->patches[static_cast<std::size_t>(patch)].id);
        }
        part.json["resin"] = c.plan->resin_of(batch).id;
        for (const auto& kind : plan::batch_figures())
            part.figure(std::string{kind.key}, kind.show, kind.rounding, kind.value(batch));
        part.json["pots"] = batch.batch.buckets;
        part.figure("leftover_g", Show::scale_mass, batch.batch.leftover);
        part.json["day"] = batch.day + 1;
        part.json["date"] = date_text(c, batch.day);
        part.json["mix_at"] = format(batch.mix_at);
        batches.push_back(std::move(part).done());
    }
    return batches;
}

Json schedule_json(const Context& c, std::optional<int> day) {
    const auto& schedule = c.plan->schedule;
    Json json = Json::object();
    json["days"] = Json::array();
    for (std::size_t d = 0; d < schedule.days.size(); ++d) {
        if (day && static_cast<int>(d) != *day) continue;
        Json row = Json::object();
        row["date"] = date_text(c, static_cast<int>(d));
        row["tasks"] = Json::array();
        for (const auto& task : schedule.days[d].tasks) {
            Json entry = Json::object();
            entry["patch"] =
                task.patch ? Json(c.plan->patches[static_cast<std::size_t>(*task.patch)].id) : Json(nullptr);
            if (task.run) entry["run"] = c.job().runs[job::index(*task.run)].id;
            entry["what"] = schedule::word(task.what);
            entry["start"] = clock_text(task.start);
            entry["finish"] = clock_text(task.finish);
            entry["crew"] = task.crew + 1;
            entry["persons"] = task.persons;
            entry["lanes"] = task.lanes;
            entry["critical"] = task.critical;
            row["tasks"].push_back(std::move(entry));
        }
        row["finish"] = clock_text(schedule.days[d].finish);
        json["days"].push_back(std::move(row));
    }
    json["proven_optimal"] = schedule.proven_optimal;
    json["bound_min"] = schedule.bound;
    json["patches"] = Json::array();
    for (std::size_t i = 0; i < schedule.patches.size(); ++i) {
        const auto& times = schedule.patches[i];
        if (day && times.day != *day) continue;
        json["patches"].push_back({{"patch", c.plan->patches[i].id},
                                   {"day", times.day + 1},
                                   {"mix_at", clock_text(times.mix)},
                                   {"latest_mix", clock_text(times.latest_mix)},
                                   {"pour_by", clock_text(times.pour_by)},
                                   {"inflate_at", clock_text(times.inflate)},
                                   {"inflate_by", clock_text(times.inflate_by)},
                                   {"crease_by", clock_text(times.crease_by)},
                                   {"let_down", clock_text(times.let_down)},
                                   {"late_probability", tidy(c.plan->patches[i].late_probability)},
                                   {"if_missed", times.if_missed}});
    }
    json["flow"] = Json::array();
    for (const auto& flow : c.plan->flows) {
        Part part{c.units};
        part.json["run"] = c.plan->run_of(flow).id;
        part.json["known"] = flow.known;
        part.figure("blocked_min", Show::span, flow.blocked);
        if (flow.known) {
            part.figure("fills_in_min", Show::span, flow.verdict.fills_in);
            part.figure("pump_l_s", Show::flow, flow.verdict.pump);
            part.json["holds"] = flow.verdict.holds;
        }
        json["flow"].push_back(std::move(part).done());
    }
    return json;
}

Json layout_json(const Context& c) {
    const auto& layout = c.plan->layout;
    Part part{c.units};
    part.money("cost", layout.cost);
    part.json["proven_optimal"] = layout.proven_optimal;
    part.json["whole_jobs_compared"] = layout.repriced;
    if (layout.second_best) part.money("second_best_net", *layout.second_best);
    part.json["difference"] = layout.difference;
    return std::move(part).done();
}

Json whole_job_json(const Context& c) {
    const auto& whole = c.plan->whole;
    return {{"proven_optimal", whole.proven_optimal},
            {"bound_share", tidy(whole.bound_share)},
            {"compared", whole.compared}};
}

Json whole_json(const Context& c) {
    const auto& whole = c.plan->whole;
    const Money net = c.plan->offer.patch.net;
    Part part{c.units};
    part.money("net", net);
    part.json["proven_optimal"] = whole.proven_optimal;
    part.money("bound_net", whole.proven_optimal ? net : scaled(net, whole.bound_share));
    part.json["compared"] = whole.compared;
    part.json["tried_only"] = whole.tried_only;
    return std::move(part).done();
}

Json not_planned_json(const Context& c) {
    Json list = Json::array();
    for (const auto& item : c.plan->not_planned) {
        const auto& run = c.job().runs[static_cast<std::size_t>(item.patch.run)];
        Json defects = Json::array();
        for (const int d : item.patch.defects) defects.push_back(run.defects[static_cast<std::size_t>(d)].id);
        Json row{{"run", run.id},
                 {"defects", std::move(defects)},
                 {"short_by_min", item.minutes},
                 {"condition", item.condition}};
        if (item.extra_net) row["adds_net"] = decimal_text(*item.extra_net);
        if (item.otherwise) {
            Json changes = Json::array();
            for (const auto& change : item.otherwise->changes) changes.push_back(io::text(change));
            row["otherwise"] = {{"words", item.otherwise->words}, {"changes", std::move(changes)}};
            if (item.otherwise->extra_net) row["otherwise"]["adds_net"] = decimal_text(*item.otherwise->extra_net);
        }
        list.push_back(std::move(row));
    }
    return list;
}

namespace {

Json build_up_json(const Context& c, const price::BuildUp& b, bool lines) {
    Part part{c.units};
    part.money("direct", b.direct);
    part.money("risk", b.risk);
    part.money("overhead", b.overhead);
    part.money("profit", b.profit);
    part.money("net", b.net);
    part.money("p10", b.p10);
    part.money("p50", b.p50);
    part.money("p80", b.p80);
    part.money("p90", b.p90);
    if (lines) {
        part.json["lines"] = Json::array();
        for (const auto& line : b.lines) {
            part.json["lines"].push_back({{"kind", price::word(line.kind)},
                                          {"words", line.words},
                                          {"quantity", tidy(line.quantity)},
                                          {"unit", line.unit},
                                          {"rate", decimal_text(line.rate)},
                                          {"amount", decimal_text(line.amount)}});
        }
    }
    return std::move(part).done();
}

}  // namespace

namespace {

/// What moves a cost most, largest share first.
template <class Drivers>
Json drivers_json(const Drivers& drivers) {
    Json list = Json::array();
    for (const auto& d : drivers) {
        list.push_back({{"words", d.words},
                        {"low", decimal_text(d.low)},
                        {"high", decimal_text(d.high)},
                        {"share", tidy(d.share)}});
    }
    return list;
}

/// The lines of the offer; what they cost us is not for the customer.
Json offer_lines_json(const Context& c, bool inside) {
    Json lines = Json::array();
    for (const auto& line : c.plan->offer.offered.lines) {
        Json row{{"words", line.words},
                 {"kind", price::word(line.kind)},
                 {"quantity", tidy(line.quantity)},
                 {"unit", line.unit},
                 {"net", decimal_text(line.net)}};
        if (inside) row["floor"] = decimal_text(line.floor);
        lines.push_back(std::move(row));
    }
    return lines;
}

Json look_again_json(const Context& c) {
    Json list = Json::array();
    for (const auto& item : c.plan->look_again) {
        const auto& run = c.plan->run_of(item);
        list.push_back({{"run", run.id},
                        {"defect", run.defects[static_cast<std::size_t>(item.defect)].id},
                        {"mended_if", item.mended_if},
                        {"mended", decimal_text(item.mended)},
                        {"beyond_if", item.beyond_if},
                        {"beyond", decimal_text(item.beyond)}});
    }
    return list;
}

}  // namespace

Json price_json(const Context& c, bool inside) {
    const auto& offer = c.plan->offer;
    const auto currency = c.yard().rates.currency.code();
    if (!inside) return customer_price_json(c);
    Part part{c.units};
    part.json["currency"] = currency;
    part.json["patch"] = build_up_json(c, offer.patch, true);
    part.json["patching"] = build_up_json(c, offer.patching, false);
    part.json["unavoidable_dig"] = build_up_json(c, offer.unavoidable_dig, false);
    part.json["dig"] = build_up_json(c, offer.dig, true);
    part.money("floor", offer.bracket.floor);
    part.money("own", offer.bracket.own);
    part.money("ceiling", offer.bracket.ceiling);
    part.money("limit", offer.bracket.limit);
    part.money("suggested", offer.bracket.suggested);
    part.money("offered", offer.offered.total);
    part.money("discount", offer.offered.discount);
    part.money("minimum_charge", c.yard().rates.minimum_charge);
    part.money("saving_to_customer", offer.saving);
    part.json["lines"] = offer_lines_json(c, true);
    part.json["bid"] = offer.bracket.bid;
    part.json["wished"] = offer.offered.wished;
    if (offer.listed.listed) {
        part.money("price_list", offer.listed.patches);
        part.money("price_list_margin", offer.listed.margin);
    }
    part.json["price_list_beyond"] = offer.listed.beyond;
    part.json["drivers"] = {{"patch", drivers_json(offer.risk.patch_drivers)},
                            {"dig", drivers_json(offer.risk.dig_drivers)}};
    part.json["why"] = {offer.bracket.why_floor, offer.bracket.why_ceiling, offer.bracket.why_suggested};
    part.json["why_own"] = offer.bracket.why_own;
    part.json["chance_patch_cheaper"] = tidy(offer.risk.patch_cheaper);
    part.json["trials"] = offer.risk.trials;
    part.json["estimate_only"] = offer.estimate_only;
    part.json["break_even"] = Json::array();
    for (const auto& row : c.plan->break_even) {
        Json points = Json::array();
        for (const auto& point : row.points) {
            points.push_back({{"at", tidy(point.at)},
                              {"label", point.label},
                              {"patch", decimal_text(point.patch)},
                              {"dig", decimal_text(point.dig)}});
        }
        part.json["break_even"].push_back({{"what", row.what},
                                           {"at", row.at},
                                           {"unit", row.unit},
                                           {"words", row.words},
                                           {"points", std::move(points)}});
    }
    part.json["look_again"] = look_again_json(c);
    part.json["variants"] = Json::array();
    for (const auto& v : c.plan->variants) {
        part.json["variants"].push_back({{"words", v.words},
                                         {"days", v.days},
                                         {"patches", v.patches},
                                         {"own", decimal_text(v.own)},
                                         {"offered", decimal_text(v.offered)},
                                         {"late_probability", tidy(v.late_probability)}});
    }
    return std::move(part).done();
}

Json customer_price_json(const Context& c) {
    const auto& offer = c.plan->offer;
    Part part{c.units};
    part.json["currency"] = c.yard().rates.currency.code();
    part.money("price", offer.offered.total);
    part.money("offered", offer.offered.total);
    part.json["lines"] = offer_lines_json(c, false);
    part.json["look_again"] = look_again_json(c);
    part.money("digging_instead", offer.bracket.ceiling);
    part.money("saving_to_customer", offer.saving);
    part.json["estimate_only"] = offer.estimate_only;
    return std::move(part).done();
}

Json kits_json(const Context& c) {
    Json kits = Json::array();
    for (const auto& [resin, bought] : c.plan->kits_to_buy) {
        Part part{c.units};
        part.json["resin"] = resin;
        part.figure("kit_g", Show::scale_mass, bought.kit);
        part.json["count"] = bought.count;
        kits.push_back(std::move(part).done());
    }
    return kits;
}

Json cutting_json(const Context& c) {
    Json felts = Json::array();
    for (const auto& felt : c.plan->cutting) {
        Json json = Json::object();
        json["felt"] = c.yard().felts[static_cast<std::size_t>(felt.felt)].id;
        json["proven_optimal"] = felt.plan.proven_optimal;
        json["cuts"] = felt.plan.cuts;
        json["cost"] = decimal_text(felt.cost);
        json["pieces"] = Json::array();
        for (const auto& placed : felt.plan.placements) {
            const auto& piece = felt.pieces[static_cast<std::size_t>(placed.piece)];
            json["pieces"].push_back({{"piece", piece.name},
                                      {"length_mm", piece.length},
                                      {"width_mm", piece.width},
                                      {"from", felt.stock[static_cast<std::size_t>(placed.stock)].name},
                                      {"copy", placed.copy + 1},
                                      {"along_mm", placed.along},
                                      {"across_mm", placed.across}});
        }
        felts.push_back(std::move(json));
    }
    return felts;
}

Json assumptions_json(const Context& c) {
    Json list = Json::array();
    for (const auto& a : c.plan->assumptions) list.push_back(assumption_text(a));
    return list;
}

Json cautions_json(const Context& c) {
    Json list = Json::array();
    for (const auto* caution : c.plan->cautions) list.push_back(fmt::format("{}: {}", caution->title, caution->text));
    return list;
}

Json tables_json(const Sheet& sheet) {
    Json tables = Json::array();
    for (const auto& block : sheet.blocks) {
        const auto* table = std::get_if<Table>(&block.content);
        if (table == nullptr) continue;
        Json rows = Json::array();
        for (const auto& row : table->rows) {
            Json entry = Json::object();
            for (std::size_t i = 0; i < row.size(); ++i) entry[table->columns[i].title] = row[i];
            rows.push_back(std::move(entry));
        }
        tables.push_back({{"title", table->title}, {"rows", std::move(rows)}});
    }
    return tables;
}

}  // namespace patchwright::sheet
