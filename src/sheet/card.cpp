#include <algorithm>

#include <fmt/format.h>

#include "blocks.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

const plan::Batch& mix_of(const Context& c, std::size_t index) {
    const auto holds = [&](const plan::Batch& batch) {
        return std::find(batch.batch.patches.begin(), batch.batch.patches.end(), static_cast<int>(index)) !=
               batch.batch.patches.end();
    };
    return *std::find_if(c.plan->batches.begin(), c.plan->batches.end(), holds);
}

/// " of mix M2, shared", " in each of 2 pots": what the weights on the card are of, where it is not plain.
std::string share_words(const plan::Batch& mix) {
    std::string words;
    if (mix.batch.patches.size() > 1) words += fmt::format(" of {}, shared", mix.id);
    if (mix.batch.buckets > 1) words += fmt::format(", each of {} pots", mix.batch.buckets);
    return words;
}

/// What is read at arm's length stands first: where, how large, how much, how hard.
void add_large(const Context& c, std::size_t index, Card& card) {
    const auto& p = c.plan->patches[index];
    const auto& mix = mix_of(c, index);
    const auto pots = static_cast<double>(mix.batch.buckets);
    Fields fields;
    fields.columns = 4;
    fields.fields.push_back(
        {fmt::format("{} from {}, to the sleeve's middle",
                     p.rigging.method == packer::Method::pull ? "Pull in" : "Push in", p.rigging.from),
         fmt::format("mark at {}", show(c, Show::run_distance, p.rigging.mark)), Emphasis::arm});
    fields.fields.push_back(
        {"Part A" + share_words(mix), show(c, Show::scale_mass, mix.batch.part_a / pots), Emphasis::arm});
    fields.fields.push_back(
        {"Part B" + share_words(mix), show(c, Show::scale_mass, mix.batch.part_b / pots), Emphasis::arm});
    if (p.rigging.turn_to)
        fields.fields.push_back({"Turn the branch to", format(*p.rigging.turn_to) + " o'clock", Emphasis::arm});
    const bool tube = c.yard->felts[static_cast<std::size_t>(p.felt.felt)].form == job::FeltForm::sewn_tube;
    for (const auto& piece : p.cut.pieces) {
        const auto label = p.cut.pieces.size() > 1
                               ? fmt::format("Cut layer {}{}", piece.layer, piece.layer == 1 ? " (on the pipe)" : "")
                               : std::string{"Cut"};
        fields.fields.push_back({fmt::format("{}, long x {}", label, tube ? "flat" : "wide"),
                                 fmt::format("{} x {}", cut_size(c, piece.length), cut_size(c, piece.width)),
                                 Emphasis::arm});
    }
    fields.fields.push_back({"SET PRESSURE", show(c, Show::gauge_pressure, p.pressure.set), Emphasis::arm});
    fields.fields.push_back({"NEVER ABOVE", show(c, Show::gauge_pressure, p.pressure.maximum), Emphasis::arm});
    fields.fields.push_back(
        {"Least, while it cures", show(c, Show::gauge_pressure, p.pressure.minimum), Emphasis::strong});
    fields.fields.push_back(
        {"Relief valve opens at", show(c, Show::gauge_pressure, p.pressure.relief), Emphasis::strong});
    fields.fields.push_back({"Roller gap", show(c, Show::thickness, p.need.roller_gap), Emphasis::strong});
    card.blocks.push_back({std::move(fields)});
}

std::string air_words(const Context& c, const plan::Patch& p) {
    if (c.yard->limits.air == job::AirSupply::shut_in) return "shut in at the set pressure";
    if (!p.pressure.shut_in_holds) return "regulated; never left on shut-in air";
    return "regulated; supply lost: shut in at " + show(c, Show::gauge_pressure, p.pressure.shut_in);
}

void add_detail(const Context& c, std::size_t index, Card& card) {
    const auto& p = c.plan->patches[index];
    const auto& mix = mix_of(c, index);
    const double in_pot = mix.batch.total / (static_cast<double>(mix.batch.buckets) * p.need.total);
    const auto& run = run_of(c, p);
    const auto& felt = c.yard->felts[static_cast<std::size_t>(p.felt.felt)];
    const auto& resin = c.yard->resins[static_cast<std::size_t>(p.resin)];
    const auto& packer = p.option.packer;
    Fields fields;
    fields.columns = 4;
    fields.fields = {
        {fmt::format("Sleeve lies, from {}", run.from),
         fmt::format("{} to {}, {} long", show(c, Show::run_distance, p.start), show(c, Show::run_distance, p.end),
                     show(c, Show::run_distance, p.length()))},
        {"Felt", fmt::format("{}, {} layer{}", felt.id, p.felt.layers, p.felt.layers > 1 ? "s" : "")},
        {"Wall when cured (needed)",
         fmt::format("{} ({}, {})", show(c, Show::thickness, p.felt.installed), show(c, Show::thin, p.thickness.design),
                     liner::word(p.thickness.governing))},
    };
    if (felt.form != job::FeltForm::sewn_tube)
        fields.fields.push_back({"Seam overlap", show(c, Show::tape, p.cut.seam_overlap)});
    const std::vector<Field> more{
        {"Resin", fmt::format("{} ({}), {} in mix {}", resin.id, job::word(resin.kind),
                              show(c, Show::scale_mass, mix.batch.total), mix.id)},
        {"A, B by volume, a pot", fmt::format("{}, {}", show(c, Show::millilitres, in_pot * p.need.volume_a),
                                              show(c, Show::millilitres, in_pot * p.need.volume_b))},
        {mix.batch.buckets > 1 ? "Mixing pots, each at least" : "Mixing pot, at least",
         show(c, Show::litres, in_pot * p.need.container)},
        {p.option.to_build ? "Packer (to build)" : "Packer",
         fmt::format("{}, {} {}", packer.id, job::word(packer.material), job::word(packer.shape))},
        {"Bench test",
         fmt::format("{} for {}, may fall {}", show(c, Show::gauge_pressure, p.bench.pressure),
                     show(c, Show::minutes, p.bench.hold), show(c, Show::test_pressure, p.bench.allowed_drop))},
        {"Air during the cure", air_words(c, p)},
        {"Energy in the air", show(c, Show::energy, p.pressure.stored)},
        {"Pull on an end fitting", show(c, Show::force, p.pressure.on_fitting)},
    };
    fields.fields.insert(fields.fields.end(), more.begin(), more.end());
    if (p.pressure.outside > Pressure{}) {  // no water stands over the pipe: nothing presses, nothing pushes
        fields.fields.push_back({"Water outside presses", show(c, Show::gauge_pressure, p.pressure.outside)});
        fields.fields.push_back({"Push of water on a plug", show(c, Show::force, p.pressure.on_plug)});
    }
    card.blocks.push_back({std::move(fields)});
    Fields blanks;
    blanks.columns = 4;
    for (const char* label : {"A weighed", "B weighed", "Bench test held", "Pressure set"}) {
        blanks.fields.push_back({label, "", Emphasis::normal, true});
    }
    card.blocks.push_back({std::move(blanks)});
}

void add_times(const Context& c, std::size_t index, Card& card) {
    const auto& p = c.plan->patches[index];
    const auto& t = c.plan->schedule.patches[index];
    Table table;
    table.columns = {{"Step"}, {"Clock by plan"}, {"From mixing"}, {"Really at", Align::left, true}};
    table.rows = {
        {"A meets B", clock_text(t.mix), "0", ""},
        {"Poured, at the latest", clock_text(t.pour_by), latest(c, (t.pour_by - t.mix) * unit::minute), ""},
        {"INFLATED, at the latest", clock_text(t.inflate_by), latest(c, p.cure.sheet.inflate_by), ""},
        {"Crease step over, latest", clock_text(t.crease_by), latest(c, p.cure.sheet.crease_by), ""},
        {"LET DOWN, not before", clock_text(t.let_down), earliest(c, p.cure.sheet.let_down), ""},
    };
    card.blocks.push_back({std::move(table)});
    const auto slow = t.late_probability >= 0.05
                          ? fmt::format(" (slow hands miss it about {:.0f} times in 100)", 100.0 * t.late_probability)
                          : std::string{};
    card.blocks.push_back(paragraph(fmt::format(
        "Reckoned: pipe {}, resin {}. Measure both, use the tables. To spare before inflating: {} min{}. Mixed late, "
        "all limits move with it: to {} min the day still closes. If missed: {}.",
        show(c, Show::temperature, *p.conditions.pipe), show(c, Show::temperature, *p.conditions.resin),
        t.inflate_by - t.inflate, slow, t.latest_mix - t.mix, t.if_missed)));
}

void add_checks(const plan::Patch& p, Card& card) {
    Ticks ticks;
    for (const auto& preparation : p.preparations) ticks.items.push_back("First: " + preparation);
    ticks.items.insert(ticks.items.end(), {"Cleaned, filmed, no standing water", "Packer run through dry to the mark",
                                           "Felt wet through, weight checked", "Witness bag in the pipe",
                                           "All clear of the pipe's line before air"});
    for (const auto& note : p.notes) ticks.items.push_back(note);
    ticks.items.push_back("Filmed after: ends down, no folds");
    card.blocks.push_back({std::move(ticks)});
}

}  // namespace

Block patch_card(const Context& c, std::size_t index) {
    const auto& p = c.plan->patches[index];
    const auto& run = run_of(c, p);
    Card card;
    card.title = fmt::format("Patch {}", p.id);
    card.subtitle = fmt::format("run {} ({} to {}), {} {}, mends {}", run.id, run.from, run.to,
                                show(c, Show::tape, p.bore), job::word(run.material), defect_ids(c, p));
    Bullets defects;
    for (const int d : p.defects) defects.items.push_back(defect_words(c, run.defects[static_cast<std::size_t>(d)]));
    card.blocks.push_back({std::move(defects)});
    add_large(c, index, card);
    add_times(c, index, card);
    add_detail(c, index, card);
    add_checks(p, card);
    return {std::move(card)};
}

Block build_card(const Context& c, std::size_t index) {
    const auto& p = c.plan->patches[index];
    Card card;
    card.title = fmt::format("Build packer {}", p.option.packer.id);
    card.subtitle = fmt::format("for {}; in the yard, before leaving", p.id);
    Bullets parts;
    for (const auto& part : p.build->parts) {
        parts.items.push_back(part.length > Length{}
                                  ? fmt::format("{} x {}, {}", part.count, part.what, show(c, Show::tape, part.length))
                                  : fmt::format("{} x {}", part.count, part.what));
    }
    card.blocks.push_back({std::move(parts)});
    card.blocks.push_back({Ticks{p.build->steps}});
    return {std::move(card)};
}

}  // namespace patchwright::sheet
