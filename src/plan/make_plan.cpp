#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "combine.hpp"
#include "design.hpp"
#include "figures.hpp"
#include "finish.hpp"
#include "patchwright/plan/plan.hpp"
#include "rules.hpp"
#include "whole.hpp"

namespace patchwright::plan {
namespace {

/// One run on its way through the plan.
struct RunWorkspace {
    Designer designer;
    RunRules rules;
    RunWorkspace(Setting& setting, int run) : designer{setting, run} {}
};

std::vector<Verdict> verdicts_of(const job::Run& run, const job::Limits& limits, UnitSystem units) {
    std::vector<Verdict> verdicts;
    for (const auto& defect : run.defects) verdicts.push_back({defect.id, survey::judge(run, defect, limits, units)});
    return verdicts;
}

/// What the defects inside a sleeve ask of its wall.
void ask_for_wall(const RunPlan& run, const RunRules& rules, int first, int last, SleeveRequest& request) {
    for (int t = first; t <= last; ++t) {
        const auto defect = static_cast<std::size_t>(rules.target_defects[static_cast<std::size_t>(t)]);
        const auto& judgement = run.verdicts[defect].judgement;
        request.wall_missing = request.wall_missing || judgement.wall_missing;
        request.ovality_percent = std::max(request.ovality_percent, judgement.ovality_percent.value_or(0.0));
    }
}

SleeveRequest request_for(const Setting& setting, const RunPlan& run, const RunWorkspace& space, layout::Centimetre start,
                          layout::Centimetre end, int carrier, int first, int last) {
    SleeveRequest request;
    request.length = end - start;
    request.option = space.rules.carrier_option[static_cast<std::size_t>(carrier)];
    ask_for_wall(run, space.rules, first, last, request);
    const auto& option = setting.packers[static_cast<std::size_t>(request.option)];
    const Length tail = packer::tail(option, static_cast<double>(request.length) * unit::cm);
    request.host_cracked = packer::host_cracked(space.designer.run(), static_cast<double>(start) * unit::cm - tail,
                                                static_cast<double>(end) * unit::cm + tail);
    return request;
}

/// A sleeve also needs a way in, and its bare bladder must lie in pipe.
bool can_be_placed(const Setting& setting, const job::Run& run, const packer::Option& option, Length start, Length end,
                   Length felt) {
    const auto lie = packer::lie(run, setting.yard, option, start, end);
    if (!lie.in_pipe && !lie.restraint_needed) return false;
    Working off = Working::off();
    return !packer::riggings(run, setting.yard, option, start, end, felt, off).empty();
}

layout::Pricer pricer(Setting& setting, const RunPlan& run, RunWorkspace& space) {
    return [&](layout::Centimetre start, layout::Centimetre end, int carrier, int first, int last) -> std::optional<layout::Cost> {
        const auto request = request_for(setting, run, space, start, end, carrier, first, last);
        const auto patch = space.designer.design(request);
        if (!patch) return std::nullopt;
        if (!can_be_placed(setting, space.designer.run(), patch->option, static_cast<double>(start) * unit::cm,
                           static_cast<double>(end) * unit::cm, patch->felt.installed)) {
            return std::nullopt;
        }
        return patch->cost.in_cents();
    };
}

Patch placed(Setting& setting, const RunPlan& run, RunWorkspace& space, const layout::Candidate& candidate, int number) {
    const auto request = request_for(setting, run, space, candidate.start, candidate.end, candidate.carrier,
                                     candidate.first_target, candidate.last_target);
    Patch patch = *space.designer.design(request);
    const auto& job_run = space.designer.run();
    patch.id = fmt::format("{}-P{}", job_run.id, number);
    patch.start = static_cast<double>(candidate.start) * unit::cm;
    patch.end = static_cast<double>(candidate.end) * unit::cm;
    patch.cost = Money::cents(candidate.cost, setting.yard.rates.currency);
    for (int t = candidate.first_target; t <= candidate.last_target; ++t) {
        const int defect = space.rules.target_defects[static_cast<std::size_t>(t)];
        patch.defects.push_back(defect);
        const auto& judgement = run.verdicts[static_cast<std::size_t>(defect)].judgement;
        for (const auto& words : judgement.preparations) {
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
    rig(setting, job_run, patch);
    return patch;
}

std::vector<Patch> patches_of(Setting& setting, const std::vector<RunPlan>& runs,
                              std::vector<std::unique_ptr<RunWorkspace>>& spaces, const Combination& combination) {
    std::vector<Patch> patches;
    for (std::size_t r = 0; r < runs.size(); ++r) {
        const int choice = combination.choice[r];
        if (choice < 0) continue;
        int number = 0;
        for (const int k : runs[r].solution.best[static_cast<std::size_t>(choice)].chosen) {
            patches.push_back(placed(setting, runs[r], *spaces[r], runs[r].solution.candidates[static_cast<std::size_t>(k)], ++number));
        }
    }
    return patches;
}

std::string spans_text(const std::vector<Patch>& patches, UnitSystem units) {
    std::vector<const Patch*> sorted;
    for (const auto& p : patches) sorted.push_back(&p);
    std::sort(sorted.begin(), sorted.end(), [](const Patch* a, const Patch* b) { return a->id < b->id; });
    std::string words;
    for (const auto* p : sorted) {
        words += fmt::format("{}{} {} to {} on {}", words.empty() ? "" : "; ", p->id, format(Show::run_distance, p->start, units),
                             format(Show::run_distance, p->end, units), p->option.packer.id);
    }
    return words;
}

/// The whole job that costs least of the k cheapest layouts, each re-priced with mixes, days, felt and kits.
struct Best {
    Whole whole;
    Combination combination;
    LayoutSummary summary;
};
Best best_whole(Setting& setting, const std::vector<RunPlan>& runs, std::vector<std::unique_ptr<RunWorkspace>>& spaces) {
    std::vector<std::vector<std::int64_t>> lists;
    for (const auto& run : runs) {
        auto& list = lists.emplace_back();
        for (const auto& layout : run.solution.best) list.push_back(layout.cost);
    }
    std::optional<Best> best;
    std::optional<std::pair<Money, std::string>> second;
    Money best_net;
    const auto combinations = cheapest_sums(lists, setting.options.k_best);
    for (const auto& combination : combinations) {
        auto whole = compose(setting, patches_of(setting, runs, spaces, combination));
        const Money net = patch_net(setting, whole);
        const auto cost = [](const Whole& w) { return w.schedule.impossible.size(); };
        const bool wins = !best || std::pair{cost(whole), net.in_cents()} < std::pair{cost(best->whole), best_net.in_cents()};
        if (wins) {
            if (best) second = {best_net, spans_text(best->whole.patches, setting.job.units)};
            best = Best{std::move(whole), combination, {}};
            best_net = net;
        } else if (!second || net < second->first) {
            second = {net, spans_text(whole.patches, setting.job.units)};
        }
    }
    auto& summary = best->summary;
    summary.cost = Money::cents(best->combination.cost, setting.yard.rates.currency);
    summary.repriced = static_cast<int>(combinations.size());
    summary.proven_optimal = best->combination.choice == combinations.front().choice &&
                             std::all_of(runs.begin(), runs.end(), [](const RunPlan& r) { return r.solution.proven_optimal; });
    if (second) {
        summary.second_best = second->first;
        const Money more = second->first - best_net;
        summary.difference = fmt::format("Best of {} whole jobs. The next best costs {}: {}.", combinations.size(),
                                         more.is_zero() ? "the same" : format(more) + " more", second->second);
    }
    return std::move(*best);
}

}  // namespace

Plan make_plan(const job::Job& job, const job::Yard& yard, const Options& options) {
    Setting setting{job, yard, options};
    Plan plan;
    std::vector<std::unique_ptr<RunWorkspace>> spaces;
    for (std::size_t r = 0; r < job.runs.size(); ++r) {
        auto& space = *spaces.emplace_back(std::make_unique<RunWorkspace>(setting, static_cast<int>(r)));
        RunPlan run;
        run.id = job.runs[r].id;
        run.verdicts = verdicts_of(job.runs[r], yard.limits, job.units);
        std::vector<survey::Judgement> judgements;
        for (const auto& verdict : run.verdicts) judgements.push_back(verdict.judgement);
        run.remarks = survey::run_remarks(job.runs[r], judgements, yard.limits, job.units);
        space.rules = run_rules(setting, space.designer, run.verdicts);
        run.problem = space.rules.problem;
        run.target_defects = space.rules.target_defects;
        for (const int option : space.rules.carrier_option) {
            run.carrier_packers.push_back(setting.packers[static_cast<std::size_t>(option)].packer.id);
        }
        layout::Options search;
        search.k_best = options.k_best;
        if (!run.problem.targets.empty()) run.solution = layout::solve(run.problem, pricer(setting, run, space), search);
        run.unanswered = obstacle_words(setting, space.designer, space.rules, run.solution.obstacles);
        plan.runs.push_back(std::move(run));
    }
    auto best = best_whole(setting, plan.runs, spaces);
    for (std::size_t r = 0; r < plan.runs.size(); ++r) plan.runs[r].chosen = best.combination.choice[r];
    plan.layout = std::move(best.summary);
    finish(setting, std::move(best.whole), plan);
    return plan;
}

}  // namespace patchwright::plan
