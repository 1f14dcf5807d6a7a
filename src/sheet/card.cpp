#include <fmt/format.h>

#include "blocks.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

void add_where(const Context& c, const plan::Patch& p, Card& card) {
    const auto& run = run_of(c, p);
    Bullets defects;
    for (const int d : p.defects) defects.items.push_back(defect_words(c, run.defects[static_cast<std::size_t>(d)]));
    card.blocks.push_back({defects});
    Fields where;
    where.fields = {
        {fmt::format("{} from {}", p.rigging.method == packer::Method::pull ? "Pull in" : "Push in", p.rigging.from),
         fmt::format("mark at {}", show(c, Show::run_distance, p.rigging.mark)), Emphasis::arm},
        {"Mark is", "access mouth to the sleeve's middle"},
        {fmt::format("Sleeve lies, from {}", run.from),
         fmt::format("{} to {}", show(c, Show::run_distance, p.start), show(c, Show::run_distance, p.end))},
        {"Sleeve length", show(c, Show::run_distance, p.length())},
    };
    if (p.rigging.turn_to) where.fields.push_back({"Turn the branch to", format(*p.rigging.turn_to) + " o'clock", Emphasis::arm});
    card.blocks.push_back({where});
}

void add_felt(const Context& c, const plan::Patch& p, Card& card) {
    const auto& felt = c.yard->felts[static_cast<std::size_t>(p.felt.felt)];
    const bool tube = felt.form == job::FeltForm::sewn_tube;
    Fields fields;
    fields.fields.push_back({"Felt", fmt::format("{}, {} layer{}", felt.id, p.felt.layers, p.felt.layers > 1 ? "s" : "")});
    fields.fields.push_back({"Wall when cured", fmt::format("{} (needs {}, {})", show(c, Show::thickness, p.felt.installed),
                                                            show(c, Show::thin, p.thickness.design),
                                                            liner::word(p.thickness.governing))});
    for (const auto& piece : p.cut.pieces) {
        fields.fields.push_back(
            {p.cut.pieces.size() > 1 ? fmt::format("Cut layer {}{}", piece.layer, piece.layer == 1 ? " (on the pipe)" : "") : "Cut",
             fmt::format("{} long x {}{}", show(c, Show::tape, piece.length), show(c, Show::tape, piece.width),
                         tube ? " flat" : " wide"),
             Emphasis::arm});
    }
    if (!tube) fields.fields.push_back({"Seam overlap", show(c, Show::tape, p.cut.seam_overlap)});
    card.blocks.push_back({fields});
}

void add_resin(const Context& c, const plan::Patch& p, Card& card) {
    const auto& resin = c.yard->resins[static_cast<std::size_t>(p.resin)];
    Fields fields;
    fields.fields = {
        {"Resin", fmt::format("{} ({}), {} in all", resin.id, job::word(resin.kind), show(c, Show::scale_mass, p.need.total))},
        {"Roller gap", show(c, Show::thickness, p.need.roller_gap), Emphasis::strong},
        {"Part A", show(c, Show::scale_mass, p.need.part_a), Emphasis::arm},
        {"Part B", show(c, Show::scale_mass, p.need.part_b), Emphasis::arm},
        {"A, B by volume", fmt::format("{}, {}", show(c, Show::millilitres, p.need.volume_a), show(c, Show::millilitres, p.need.volume_b))},
        {"Mixing pot", fmt::format("{} at least", show(c, Show::litres, p.need.container))},
        {"A weighed", "", Emphasis::normal, true},
        {"B weighed", "", Emphasis::normal, true},
    };
    card.blocks.push_back({fields});
}

void add_pressure(const Context& c, const plan::Patch& p, Card& card) {
    const auto& packer = p.option.packer;
    Fields fields;
    fields.fields = {
        {p.option.to_build ? "Packer (to build)" : "Packer", fmt::format("{}, {} {}", packer.id, job::word(packer.material), job::word(packer.shape))},
        {"Bench test", fmt::format("{} for {}, may fall {}", show(c, Show::gauge_pressure, p.bench.pressure),
                                   show(c, Show::minutes, p.bench.hold), show(c, Show::test_pressure, p.bench.allowed_drop))},
        {"SET PRESSURE", show(c, Show::gauge_pressure, p.pressure.set), Emphasis::arm},
        {"NEVER ABOVE", show(c, Show::gauge_pressure, p.pressure.maximum), Emphasis::arm},
        {"Least, while it cures", show(c, Show::gauge_pressure, p.pressure.minimum), Emphasis::strong},
        {"Relief valve opens at", show(c, Show::gauge_pressure, p.pressure.relief), Emphasis::strong},
        {"Water outside presses", show(c, Show::gauge_pressure, p.pressure.outside)},
        {"Energy in the air", show(c, Show::energy, p.pressure.stored)},
        {"Pull on an end fitting", show(c, Show::force, p.pressure.on_fitting)},
        {"Push of water on a plug", show(c, Show::force, p.pressure.on_plug)},
        {"Bench test held", "", Emphasis::normal, true},
        {"Pressure set", "", Emphasis::normal, true},
    };
    card.blocks.push_back({fields});
}

void add_times(const Context& c, std::size_t index, Card& card) {
    const auto& p = c.plan->patches[index];
    const auto& t = c.plan->schedule.patches[index];
    Table table;
    table.title = "Times (clock by plan; minutes from mixing; the real one)";
    table.columns = {{"Step"}, {"Plan"}, {"From mixing"}, {"Real", Align::left, true}};
    table.rows = {
        {"A meets B", clock_text(t.mix), "0", ""},
        {"Poured, at the latest", clock_text(t.pour_by), latest(c, p.cure.sheet.pour_by), ""},
        {"INFLATED, at the latest", clock_text(t.inflate_by), latest(c, p.cure.sheet.inflate_by), ""},
        {"Crease step over, latest", clock_text(t.crease_by), latest(c, p.cure.sheet.crease_by), ""},
        {"LET DOWN, not before", clock_text(t.let_down), earliest(c, p.cure.sheet.let_down), ""},
    };
    card.blocks.push_back({table});
    card.blocks.push_back(paragraph(fmt::format(
        "Pipe reckoned at {}, resin at {}. Measure both and use the tables. Let down only when the witness (a bag of the same wet felt, "
        "kept in the pipe) shows no nail mark. A cup of resin proves the mix, never the cure. {}",
        show(c, Show::temperature, *p.conditions.pipe), show(c, Show::temperature, *p.conditions.resin), t.if_missed)));
    if (p.cure.stops_short) {
        card.blocks.push_back(paragraph("A pipe this cold stops the cure short of full hardness: it goes on slowly for days."));
    }
}

void add_tables(const Context& c, const plan::Patch& p, Card& card) {
    const auto& resin = c.yard->resins[static_cast<std::size_t>(p.resin)];
    Table let_down;
    let_down.title = "Let down, not before (from mixing), by measured pipe temperature";
    let_down.columns = {{"Pipe"}, {"Let down", Align::right}, {"Without its own heat", Align::right}};
    let_down.rows.push_back({"below " + show(c, Show::temperature, resin.application_min), "do not", "do not"});
    for (const auto& row : p.tables.let_down) {
        let_down.rows.push_back({show(c, Show::temperature, row.pipe), earliest(c, row.let_down), earliest(c, row.without_exotherm)});
    }
    card.blocks.push_back({let_down});
    Table inflate;
    inflate.title = "Inflate by (from mixing), by resin and air temperature";
    inflate.columns = {{"Resin"}, {"Air"}, {"Pour by", Align::right}, {"Inflate by", Align::right}, {"Crease by", Align::right}};
    for (const auto& row : p.tables.inflate) {
        inflate.rows.push_back({show(c, Show::temperature, row.resin), show(c, Show::temperature, row.air), latest(c, row.pour_by),
                                latest(c, row.inflate_by), latest(c, row.crease_by)});
    }
    card.blocks.push_back({inflate});
}

void add_checks(const plan::Patch& p, Card& card) {
    Ticks ticks;
    for (const auto& preparation : p.preparations) ticks.items.push_back("First: " + preparation);
    ticks.items.insert(ticks.items.end(), {"Cleaned, no standing water, camera through", "Packer run through dry to the mark",
                                           "Felt wet through: no white spots, weight checked", "Witness bag in the pipe",
                                           "Everybody clear of the pipe's line before air"});
    for (const auto& note : p.notes) ticks.items.push_back(note);
    ticks.items.push_back("Camera after: both ends down, no folds, branches open");
    card.blocks.push_back({ticks});
}

}  // namespace

Block patch_card(const Context& c, std::size_t index) {
    const auto& p = c.plan->patches[index];
    const auto& run = run_of(c, p);
    Card card;
    card.title = fmt::format("Patch {}", p.id);
    card.subtitle = fmt::format("run {} ({} to {}), {} {}, mends {}", run.id, run.from, run.to, show(c, Show::tape, p.bore),
                                job::word(run.material), defect_ids(c, p));
    add_where(c, p, card);
    add_felt(c, p, card);
    add_resin(c, p, card);
    add_pressure(c, p, card);
    add_times(c, index, card);
    add_checks(p, card);
    add_tables(c, p, card);
    if (p.build) {
        card.blocks.push_back(heading("Build this packer", 3));
        Bullets parts;
        for (const auto& part : p.build->parts) {
            parts.items.push_back(part.length > Length{} ? fmt::format("{} x {}, {}", part.count, part.what, show(c, Show::tape, part.length))
                                                         : fmt::format("{} x {}", part.count, part.what));
        }
        card.blocks.push_back({parts});
        card.blocks.push_back({Ticks{p.build->steps}});
    }
    return {card};
}

}  // namespace patchwright::sheet
