#include "patchwright/excavation/excavation.hpp"

#include <algorithm>
#include <array>
#include <numbers>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::excavation {
namespace {

constexpr std::array span_symbols{
    Symbol{"l", "damaged length", Show::run_distance},
    Symbol{"s", "sound pipe each side", Show::tape},
    Symbol{"l_0", "shortest pit", Show::run_distance},
};
constexpr Formula pit_length{.id = "dig.length",
                             .result = {"L", "pit length", Show::run_distance},
                             .text = "L = max(l + 2 s, l_0), inside the run",
                             .inputs = span_symbols,
                             .source = "common practice, no source",
                             .page = "excavation"};
constexpr std::array depth_symbols{
    Symbol{"h", "ground to invert", Show::run_distance},
    Symbol{"e", "wall of the new pipe", Show::tape},
    Symbol{"a", "bed", Show::tape},
};
constexpr Formula pit_depth{.id = "dig.depth",
                            .result = {"D", "trench depth", Show::run_distance},
                            .text = "D = h + e + a",
                            .inputs = depth_symbols,
                            .source = "derived here, docs/methods/excavation.md",
                            .page = "excavation"};
constexpr std::array soil_symbols{
    Symbol{"V", "volume of the hole", Show::big_volume},
    Symbol{"V_f", "surface build-up in it", Show::big_volume},
    Symbol{"k", "over-break", Show::percent},
};
constexpr Formula soil_volume{.id = "dig.soil",
                              .result = {"V_s", "soil dug, bank", Show::big_volume},
                              .text = "V_s = (V - V_f)(1 + k)",
                              .inputs = soil_symbols,
                              .source = "common practice, no source",
                              .page = "excavation"};
constexpr std::array days_symbols{
    Symbol{"d_1", "single repair at that depth, by table", Show::ratio},
    Symbol{"d_L", "for length beyond a single repair", Show::ratio},
    Symbol{"d_V", "for volume beyond vertical sides", Show::ratio},
    Symbol{"f", "hand digging and services", Show::ratio},
};
constexpr Formula team_days{.id = "dig.days",
                            .result = {"d", "days of the digging team, likely", Show::ratio},
                            .text = "d = (d_1 + d_L + d_V) f",
                            .inputs = days_symbols,
                            .source = "common practice, no source",
                            .page = "excavation"};

bool hard(job::Surface s) { return s != job::Surface::grass; }

job::Spread<double> factor_or_one(const job::Spread<double>& s) {
    return s.likely > 0.0 ? s : job::Spread<double>{1.0, 1.0, 1.0};
}

/// Days of a single repair and days a metre beyond it, for a drain of that depth, ground to invert. Rows are taken as
/// they come; a row never promises less than a shallower one, and below the last row the days grow in proportion to
/// depth.
struct OutputRow {
    job::Spread<double> days;
    double days_per_metre = 0.0;
};
OutputRow output_at(Length depth, bool hard_surface, const job::DigRates& rates) {
    if (rates.outputs.empty()) throw InputError("yard: dig_rates has no table of outputs; extend the built-in yard");
    OutputRow row;
    Length reached{};
    for (const job::DigRates::Output& o : rates.outputs) {
        const job::Spread<double>& days = hard_surface ? o.days_hard : o.days_soft;
        const double metres = hard_surface ? o.metres_hard : o.metres_soft;
        row.days.low = std::max(row.days.low, days.low);
        row.days.likely = std::max({row.days.likely, days.likely, row.days.low});
        row.days.high = std::max({row.days.high, days.high, row.days.likely});
        const double per_metre =
            metres > 0.0 ? 1.0 / metres : row.days.likely / std::max(1e-9, rates.single_repair.in(unit::m));
        row.days_per_metre = std::max(row.days_per_metre, per_metre);
        reached = o.depth_to;
        if (depth <= o.depth_to) return row;
    }
    const double beyond = reached.si() > 0.0 ? depth / reached : 1.0;
    row.days = {row.days.low * beyond, row.days.likely * beyond, row.days.high * beyond};
    row.days_per_metre *= beyond;
    return row;
}

void work_out_days(Pit& p, Length invert, const job::Dig& dig, const job::DigRates& rates, Working& working) {
    const OutputRow row = output_at(invert, hard(p.surface), rates);
    const double longer = std::max(0.0, (p.trench.length - rates.single_repair).in(unit::m)) * row.days_per_metre;
    const Volume extra = p.trench.volume - p.trench.width * p.trench.length * p.trench.depth;
    const double bulk = rates.bulk_per_day.si() > 0.0 ? std::max(0.0, extra / rates.bulk_per_day) : 0.0;
    const job::Spread<double> hand = factor_or_one(p.by_hand ? rates.hand_factor : job::Spread<double>{1, 1, 1});
    const job::Spread<double> services =
        factor_or_one(dig.services_near ? rates.services_factor : job::Spread<double>{1, 1, 1});
    p.days_low = (row.days.low + longer + bulk) * hand.low * services.low;
    p.days_likely = (row.days.likely + longer + bulk) * hand.likely * services.likely;
    p.days_high = (row.days.high + longer + bulk) * hand.high * services.high;
    working.add(team_days,
                {{row.days.likely, Origin::yard}, longer, bulk, {hand.likely * services.likely, Origin::yard}},
                p.days_likely);
    if (hard(p.surface)) {
        p.surface_days_low = rates.surface_crew_days.low;
        p.surface_days_likely = rates.surface_crew_days.likely;
        p.surface_days_high = rates.surface_crew_days.high;
    }
}

Length dug_width(Length od, Length depth, Protection protection, double slope, const job::DigRates& rates,
                 Working& working) {
    // The rule's table ends at 15 m with a width that no longer grows; a hole as deep is an engineer's anyway.
    depth = std::min(depth, 15.0 * unit::m);
    const bool flat = protection == Protection::battered && slope >= 0.5774;  // 60 degrees or flatter: 1 / tan 60
    const Length clear =
        rates.width_by_d2321 ? least_width_d2321(od, working) : least_width_en1610(od, depth, flat, working);
    const bool walled =
        protection == Protection::sheeted || protection == Protection::box || protection == Protection::engineer;
    return bucket_width(walled ? clear + 2.0 * rates.sheet_thickness : clear, rates.buckets);
}

void work_out_ground(Pit& p, const job::DigRates& rates, Working& working) {
    const job::SoilRate& soil = soil_rate(p.soil, rates);
    const job::SurfaceRate& surface = surface_rate(p.surface, rates);
    const Trench& t = p.trench;
    const Length build_up = std::min(surface.thickness, t.depth);
    const Volume surface_in_hole = t.volume - volume_below(t, t.depth - build_up);
    const Volume net_soil = t.volume - surface_in_hole;
    p.dug_bank = (1.0 + rates.over_break) * net_soil;
    working.add(soil_volume, {t.volume, surface_in_hole, {rates.over_break, Origin::yard}}, p.dug_bank);

    const Length zone_height = rates.bed + p.pipe_diameter + rates.surround;
    const Volume zone = std::min(net_soil, volume_below(t, std::min(zone_height, t.depth - build_up)));
    const Volume pipe = (std::numbers::pi / 4.0) * (p.pipe_diameter * p.pipe_diameter) * t.length;
    p.granular = std::max(Volume{}, zone - pipe);
    const SpoilBalance b = balance({.soil = p.dug_bank,
                                    .pipe_zone = zone,
                                    .loose_factor = soil.loose_factor,
                                    .compacted_factor = soil.compacted_factor,
                                    .bank_density = soil.bank_density,
                                    .reuse = rates.reuse_under_hard || !hard(p.surface)},
                                   working);
    p.backfill = b.backfill;
    p.imported = b.imported;
    p.reused_bank = b.reused_bank;
    p.spoil_bank = b.surplus_bank;
    p.spoil_loose = b.surplus_loose;
    p.soil_carted = b.carted;

    p.surface_broken = t.top_area;
    p.surface_reinstated = (t.top_width + 2.0 * surface.cut_back) * (t.top_length + 2.0 * surface.cut_back);
    p.surface_volume = surface_in_hole + (p.surface_reinstated - p.surface_broken) * build_up;
    p.surface_carted = surface.density * p.surface_volume;
    p.carted = p.soil_carted + p.surface_carted;
}

}  // namespace

PitSpan pit_span(const Place& place, const job::DigRates& rates) {
    if (place.run == nullptr) throw InputError("dig: a place without a run");
    const Length run_length = place.run->length;
    const Length damaged = place.to - place.from;
    if (!(damaged.si() >= 0.0 && run_length.si() > 0.0 && place.from.si() >= 0.0 &&
          place.to <= run_length + 1e-9 * unit::m)) {
        throw RangeError(fmt::format("dig: the damage from {} m to {} m must lie on run {}, 0 to {} m",
                                     place.from.in(unit::m), place.to.in(unit::m), place.run->id,
                                     run_length.in(unit::m)));
    }
    const Length length =
        std::min(run_length, std::max(damaged + 2.0 * rates.sound_pipe_each_side, rates.shortest_pit));
    // At a mouth the pit moves inwards: it keeps its length rather than dig up the chamber.
    const Length middle = 0.5 * (place.from + place.to);
    const Length from = std::clamp(middle - 0.5 * length, Length{}, run_length - length);
    return {from, from + length};
}

Place joined(const Place& a, const Place& b) {
    if (a.run != b.run) throw InputError("dig: one trench cannot lie on two runs");
    Place out = a;
    out.defects.insert(out.defects.end(), b.defects.begin(), b.defects.end());
    out.from = std::min(a.from, b.from);
    out.to = std::max(a.to, b.to);
    return out;
}

Pit pit_figures(const Place& place, const job::Dig& dig, const job::DigRates& rates, Protection protection,
                Working& working) {
    const PitSpan span = pit_span(place, rates);
    const job::Run& run = *place.run;
    const Length invert = place.depth.value_or(run.depth);
    Pit p;
    p.from = span.from;
    p.to = span.to;
    p.protection = protection;
    p.surface = dig.surface.value;
    p.soil = dig.soil.value;
    p.by_hand = dig.hand_dig_only;
    p.asbestos = run.material == job::Material::asbestos_cement;
    p.traffic = *run.traffic != job::Traffic::none;
    p.pipe_diameter = replacement_diameter(run.working_bore());
    p.pipe_replaced = span.to - span.from;
    working.add(pit_length,
                {place.to - place.from, {rates.sound_pipe_each_side, Origin::yard}, {rates.shortest_pit, Origin::yard}},
                p.pipe_replaced);

    const Length wall = p.pipe_diameter / 34.0;
    const Length depth = invert + wall + rates.bed;
    working.add(pit_depth, {{invert, Origin::given}, {wall, Origin::looked_up}, {rates.bed, Origin::yard}}, depth);
    const double slope = protection == Protection::battered ? soil_rate(p.soil, rates).slope_h_per_v : 0.0;
    const Length width = dug_width(p.pipe_diameter, depth, protection, slope, rates, working);
    p.trench = trench(width, p.pipe_replaced, depth, slope, working);
    p.deep = rates.deep_from.si() > 0.0 && depth > rates.deep_from;
    p.below_water = run.water_table.value && *run.water_table.value < depth;
    work_out_ground(p, rates, working);
    work_out_days(p, invert, dig, rates, working);
    return p;
}

void describe(Pit& p, const Place& place, const job::Dig& dig, const job::DigRates& rates) {
    p.run = place.run->id;
    p.defects.clear();
    for (const job::Defect* d : place.defects) p.defects.push_back(d->id);
    p.notes.clear();
    if (p.asbestos) {
        p.notes.emplace_back("asbestos cement pipe: wet, hand tools, licensed waste; a plan before the first cut");
    }
    if (p.below_water) p.notes.emplace_back("below the water table: pump while the trench is open");
    if (p.protection == Protection::engineer) {
        p.notes.emplace_back("deeper than the yard's rules reach: support to an engineer's design");
    }
    if (p.by_hand) p.notes.emplace_back("no machine gets in: dug by hand");
    if (dig.services_near) p.notes.emplace_back("other services close by: trial holes by hand first");
    if (p.protection == Protection::none && p.trench.depth >= 1.0 * unit::m) {
        p.notes.emplace_back("unsupported sides: only after a competent person has looked and sees no danger");
    }
    if (rates.width_by_d2321 && p.trench.depth >= 1.0 * unit::m && p.trench.width < 0.8 * unit::m) {
        p.notes.emplace_back("narrower than the EN 1610 table by depth: no room to work beside the pipe");
    }
}

Pit pit(const Place& place, const job::Dig& dig, const job::DigRates& rates, Protection protection, Working& working) {
    Pit p = pit_figures(place, dig, rates, protection, working);
    describe(p, place, dig, rates);
    return p;
}

std::vector<Pit> take_off(const job::Run& run, const std::vector<const job::Defect*>& defects, const job::Dig& dig,
                          const job::DigRates& rates, bool merge, Protection protection, Working& working) {
    std::vector<Place> places;
    for (const job::Defect* d : defects) places.push_back({&run, {d}, d->at, std::max(d->at, d->to), std::nullopt});
    std::sort(places.begin(), places.end(),
              [](const Place& a, const Place& b) { return a.from != b.from ? a.from < b.from : a.to < b.to; });
    std::vector<Place> holes;
    for (const Place& place : places) {
        if (merge && !holes.empty() && pit_span(holes.back(), rates).to >= pit_span(place, rates).from) {
            holes.back() = joined(holes.back(), place);
        } else {
            holes.push_back(place);
        }
    }
    std::vector<Pit> pits;
    for (const Place& hole : holes) pits.push_back(pit(hole, dig, rates, protection, working));
    return pits;
}

}  // namespace patchwright::excavation
