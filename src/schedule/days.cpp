// Which mixes on which day.
#include <algorithm>
#include <bit>
#include <limits>
#include <map>

#include "model.hpp"

namespace patchwright::schedule {
namespace {

constexpr std::size_t exact_most = 12;  ///< mixes whose every split into days is weighed

using Mask = std::uint32_t;
std::size_t at(int i) { return static_cast<std::size_t>(i); }

class Allocator {
public:
    Allocator(const Model& model, const std::vector<int>& mixes, const Effort& effort)
        : model_{model}, mixes_{mixes}, effort_{effort} {
        const std::size_t n = std::min(mixes_.size(), exact_most);
        before_.assign(n, 0);
        for (std::size_t b = 0; b < n; ++b)
            for (int patch : model_.mixes[at(mixes_[b])].patches)
                for (int other : model_.patch(patch).after)
                    for (std::size_t a = 0; a < n; ++a)
                        if (a != b && model_.patch(other).batch == mixes_[a]) before_[b] |= Mask{1} << a;
    }

    Allocation exact();
    Allocation greedy();

private:
    std::vector<int> subset(Mask mask) const {
        std::vector<int> out;
        for (std::size_t b = 0; b < mixes_.size(); ++b)
            if (mask >> b & 1U) out.push_back(mixes_[b]);
        return out;
    }
    DayPlan day(const std::vector<int>& mixes, Minute latest, bool any, std::int64_t budget) const {
        return plan_day(model_, mixes, CrewDay{}, latest, any, budget);
    }
    Minute finish() const { return model_.problem->finish; }
    /// What must be done before those mixes, outside them.
    Mask before(Mask mask) const {
        Mask out = 0;
        for (std::size_t b = 0; b < before_.size(); ++b)
            if (mask >> b & 1U) out |= before_[b];
        return out & ~mask;
    }
    void find_fitting();
    void fewest();
    void choose_last(Allocation& out);
    WorkDay neat(Mask mask);

    const Model& model_;
    const std::vector<int>& mixes_;
    const Effort& effort_;
    std::vector<Mask> before_;
    struct Set {
        Mask mask = 0, before = 0;
    };
    std::vector<Set> fitting_;  ///< sets that fit into one day, large first
    std::vector<int> days_;     ///< fewest days, by set of mixes done
    std::vector<Mask> last_;    ///< the set of the last of those days
    bool sure_ = true;
};

bool parts_fit(Mask mask, const std::vector<char>& fits) {
    for (Mask rest = mask; rest != 0; rest &= rest - 1)
        if (fits[mask & ~(rest & -rest)] == 0) return false;
    return true;
}

/// The next greater set of as many.
Mask next_of_size(Mask mask) {
    const Mask least = mask & -mask, raised = mask + least;
    return raised | ((mask ^ raised) >> 2) / least;
}

/// Sets that fit into a day; each mix alone is known to. Leaving a mix out never makes a day longer, so a set fits only
/// if all its parts do.
void Allocator::find_fitting() {
    const Mask all = (Mask{1} << mixes_.size()) - 1;
    std::vector<char> fits(all + 1, 0);
    for (Mask mask = 1; mask <= all; mask <<= 1) {
        fits[mask] = 1;
        fitting_.push_back({mask, before(mask)});
    }
    std::size_t found = mixes_.size();
    for (std::size_t size = 2; size <= mixes_.size() && found > 0; ++size) {
        std::vector<Set> of_size;
        for (Mask mask = (Mask{1} << size) - 1; mask <= all; mask = next_of_size(mask)) {
            if (!parts_fit(mask, fits)) continue;
            const DayPlan plan = day(subset(mask), finish(), true, effort_.fitting);
            fits[mask] = plan.found ? 1 : 0;
            if (!plan.found && !plan.proven) sure_ = false;
            if (plan.found) of_size.push_back({mask, before(mask)});
        }
        found = of_size.size();
        fitting_.insert(fitting_.begin(), of_size.begin(), of_size.end());
    }
}

void Allocator::fewest() {
    const Mask all = (Mask{1} << mixes_.size()) - 1;
    days_.assign(all + 1, std::numeric_limits<int>::max());
    last_.assign(all + 1, 0);
    days_[0] = 0;
    for (Mask done = 0; done < all; ++done) {
        if (days_[done] == std::numeric_limits<int>::max()) continue;
        for (const Set& set : fitting_) {
            if ((set.mask & done) != 0 || (set.before & ~done) != 0) continue;
            const Mask next = done | set.mask;
            if (days_[done] + 1 < days_[next]) {
                days_[next] = days_[done] + 1;
                last_[next] = set.mask;
            }
        }
    }
}

/// A set that is known to fit, with the best order that the budget finds.
WorkDay Allocator::neat(Mask mask) {
    const std::vector<int> mixes = subset(mask);
    DayPlan plan = day(mixes, finish(), false, effort_.search / 8);
    if (!plan.found) plan = day(mixes, finish(), true, effort_.fitting);
    return std::move(plan.work);
}

void Allocator::choose_last(Allocation& out) {
    const Mask all = (Mask{1} << mixes_.size()) - 1;
    std::vector<Mask> lasts;
    for (const auto& [set, forerunners] : fitting_)
        if (days_[all & ~set] == days_[all] - 1 && (before(all & ~set) & set) == 0) lasts.push_back(set);
    std::stable_sort(lasts.begin(), lasts.end(), [](Mask a, Mask b) { return std::popcount(a) < std::popcount(b); });
    DayPlan best;
    Mask chosen = 0;
    Minute bound = finish() + 1, best_waiting = 0;
    for (Mask set : lasts) {
        DayPlan plan = day(subset(set), best.found ? best.work.finish() : finish(), false, effort_.search);
        if (!plan.proven) {
            sure_ = false;
            bound = std::min(bound, plan.bound);
        }
        if (!plan.found) continue;
        Minute waiting = 0;
        for (const CrewPlan& crew : plan.work.plans) waiting += crew.waiting;
        if (best.found && std::pair{plan.work.finish(), waiting} >= std::pair{best.work.finish(), best_waiting})
            continue;
        best = std::move(plan);
        best_waiting = waiting;
        chosen = set;
    }
    std::vector<WorkDay> earlier;
    for (Mask done = all & ~chosen; done != 0; done &= ~last_[done]) earlier.push_back(neat(last_[done]));
    out.days.assign(std::make_move_iterator(earlier.rbegin()), std::make_move_iterator(earlier.rend()));
    out.days.push_back(std::move(best.work));
    out.bound = std::min(bound, out.days.back().finish());
}

Allocation Allocator::exact() {
    Allocation out;
    find_fitting();
    fewest();
    choose_last(out);
    out.fewest_days = sure_ ? static_cast<int>(out.days.size()) : 1;
    out.proven = sure_;
    if (sure_) out.bound = out.days.back().finish();
    return out;
}

/// Hands-on and waiting minutes that some one thing must give, over what it can give in a day.
int least_days(const Model& model, const std::vector<int>& mixes) {
    const Problem& problem = *model.problem;
    Minute work = 0, row = 0;
    std::map<int, Minute> kinds;
    std::map<int, char> runs;
    for (int mix : mixes) {
        const MixModel& m = model.mixes[at(mix)];
        Minute longest = m.length;
        work += m.length;
        for (int patch : m.patches) {
            const PatchWork& p = model.patch(patch);
            work += p.cut + p.bench_test + p.let_down + model.inspect(patch);
            longest = std::max(longest, p.mix_to_let_down + p.let_down);
            Minute load = 0;
            for (const BlockVariant& v : m.variants)
                for (std::size_t k = 0; k < v.order.size(); ++k)
                    if (v.order[k] == patch) load = std::max(load, v.sleeves[k].load);
            kinds[p.packer] += p.bench_test > 0 ? p.bench_test + p.mix_to_let_down + p.let_down
                                                : std::max(0, p.mix_to_let_down - load + p.let_down);
            runs[p.run] = 1;
        }
        row += longest;
    }
    for (const auto& [run, used] : runs) {
        const RunWork& r = model.run(run);
        work += r.set_up + r.clean + r.survey + r.flow_control;
    }
    const Minute day = problem.finish - problem.start - 2 * problem.travel - problem.pack_up;
    const auto days = [&](Minute sum, int servers) {
        const Minute capacity = day * servers;
        return capacity <= 0 ? 1 : std::max(1, (sum + capacity - 1) / capacity);
    };
    int least = days(work, model.crews);
    if (problem.watch_cure && problem.crew_size <= 2) least = std::max(least, days(row, model.crews));
    for (const auto& [kind, sum] : kinds) least = std::max(least, days(sum, problem.packers[at(kind)].count));
    return least;
}

/// Mixes into the first day that still holds them, in the order given and in some others; the shortest result stays.
Allocation Allocator::greedy() {
    const auto fill = [&](std::vector<int> left) {
        std::vector<std::vector<int>> days;
        while (!left.empty()) {
            std::vector<int> today, later;
            for (int mix : left) {
                std::vector<int> with = today;
                with.push_back(mix);
                bool ready = true;
                for (int patch : model_.mixes[at(mix)].patches)
                    for (int other : model_.patch(patch).after)
                        ready =
                            ready && std::find(later.begin(), later.end(), model_.patch(other).batch) == later.end();
                if (ready && day(with, finish(), true, effort_.fitting / 10).found)
                    today = std::move(with);
                else
                    later.push_back(mix);
            }
            if (today.empty()) break;  // cannot happen: every mix fits into a day of its own
            days.push_back(std::move(today));
            left = std::move(later);
        }
        return days;
    };
    std::vector<std::vector<int>> orders{mixes_, mixes_};
    std::stable_sort(orders[0].begin(), orders[0].end(), [&](int a, int b) {
        return model_.patch(model_.mixes[at(a)].patches.front()).run <
               model_.patch(model_.mixes[at(b)].patches.front()).run;
    });
    Allocation best;
    for (std::vector<int>& order : orders) {
        // A later patch's forerunners come first, or it would never be ready.
        std::vector<int> sorted;
        while (!order.empty()) {
            const auto next = std::find_if(order.begin(), order.end(), [&](int mix) {
                for (int patch : model_.mixes[at(mix)].patches)
                    for (int other : model_.patch(patch).after)
                        if (std::find(order.begin(), order.end(), model_.patch(other).batch) != order.end())
                            return false;
                return true;
            });
            const auto taken = next == order.end() ? order.begin() : next;
            sorted.push_back(*taken);
            order.erase(taken);
        }
        Allocation out;
        for (const std::vector<int>& mixes : fill(sorted)) {
            DayPlan plan = day(mixes, finish(), false, effort_.fitting);
            if (!plan.found) plan = day(mixes, finish(), true, effort_.fitting / 10);
            out.days.push_back(std::move(plan.work));
        }
        const auto key = [](const Allocation& a) { return std::pair{a.days.size(), a.days.back().finish()}; };
        if (best.days.empty() || key(out) < key(best)) best = std::move(out);
    }
    best.fewest_days = least_days(model_, mixes_);
    std::int64_t none = 0;
    best.bound = finish();
    for (int mix : mixes_)
        best.bound = std::min(best.bound, plan_day(model_, {mix}, CrewDay{}, finish(), true, none).bound);
    return best;
}

/// Overnight cures one after the other, each day filled up with what else it holds.
Allocation with_nights(const Model& model, std::vector<int> regular, std::vector<int> overnight, const Effort& effort) {
    Allocation out;
    CrewDay carried;
    const Minute latest = model.problem->finish;
    while (!regular.empty() || !overnight.empty() || !carried.carried.empty()) {
        std::vector<int> today;
        std::vector<int> left;
        CrewDay in = carried;
        // A forerunner that is not let down before this night is over keeps its followers waiting.
        const auto waits = [&](int mix) {
            for (int patch : model.mixes[at(mix)].patches)
                for (int other : model.patch(patch).after) {
                    const int first = model.patch(other).batch;
                    const auto in_list = [first](const std::vector<int>& list) {
                        return std::find(list.begin(), list.end(), first) != list.end();
                    };
                    if (in_list(in.overnight)) return true;
                    if ((in_list(regular) || in_list(overnight)) && !in_list(today)) return true;
                }
            return false;
        };
        const auto try_add = [&](int mix, bool night) {
            if (waits(mix)) return false;
            std::vector<int> with = today;
            with.push_back(mix);
            CrewDay next = in;
            if (night) next.overnight.push_back(mix);
            std::int64_t budget = effort.fitting;
            if (!plan_day(model, with, next, latest, true, budget).found) return false;
            today = std::move(with);
            in = std::move(next);
            return true;
        };
        for (int mix : overnight)
            if (!try_add(mix, true)) left.push_back(mix);
        overnight = std::move(left);
        left.clear();
        for (int mix : regular)
            if (!try_add(mix, false)) left.push_back(mix);
        regular = std::move(left);
        if (today.empty() && in.carried.empty()) break;  // cannot happen: what is left fits into a day of its own
        std::int64_t budget = effort.search / 8;
        DayPlan plan = plan_day(model, today, in, latest, false, budget);
        if (!plan.found) {
            budget = effort.fitting;
            plan = plan_day(model, today, in, latest, true, budget);
        }
        if (!plan.found) break;
        carried = CrewDay{};
        for (std::size_t c = 0; c < plan.work.plans.size(); ++c)
            for (const Step& step : plan.work.plans[c].steps) {
                const auto& nights = plan.work.crews[c].overnight;
                if (step.piece != Piece::block || std::find(nights.begin(), nights.end(), step.index) == nights.end())
                    continue;
                for (int patch : model.mixes[at(step.index)].patches) {
                    carried.carried.push_back(patch);
                    carried.carried_at.push_back(step.start + model.patch(patch).mix_to_let_down - 1440);
                }
            }
        out.days.push_back(std::move(plan.work));
    }
    out.fewest_days = 1;
    out.bound = model.problem->start;
    return out;
}

}  // namespace

Allocation allocate(const Model& model, const std::vector<int>& mixes, const std::vector<int>& overnight,
                    const Effort& effort) {
    Allocation out;
    if (mixes.empty() && overnight.empty()) {
        out.proven = true;
        return out;
    }
    if (!overnight.empty()) return with_nights(model, mixes, overnight, effort);
    std::int64_t budget = effort.search;
    DayPlan all = plan_day(model, mixes, CrewDay{}, model.problem->finish, false, budget);
    if (all.found) {
        out.proven = all.proven;
        out.bound = all.bound;
        out.fewest_days = 1;
        out.days.push_back(std::move(all.work));
        return out;
    }
    Allocator allocator{model, mixes, effort};
    return mixes.size() <= exact_most ? allocator.exact() : allocator.greedy();
}

}  // namespace patchwright::schedule
