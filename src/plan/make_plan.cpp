#include <algorithm>
#include <map>
#include <optional>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "combine.hpp"
#include "design.hpp"
#include "figures.hpp"
#include "finish.hpp"
#include "patchwright/plan/plan.hpp"
#include "rules.hpp"
#include "whole.hpp"
#include "work.hpp"

namespace patchwright::plan {
namespace {

/// One run on its way through the plan.
struct RunWorkspace {
    Designer designer;
    RunRules rules;
    packer::WallIndex walls;
    RunWorkspace(Setting& setting, int run)
        : designer{setting, run}, walls{setting.job.runs[static_cast<std::size_t>(run)]} {}
};
using Spaces = std::vector<std::unique_ptr<RunWorkspace>>;

/// A patch of a layout: which candidate, and by which of its ways the packer comes in.
struct Pick {
    int run = 0;
    layout::Candidate candidate;
    int way = 0;
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

SleeveRequest request_for(const Setting& setting, const RunPlan& run, const RunWorkspace& space,
                          layout::Centimetre start, layout::Centimetre end, int carrier, int first, int last) {
    SleeveRequest request;
    request.length = end - start;
    request.option = space.rules.carrier_option[static_cast<std::size_t>(carrier)];
    ask_for_wall(run, space.rules, first, last, request);
    const auto& option = setting.packers[static_cast<std::size_t>(request.option)];
    const Length tail = packer::tail(option, static_cast<double>(request.length) * unit::cm);
    request.host_cracked = space.walls.weak_within(static_cast<double>(start) * unit::cm - tail,
                                                   static_cast<double>(end) * unit::cm + tail);
    return request;
}

/// Price of a sleeve at a place: its design's, if it has one and a packer can be brought there and lie there.
std::optional<layout::Cost> price_at(Setting& setting, const RunPlan& run, RunWorkspace& space,
                                     const layout::Candidate& c) {
    const auto request = request_for(setting, run, space, c.start, c.end, c.carrier, c.first_target, c.last_target);
    const auto patch = space.designer.design(request);
    if (!patch) return std::nullopt;
    const bool way = packer::has_way(space.designer.run(), space.walls, setting.yard, patch->option,
                                     static_cast<double>(c.start) * unit::cm, static_cast<double>(c.end) * unit::cm,
                                     patch->felt.installed);
    if (!way) return std::nullopt;
    return patch->cost.in_cents();
}

layout::Pricer pricer(Setting& setting, const RunPlan& run, RunWorkspace& space) {
    return [&](layout::Centimetre start, layout::Centimetre end, int carrier, int first, int last) {
        return price_at(setting, run, space, {start, end, carrier, first, last, 0});
    };
}

Patch placed(Setting& setting, const RunPlan& run, RunWorkspace& space, const Pick& pick, int number) {
    const auto& candidate = pick.candidate;
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
    rig(setting, job_run, pick.way, patch);
    return patch;
}

std::vector<Pick> picks_of(const std::vector<RunPlan>& runs, const Combination& combination) {
    std::vector<Pick> picks;
    for (std::size_t r = 0; r < runs.size(); ++r) {
        const int choice = combination.choice[r];
        if (choice < 0) continue;
        for (const int k : runs[r].solution.best[static_cast<std::size_t>(choice)].chosen) {
            picks.push_back({static_cast<int>(r), runs[r].solution.candidates[static_cast<std::size_t>(k)], 0});
        }
    }
    return picks;
}

std::vector<Patch> patches_of(Setting& setting, const std::vector<RunPlan>& runs, Spaces& spaces,
                              const std::vector<Pick>& picks) {
    std::vector<Patch> patches;
    int number = 0;
    for (std::size_t i = 0; i < picks.size(); ++i) {
        number = i > 0 && picks[i - 1].run == picks[i].run ? number + 1 : 1;
        const auto r = static_cast<std::size_t>(picks[i].run);
        patches.push_back(placed(setting, runs[r], *spaces[r], picks[i], number));
    }
    return patches;
}

std::string spans_text(const std::vector<Patch>& patches, UnitSystem units) {
    std::vector<const Patch*> sorted;
    for (const auto& p : patches) sorted.push_back(&p);
    std::sort(sorted.begin(), sorted.end(), [](const Patch* a, const Patch* b) { return a->id < b->id; });
    std::string words;
    for (const auto* p : sorted) {
        words += fmt::format("{}{} {} to {} on {}", words.empty() ? "" : "; ", p->id,
                             format(Show::run_distance, p->start, units), format(Show::run_distance, p->end, units),
                             p->option.packer.id);
    }
    return words;
}

/// One whole job that was looked at, and how it ranks: as few patches without a day as possible, then the net price.
struct Trial {
    Whole whole;
    std::vector<Pick> picks;
    Money net;
    bool no_order = false;  ///< the ways in block each other
    std::tuple<bool, std::size_t, std::int64_t> rank() const {
        return {no_order, whole.schedule.impossible.size(), net.in_cents()};
    }
};

/// Another way to do the job is worth a line on the offer up to so much over the best.
constexpr Share worth_offering = Share::millionths(150'000);

/// The search for the best whole job: the k cheapest layouts re-priced with mixes, days, felt and kits, and from the
/// best of them on, other packers and other ways in for the same sleeves, as long as that makes the job cheaper. A sum
/// over patches cannot see that two sleeves on one packer take two days.
class WholeJobs {
public:
    WholeJobs(Setting& setting, const std::vector<RunPlan>& runs, Spaces& spaces)
        : setting_{setting}, runs_{runs}, spaces_{spaces} {}

    Trial look(const std::vector<Pick>& picks) {
        ++looked_;
        auto patches = patches_of(setting_, runs_, spaces_, picks);
        Trial trial{{}, picks, {}, wait_in_circle(setting_, patches)};
        if (trial.no_order) return trial;
        trial.whole = compose(setting_, std::move(patches));
        trial.net = patch_net(setting_, trial.whole);
        if (trial.whole.schedule.impossible.empty()) note_way(trial);
        return trial;
    }
    /// Cheapest whole job of each other number of sleeves, where it costs little more than the best.
    std::vector<OtherWay> others() const {
        std::vector<OtherWay> list;
        for (const auto& [count, way] : ways_) {
            if (count == best_->picks.size() || way.more > best_->net + share_of(best_->net, worth_offering)) continue;
            list.push_back(way);
            list.back().more -= best_->net;
        }
        return list;
    }
    void consider(Trial trial) {
        if (best_ && trial.rank() >= best_->rank()) {
            note_second(trial);
            return;
        }
        if (best_) note_second(*best_);
        best_ = std::move(trial);
    }
    /// Changes one sleeve's packer or way at a time; the cheaper job goes on. Ends when nothing helps any more.
    void improve() {
        constexpr int looks_most = 400;
        for (bool better = true; better && looked_ < looks_most;) {
            better = false;
            for (std::size_t i = 0; i < best_->picks.size() && looked_ < looks_most; ++i) {
                for (const auto& pick : alternatives(i)) {
                    auto picks = best_->picks;
                    picks[i] = pick;
                    auto trial = look(picks);
                    better = better || trial.rank() < best_->rank();
                    consider(std::move(trial));
                }
            }
        }
    }
    Trial& best() { return *best_; }
    int looked() const { return looked_; }
    const std::optional<std::pair<Money, std::string>>& second() const { return second_; }

private:
    /// The cheapest by the number of sleeves; `more` holds the whole net price until the best is known.
    void note_way(const Trial& trial) {
        OtherWay way{trial.picks.size(), {}, static_cast<int>(trial.whole.schedule.days.size()), trial.net};
        for (const auto& p : trial.whole.patches) way.longest = std::max(way.longest, p.length());
        const auto [place, fresh] = ways_.emplace(way.patches, way);
        if (!fresh && way.more < place->second.more) place->second = way;
    }
    void note_second(const Trial& trial) {
        if (!trial.no_order && trial.whole.schedule.impossible.empty() && (!second_ || trial.net < second_->first)) {
            second_ = {trial.net, spans_text(trial.whole.patches, setting_.job.units)};
        }
    }
    /// Whether the run's sleeves keep the layout's rules with that one in place of another.
    bool allowed(const std::vector<Pick>& picks, int run) const {
        std::vector<layout::Candidate> sleeves;
        for (const auto& pick : picks) {
            if (pick.run == run) sleeves.push_back(pick.candidate);
        }
        const auto& planned = runs_[static_cast<std::size_t>(run)];
        return layout::violations(planned.problem, sleeves).size() <= planned.solution.uncovered.size();
    }
    const std::string& kind(const Pick& pick) const {
        const auto& run = runs_[static_cast<std::size_t>(pick.run)];
        return run.carrier_packers[static_cast<std::size_t>(pick.candidate.carrier)];
    }
    /// Other ways in, and other packers: of those that no other sleeve uses the day sees no difference, so only the
    /// cheapest of them counts, and one that others use only when it is cheaper still.
    std::vector<Pick> alternatives(std::size_t i) const {
        const Pick now = best_->picks[i];
        const auto r = static_cast<std::size_t>(now.run);
        const auto used_elsewhere = [&](const Pick& pick) {
            for (std::size_t k = 0; k < best_->picks.size(); ++k) {
                if (k != i && kind(best_->picks[k]) == kind(pick)) return true;
            }
            return false;
        };
        std::vector<Pick> packers;
        for (std::size_t c = 0; c < runs_[r].problem.carriers.size(); ++c) {
            Pick other = now;
            other.candidate.carrier = static_cast<int>(c);
            other.way = 0;
            if (other.candidate.carrier == now.candidate.carrier) continue;
            auto picks = best_->picks;
            picks[i] = other;
            if (!allowed(picks, now.run)) continue;
            const auto price = price_at(setting_, runs_[r], *spaces_[r], other.candidate);
            if (!price) continue;
            other.candidate.cost = *price;
            packers.push_back(other);
        }
        std::stable_sort(packers.begin(), packers.end(),
                         [](const Pick& a, const Pick& b) { return a.candidate.cost < b.candidate.cost; });
        std::vector<Pick> list{{now.run, now.candidate, now.way + 1}};
        for (Pick& pick : packers) {
            list.push_back(pick);
            pick.way = 1;
            list.push_back(pick);
            if (!used_elsewhere(pick)) break;
        }
        return list;
    }

    Setting& setting_;
    const std::vector<RunPlan>& runs_;
    Spaces& spaces_;
    std::optional<Trial> best_;
    std::optional<std::pair<Money, std::string>> second_;
    std::map<std::size_t, OtherWay> ways_;
    int looked_ = 0;
};

/// Where the chosen candidates stand in the runs' lists; one that only the whole job asked for is added to its list.
void note_chosen(std::vector<RunPlan>& runs, const std::vector<Pick>& picks) {
    for (const auto& pick : picks) {
        auto& run = runs[static_cast<std::size_t>(pick.run)];
        auto& list = run.solution.candidates;
        const auto& c = pick.candidate;
        auto place = std::find_if(list.begin(), list.end(), [&](const layout::Candidate& other) {
            return other.start == c.start && other.end == c.end && other.carrier == c.carrier;
        });
        if (place == list.end()) place = list.insert(list.end(), c);
        run.chosen.push_back(static_cast<int>(place - list.begin()));
    }
}

Whole best_whole(Setting& setting, Plan& plan, Spaces& spaces) {
    std::vector<std::vector<std::int64_t>> lists;
    for (const auto& run : plan.runs) {
        auto& list = lists.emplace_back();
        for (const auto& layout : run.solution.best) list.push_back(layout.cost);
    }
    const auto combinations = cheapest_sums(lists, setting.options.k_best);
    WholeJobs jobs{setting, plan.runs, spaces};
    for (const auto& combination : combinations) jobs.consider(jobs.look(picks_of(plan.runs, combination)));
    const auto& schedule = jobs.best().whole.schedule;
    if (jobs.best().no_order || schedule.days.size() > 1 || !schedule.impossible.empty()) jobs.improve();

    auto& best = jobs.best();
    // Patches that no day can hold are left out, said so, and the rest is planned without them.
    if (const auto impossible = best.whole.schedule.impossible; !impossible.empty()) {
        const auto why = best.whole.schedule.why_impossible;
        std::vector<std::string> ids;
        for (const int p : impossible) ids.push_back(best.whole.patches[static_cast<std::size_t>(p)].id);
        std::vector<Pick> kept;
        const auto all = patches_of(setting, plan.runs, spaces, best.picks);
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (std::find(ids.begin(), ids.end(), all[i].id) == ids.end())
                kept.push_back(best.picks[i]);
            else
                plan.runs[static_cast<std::size_t>(all[i].run)].no_day = true;
        }
        best = jobs.look(kept);
        best.whole.warnings.insert(best.whole.warnings.end(), why.begin(), why.end());
    }
    auto& summary = plan.layout;
    summary.cost = Money::cents(0, setting.yard.rates.currency);
    for (const auto& pick : best.picks) summary.cost += Money::cents(pick.candidate.cost, setting.yard.rates.currency);
    summary.repriced = jobs.looked();
    if (!best.picks.empty()) summary.others = jobs.others();
    summary.proven_optimal = !best.picks.empty() && summary.cost.in_cents() == combinations.front().cost &&
                             std::all_of(plan.runs.begin(), plan.runs.end(), [](const RunPlan& r) {
                                 return r.problem.targets.empty() || r.solution.proven_optimal;
                             });
    if (jobs.second()) {
        const Money more = jobs.second()->first - best.net;
        summary.second_best = jobs.second()->first;
        summary.difference = fmt::format("Best of {} whole jobs. The next best costs {}: {}.", jobs.looked(),
                                         more.is_zero() ? "the same" : format(more) + " more", jobs.second()->second);
    }
    note_chosen(plan.runs, best.picks);
    return std::move(best.whole);
}

}  // namespace

Plan make_plan(const job::Job& job, const job::Yard& yard, const Options& options) {
    Setting setting{job, yard, options};
    Plan plan;
    Spaces spaces;
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
        // A longer sleeve takes more of everything and fits less often; the search checks it as it goes.
        search.law = layout::PriceLaw::rising;
        if (!run.problem.targets.empty())
            run.solution = layout::solve(run.problem, pricer(setting, run, space), search);
        run.unanswered = obstacle_words(setting, space.designer, space.rules, run.solution.obstacles);
        plan.runs.push_back(std::move(run));
    }
    finish(setting, best_whole(setting, plan, spaces), plan);
    return plan;
}

}  // namespace patchwright::plan
