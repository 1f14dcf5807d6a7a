#include "json_pieces.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

Json liner_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    const auto& felt = c.yard->felts[static_cast<std::size_t>(p.felt.felt)];
    part.figure("design_thickness_mm", Show::thin, p.thickness.design);
    part.json["governing"] = liner::word(p.thickness.governing);
    part.json["felt"] = felt.id;
    part.json["layers"] = p.felt.layers;
    part.figure("installed_thickness_mm", Show::thickness, p.felt.installed);
    part.figure("cut_length_mm", Show::tape, p.cut.length, cut_size(c, p.cut.length));
    part.figure("cut_width_mm", Show::tape, p.cut.width, cut_size(c, p.cut.width));
    part.json["pieces"] = Json::array();
    for (const auto& piece : p.cut.pieces) {
        Part cut{c.units};
        cut.json["layer"] = piece.layer;
        cut.figure("length_mm", Show::tape, piece.length, cut_size(c, piece.length));
        cut.figure("width_mm", Show::tape, piece.width, cut_size(c, piece.width));
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
    part.figure("mark_m", Show::run_distance, p.rigging.mark);
    if (p.rigging.turn_to) part.json["turn_to"] = format(*p.rigging.turn_to);
    Part tests{c.units};
    tests.figure("bench_pressure_bar", Show::gauge_pressure, p.bench.pressure);
    tests.figure("hold_min", Show::minutes, p.bench.hold);
    tests.figure("allowed_drop_mbar", Show::test_pressure, p.bench.allowed_drop);
    part.json["tests"] = std::move(tests).done();
    return std::move(part).done();
}

Json pressure_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    part.figure("outside_bar", Show::gauge_pressure, p.pressure.outside);
    part.figure("minimum_bar", Show::gauge_pressure, p.pressure.minimum);
    part.figure("set_bar", Show::gauge_pressure, p.pressure.set);
    part.figure("maximum_bar", Show::gauge_pressure, p.pressure.maximum);
    part.figure("relief_bar", Show::gauge_pressure, p.pressure.relief);
    part.figure("stored_energy_j", Show::energy, p.pressure.stored);
    part.figure("pull_on_fitting_n", Show::force, p.pressure.on_fitting);
    part.figure("push_on_plug_n", Show::force, p.pressure.on_plug);
    return std::move(part).done();
}

Json resin_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    part.json["id"] = c.yard->resins[static_cast<std::size_t>(p.resin)].id;
    part.figure("total_g", Show::scale_mass, p.need.total);
    part.figure("part_a_g", Show::scale_mass, p.need.part_a);
    part.figure("part_b_g", Show::scale_mass, p.need.part_b);
    part.figure("part_a_ml", Show::millilitres, p.need.volume_a);
    part.figure("part_b_ml", Show::millilitres, p.need.volume_b);
    part.figure("roller_gap_mm", Show::thickness, p.need.roller_gap);
    part.figure("container_l", Show::litres, p.need.container);
    return std::move(part).done();
}

Json cure_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    part.figure("pipe_temperature_c", *p.conditions.pipe);
    put_latest(part, c, "pour_by_min", p.cure.sheet.pour_by);
    put_latest(part, c, "inflate_by_min", p.cure.sheet.inflate_by);
    put_latest(part, c, "crease_by_min", p.cure.sheet.crease_by);
    put_latest(part, c, "working_time_min", p.cure.sheet.working_time);
    put_latest(part, c, "gel_min", p.cure.sheet.gel);
    put_earliest(part, c, "let_down_min", p.cure.sheet.let_down);
    part.json["late_probability"] = tidy(p.late_probability);
    part.json["soft_probability"] = tidy(p.cure.soft_probability);
    part.json["table"] = Json::array();
    for (const auto& row : p.tables.let_down) {
        Part line{c.units};
        line.figure("pipe_temperature_c", row.pipe);
        put_earliest(line, c, "let_down_min", row.let_down);
        put_earliest(line, c, "without_exotherm_min", row.without_exotherm);
        put_latest(line, c, "inflate_by_min", row.inflate_by);
        part.json["table"].push_back(std::move(line).done());
    }
    part.json["inflate_table"] = Json::array();
    for (const auto& row : p.tables.inflate) {
        Part line{c.units};
        line.figure("resin_temperature_c", row.resin);
        line.figure("air_temperature_c", row.air);
        put_latest(line, c, "pour_by_min", row.pour_by);
        put_latest(line, c, "inflate_by_min", row.inflate_by);
        put_latest(line, c, "crease_by_min", row.crease_by);
        part.json["inflate_table"].push_back(std::move(line).done());
    }
    part.json["stops_short"] = p.cure.stops_short;
    return std::move(part).done();
}

}  // namespace

void put_latest(Part& part, const Context& c, const std::string& key, Duration time) {
    part.figure(key, Show::minutes, time, latest(c, time));
}
void put_earliest(Part& part, const Context& c, const std::string& key, Duration time) {
    part.figure(key, Show::span, time, earliest(c, time));
}

Json patch_json(const Context& c, const plan::Patch& p) {
    Part part{c.units};
    const auto& run = c.job->runs[static_cast<std::size_t>(p.run)];
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
    part.money("cost", p.cost);
    return std::move(part).done();
}

}  // namespace patchwright::sheet
