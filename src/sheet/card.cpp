#include <algorithm>
#include <cmath>
#include <memory>

#include <fmt/format.h>

#include "blocks.hpp"
#include "patchwright/plan/figures.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

/// " of mix M2, shared", " in each of 2 pots": what the weights on the card are of, where it is not plain.
std::string share_words(const plan::Batch& mix) {
    std::string words;
    if (mix.batch.patches.size() > 1) words += fmt::format(" of {}, shared", mix.id);
    if (mix.batch.buckets > 1) words += fmt::format(", each of {} pots", mix.batch.buckets);
    return words;
}

Field figure(const Context& c, const plan::Patch& p, std::string_view name, Emphasis emphasis = Emphasis::normal) {
    return {std::string{plan::patch_figure(name).label}, shown(c, p, name), emphasis};
}

std::string air_words(const Context& c, const plan::Patch& p) {
    if (c.yard().limits.air == job::AirSupply::shut_in) return "shut in at the set pressure";
    if (never_shut_in(c, p)) return "regulated; never left on shut-in air";
    return fmt::format("regulated; air failing: {}, then shut", shown(c, p, "shut-in"));
}

/// The same in the few words that a small card has room for.
std::string short_air_words(const Context& c, const plan::Patch& p) {
    if (c.yard().limits.air == job::AirSupply::shut_in) return "Air: shut in.";
    if (never_shut_in(c, p)) return "Air failing: do not shut in.";
    return fmt::format("Air failing: {}, then shut.", shown(c, p, "shut-in"));
}

/// What is read at arm's length stands first: where, how large, how much, how hard.
void add_large(const Context& c, std::size_t index, Card& card) {
    const auto& p = c.plan->patches[index];
    const auto& mix = mix_of(c, index);
    Fields fields;
    fields.columns = 4;
    fields.fields.push_back(
        {fmt::format("{} from {}, to the sleeve's middle",
                     p.rigging.method == packer::Method::pull ? "Pull in" : "Push in", p.rigging.from),
         fmt::format("mark at {}", shown(c, p, "mark")), Emphasis::arm});
    fields.fields.push_back({"Part A" + share_words(mix), shown(c, mix, "pot-a"), Emphasis::arm});
    fields.fields.push_back({"Part B" + share_words(mix), shown(c, mix, "pot-b"), Emphasis::arm});
    if (p.rigging.turn_to)
        fields.fields.push_back({"Turn the branch to", format(*p.rigging.turn_to) + " o'clock", Emphasis::arm});
    const bool tube = c.yard().felts[static_cast<std::size_t>(p.felt.felt)].form == job::FeltForm::sewn_tube;
    for (const auto& piece : p.cut.pieces) {
        const auto label = p.cut.pieces.size() > 1
                               ? fmt::format("Cut layer {}{}", piece.layer, piece.layer == 1 ? " (on the pipe)" : "")
                               : std::string{"Cut"};
        const auto trim = c.yard().limits.end_trim;
        const auto trimmed = trim > Length{} ? fmt::format(" (trim {} an end)", cut_size(c, trim)) : std::string{};
        fields.fields.push_back({fmt::format("{}, long x {}{}", label, tube ? "flat" : "wide", trimmed),
                                 fmt::format("{} x {}", cut_size(c, piece.length), cut_size(c, piece.width)),
                                 Emphasis::arm});
    }
    fields.fields.push_back(figure(c, p, "pressure", Emphasis::arm));
    auto most = figure(c, p, "most-pressure", Emphasis::arm);
    most.label += p.pressure.host_limited ? " (pipe)" : " (packer)";
    fields.fields.push_back(std::move(most));
    // One figure twice would look like a slip: what falls below what was set is a leak.
    auto least = figure(c, p, "least-pressure", Emphasis::strong);
    if (least.value == shown(c, p, "pressure")) least.value += ", as set";
    fields.fields.push_back(std::move(least));
    for (const char* name : {"relief", "roller-gap"}) fields.fields.push_back(figure(c, p, name, Emphasis::strong));
    card.blocks.push_back({std::move(fields)});
}

void add_detail(const Context& c, std::size_t index, bool crowded, Card& card) {
    const auto& p = c.plan->patches[index];
    const auto& mix = mix_of(c, index);
    const auto& run = c.plan->run_of(p);
    const auto& felt = c.yard().felts[static_cast<std::size_t>(p.felt.felt)];
    const auto& resin = c.plan->resin_of(p);
    const auto& packer = p.option.packer;
    Fields fields;
    fields.columns = 4;
    // From the mouth at which the mark is measured.
    const bool from_far_end = p.rigging.from == run.to;
    const auto lies = fmt::format("{} to {}", show(c, Show::run_distance, from_far_end ? run.length - p.end : p.start),
                                  show(c, Show::run_distance, from_far_end ? run.length - p.start : p.end));
    const auto layers = fmt::format("{}, {} layer{}", felt.id, p.felt.layers, p.felt.layers > 1 ? "s" : "");
    if (crowded) {
        fields.fields = {{fmt::format("Sleeve lies, from {}", p.rigging.from), lies},
                         {"Felt, wall when cured", fmt::format("{}, {}", layers, shown(c, p, "felt"))}};
    } else {
        fields.fields = {
            {fmt::format("Sleeve lies, from {}", p.rigging.from),
             fmt::format("{}, {} long", lies, show(c, Show::run_distance, p.length()))},
            {"Felt", layers},
            {"Wall when cured (needed)",
             fmt::format("{} ({}, {})", shown(c, p, "felt"), format_up(Show::thickness, p.thickness.design, c.units),
                         liner::word(p.thickness.governing))}};
    }
    if (plan::patch_figure("seam").applies_to(p)) fields.fields.push_back(figure(c, p, "seam"));
    const auto test = fmt::format("{} for {}", shown(c, p, "bench-test"), show(c, Show::minutes, p.bench.hold));
    const std::vector<Field> more{
        {"Resin", crowded ? fmt::format("{}, mix {}", resin.id, mix.id)
                          : fmt::format("{} ({}), {} in mix {}", resin.id, job::word(resin.kind),
                                        shown(c, mix, "total"), mix.id)},
        {"A, B by volume, a pot", fmt::format("{}, {}", shown(c, mix, "pot-a-volume"), shown(c, mix, "pot-b-volume"))},
        {mix.batch.buckets > 1 ? "Mixing pots, each at least" : "Mixing pot, at least", shown(c, mix, "pot-size")},
        {p.option.to_build ? "Packer (to build)" : "Packer",
         crowded ? packer.id
                 : fmt::format("{}, {} {}", packer.id, job::word(packer.material), job::word(packer.shape))},
        {"Bench test",
         crowded ? test : fmt::format("{}, may fall {}", test, show(c, Show::test_pressure, p.bench.allowed_drop))},
    };
    fields.fields.insert(fields.fields.end(), more.begin(), more.end());
    // The greatest of the day stand among its dangers.
    if (!crowded) {
        fields.fields.push_back({"Air during the cure", air_words(c, p)});
        fields.fields.insert(fields.fields.end(), {figure(c, p, "energy"), figure(c, p, "pull")});
    }
    if (!crowded &&
        p.pressure.outside > Pressure{}) {  // no water stands over the pipe: nothing presses, nothing pushes
        fields.fields.push_back(figure(c, p, "outside"));
        fields.fields.push_back(figure(c, p, "plug-push"));
    }
    card.blocks.push_back({std::move(fields)});
}

/// What is written down as it happens.
void add_record(bool crowded, Card& card) {
    Fields blanks;
    blanks.columns = crowded ? 3 : 4;
    const std::vector<const char*> few{"A, B weighed",         "A, B batch, expiry",
                                       "Bench test held",      "Pressure start, half, end",
                                       "Witness hard y/n, at", "Pipe, resin measured"};
    const std::vector<const char*> all{
        "A weighed", "B weighed", "A batch, expiry", "B batch, expiry", "Bench test held",          "Pressure, start",
        "Half way",  "End",       "Pipe, measured",  "Resin, measured", "Witness hard, yes/no, at", "Film no."};
    for (const char* label : crowded ? few : all) blanks.fields.push_back({label, ""});
    card.blocks.push_back({std::move(blanks)});
}

void add_times(const Context& c, std::size_t index, bool crowded, Card& card) {
    const auto& p = c.plan->patches[index];
    const auto& t = c.plan->schedule.patches[index];
    Table table;
    table.columns = {{"Step"}, {"Clock by plan"}, {"From mixing"}, {"Actual", Align::left, true}};
    const auto gel = t.mix + static_cast<int>(std::floor(p.cure.sheet.gel.in(unit::minute) + 1e-9));
    table.rows = {
        {"Mixed, start timer", clock_text(t.mix), "0", ""},
        {"Poured, at the latest", clock_text(t.pour_by), latest(c, (t.pour_by - t.mix) * unit::minute), ""},
        {"INFLATED, at the latest", clock_text(t.inflate_by), shown(c, p, "inflate-by"), ""},
        {"Wrinkle check over, latest", clock_text(t.crease_by), shown(c, p, "crease-by"), ""},
        {"Sleeve gels, from then hold", clock_text(gel), shown(c, p, "gel"), ""},
        {"DEFLATE, not before", clock_text(t.let_down), shown(c, p, "let-down"), ""},
    };
    // Among the mixes on the front it stands too.
    if (crowded) table.rows.erase(table.rows.begin() + 1);
    card.blocks.push_back({std::move(table)});
    const auto& day = c.plan->schedule.days[static_cast<std::size_t>(t.day)];
    const auto by_plan = clock_text(day.finish);
    // When it must end stands on the front too.
    const auto closes = crowded ? fmt::format(" (by plan {}). {}", by_plan, short_air_words(c, p))
                                : fmt::format(" (by plan {}, at the latest {}). If missed: {}.", by_plan,
                                              format(c.job().site.finish), t.if_missed);
    card.blocks.push_back(paragraph(fmt::format(
        "{} pipe {}{}, resin {}; measured: the tables. In hand before inflating: {} min; "
        "{} sets first, {} is soft when deflated. Mixed late, add the delay to every time; up to "
        "{} min late the day {}closes{}",
        crowded ? "For" : "Calculated with", show(c, Show::temperature, *p.conditions.pipe),
        crowded ? std::string{}  // the words under the tables say it
                : fmt::format(" (within {})", show(c, Show::temperature_step, c.yard().limits.temperature_doubt)),
        show(c, Show::temperature, *p.conditions.resin), t.inflate_by - t.inflate, one_in(p.late_probability),
        one_in(p.cure.soft_probability), t.latest_mix - t.mix, crowded ? "" : "still ", closes)));
}

void add_checks(const Context& c, std::size_t index, bool crowded, Card& card) {
    const auto& p = c.plan->patches[index];
    Ticks ticks;
    for (const auto& preparation : p.preparations) {
        ticks.items.push_back(preparation == survey::cut_roots && cleaned_before(c, index)
                                  ? std::string{"Roots cut on an earlier day: none left"}
                                  : "First: " + preparation);
    }
    const std::vector<std::string> few{"Cleaned, surveyed, dry; packer run through; felt weighed",
                                       "Witness bag in the pipe; all clear of the line before air"};
    const std::vector<std::string> all{"Cleaned, CCTV surveyed, no standing water",
                                       "Packer run through dry to the mark", "Felt wet through, weight checked",
                                       "Witness bag in the pipe", "All clear of the pipe's line before air"};
    const auto& list = crowded ? few : all;
    ticks.items.insert(ticks.items.end(), list.begin(), list.end());
    for (const auto& note : p.notes) ticks.items.push_back(note);
    ticks.items.push_back("CCTV surveyed after: ends flat on the wall, no folds");
    card.blocks.push_back({std::move(ticks)});
}

}  // namespace

Block patch_card(const Context& c, std::size_t index, bool crowded) {
    const auto& p = c.plan->patches[index];
    const auto& run = c.plan->run_of(p);
    Card card;
    card.title = fmt::format("Patch {}", p.id);
    card.subtitle = fmt::format("run {} ({} to {}), {} {}, mends {}", run.id, run.from, run.to,
                                show(c, Show::tape, p.bore), job::word(run.material), defect_ids(c, p));
    Bullets defects;
    // The survey's distances are from the run's start, the mark's perhaps from its other end.
    const auto from = p.rigging.from == run.to ? fmt::format(" (from {})", run.from) : std::string{};
    for (const int d : p.defects)
        defects.items.push_back(defect_words(c, run.defects[static_cast<std::size_t>(d)]) + from);
    card.blocks.push_back({std::move(defects)});
    card.limits = std::make_shared<const Limits>(limits_of(c, p));
    add_large(c, index, card);
    add_times(c, index, crowded, card);
    add_detail(c, index, crowded, card);
    add_record(crowded, card);
    add_checks(c, index, crowded, card);
    return {std::move(card)};
}

Block build_card(const Context& c, const plan::Build& build) {
    const auto& p = c.plan->patches[build.patches.front()];
    Card card;
    card.title = fmt::format("Build packer {}", p.option.packer.id);
    const auto where = build.again
                           ? fmt::format("on site, once a {} is out of the pipe: {} that the day's times do not hold",
                                         c.yard().chassis[static_cast<std::size_t>(p.option.chassis)].id,
                                         show(c, Show::minutes, plan::build_time(c.yard())))
                           : std::string{c.yard().limits.prepare_in_yard ? "in the yard, before leaving" : "on site"};
    card.subtitle = fmt::format("{}bladder {}, for {}; {}",
                                build.count > 1 ? fmt::format("{} of them, ", build.count) : std::string{},
                                show(c, Show::tape, p.build->bladder_cut), patch_ids(c, build.patches), where);
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
