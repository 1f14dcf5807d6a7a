#include "whole_jobs.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "by_count.hpp"
#include "finish.hpp"
#include "whole.hpp"
#include "work.hpp"

namespace patchwright::plan {
namespace {

/// One whole job that was looked at, and how it ranks: as few patches without a day as possible, then the net price.
struct Trial {
    std::vector<Pick> picks;
    PatchList patches;
    bool no_order = false;  ///< the ways in block each other
    int days = 0;
    std::size_t impossible = 0;  ///< patches that no day holds
    bool proven_optimal = false;
    Money net;
    std::tuple<bool, std::size_t, std::int64_t> rank() const { return {no_order, impossible, net.in_cents()}; }
};

/// Another way to do the job is worth a line on the offer up to so much over the best.
constexpr Share worth_offering = Share::millionths(150'000);

/// What a look at one whole job may cost; the best one's days are gone through in full.
constexpr std::int64_t quick_steps = schedule::default_budget / 25;

/// The search for the best whole job: the k cheapest layouts re-priced with mixes, days, felt and kits, and from the
/// best of them on, other packers and other ways in for the same sleeves, as long as that makes the job cheaper. A sum
/// over patches cannot see that two sleeves on one packer take two days.
class WholeJobs {
public:
    WholeJobs(Setting& setting, const std::vector<RunPlan>& runs, Spaces& spaces)
        : setting_{setting}, runs_{runs}, spaces_{spaces} {}

    /// Looks at one whole job, unless it was looked at before; true when it is the best so far.
    bool consider(const std::vector<Pick>& picks) {
        auto patches = patches_of(setting_, runs_, spaces_, picks);
        if (!seen_.insert(marks_of(picks, patches)).second) return false;
        return rank(look(picks, std::move(patches)));
    }
    Trial look(const std::vector<Pick>& picks) { return look(picks, patches_of(setting_, runs_, spaces_, picks)); }
    Trial look(const std::vector<Pick>& picks, PatchList patches) {
        ++looked_;
        Trial trial;
        trial.picks = picks;
        trial.patches = std::move(patches);
        trial.no_order = wait_in_circle(setting_, trial.patches);
        if (trial.no_order) return trial;
        auto job = sketch(setting_, trial.patches, quick_steps);
        trial.days = job.days;
        trial.impossible = job.impossible;
        trial.proven_optimal = job.proven_optimal;
        trial.net = patch_net(setting_, std::move(job.works));
        if (trial.impossible == 0) note_way(trial);
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
    /// The same sleeves all wet with another resin: what sets sooner may save a day that its price does not show.
    void try_resins() {
        for (std::size_t resin = 0; resin < setting_.yard.resins.size(); ++resin) {
            auto picks = best_->picks;
            const bool all = std::all_of(picks.begin(), picks.end(), [&](Pick& pick) {
                const auto r = static_cast<std::size_t>(pick.run);
                const auto price = price_at(setting_, runs_[r], *spaces_[r], pick.candidate, static_cast<int>(resin));
                if (!price) return false;
                pick.resin = static_cast<int>(resin);
                pick.candidate.cost = *price;
                return true;
            });
            if (all) consider(picks);
        }
    }
    /// Changes one sleeve's packer or way at a time; the cheaper job goes on. Ends when nothing helps any more.
    void improve() {
        // Each look at a longer list of sleeves takes longer, and each round has more of them.
        const int looks_most = looked_ + std::clamp(2400 / static_cast<int>(best_->picks.size() + 1), 20, 380);
        try_resins();
        for (bool better = true; better && looked_ < looks_most;) {
            better = false;
            for (std::size_t i = 0; i < best_->picks.size() && looked_ < looks_most; ++i) {
                for (const auto& pick : alternatives(i)) {
                    auto picks = best_->picks;
                    picks[i] = pick;
                    if (consider(picks)) better = true;
                }
            }
        }
    }
    /// Looks at the same job with one sleeve more or less in a run, and with one sleeve for all of it.
    void look_at_other_counts() {
        for (std::size_t r = 0; r < runs_.size(); ++r) {
            const auto now =
                static_cast<std::size_t>(std::count_if(best_->picks.begin(), best_->picks.end(), [&](const Pick& pick) {
                    return pick.run == static_cast<int>(r);
                }));
            if (now == 0) continue;
            for (const std::size_t count : std::set<std::size_t>{1, now - 1, now + 1}) {
                if (count == now || count == 0) continue;
                const auto sleeves = cheapest_of(runs_[r].problem, runs_[r].solution, count);
                if (sleeves.empty() ||
                    layout::violations(runs_[r].problem, sleeves).size() > runs_[r].solution.uncovered.size())
                    continue;
                consider(with_run(static_cast<int>(r), sleeves, false));
                // Side by side on one day only when they come from different mouths.
                if (sleeves.size() > 1) consider(with_run(static_cast<int>(r), sleeves, true));
            }
        }
    }
    Trial& best() { return *best_; }
    int looked() const { return looked_; }
    const std::optional<std::pair<Money, PatchList>>& second() const { return second_; }

private:
    /// What tells one whole job from another: of each sleeve its run and place, packer, resin and mouth. Other picks
    /// often come to the same job: a second way in that a run does not have, a resin that a sleeve has already.
    using Marks = std::vector<std::tuple<int, layout::Centimetre, layout::Centimetre, int, int, std::string_view>>;
    static Marks marks_of(const std::vector<Pick>& picks, const PatchList& patches) {
        Marks marks;
        for (std::size_t i = 0; i < picks.size(); ++i) {
            const auto& c = picks[i].candidate;
            marks.emplace_back(picks[i].run, c.start, c.end, c.carrier, patches[i]->resin, patches[i]->rigging.from);
        }
        return marks;
    }
    bool rank(Trial trial) {
        if (best_ && trial.rank() >= best_->rank()) {
            note_second(trial);
            return false;
        }
        if (best_) note_second(*best_);
        best_ = std::move(trial);
        return true;
    }
    /// The cheapest by the number of sleeves; `more` holds the whole net price until the best is known.
    void note_way(const Trial& trial) {
        OtherWay way{trial.picks.size(), {}, trial.days, trial.net};
        for (const Patch* p : trial.patches) way.longest = std::max(way.longest, p->length());
        const auto [place, fresh] = ways_.emplace(way.patches, way);
        if (!fresh && way.more < place->second.more) place->second = way;
    }
    void note_second(const Trial& trial) {
        if (!trial.no_order && trial.impossible == 0 && (!second_ || trial.net < second_->first))
            second_ = {trial.net, trial.patches};
    }
    /// The best job's picks with other sleeves in one run; `last_from_afar`: the last of them by its other mouth.
    std::vector<Pick> with_run(int run, const std::vector<layout::Candidate>& sleeves, bool last_from_afar) const {
        std::vector<Pick> picks;
        for (const auto& pick : best_->picks) {
            if (pick.run < run) picks.push_back(pick);
        }
        for (const auto& sleeve : sleeves) picks.push_back({run, sleeve, 0});
        if (last_from_afar) picks.back().way = 1;
        for (const auto& pick : best_->picks) {
            if (pick.run > run) picks.push_back(pick);
        }
        return picks;
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
            const auto price = price_at(setting_, runs_[r], *spaces_[r], other.candidate, other.resin);
            if (!price) continue;
            other.candidate.cost = *price;
            packers.push_back(other);
        }
        std::stable_sort(packers.begin(), packers.end(),
                         [](const Pick& a, const Pick& b) { return a.candidate.cost < b.candidate.cost; });
        std::vector<Pick> list{{now.run, now.candidate, now.way + 1, now.resin}};
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
    std::optional<std::pair<Money, PatchList>> second_;
    std::map<std::size_t, OtherWay> ways_;
    std::set<Marks> seen_;  ///< views into the workspaces' patches
    int looked_ = 0;
};

/// Where the chosen candidates stand in the runs' lists; one that only the whole job asked for is added to its list.
void note_chosen(std::vector<RunPlan>& runs, const std::vector<Pick>& picks) {
    for (const auto& pick : picks) {
        auto& run = runs[static_cast<std::size_t>(pick.run)];
        auto& list = run.solution.candidates;
        const auto& c = pick.candidate;
        auto place = std::find_if(list.begin(), list.end(), [&](const layout::Candidate& other) {
            return other.start == c.start && other.end == c.end && other.carrier == c.carrier && other.cost == c.cost;
        });
        if (place == list.end()) place = list.insert(list.end(), c);
        run.chosen.push_back(static_cast<int>(place - list.begin()));
    }
}

}  // namespace

Whole best_whole(Setting& setting, Plan& plan, Spaces& spaces) {
    std::vector<std::vector<std::int64_t>> lists;
    for (const auto& run : plan.runs) {
        auto& list = lists.emplace_back();
        for (const auto& layout : run.solution.best) list.push_back(layout.cost);
    }
    const auto combinations = cheapest_sums(lists, setting.options.k_best);
    WholeJobs jobs{setting, plan.runs, spaces};
    for (const auto& combination : combinations) jobs.consider(picks_of(plan.runs, combination));
    if (jobs.best().no_order || jobs.best().days > 1 || jobs.best().impossible > 0) jobs.improve();
    if (setting.options.price && !jobs.best().no_order) jobs.look_at_other_counts();

    auto& best = jobs.best();
    Whole whole;
    if (!best.no_order) {
        const auto steps = best.proven_optimal ? quick_steps : schedule::default_budget;
        whole = compose(setting, best.patches, steps);
    }
    // Patches that no day can hold are left out, said so, and the rest is planned without them.
    if (!whole.schedule.impossible.empty()) {
        const auto why = whole.schedule.why_impossible;
        std::vector<std::string> ids;
        for (const int p : whole.schedule.impossible) ids.push_back(whole.patches[static_cast<std::size_t>(p)].id);
        std::vector<Pick> kept;
        for (std::size_t i = 0; i < best.patches.size(); ++i) {
            const Patch& patch = *best.patches[i];
            if (std::find(ids.begin(), ids.end(), patch.id) == ids.end())
                kept.push_back(best.picks[i]);
            else
                plan.runs[static_cast<std::size_t>(patch.run)].no_day = true;
        }
        best = jobs.look(kept);
        whole = best.no_order ? Whole{} : compose(setting, best.patches, quick_steps);
        whole.warnings.insert(whole.warnings.end(), why.begin(), why.end());
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
        summary.second_more = more;
        summary.difference = fmt::format("Best of {} whole jobs. The next best costs {}: {}.", jobs.looked(),
                                         more.is_zero() ? "the same" : format(more) + " more",
                                         spans_text(jobs.second()->second, setting.job.units));
    }
    note_chosen(plan.runs, best.picks);
    return whole;
}

}  // namespace patchwright::plan
