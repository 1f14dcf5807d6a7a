#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "blocks.hpp"
#include "day_parts.hpp"
#include "words.hpp"

/// What to load, from what the work really uses.
namespace patchwright::sheet {
namespace {

/// What the patches call for, gathered once.
struct Uses {
    std::vector<const plan::Batch*> mixes;
    std::set<int> runs;
    bool film = false, reopening = false, cutting = false, roots = false, overnight = false;
    Length deepest{}, reach{};
};

Uses uses_of(const Context& c, const std::vector<std::size_t>& patches) {
    Uses uses;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        const auto& run = run_of(c, p);
        const auto kind = c.yard->resins[static_cast<std::size_t>(p.resin)].kind;
        uses.runs.insert(p.run);
        uses.film = uses.film || packer::contact(p.option.packer.material, kind) == packer::Contact::film_needed;
        uses.reopening = uses.reopening || !p.reopened.empty();
        uses.cutting = uses.cutting || !p.preparations.empty();
        uses.deepest = std::max(uses.deepest, run.depth);
        uses.reach = std::max(uses.reach, p.rigging.mark + run.depth);
        for (const int d : p.defects) {
            uses.roots = uses.roots || run.defects[static_cast<std::size_t>(d)].kind == job::DefectKind::root_intrusion;
        }
    }
    for (const auto& batch : c.plan->batches) {
        const auto& of = batch.batch.patches;
        if (std::any_of(of.begin(), of.end(), [&](int p) {
                return std::find(patches.begin(), patches.end(), static_cast<std::size_t>(p)) != patches.end();
            }))
            uses.mixes.push_back(&batch);
    }
    return uses;
}

void add_felt(const Context& c, const std::vector<std::size_t>& patches, Ticks& ticks) {
    const plan::Patch* largest = nullptr;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        const auto& felt = c.yard->felts[static_cast<std::size_t>(p.felt.felt)];
        for (const auto& piece : p.cut.pieces) {
            ticks.items.push_back(fmt::format("Felt {} for {}: {} x {}", felt.id, p.id, cut_size(c, piece.length),
                                              cut_size(c, piece.width)));
        }
        if (largest == nullptr || p.cut.felt_area > largest->cut.felt_area) largest = &p;
    }
    if (largest == nullptr) return;
    ticks.items.push_back(fmt::format(
        "Spare felt, one sleeve: {}, {} x {}{}", c.yard->felts[static_cast<std::size_t>(largest->felt.felt)].id,
        shown(c, *largest, "cut"), shown(c, *largest, "cut-width"),
        largest->cut.pieces.size() > 1 ? fmt::format(", {} layers", largest->cut.pieces.size()) : ""));
}

/// Another packer of the yard that would do for that patch, with the words that stand for it.
std::string spare_for(const Context& c, const plan::Patch& p, int used) {
    const auto& own = p.option.packer;
    if (own.count > used) return fmt::format("another {} (the yard has {})", own.id, own.count);
    for (const auto& other : c.yard->packers) {
        if (other.id != own.id && other.count > 0 && other.bore_min <= p.bore && p.bore <= other.bore_max &&
            other.usable_min <= p.length() && p.length() <= other.usable_max)
            return other.id;
    }
    return fmt::format("the yard has no second packer for {}: a spare bladder with tape and clamps", own.id);
}

void add_packers(const Context& c, const std::vector<std::size_t>& patches, Ticks& ticks) {
    std::map<std::string, std::pair<const plan::Patch*, int>> packers;
    for (const auto i : patches) {
        auto& row = packers[c.plan->patches[i].option.packer.id];
        row.first = &c.plan->patches[i];
        ++row.second;
    }
    for (const auto& [id, row] : packers) {
        const auto& option = row.first->option;
        ticks.items.push_back(fmt::format("Packer {} ({}), {}", id, job::word(option.packer.material),
                                          option.to_build ? "to build, then bench test" : "bench tested"));
    }
    std::set<std::string> spares;
    for (const auto& [id, row] : packers) spares.insert("Spare: " + spare_for(c, *row.first, 1));
    ticks.items.insert(ticks.items.end(), spares.begin(), spares.end());
}

void add_resin(const Context& c, const Uses& uses, Ticks& ticks) {
    struct Sum {
        Mass a{}, b{};
        const plan::Batch* largest = nullptr;
    };
    std::map<int, Sum> resins;
    for (const auto* mix : uses.mixes) {
        auto& sum = resins[mix->resin];
        sum.a += mix->batch.part_a;
        sum.b += mix->batch.part_b;
        if (sum.largest == nullptr || mix->batch.total > sum.largest->batch.total) sum.largest = mix;
    }
    for (const auto& [place, sum] : resins) {
        const auto at = c.job->site.resin_temperature.value_or(c.yard->limits.resin_temperature);
        ticks.items.push_back(fmt::format("Resin {}: {} in all mixes (A {}, B {}), in date, at {}",
                                          c.yard->resins[static_cast<std::size_t>(place)].id,
                                          show(c, Show::scale_mass, sum.a + sum.b), show(c, Show::scale_mass, sum.a),
                                          show(c, Show::scale_mass, sum.b), show(c, Show::temperature, at)));
        ticks.items.push_back(fmt::format("Spare resin {}, one mix: A {}, B {}",
                                          c.yard->resins[static_cast<std::size_t>(place)].id,
                                          shown(c, *sum.largest, "part-a"), shown(c, *sum.largest, "part-b")));
    }
}

void add_water_gear(const Context& c, const Uses& uses, Ticks& ticks) {
    bool stopper = false, unknown = false;
    VolumeFlow pump{};
    for (const auto& flow : c.plan->flows) {
        if (!uses.runs.count(flow.run)) continue;
        stopper = true;
        unknown = unknown || !flow.known;
        if (flow.known && !flow.verdict.holds) pump = std::max(pump, flow.verdict.pump);
    }
    if (stopper) ticks.items.push_back("Stopper with brace and tie, for each mouth that water comes to");
    if (pump > VolumeFlow{})
        ticks.items.push_back(fmt::format("Pump and standby pump, each {} at least, hoses", show(c, Show::flow, pump)));
    else if (unknown)
        ticks.items.push_back("Pump and hoses (nobody knows the flow), bucket and watch to measure it");
}

}  // namespace

void add_load_list(const Context& c, const std::vector<std::size_t>& patches, Sheet& sheet) {
    sheet.blocks.push_back(heading("Load before leaving"));
    const auto uses = uses_of(c, patches);
    Ticks ticks;
    add_felt(c, patches, ticks);
    add_packers(c, patches, ticks);
    add_resin(c, uses, ticks);
    const auto add = [&](bool wanted, std::string words) {
        if (wanted) ticks.items.push_back(std::move(words));
    };
    add(uses.film, "Separating film for rubber bladders");
    ticks.items.push_back(fmt::format("Scale ({}), pots, stirrers, roller, table sheet, timer, thermometers",
                                      c.units == UnitSystem::us ? "0.1 oz" : "1 g"));
    ticks.items.push_back(
        "Compressor, air line, regulator, gauge, relief valve, whip checks, barriers for both mouths");
    ticks.items.push_back(fmt::format("Rods or strap with marking tape and air line, to reach {} (mark and depth)",
                                      show(c, Show::run_distance, uses.reach)));
    ticks.items.push_back(uses.roots ? "Jetter with root cutter, camera" : "Jetter, camera");
    add_water_gear(c, uses, ticks);
    add(uses.reopening || uses.cutting, "Cutter with guard, brush edge, mask for dust");
    add(uses.deepest >= safety_entry_depth, "Gas meter, winch and harness at the opening");
    ticks.items.push_back(
        "Gloves, goggles, overalls, first aid, resin data sheets, spill sand, bags for the witness, this sheet");
    sheet.blocks.push_back({std::move(ticks)});
}

}  // namespace patchwright::sheet
