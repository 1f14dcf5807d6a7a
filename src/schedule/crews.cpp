// One day's mixes shared out among the crews: every run stays with one crew, and each crew drives out with its own
// packers and air lines.
#include <algorithm>
#include <numeric>

#include "model.hpp"

namespace patchwright::schedule {
namespace {

constexpr int splits_most = 600;  ///< ways of sharing packers and lines that are tried for one sharing of the runs

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Mixes that must stay together because they work in one run or wait for each other, by the first of them.
std::vector<int> groups_of(const Model& model, const std::vector<int>& mixes, const CrewDay& carried,
                           std::vector<int>& group_of_mix) {
    std::vector<int> parent(model.problem->runs.size());
    std::iota(parent.begin(), parent.end(), 0);
    const auto root = [&](int r) {
        while (parent[at(r)] != r) r = parent[at(r)];
        return r;
    };
    const auto today = [&](int patch) {
        return std::find(mixes.begin(), mixes.end(), model.patch(patch).batch) != mixes.end() ||
               std::find(carried.carried.begin(), carried.carried.end(), patch) != carried.carried.end();
    };
    for (int mix : mixes) {
        const auto& patches = model.mixes[at(mix)].patches;
        const int home = model.patch(patches.front()).run;
        for (int patch : patches) {
            parent[at(root(model.patch(patch).run))] = root(home);
            for (int other : model.patch(patch).after)
                if (today(other)) parent[at(root(model.patch(other).run))] = root(home);
        }
    }
    for (int patch : carried.carried)
        parent[at(root(model.patch(patch).run))] = root(model.patch(carried.carried.front()).run);
    std::vector<int> roots;
    if (!carried.carried.empty()) roots.push_back(root(model.patch(carried.carried.front()).run));
    group_of_mix.clear();
    for (int mix : mixes) {
        const int r = root(model.patch(model.mixes[at(mix)].patches.front()).run);
        auto found = std::find(roots.begin(), roots.end(), r);
        if (found == roots.end()) found = roots.insert(roots.end(), r);
        group_of_mix.push_back(static_cast<int>(found - roots.begin()));
    }
    return roots;
}

class Sharing {
public:
    Sharing(const Model& model, const std::vector<int>& mixes, const CrewDay& carried, Minute latest, bool any,
            std::int64_t& budget)
        : model_{model}, mixes_{mixes}, carried_{carried}, latest_{latest}, any_{any}, budget_{budget} {}

    DayPlan run() {
        roots_ = groups_of(model_, mixes_, carried_, group_of_mix_);
        crew_of_group_.assign(roots_.size(), 0);
        best_.proven = true;
        best_.bound = latest_ + 1;
        colour(0, 0);
        if (best_.found)
            best_.bound = best_.proven && !any_ ? best_.work.finish() : std::min(best_.bound, best_.work.finish());
        return std::move(best_);
    }

private:
    void colour(std::size_t group, int used) {
        if (done_) return;
        if (group == crew_of_group_.size()) {
            share_out(std::max(used, 1));
            return;
        }
        for (int crew = 0; crew < std::min(used + 1, model_.crews); ++crew) {
            crew_of_group_[group] = crew;
            colour(group + 1, std::max(used, crew + 1));
        }
    }

    void share_out(int crews) {
        days_.assign(at(crews), CrewDay{});
        for (CrewDay& day : days_) day.packers.assign(model_.problem->packers.size(), 0);
        days_[0].carried = carried_.carried;
        days_[0].carried_at = carried_.carried_at;
        for (std::size_t k = 0; k < mixes_.size(); ++k) {
            CrewDay& day = days_[at(crew_of_group_[at(group_of_mix_[k])])];
            day.mixes.push_back(mixes_[k]);
            if (std::find(carried_.overnight.begin(), carried_.overnight.end(), mixes_[k]) != carried_.overnight.end())
                day.overnight.push_back(mixes_[k]);
        }
        splits_ = 0;
        split_kind(0);
    }

    int users(int crew, int kind) const {
        int count = 0;
        for (int mix : days_[at(crew)].mixes)
            for (int patch : model_.mixes[at(mix)].patches) count += model_.patch(patch).packer == kind ? 1 : 0;
        if (crew == 0)
            for (int patch : carried_.carried) count += model_.patch(patch).packer == kind ? 1 : 0;
        return count;
    }

    void split_kind(std::size_t kind) {
        if (kind == model_.problem->packers.size()) {
            split_lines(0, model_.problem->air_lines);
            return;
        }
        give(kind, 0, model_.problem->packers[kind].count);
    }
    /// Every way to hand out the packers of a kind: none to who has no use for it, all of them handed out.
    void give(std::size_t kind, int crew, int left) {
        if (done_) return;
        const int crews = static_cast<int>(days_.size());
        if (crew == crews) {
            split_kind(kind + 1);
            return;
        }
        const int wanted = users(crew, static_cast<int>(kind));
        bool last = true;
        for (int c = crew + 1; c < crews; ++c) last = last && users(c, static_cast<int>(kind)) == 0;
        const int least = wanted == 0 ? 0 : (last ? left : 1);
        const int most = wanted == 0 ? 0 : left;
        for (int n = least; n <= most; ++n) {
            days_[at(crew)].packers[kind] = n;
            give(kind, crew + 1, left - n);
        }
    }
    void split_lines(int crew, int left) {
        if (done_) return;
        const int crews = static_cast<int>(days_.size());
        if (crew == crews - 1) {
            if (left < 1) return;
            days_[at(crew)].air_lines = left;
            evaluate();
            return;
        }
        for (int n = 1; n < left; ++n) {
            days_[at(crew)].air_lines = n;
            split_lines(crew + 1, left - n);
        }
    }

    void evaluate() {
        if (++splits_ > splits_most) {
            best_.proven = false;
            return;
        }
        WorkDay work;
        work.crews = days_;
        Minute waiting = 0, lower = 0;
        const Minute limit = best_.found ? best_.work.finish() : latest_;
        for (const CrewDay& day : days_) {
            CrewPlan plan = plan_crew(model_, day, limit, any_, budget_);
            lower = std::max(lower, plan.bound);
            if (!plan.proven && !(plan.found && any_)) {
                best_.proven = false;
                best_.bound = std::min(best_.bound, lower);
            }
            if (!plan.found) return;
            waiting += plan.waiting;
            work.plans.push_back(std::move(plan));
        }
        const auto key = std::pair{work.finish(), waiting};
        if (best_.found && key >= std::pair{best_.work.finish(), best_waiting_}) return;
        best_.found = true;
        best_.work = std::move(work);
        best_waiting_ = waiting;
        if (any_) done_ = true;
    }

    const Model& model_;
    const std::vector<int>& mixes_;
    const CrewDay& carried_;
    Minute latest_;
    bool any_;
    std::int64_t& budget_;
    std::vector<int> roots_, group_of_mix_, crew_of_group_;
    std::vector<CrewDay> days_;
    DayPlan best_;
    Minute best_waiting_ = 0;
    int splits_ = 0;
    bool done_ = false;
};

}  // namespace

DayPlan plan_day(const Model& model, const std::vector<int>& mixes, const CrewDay& carried, Minute latest, bool any,
                 std::int64_t& budget) {
    if (model.crews > 1) return Sharing{model, mixes, carried, latest, any, budget}.run();
    CrewDay day = carried;
    day.mixes = mixes;
    day.packers = model.packers;
    day.air_lines = model.problem->air_lines;
    CrewPlan plan = plan_crew(model, day, latest, any, budget);
    DayPlan out;
    out.found = plan.found;
    out.proven = plan.proven;
    out.bound = plan.bound;
    if (plan.found) {
        out.work.crews.push_back(std::move(day));
        out.work.plans.push_back(std::move(plan));
    }
    return out;
}

}  // namespace patchwright::schedule
