#include "design.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

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

load::SoilLoadInput soil_over(const job::Run& run, const job::Limits& limits) {
    const Length bore = run.working_bore();
    const Length wall = job::wall_thickness(run.material, bore).value;
    const Length cover = run.depth - bore - wall;
    const Length over_crown = std::max(Length{}, packer::head_over_invert(run).value - bore);
    return {.outside_diameter = {bore + 2.0 * wall, Origin::looked_up},
            .cover = {cover, Origin::given},
            .water_over_crown = {std::min(over_crown, cover), run.water_table.origin},
            .soil_unit_weight = {limits.soil_unit_weight, Origin::yard},
            .soil_modulus = {limits.soil_modulus, Origin::yard},
            .traffic = run.traffic};
}

/// The weakest cured wall among the resins that the run may use, so that the felt does whichever is poured.
liner::CuredWall weakest_wall(const job::Yard& yard, const job::Run& run) {
    const job::Resin* weakest = run.resin ? yard.find_resin(*run.resin) : nullptr;
    if (weakest == nullptr) {
        for (const auto& resin : yard.resins) {
            const auto long_term = [](const job::Resin& r) { return r.modulus * r.long_term_share; };
            if (weakest == nullptr || long_term(resin) < long_term(*weakest)) weakest = &resin;
        }
    }
    return weakest ? cured_wall(*weakest) : liner::CuredWall{};
}

/// Whether the resin may be used at all where it is as warm as that; what it then does, its cure must tell.
bool in_range(const job::Resin& resin, const cure::Conditions& conditions) {
    const Temperature low = resin.application_min, high = resin.application_max;
    const bool heated = conditions.heating.medium != cure::Heating::Medium::none;
    return (conditions.pipe.value >= low || heated) && conditions.pipe.value <= high && conditions.resin.value >= low &&
           conditions.resin.value <= high;
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

Designer::Designer(Setting& setting, int run)
    : setting_{setting}, run_{setting.job.runs[static_cast<std::size_t>(run)]}, run_index_{run} {
    // The thickest that any defect of this run may ask for sets what a packer must get past the bends.
    double ovality = *run_.ovality;
    for (const auto& defect : run_.defects) {
        if (defect.kind == job::DefectKind::deformation) ovality = std::max(ovality, defect.size_percent.value_or(0.0));
    }
    const bool missing = std::any_of(run_.defects.begin(), run_.defects.end(), [](const job::Defect& d) {
        return d.kind == job::DefectKind::missing_wall || d.kind == job::DefectKind::fracture_break;
    });
    for (const WallKey& key : {WallKey{false, *run_.ovality}, WallKey{missing, ovality}}) {
        const auto& felts = walls_.emplace(key, make_wall(key)).first->second.felts;
        if (!felts.empty()) felt_allowance_ = std::max(felt_allowance_, felts.front().installed);
    }
}

const Designer::Wall& Designer::wall_for(const SleeveRequest& request) {
    const WallKey key{request.wall_missing, std::max(*run_.ovality, request.ovality_percent)};
    auto place = walls_.find(key);
    if (place == walls_.end()) place = walls_.emplace(key, make_wall(key)).first;
    return place->second;
}

Designer::Wall Designer::make_wall(WallKey key) const {
    const auto& limits = setting_.yard.limits;
    const auto [missing, ovality_percent] = key;
    Wall wall;
    wall.working = setting_.working();
    auto& input = wall.input;
    input.bore = {run_.working_bore(), Origin::given};
    input.ovality = {ovality_percent / 100.0, ovality_percent > *run_.ovality ? Origin::given : run_.ovality.origin};
    input.head_over_invert = packer::head_over_invert(run_);
    input.condition = *run_.condition;
    input.wall_missing = missing;
    input.depth_to_invert = run_.depth;
    input.wall = weakest_wall(setting_.yard, run_);
    input.wall.poisson = {limits.poisson, Origin::yard};
    input.enhancement = {limits.enhancement, Origin::yard};
    input.safety = {limits.safety, Origin::yard};
    input.least = {limits.least_thickness, Origin::yard};
    if (input.fully_deteriorated()) input.soil = soil_over(run_, limits);
    wall.design = liner::design_thickness(input, wall.working);
    if (!wall.design.outside_method) {
        wall.felts = liner::felt_choices(setting_.yard, run_.working_bore(), wall.design.design,
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
    std::map<std::string, int> counts;
    for (const auto& [request, made] : made_) {
        if (!made.patch) ++counts[made.why_not];
    }
    std::vector<std::string> reasons;
    for (const auto& [reason, count] : counts) reasons.push_back(reason);
    std::stable_sort(reasons.begin(), reasons.end(),
                     [&](const auto& a, const auto& b) { return counts[a] > counts[b]; });
    return reasons;
}

Designer::Made Designer::make(const SleeveRequest& request) {
    const Wall& wall = wall_for(request);
    if (wall.design.outside_method) return {nullptr, *wall.design.outside_method};
    auto patch = std::make_shared<Patch>();
    patch->run = run_index_;
    patch->end = static_cast<double>(request.length) * unit::cm;
    patch->bore = run_.working_bore();
    patch->fully_deteriorated = wall.input.fully_deteriorated();
    patch->thickness_input = wall.input;
    patch->thickness = wall.design;
    patch->option = setting_.packers[static_cast<std::size_t>(request.option)];
    patch->working(Calculation::wall) = wall.working;

    if (auto obstacle = choose_felt(*patch, wall)) return {nullptr, *obstacle};
    Working pressing = setting_.working();
    patch->pressure =
        packer::pressure_plan(run_, setting_.yard, patch->option, patch->length(), request.host_cracked, pressing);
    if (!patch->pressure.holds) return {nullptr, patch->pressure.why_not};
    patch->working(Calculation::pressure) = std::move(pressing);

    if (auto obstacle = choose_resin(*patch, request.resin)) return {nullptr, *obstacle};
    return {std::move(patch), {}};
}

std::optional<std::string> Designer::choose_felt(Patch& patch, const Wall& wall) const {
    for (const auto& choice : wall.felts) {
        const auto& felt = setting_.yard.felts[static_cast<std::size_t>(choice.felt)];
        Working cutting = setting_.working();
        const auto cut = liner::cut_sizes(felt, choice, patch.bore, patch.length(), setting_.yard.limits, cutting);
        if (!liner::can_be_cut(felt, cut)) continue;
        patch.felt = choice;
        patch.cut = cut;
        patch.working(Calculation::felt) = std::move(cutting);
        return std::nullopt;
    }
    return fmt::format("no felt of the yard gives {} in a bore of {} at that length",
                       format(Show::thickness, wall.design.design, setting_.job.units),
                       format(Show::tape, patch.bore, setting_.job.units));
}

/// The sleeve wet with that resin: weights, and what the cure starts from.
void Designer::wet(Patch& patch, int resin_index, Working& weighing) {
    const auto& yard = setting_.yard;
    const auto& resin = yard.resins[static_cast<std::size_t>(resin_index)];
    const auto& felt = yard.felts[static_cast<std::size_t>(patch.felt.felt)];
    patch.resin = resin_index;
    patch.need = resin::need(resin, felt, patch.felt.layers, patch.cut.felt_area, yard.limits, weighing);
    const auto [fraction, density] = wet_felt(resin_index, patch.felt);
    patch.sleeve.thickness = patch.felt.installed;
    patch.sleeve.resin_mass = patch.need.total;
    patch.sleeve.resin_mass_fraction = fraction;
    patch.sleeve.wet_density = density;
    patch.surroundings = {patch.bore, job::wall_thickness(run_.material, patch.bore).value, run_.material,
                          packer::head_over_invert(run_).value > Length{}};
    const auto& site = setting_.job.site;
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
}

/// Of one square metre: share and density are of the felt and the resin, to the last bit the same in every sleeve.
Designer::WetFelt Designer::wet_felt(int resin_index, const liner::FeltChoice& choice) {
    const std::tuple key{resin_index, choice.felt, choice.layers};
    const auto known = wet_felts_.find(key);
    if (known != wet_felts_.end()) return known->second;
    const auto& yard = setting_.yard;
    const auto& resin = yard.resins[static_cast<std::size_t>(resin_index)];
    const auto& felt = yard.felts[static_cast<std::size_t>(choice.felt)];
    const Area area = 1.0 * unit::m2;
    Working off = Working::off();
    const Mass fibre = felt.areal_mass * area;
    const Mass in_felt = resin::need(resin, felt, choice.layers, area, yard.limits, off).in_sleeve();
    return wet_felts_.emplace(key, WetFelt{in_felt / (in_felt + fibre), (in_felt + fibre) / (felt.thickness * area)})
        .first->second;
}

/// The cheapest resin that may touch the bladder and whose cure fits. What a resin costs is known before its cure, so
/// they are tried in order of cost and the first that fits is taken.
std::optional<std::string> Designer::choose_resin(Patch& patch, int only) {
    const auto& resins = setting_.yard.resins;
    std::vector<Why> obstacles;
    std::vector<std::pair<Money, int>> trials;
    Working off = Working::off();
    for (std::size_t i = 0; i < resins.size(); ++i) {
        if (run_.resin && *run_.resin != resins[i].id) continue;
        if (only >= 0 && static_cast<int>(i) != only) continue;
        if (packer::contact(patch.option.packer.material, resins[i].kind) == packer::Contact::forbidden) {
            obstacles.push_back([&resin = resins[i], material = patch.option.packer.material] {
                return fmt::format("{} may not touch a {} bladder", resin.id, job::word(material));
            });
            continue;
        }
        try {
            wet(patch, static_cast<int>(i), off);
            price(patch, off);
        } catch (const InputError& error) {
            obstacles.push_back([words = fmt::format("{}: {}", resins[i].id, error.what())] { return words; });
            continue;
        }
        // Asked about one resin alone, the site's warmth may answer before a cure model is fitted.
        if (only >= 0 && !in_range(resins[i], patch.conditions)) {
            obstacles.push_back(
                [&resin = resins[i]] { return fmt::format("{} is not for this site's warmth", resin.id); });
            continue;
        }
        trials.emplace_back(patch.cost, static_cast<int>(i));
    }
    std::stable_sort(trials.begin(), trials.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    // What is certainly too slow or too quick is passed over; only when no other fits must it say by how much.
    std::vector<Why> unfit(trials.size());
    for (std::size_t i = 0; i < trials.size(); ++i) {
        wet(patch, trials[i].second, off);
        if (surely_unfit(patch)) continue;
        unfit[i] = take(patch, trials[i].second);
        if (!unfit[i]) return std::nullopt;
    }
    if (only >= 0 && !trials.empty())
        return resins[static_cast<std::size_t>(only)].id + " does not fit the work or the day";
    for (std::size_t i = 0; i < trials.size(); ++i)
        obstacles.push_back(unfit[i] ? std::move(unfit[i]) : take(patch, trials[i].second));
    if (obstacles.empty()) return "the yard has no resin";
    std::string words;
    for (const Why& obstacle : obstacles) words += (words.empty() ? "" : "; ") + obstacle();
    return words;
}

/// Wets the sleeve with that resin and prices it; what stands in the way, if its cure does not fit.
Designer::Why Designer::take(Patch& patch, int resin) {
    Working weighing = setting_.working(), pricing = setting_.working(), curing = setting_.working();
    wet(patch, resin, weighing);
    if (Why obstacle = cure(patch, curing)) return obstacle;
    price(patch, pricing);
    const auto kind = setting_.yard.resins[static_cast<std::size_t>(resin)].kind;
    if (packer::contact(patch.option.packer.material, kind) == packer::Contact::film_needed)
        patch.notes.push_back("Separating film over the whole bladder, intact, before the wet felt goes on.");
    patch.working(Calculation::resin) = std::move(weighing);
    patch.working(Calculation::price) = std::move(pricing);
    patch.working(Calculation::cure) = std::move(curing);
    return {};
}

}  // namespace patchwright::plan
