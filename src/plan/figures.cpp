#include "patchwright/plan/figures.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace patchwright::plan {
namespace {

template <Calculation calculation>
const Working& of(const Patch& p) {
    return p.working(calculation);
}
const Working& mixing(const Batch& b) { return b.mixing; }
const Working& standing(const Batch& b) { return b.standing; }

bool sheet_felt(const Patch& p) { return p.cut.seam_overlap > Length{}; }
bool built(const Patch& p) { return p.build.has_value(); }
bool heated(const Patch& p) { return p.heater >= 0; }
bool cures_unheated(const Patch& p) { return p.let_down_unheated > Duration{}; }
bool shut_in_holds(const Patch& p) { return p.pressure.shut_in_holds; }

using F = FigureKind<Patch>;
using B = FigureKind<Batch>;

constexpr std::array of_patch{
    F{"thickness", "liner.design_thickness_mm", "Wall needed", Show::thin, Rounding::nearest,
      [](const Patch& p) { return p.thickness.design.si(); }, of<Calculation::wall>},
    F{"felt", "liner.installed_thickness_mm", "Wall when cured", Show::thickness, Rounding::nearest,
      [](const Patch& p) { return p.felt.installed.si(); }, of<Calculation::felt>},
    F{"utilisation", "liner.utilisation_percent", "Wall used", Show::percent, Rounding::nearest,
      [](const Patch& p) { return p.utilisation[static_cast<std::size_t>(p.thickness.governing)]; },
      of<Calculation::strength>},
    F{"cut", "liner.cut_length_mm", "Cut, long", Show::tape, Rounding::cut,
      [](const Patch& p) { return p.cut.length.si(); }, of<Calculation::felt>},
    F{"cut-width", "liner.cut_width_mm", "Cut, wide", Show::tape, Rounding::cut,
      [](const Patch& p) { return p.cut.width.si(); }, of<Calculation::felt>},
    F{"seam", "liner.seam_overlap_mm", "Seam overlap", Show::tape, Rounding::nearest,
      [](const Patch& p) { return p.cut.seam_overlap.si(); }, of<Calculation::felt>, sheet_felt},
    F{"mark", "packer.mark_m", "Mark", Show::run_distance, Rounding::nearest,
      [](const Patch& p) { return p.rigging.mark.si(); }, of<Calculation::mark>},
    F{"line", "packer.line_m", "Rods or straps, at least", Show::run_distance, Rounding::up,
      [](const Patch& p) { return p.rigging.line.si(); }, of<Calculation::mark>},
    F{"bench-test", "packer.tests.bench_pressure_bar", "Bench test", Show::gauge_pressure, Rounding::up,
      [](const Patch& p) { return p.bench.pressure.si(); }, of<Calculation::bench>},
    F{"bladder-cut", "packer.bladder_cut_mm", "Bladder cut", Show::tape, Rounding::cut,
      [](const Patch& p) { return p.build->bladder_cut.si(); }, of<Calculation::build>, built},
    F{"outside", "pressure.outside_bar", "Water outside presses", Show::gauge_pressure, Rounding::nearest,
      [](const Patch& p) { return p.pressure.outside.si(); }, of<Calculation::pressure>},
    F{"least-pressure", "pressure.minimum_bar", "Least, while it cures", Show::gauge_pressure, Rounding::up,
      [](const Patch& p) { return p.pressure.minimum.si(); }, of<Calculation::pressure>},
    F{"pressure", "pressure.set_bar", "SET PRESSURE", Show::gauge_pressure, Rounding::up,
      [](const Patch& p) { return p.pressure.set.si(); }, of<Calculation::pressure>},
    F{"most-pressure", "pressure.maximum_bar", "NEVER ABOVE", Show::gauge_pressure, Rounding::down,
      [](const Patch& p) { return p.pressure.maximum.si(); }, of<Calculation::pressure>},
    F{"relief", "pressure.relief_bar", "Relief valve opens at", Show::gauge_pressure, Rounding::down,
      [](const Patch& p) { return p.pressure.relief.si(); }, of<Calculation::pressure>},
    F{"shut-in", "pressure.shut_in_bar", "Supply failing: shut in at", Show::gauge_pressure, Rounding::up,
      [](const Patch& p) { return p.pressure.shut_in.si(); }, of<Calculation::pressure>, shut_in_holds},
    F{"energy", "pressure.stored_energy_j", "Energy in the air", Show::energy, Rounding::up,
      [](const Patch& p) { return p.pressure.stored.si(); }, of<Calculation::pressure>},
    F{"pull", "pressure.pull_on_fitting_n", "Pull on an end fitting", Show::force, Rounding::up,
      [](const Patch& p) { return p.pressure.on_fitting.si(); }, of<Calculation::pressure>},
    F{"plug-push", "pressure.push_on_plug_n", "Push of water on a plug", Show::force, Rounding::up,
      [](const Patch& p) { return p.pressure.on_plug.si(); }, of<Calculation::pressure>},
    F{"resin", "resin.total_g", "Resin for this sleeve alone", Show::scale_mass, Rounding::nearest,
      [](const Patch& p) { return p.need.total.si(); }, of<Calculation::resin>},
    F{"part-a", "resin.part_a_g", "Part A", Show::scale_mass, Rounding::nearest,
      [](const Patch& p) { return p.need.part_a.si(); }, of<Calculation::resin>},
    F{"part-b", "resin.part_b_g", "Part B", Show::scale_mass, Rounding::nearest,
      [](const Patch& p) { return p.need.part_b.si(); }, of<Calculation::resin>},
    F{"volume-a", "resin.part_a_ml", "Part A by volume", Show::millilitres, Rounding::nearest,
      [](const Patch& p) { return p.need.volume_a.si(); }, of<Calculation::resin>},
    F{"volume-b", "resin.part_b_ml", "Part B by volume", Show::millilitres, Rounding::nearest,
      [](const Patch& p) { return p.need.volume_b.si(); }, of<Calculation::resin>},
    F{"roller-gap", "resin.roller_gap_mm", "Roller gap", Show::thickness, Rounding::nearest,
      [](const Patch& p) { return p.need.roller_gap.si(); }, of<Calculation::resin>},
    F{"pot-size", "resin.container_l", "Mixing pot, at least", Show::litres, Rounding::up,
      [](const Patch& p) { return p.need.container.si(); }, of<Calculation::resin>},
    F{"pour-by", "cure.pour_by_min", "Poured by", Show::minutes, Rounding::down,
      [](const Patch& p) { return p.cure.sheet.pour_by.si(); }, of<Calculation::cure>},
    F{"inflate-by", "cure.inflate_by_min", "Inflated by", Show::minutes, Rounding::down,
      [](const Patch& p) { return p.cure.sheet.inflate_by.si(); }, of<Calculation::cure>},
    F{"crease-by", "cure.crease_by_min", "Wrinkle check over by", Show::minutes, Rounding::down,
      [](const Patch& p) { return p.cure.sheet.crease_by.si(); }, of<Calculation::cure>},
    F{"working-time", "cure.working_time_min", "No shaping after", Show::minutes, Rounding::down,
      [](const Patch& p) { return p.cure.sheet.working_time.si(); }, of<Calculation::cure>},
    F{"gel", "cure.gel_min", "Sleeve gels, earliest", Show::span, Rounding::down,
      [](const Patch& p) { return p.cure.sheet.gel.si(); }, of<Calculation::cure>},
    F{"let-down", "cure.let_down_min", "Deflate, not before", Show::span, Rounding::up,
      [](const Patch& p) { return p.cure.sheet.let_down.si(); }, of<Calculation::cure>},
    F{"heater-on", "cure.heating.on_min", "Heater on, by plan", Show::minutes, Rounding::up,
      [](const Patch& p) { return p.heater_on.si(); }, of<Calculation::heating>, heated},
    F{"unheated", "cure.heating.unheated_let_down_min", "Heater fails: deflate, not before", Show::span, Rounding::up,
      [](const Patch& p) { return p.let_down_unheated.si(); }, of<Calculation::heating>, cures_unheated},
    F{"late", "cure.late_probability", "Not shaped in time, chance", Show::ratio, Rounding::nearest,
      [](const Patch& p) { return p.late_probability; }, of<Calculation::promise>},
    F{"soft", "cure.soft_probability", "Soft when deflated, chance", Show::ratio, Rounding::nearest,
      [](const Patch& p) { return p.cure.soft_probability; }, of<Calculation::promise>},
    F{"price", "cost", "Marginal cost", Show::money, Rounding::nearest,
      [](const Patch& p) { return static_cast<double>(p.cost.in_cents()); }, of<Calculation::price>},
};

constexpr std::array of_batch{
    B{"total", "total_g", "Mixed in all", Show::scale_mass, Rounding::nearest,
      [](const Batch& b) { return b.batch.total.si(); }, mixing},
    B{"part-a", "part_a_g", "Part A, all pots", Show::scale_mass, Rounding::nearest,
      [](const Batch& b) { return b.batch.part_a.si(); }, mixing},
    B{"part-b", "part_b_g", "Part B, all pots", Show::scale_mass, Rounding::nearest,
      [](const Batch& b) { return b.batch.part_b.si(); }, mixing},
    B{"pot-a", "pot_a_g", "Part A", Show::scale_mass, Rounding::nearest,
      [](const Batch& b) { return b.pot.part_a.si(); }, mixing},
    B{"pot-b", "pot_b_g", "Part B", Show::scale_mass, Rounding::nearest,
      [](const Batch& b) { return b.pot.part_b.si(); }, mixing},
    B{"pot-total", "pot_total_g", "In one pot", Show::scale_mass, Rounding::nearest,
      [](const Batch& b) { return b.pot.total.si(); }, mixing},
    B{"pot-a-volume", "pot_a_ml", "Part A by volume", Show::millilitres, Rounding::nearest,
      [](const Batch& b) { return b.pot.volume_a.si(); }, mixing},
    B{"pot-b-volume", "pot_b_ml", "Part B by volume", Show::millilitres, Rounding::nearest,
      [](const Batch& b) { return b.pot.volume_b.si(); }, mixing},
    B{"pot-size", "pot_size_l", "Mixing pot, at least", Show::litres, Rounding::up,
      [](const Batch& b) { return b.pot.container.si(); }, mixing},
    B{"pour-by", "pour_by_min", "Pour by", Show::minutes, Rounding::down,
      [](const Batch& b) { return b.batch.pour_by.si(); }, standing},
    B{"pot-alarm", "pot_alarm_min", "10 K warmer after", Show::minutes, Rounding::down,
      [](const Batch& b) { return b.bucket.alarm.si(); }, standing},
    B{"pot", "pot_life_min", "Gels in the pot after", Show::minutes, Rounding::down,
      [](const Batch& b) { return b.bucket.pot_life.si(); }, standing},
};

template <class Owner>
const FigureKind<Owner>& row_of(std::span<const FigureKind<Owner>> rows, std::string_view name) {
    const auto row = std::find_if(rows.begin(), rows.end(), [&](const auto& kind) { return kind.name == name; });
    if (row == rows.end()) throw std::out_of_range("no figure is called " + std::string{name});
    return *row;
}

}  // namespace

std::string shown(Show show, Rounding rounding, double si, UnitSystem units) {
    switch (rounding) {
        case Rounding::down:
            return format_down(show, si, units);
        case Rounding::up:
            return format_up(show, si, units);
        case Rounding::cut: {
            constexpr double mm = unit::mm.si();
            return format_up(show, std::ceil(si / mm - 1e-6) * mm, units);
        }
        case Rounding::nearest:
            break;
    }
    return format(show, si, units);
}

std::span<const FigureKind<Patch>> patch_figures() { return of_patch; }
std::span<const FigureKind<Batch>> batch_figures() { return of_batch; }
const FigureKind<Patch>& patch_figure(std::string_view name) { return row_of(patch_figures(), name); }
const FigureKind<Batch>& batch_figure(std::string_view name) { return row_of(batch_figures(), name); }

}  // namespace patchwright::plan
