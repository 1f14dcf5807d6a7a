#include "design.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "patchwright/job/pipe_table.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::plan {
namespace {

liner::CuredWall cured_wall(const job::Resin& resin) {
    return {{resin.modulus, Origin::yard},
            {resin.long_term_share, Origin::yard},
            {resin.flexural_strength, Origin::yard},
            {0.3, Origin::assumed}};
}

/// Soil and water both over the pipe's crown, the outside of its top.
load::SoilLoadInput soil_over(const job::Run& run, const job::Limits& limits) {
    const Length bore = run.working_bore();
    const Length wall = job::wall_thickness(run.material, bore).value;
    const Length cover = run.depth - bore - wall;
    const Length over_crown = std::max(Length{}, packer::head_over_invert(run).value - bore - wall);
    return {.outside_diameter = {bore + 2.0 * wall, Origin::looked_up},
            .cover = {cover, Origin::given},
            .water_over_crown = {std::min(over_crown, cover), run.water_table.origin},
            .soil_unit_weight = {limits.soil_unit_weight, Origin::yard},
            .soil_modulus = {limits.soil_modulus, Origin::yard},
            .traffic = run.traffic};
}

}  // namespace

Duration hands_on(const job::Durations& d, Length sleeve, bool to_build, std::size_t reopened) {
    return d.cut.likely + (to_build ? d.build.likely : Duration{}) + d.bench_test.likely + d.wet_out.likely +
           sleeve.in(unit::m)*d.wet_out_per_m.likely + d.load.likely + d.position.likely + d.inflate.likely +
           d.crease.likely + d.let_down.likely + d.re_survey.likely + static_cast<double>(reopened) * d.reopen.likely;
}

CleaningTimes cleaning_times(const job::Durations& d, const job::Run& run) {
    // A root cutter works a few metres to either side of what it was sent for. Common practice, no source.
    constexpr Length root_stretch = 5.0 * unit::m;
    CleaningTimes time{run.length.in(10.0 * unit::m) * d.clean_per_10_m.likely, {}};
    for (const auto& defect : run.defects) {
        if (defect.kind != job::DefectKind::root_intrusion) continue;
        time.roots += std::min(run.length, (defect.to - defect.at) + root_stretch).in(10.0 * unit::m) *
                      d.clean_roots_per_10_m.likely;
    }
    return time;
}

Designer::Designer(PlanContext& context, int run)
    : context_{context}, run_{context.job.runs[static_cast<std::size_t>(run)]}, run_index_{run} {
    // The thickest that any defect that can be patched may ask for sets what a packer must get past the bends.
    double ovality = *run_.ovality;
    for (const auto& defect : run_.defects) {
        const double deformed = defect.size_percent.value_or(0.0);
        if (defect.kind == job::DefectKind::deformation && deformed <= context.yard.limits.ovality_most)
            ovality = std::max(ovality, deformed);
    }
    const bool missing = std::any_of(run_.defects.begin(), run_.defects.end(), [](const job::Defect& d) {
        return d.kind == job::DefectKind::missing_wall || d.kind == job::DefectKind::fracture_break;
    });
    for (int resin = 0; resin < static_cast<int>(context.yard.resins.size()); ++resin) {
        if (!may_use(resin)) continue;
        for (const WallKey& key : {WallKey{false, *run_.ovality, resin}, WallKey{missing, ovality, resin}}) {
            const auto& felts = wall_for(key).felts;
            if (!felts.empty()) felt_allowance_ = std::max(felt_allowance_, felts.front().installed);
        }
    }
}

bool Designer::may_use(int resin) const {
    return !run_.resin || *run_.resin == context_.yard.resins[static_cast<std::size_t>(resin)].id;
}

const Designer::Wall& Designer::wall_for(WallKey key) {
    auto place = walls_.find(key);
    if (place == walls_.end()) place = walls_.emplace(key, make_wall(key)).first;
    return place->second;
}

Designer::Wall Designer::make_wall(WallKey key) const {
    const auto& limits = context_.yard.limits;
    const auto [missing, ovality_percent, resin] = key;
    Wall wall;
    wall.working = context_.working();
    auto& input = wall.input;
    input.bore = {run_.working_bore(), Origin::given};
    input.ovality = {ovality_percent / 100.0, ovality_percent > *run_.ovality ? Origin::given : run_.ovality.origin};
    input.head_over_invert = packer::head_over_invert(run_);
    input.condition = *run_.condition;
    input.wall_missing = missing;
    input.depth_to_invert = run_.depth;
    input.wall = cured_wall(context_.yard.resins[static_cast<std::size_t>(resin)]);
    input.wall.poisson = {limits.poisson, Origin::yard};
    input.enhancement = {limits.enhancement, Origin::yard};
    input.safety = {limits.safety, Origin::yard};
    input.least = {limits.least_thickness, Origin::yard};
    if (input.fully_deteriorated()) input.soil = soil_over(run_, limits);
    try {
        wall.design = liner::design_thickness(input, wall.working);
    } catch (const RangeError& error) {  // of one sleeve, not of the whole job
        wall.design.outside_method = error.what();
    }
    if (!wall.design.outside_method) {
        wall.felts = liner::felt_choices(context_.yard, run_.working_bore(), wall.design.design,
                                         limits.most_wall_share * run_.working_bore());
    }
    return wall;
}

std::shared_ptr<const Patch> Designer::design(const SleeveRequest& request) {
    auto place = made_.find(request);
    if (place == made_.end()) place = made_.emplace(request, make(request)).first;
    return place->second.patch;
}

std::vector<std::string> Designer::obstacles() const {
    std::map<std::string, std::pair<int, int>> counts;  // how far a packer got before it failed; how often
    for (const auto& [request, made] : made_) {
        if (made.patch) continue;
        auto& [got_to, count] = counts[made.why_not];
        got_to = std::max(got_to, made.got_to);
        ++count;
    }
    std::vector<std::string> reasons;
    for (const auto& [reason, count] : counts) reasons.push_back(reason);
    std::stable_sort(reasons.begin(), reasons.end(),
                     [&](const auto& a, const auto& b) { return counts[a] > counts[b]; });
    return reasons;
}

Designer::Made Designer::make(const SleeveRequest& request) {
    auto patch = std::make_shared<Patch>();
    patch->run = run_index_;
    patch->end = static_cast<double>(request.length) * unit::cm;
    patch->bore = run_.working_bore();
    patch->option = context_.packers[static_cast<std::size_t>(request.option)];
    Working pressing = context_.working();
    patch->pressure =
        packer::pressure_plan(run_, context_.yard, patch->option, patch->length(), request.host_cracked, pressing);
    if (!patch->pressure.holds) return {nullptr, patch->pressure.why_not, patch->pressure.fails_when_cold ? 1 : 0};
    patch->working(Calculation::pressure) = std::move(pressing);
    if (auto obstacle = choose_resin(*patch, request)) return {nullptr, *obstacle, 2};
    return {std::move(patch), {}};
}

/// The wall that this resin needs, and the thinnest felt of the yard that gives it and can be cut to the sleeve.
Designer::Why Designer::lay(Patch& patch, const SleeveRequest& request, int resin, Working& cutting) {
    const Wall& wall = wall_for({request.wall_missing, std::max(*run_.ovality, request.ovality_percent), resin});
    if (wall.design.outside_method) return [&wall] { return *wall.design.outside_method; };
    patch.fully_deteriorated = wall.input.fully_deteriorated();
    patch.thickness_input = wall.input;
    patch.thickness = wall.design;
    for (const auto& choice : wall.felts) {
        const auto& felt = context_.yard.felts[static_cast<std::size_t>(choice.felt)];
        Working trying = cutting;
        patch.cut = liner::cut_sizes(felt, choice, patch.bore, patch.length(), context_.yard.limits, trying);
        if (!liner::can_be_cut(felt, patch.cut)) continue;
        patch.felt = choice;
        cutting = std::move(trying);
        return {};
    }
    return [&wall, bore = patch.bore, units = context_.job.units] {
        return fmt::format("no felt of the yard gives {} in a bore of {} at that length",
                           format(Show::thickness, wall.design.design, units), format(Show::tape, bore, units));
    };
}

/// The sleeve wet with that resin: weights, and what the cure starts from.
void Designer::wet(Patch& patch, const ResinChoice& choice, Working& weighing) {
    const auto& yard = context_.yard;
    const int resin_index = choice.resin;
    const auto& resin = yard.resins[static_cast<std::size_t>(resin_index)];
    const auto& felt = yard.felts[static_cast<std::size_t>(patch.felt.felt)];
    patch.resin = resin_index;
    patch.conditioned = false;
    patch.need = resin::need(resin, felt, patch.felt.layers, patch.cut.felt_area, yard.limits, weighing);
    const auto [fraction, density] = resin::wet_felt(resin, felt);
    patch.sleeve.thickness = patch.felt.installed;
    patch.sleeve.resin_mass = patch.need.total;
    patch.sleeve.resin_mass_fraction = fraction;
    patch.sleeve.wet_density = density;
    patch.sleeve.table_layers = felt.form == job::FeltForm::sewn_tube ? 2.0 : 1.0;  // laid flat it keeps its warmth
    patch.surroundings = {patch.bore, job::wall_thickness(run_.material, patch.bore).value, run_.material,
                          packer::head_over_invert(run_).value > Length{}};
    const auto& site = context_.job.site;
    const auto& d = yard.durations;
    auto& conditions = patch.conditions;
    conditions.pipe = run_.ground_temperature;
    conditions.air = site.air_temperature;
    conditions.resin = site.resin_temperature ? Sourced<Temperature>{*site.resin_temperature, Origin::given}
                                              : Sourced<Temperature>{yard.limits.resin_temperature, Origin::yard};
    conditions.van =
        site.van_temperature ? Sourced<Temperature>{*site.van_temperature, Origin::given} : site.air_temperature;
    conditions.wet_out = d.wet_out.likely + patch.length().in(unit::m)*d.wet_out_per_m.likely;
    conditions.load = d.load.likely;
    conditions.position = d.position.likely;
    conditions.inflate = d.inflate.likely;
    patch.tasks = cure::sleeve_tasks(d, patch.length(), yard.limits);
    conditions.crease = patch.tasks.back().likely;
    heat(patch, choice.heater);
}

std::vector<ResinChoice> Designer::choices() const {
    std::vector<ResinChoice> list;
    for (int resin = 0; resin < static_cast<int>(context_.yard.resins.size()); ++resin) {
        if (!may_use(resin)) continue;
        list.push_back({resin, -1});
        // A heater keeps its medium moving through the bladder: not with the air shut in.
        if (context_.yard.limits.air != job::AirSupply::regulated) continue;
        for (int heater = 0; heater < static_cast<int>(context_.yard.heaters.size()); ++heater)
            if (context_.yard.heaters[static_cast<std::size_t>(heater)].count > 0) list.push_back({resin, heater});
    }
    return list;
}

/// The cheapest choice that may touch the bladder and keeps both promises. What a choice costs with its resin as it
/// comes is known before its cure, so they are tried in that order; one whose resin must be cooled or warmed first
/// costs more, and a later one may still be cheaper.
std::optional<std::string> Designer::choose_resin(Patch& patch, const SleeveRequest& request) {
    const auto& resins = context_.yard.resins;
    const bool any = request.choice.resin < 0;
    std::vector<Why> obstacles;
    std::vector<std::pair<Money, ResinChoice>> trials;
    Working off = Working::off();
    for (const ResinChoice& choice : choices()) {
        if (any ? choice.heater >= 0 : choice != request.choice) continue;
        const auto& resin = resins[static_cast<std::size_t>(choice.resin)];
        if (packer::contact(patch.option.packer.material, resin.kind) == packer::Contact::forbidden) {
            obstacles.push_back([&resin, material = patch.option.packer.material] {
                return fmt::format("{} may not touch a {} bladder", resin.id, job::word(material));
            });
            continue;
        }
        if (choice.heater >= 0) {
            const auto& heater = context_.yard.heaters[static_cast<std::size_t>(choice.heater)];
            if (const auto why = cure::why_not_heated(heater, patch.option.packer.material, run_.material, resin)) {
                obstacles.push_back([words = *why] { return words; });
                continue;
            }
        }
        try {
            if (Why obstacle = lay(patch, request, choice.resin, off)) {
                obstacles.push_back(std::move(obstacle));
                continue;
            }
            wet(patch, choice, off);
            price(patch, off);
        } catch (const Error& error) {
            obstacles.push_back([words = fmt::format("{}: {}", resin.id, error.what())] { return words; });
            continue;
        }
        trials.emplace_back(patch.cost, choice);
    }
    std::stable_sort(trials.begin(), trials.end());
    std::optional<Patch> best;
    for (const auto& [cost, choice] : trials) {
        if (best && best->cost <= cost) break;
        Patch trial = patch;
        if (Why unfit = take(trial, request, choice))
            obstacles.push_back(std::move(unfit));
        else if (!best || trial.cost < best->cost)
            best = std::move(trial);
    }
    if (best) {
        patch = std::move(*best);
        return std::nullopt;
    }
    if (obstacles.empty()) return "the yard has no resin";
    // What all resins have in common, a wall outside the method say, is said once.
    std::vector<std::string> said;
    for (const Why& obstacle : obstacles) {
        auto words = obstacle();
        if (std::find(said.begin(), said.end(), words) == said.end()) said.push_back(std::move(words));
    }
    return fmt::format("{}", fmt::join(said, "; "));
}

/// Wets the sleeve with that resin and prices it; what stands in the way, if its cure does not fit.
Designer::Why Designer::take(Patch& patch, const SleeveRequest& request, const ResinChoice& choice) {
    const int resin = choice.resin;
    Working cutting = context_.working(), weighing = context_.working();
    Working pricing = context_.working(), curing = context_.working();
    lay(patch, request, resin, cutting);
    wet(patch, choice, weighing);
    if (Why obstacle = cure(patch, curing)) {
        if (!condition(patch)) return obstacle;
        curing = context_.working();
        cure(patch, curing);
    }
    price(patch, pricing);
    const auto kind = context_.yard.resins[static_cast<std::size_t>(resin)].kind;
    if (packer::contact(patch.option.packer.material, kind) == packer::Contact::film_needed)
        patch.notes.push_back("Separating film over the whole bladder, intact, before the wet felt goes on.");
    if (patch.conditioned)
        patch.notes.push_back(fmt::format("Parts A and B at {} before they are mixed: {} beforehand, and measured.",
                                          format(Show::temperature, *patch.conditions.resin, context_.job.units),
                                          *patch.conditions.resin < as_it_comes() ? "cooled" : "warmed"));
    explain_heating(patch);
    const auto& wall = wall_for({request.wall_missing, std::max(*run_.ovality, request.ovality_percent), resin});
    patch.working(Calculation::wall) = wall.working;
    patch.working(Calculation::felt) = std::move(cutting);
    patch.working(Calculation::resin) = std::move(weighing);
    patch.working(Calculation::price) = std::move(pricing);
    patch.working(Calculation::cure) = std::move(curing);
    return {};
}

}  // namespace patchwright::plan
