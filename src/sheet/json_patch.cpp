#include <cmath>

#include "json_pieces.hpp"
#include "patchwright/plan/figures.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

/// Money in JSON is a decimal string.
void put(Part& part, const Context& c, const std::string& key, const plan::FigureKind<plan::Patch>& kind,
         double value) {
    if (kind.show == Show::money)
        part.money(key, Money::cents(std::llround(value), c.yard().rates.currency));
    else
        part.figure(key, kind.show, kind.rounding, value);
}

/// The figures of a patch whose key lies right under `under`, with the text that the sheets show.
void put_figures(Part& part, const Context& c, const plan::Patch& p, std::string_view under) {
    for (const auto& kind : plan::patch_figures()) {
        const auto dot = kind.key.rfind('.');
        const auto place = dot == std::string_view::npos ? std::string_view{} : kind.key.substr(0, dot);
        if (place != under || !kind.applies_to(p)) continue;
        put(part, c, std::string{kind.key.substr(dot == std::string_view::npos ? 0 : dot + 1)}, kind, kind.value(p));
    }
}

Json liner_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    const auto& felt = c.yard().felts[static_cast<std::size_t>(p.felt.felt)];
    put_figures(part, c, p, "liner");
    part.json["governing"] = liner::word(p.thickness.governing);
    part.json["felt"] = felt.id;
    part.json["layers"] = p.felt.layers;
    part.json["pieces"] = Json::array();
    for (const auto& piece : p.cut.pieces) {
        Part cut{c.units};
        cut.json["layer"] = piece.layer;
        cut.figure("length_mm", Show::tape, plan::Rounding::cut, piece.length.si());
        cut.figure("width_mm", Show::tape, plan::Rounding::cut, piece.width.si());
        part.json["pieces"].push_back(std::move(cut).done());
    }
    part.json["checks"] = Json::array();
    for (std::size_t i = 0; i < p.thickness.checks.size(); ++i) {
        const auto& check = p.thickness.checks[i];
        Part row{c.units};
        row.json["check"] = liner::word(check.check);
        row.json["applies"] = check.applies;
        if (check.applies) {
            row.figure("needed_mm", Show::thin, check.needed);
            row.figure("utilisation_percent", Show::percent, p.utilisation[i]);
        } else {
            row.json["why_not"] = check.why_not;
        }
        part.json["checks"].push_back(std::move(row).done());
    }
    part.figure("second_opinion_glock_mm", Show::thin, p.thickness.glock);
    part.json["fully_deteriorated"] = p.fully_deteriorated;
    return std::move(part).done();
}

Json packer_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    const auto& packer = p.option.packer;
    part.json["id"] = packer.id;
    part.json["material"] = job::word(packer.material);
    part.json["shape"] = job::word(packer.shape);
    part.json["to_build"] = p.option.to_build;
    part.json["method"] = packer::word(p.rigging.method);
    part.json["from"] = p.rigging.from;
    put_figures(part, c, p, "packer");
    if (p.rigging.turn_to) part.json["turn_to"] = format(*p.rigging.turn_to);
    Part tests{c.units};
    put_figures(tests, c, p, "packer.tests");
    tests.figure("hold_min", Show::minutes, p.bench.hold);
    tests.figure("allowed_drop_mbar", Show::test_pressure, p.bench.allowed_drop);
    part.json["tests"] = std::move(tests).done();
    return std::move(part).done();
}

Json pressure_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    put_figures(part, c, p, "pressure");
    part.json["air"] = job::word(c.yard().limits.air);
    return std::move(part).done();
}

Json resin_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    part.json["id"] = c.plan->resin_of(p).id;
    put_figures(part, c, p, "resin");
    return std::move(part).done();
}

Json heating_json(const Context& c, const plan::Patch& p) {
    if (p.heater < 0) return nullptr;
    const auto& heater = c.yard().heaters[static_cast<std::size_t>(p.heater)];
    Part part{c.units};
    part.json["heater"] = heater.id;
    part.json["medium"] = job::word(heater.medium);
    part.figure("temperature_c", heater.temperature);
    part.figure("warm_up_min", Show::minutes, heater.warm_up);
    put_figures(part, c, p, "cure.heating");
    return std::move(part).done();
}

Json cure_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    part.figure("pipe_temperature_c", *p.conditions.pipe);
    part.figure("resin_temperature_c", *p.conditions.resin);
    part.json["resin_conditioned"] = p.conditioned;
    put_figures(part, c, p, "cure");
    part.json["heating"] = heating_json(c, p);
    part.json["table"] = Json::array();
    for (const auto& row : p.tables.let_down) {
        Part line{c.units};
        line.figure("pipe_temperature_c", row.pipe);
        line.earliest("let_down_min", row.let_down);
        line.earliest("without_exotherm_min", row.without_exotherm);
        line.latest("inflate_by_min", row.inflate_by);
        line.figure("gel_min", Show::span, plan::Rounding::down, row.gel.si());
        part.json["table"].push_back(std::move(line).done());
    }
    part.json["inflate_table"] = Json::array();
    for (const auto& row : p.tables.inflate) {
        Part line{c.units};
        line.figure("resin_temperature_c", row.resin);
        line.figure("air_temperature_c", row.air);
        line.latest("pour_by_min", row.pour_by);
        line.latest("inflate_by_min", row.inflate_by);
        line.latest("crease_by_min", row.crease_by);
        part.json["inflate_table"].push_back(std::move(line).done());
    }
    part.json["stops_short"] = p.cure.stops_short;
    return std::move(part).done();
}

}  // namespace

Json patch_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    const auto& run = c.plan->run_of(p);
    part.json["id"] = p.id;
    part.json["run"] = run.id;
    part.json["defects"] = Json::array();
    for (const int defect : p.defects) part.json["defects"].push_back(run.defects[static_cast<std::size_t>(defect)].id);
    part.figure("start_m", Show::run_distance, p.start);
    part.figure("end_m", Show::run_distance, p.end);
    part.figure("bore_mm", Show::tape, p.bore);
    part.json["liner"] = liner_json(c, p);
    part.json["packer"] = packer_json(c, p);
    part.json["pressure"] = pressure_json(c, p);
    part.json["resin"] = resin_json(c, p);
    part.json["cure"] = cure_json(c, p);
    part.json["preparations"] = p.preparations;
    part.json["notes"] = p.notes;
    put_figures(part, c, p, "");
    return std::move(part).done();
}

}  // namespace patchwright::sheet
