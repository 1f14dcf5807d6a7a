#include "picks.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "finish.hpp"

namespace patchwright::plan {
namespace {

constexpr std::array<Symbol, 2> with_reopening_inputs{
    {{"K", "marginal cost of the sleeve", Show::money}, {"O", "connections cut open again", Show::money}}};
constexpr Formula with_reopening{"price.with_reopening",
                                 {"Kp", "marginal cost of the patch", Show::money},
                                 "Kp = K + O",
                                 with_reopening_inputs,
                                 "common practice, no source",
                                 "price"};

/// What the defects inside a sleeve ask of its wall.
void ask_for_wall(const RunPlan& run, const RunRules& rules, int first, int last, SleeveRequest& request) {
    for (int t = first; t <= last; ++t) {
        const auto defect = static_cast<std::size_t>(rules.target_defects[static_cast<std::size_t>(t)]);
        const auto& assessment = run.verdicts[defect].assessment;
        request.wall_missing = request.wall_missing || assessment.wall_missing;
        request.ovality_percent = std::max(request.ovality_percent, assessment.ovality_percent.value_or(0.0));
    }
}

SleeveRequest request_for(const PlanContext& context, const RunPlan& run, const RunWorkspace& space,
                          layout::Centimetre start, layout::Centimetre end, int carrier, int first, int last,
                          const ResinChoice& choice) {
    SleeveRequest request;
    request.choice = choice;
    request.length = end - start;
    request.option = space.rules.carrier_option[static_cast<std::size_t>(carrier)];
    ask_for_wall(run, space.rules, first, last, request);
    const auto& option = context.packers[static_cast<std::size_t>(request.option)];
    const Length tail = packer::tail(option, static_cast<double>(request.length) * unit::cm);
    request.host_cracked = space.walls.weak_within(static_cast<double>(start) * unit::cm - tail,
                                                   static_cast<double>(end) * unit::cm + tail);
    return request;
}

Patch make_placed(PlanContext& context, const RunPlan& run, RunWorkspace& space, const Pick& pick) {
    const auto& candidate = pick.candidate;
    const auto request = request_for(context, run, space, candidate.start, candidate.end, candidate.carrier,
                                     candidate.first_target, candidate.last_target, pick.choice);
    Patch patch = *space.designer.design(request);
    const auto& job_run = space.designer.run();
    patch.start = static_cast<double>(candidate.start) * unit::cm;
    patch.end = static_cast<double>(candidate.end) * unit::cm;
    const Money sleeve = patch.cost;
    patch.cost = Money::cents(candidate.cost, context.yard.rates.currency);
    if (patch.cost != sleeve)
        patch.working(Calculation::price).add(with_reopening, {sleeve, patch.cost - sleeve}, patch.cost);
    for (int t = candidate.first_target; t <= candidate.last_target; ++t) {
        const int defect = space.rules.target_defects[static_cast<std::size_t>(t)];
        patch.defects.push_back(defect);
        const auto& assessment = run.verdicts[static_cast<std::size_t>(defect)].assessment;
        for (const auto& words : assessment.preparations) {
            if (std::find(patch.preparations.begin(), patch.preparations.end(), words) == patch.preparations.end()) {
                patch.preparations.push_back(words);
            }
        }
    }
    const bool piece = patch.option.packer.shape != job::PackerShape::straight;
    for (std::size_t i = 0; i < space.rules.problem.connections.size() && !piece; ++i) {
        const auto& opening = space.rules.problem.connections[i].opening;
        if (opening.from < candidate.end && candidate.start < opening.to) {
            patch.reopened.push_back(space.rules.connection_fitting[i]);
            patch.notes.push_back("Covers a live connection: cut it open after the cure and brush the edge.");
        }
    }
    rig(context, job_run, pick.way, patch);
    return patch;
}

}  // namespace

std::optional<layout::Cost> price_at(PlanContext& context, const RunPlan& run, RunWorkspace& space,
                                     const layout::Candidate& c, const ResinChoice& choice) {
    const auto request =
        request_for(context, run, space, c.start, c.end, c.carrier, c.first_target, c.last_target, choice);
    const auto patch = space.designer.design(request);
    if (!patch) return std::nullopt;
    const bool way = packer::has_way(space.designer.run(), space.walls, context.yard, patch->option,
                                     static_cast<double>(c.start) * unit::cm, static_cast<double>(c.end) * unit::cm,
                                     patch->felt.installed);
    if (!way) return std::nullopt;
    return patch->cost.in_cents();
}

layout::Pricer pricer(PlanContext& context, const RunPlan& run, RunWorkspace& space) {
    return [&](layout::Centimetre start, layout::Centimetre end, int carrier, int first, int last) {
        return price_at(context, run, space, {start, end, carrier, first, last, 0});
    };
}

const Patch& placed(PlanContext& context, const RunPlan& run, RunWorkspace& space, const Pick& pick) {
    const auto& c = pick.candidate;
    const RunWorkspace::PlaceKey key{c.start,       c.end,  c.carrier, c.first_target,
                                     c.last_target, c.cost, pick.way,  pick.choice};
    auto place = space.placed.find(key);
    if (place == space.placed.end()) place = space.placed.emplace(key, make_placed(context, run, space, pick)).first;
    return place->second;
}

std::string spans_text(const PlanContext& context, const PatchList& patches) {
    const auto units = context.job.units;
    std::string words;
    for (const auto* p : patches) {
        words += fmt::format("{}{} {} to {} on {}", words.empty() ? "" : "; ",
                             context.job.runs[static_cast<std::size_t>(p->run)].id,
                             format(Show::run_distance, p->start, units), format(Show::run_distance, p->end, units),
                             p->option.packer.id);
    }
    return words;
}

}  // namespace patchwright::plan
