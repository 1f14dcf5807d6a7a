// Several days, one after the other: each mix goes to the first day that still holds it.
#include <map>
#include <numeric>
#include <set>

#include <fmt/core.h>

#include "model.hpp"
#include "patchwright/schedule/schedule.hpp"

namespace patchwright::schedule {
namespace {

constexpr Minute whole_day = 1440;

/// A crew's day as a part of the problem, with the way back to its places.
struct Part {
    DayWork work;
    std::vector<int> patches, mixes;  ///< of the problem
    int crew = 0;
};

class Days {
public:
    Days(const Problem& problem, std::vector<int> order, std::int64_t budget)
        : problem_{problem},
          all_{problem.work},
          waiting_{std::move(order)},
          budget_{budget},
          mix_of_(all_.patches.size()) {
        schedule_.patches.resize(all_.patches.size());
        for (std::size_t m = 0; m < all_.mixes.size(); ++m)
            for (const int i : all_.mixes[m].patches) mix_of_[at(i)] = static_cast<int>(m);
        leave_out_impossible();
    }

    Schedule run() {
        while (!waiting_.empty() || !lying_.empty()) {
            const auto before = waiting_.size() + lying_.size();
            plan_day();
            if (waiting_.size() + lying_.size() < before || !lying_.empty()) continue;
            give_up();
        }
        sum_up();
        return std::move(schedule_);
    }

private:
    int today() const { return static_cast<int>(schedule_.days.size()); }

    /// Mixes that no day of their own holds, and whatever waits for them.
    void leave_out_impossible() {
        for (auto m = waiting_.begin(); m != waiting_.end();) {
            const Part alone = part({*m}, 0, true);
            const Finish day = earliest_finish(alone.work, budget_);
            const bool holds = day.verdict.hindrance == Hindrance::none && day.short_by(alone.work) == 0;
            if (!holds && problem_.overnight && day.verdict.hindrance == Hindrance::none && holds_overnight(*m)) {
                overnight_.insert(*m);
            } else if (!holds) {
                note_impossible(*m, why_not(alone, day));
                m = waiting_.erase(m);
                continue;
            }
            ++m;
        }
        drop_what_waits();
    }
    bool holds_overnight(int mix) const {
        Part alone = part({mix}, 0, true);
        for (PatchWork& p : alone.work.patches) p.overnight = true;
        const Finish day = earliest_finish(alone.work, budget_);
        return day.verdict.hindrance == Hindrance::none && day.short_by(alone.work) == 0;
    }
    void drop_what_waits() {
        for (bool dropped = true; dropped;) {
            dropped = false;
            for (std::size_t k = 0; k < waiting_.size() && !dropped; ++k)
                for (const int i : all_.mixes[at(waiting_[k])].patches)
                    for (const int first : all_.patches[at(i)].after)
                        if (!dropped && is_impossible(first)) {
                            note_impossible(waiting_[k], fmt::format("it must wait for {}, which no day holds",
                                                                     all_.patches[at(first)].id));
                            waiting_.erase(waiting_.begin() + static_cast<std::ptrdiff_t>(k));
                            dropped = true;
                        }
        }
    }
    bool is_impossible(int patch) const {
        return std::find(schedule_.impossible.begin(), schedule_.impossible.end(), patch) != schedule_.impossible.end();
    }
    void note_impossible(int mix, const std::string& why) {
        for (const int i : all_.mixes[at(mix)].patches) {
            schedule_.impossible.push_back(i);
            schedule_.why_impossible.push_back(fmt::format("patch {}: {}", all_.patches[at(i)].id, why));
        }
    }
    std::string why_not(const Part& alone, const Finish& day) const {
        switch (day.verdict.hindrance) {
            case Hindrance::none:
                return fmt::format("its day is {} too short: it would end at {}, and must end by {}",
                                   span(day.short_by(alone.work)), clock(day.finish),
                                   clock(all_.finish + all_.overtime));
            case Hindrance::slow_hands:
                return fmt::format(
                    "the work from mixing takes {} longer than the resin allows: a slower or cooler resin, a smaller "
                    "mix, or quicker work",
                    span(day.verdict.minutes));
            case Hindrance::packers:
                return "its mix needs more packers of a kind at once than the yard has: give it a mix of its own";
            case Hindrance::heaters:
                return "its mix needs more heaters of a kind at once than the yard has: give it a mix of its own";
            case Hindrance::air_lines:
                return fmt::format("its mix needs more air lines at once than the {} there are", all_.air_lines);
            case Hindrance::pipe:
                return "two packers of its mix would have to pass each other in the pipe: give it a mix of its own";
            case Hindrance::order:
                return "no order of work keeps its waits";
        }
        return {};
    }

    void plan_day() {
        std::set<int> taken_runs;
        auto packers = all_.packers;
        int lines = all_.air_lines;
        auto lying = std::exchange(lying_, {});
        std::vector<std::pair<Part, Day>> crews;
        std::set<int> elsewhere;  // patches that other crews do today
        for (int crew = 0; crew < problem_.crews; ++crew) {
            std::vector<int> mixes;
            const auto fits = [&](const std::vector<int>& wanted, Day* day) {
                Part today = part(wanted, crew, false, crew == 0 ? lying : std::map<int, Minute>{});
                today.work.packers = packers;
                today.work.air_lines = lines;
                if (today.work.patches.size() > max_patches || today.work.runs.size() > max_runs) return false;
                if (day != nullptr) *day = best_day(today.work, budget_);
                const Finish finish = day != nullptr ? static_cast<Finish>(*day) : earliest_finish(today.work, budget_);
                if (day != nullptr) crews.emplace_back(std::move(today), *day);
                return finish.verdict.hindrance == Hindrance::none && finish.finish <= all_.finish + all_.overtime;
            };
            for (const int m : waiting_) {
                if (!may_come(m, mixes, elsewhere, taken_runs)) continue;
                mixes.push_back(m);
                if (!fits(mixes, nullptr)) mixes.pop_back();
            }
            if (mixes.empty() && (crew > 0 || lying.empty())) continue;
            Day day;
            fits(mixes, &day);
            for (const int m : mixes) std::erase(waiting_, m);
            for (const int i : crews.back().first.patches) {
                taken_runs.insert(static_cast<int>(all_.patches[at(i)].run));
                elsewhere.insert(i);
                --packers[at(all_.patches[at(i)].packer)].count;
                --lines;
            }
            for (Packers& kind : packers) kind.count = std::max(0, kind.count);
            lines = std::max(0, lines);
        }
        if (!crews.empty()) note_day(crews);
    }
    /// What a mix waits for is done before today, or today by the same crew before it; its runs are with no other crew.
    bool may_come(int mix, const std::vector<int>& with, const std::set<int>& elsewhere,
                  const std::set<int>& taken_runs) const {
        for (const int i : all_.mixes[at(mix)].patches) {
            if (taken_runs.contains(static_cast<int>(all_.patches[at(i)].run))) return false;
            for (const int first : all_.patches[at(i)].after) {
                const bool done = schedule_.patches[at(first)].day >= 0 && !elsewhere.contains(first);
                if (!done && std::find(with.begin(), with.end(), mix_of_[at(first)]) == with.end()) return false;
                if (!done && overnight_.contains(mix_of_[at(first)])) return false;
            }
        }
        return true;
    }

    Part part(const std::vector<int>& mixes, int crew, bool alone, const std::map<int, Minute>& lying = {}) const {
        Part part;
        part.crew = crew;
        part.mixes = mixes;
        part.work = all_;
        part.work.patches.clear();
        part.work.mixes.clear();
        part.work.runs.clear();
        std::map<int, int> place;
        const auto take = [&](int i) -> PatchWork& {
            place[i] = static_cast<int>(part.patches.size());
            part.patches.push_back(i);
            return part.work.patches.emplace_back(all_.patches[at(i)]);
        };
        for (const auto& [i, from] : lying) take(i).lying = from;
        for (const int m : mixes) {
            Mix& mix = part.work.mixes.emplace_back(all_.mixes[at(m)]);
            for (int& i : mix.patches) {
                take(i).overnight = !alone && overnight_.contains(m);
                i = place[i];
            }
        }
        for (PatchWork& p : part.work.patches) {
            std::vector<int> after;
            for (const int first : p.after)
                if (place.contains(first)) after.push_back(place[first]);
            p.after = p.lying ? std::vector<int>{} : after;
        }
        for (const RunWork& run : all_.runs) {
            const bool worked = std::any_of(part.work.patches.begin(), part.work.patches.end(),
                                            [&](const PatchWork& p) { return p.run == run.place; });
            if (!worked) continue;
            part.work.runs.push_back(run);
            part.work.runs.back().prepared = run.prepared || (!alone && prepared_.contains(run.place));
        }
        return part;
    }

    void note_day(const std::vector<std::pair<Part, Day>>& crews) {
        Day whole;
        const int number = today();
        for (const auto& [part, day] : crews) {
            whole.finish = std::max(whole.finish, day.finish);
            whole.bound = std::max(whole.bound, day.bound);
            whole.proven = whole.proven && day.proven;
            whole.yard_minutes += day.yard_minutes;
            for (Task task : day.tasks) {
                if (task.patch) task.patch = part.patches[at(*task.patch)];
                task.crew = part.crew;
                whole.tasks.push_back(std::move(task));
            }
            for (std::size_t k = 0; k < part.patches.size(); ++k) note_times(part, day, k, number);
            for (const int i : day.order) whole.order.push_back(part.patches[at(i)]);
            for (Blocked blocked : day.blocked) {
                blocked.day = number;
                schedule_.blocked.push_back(blocked);
            }
            for (const RunWork& run : part.work.runs) prepared_.insert(run.place);
        }
        std::stable_sort(whole.tasks.begin(), whole.tasks.end(), [](const Task& a, const Task& b) {
            return std::pair{a.start, a.crew} < std::pair{b.start, b.crew};
        });
        schedule_.order.insert(schedule_.order.end(), whole.order.begin(), whole.order.end());
        schedule_.days.push_back(std::move(whole));
    }
    void note_times(const Part& part, const Day& day, std::size_t k, int number) {
        const int i = part.patches[k];
        PatchTimes& times = schedule_.patches[at(i)];
        if (part.work.patches[k].lying) {
            times.let_down = whole_day + day.patches[k].let_down;
            times.last_let_down = whole_day + day.patches[k].last_let_down;
            for (Task& task : schedule_.days[at(times.day)].tasks)
                if (task.patch == i && task.what == What::cure) task.finish = times.let_down;
            return;
        }
        times = day.patches[k];
        times.day = number;
        if (part.work.patches[k].overnight) lying_[i] = times.mix + part.work.patches[k].mix_to_let_down - whole_day;
    }

    /// What no day takes beside the rest, nor alone after it.
    void give_up() {
        for (const int m : waiting_) note_impossible(m, "no order of days keeps its waits");
        waiting_.clear();
    }

    void sum_up() {
        const auto& days = schedule_.days;
        schedule_.bound = days.empty() ? 0 : days.back().bound;
        schedule_.proven_optimal = days.empty() || (days.size() == 1 && problem_.crews == 1 && days.front().proven);
        std::sort(schedule_.blocked.begin(), schedule_.blocked.end(), [](const Blocked& a, const Blocked& b) {
            return std::pair{a.day, a.run} < std::pair{b.day, b.run};
        });
        for (const Blocked& b : schedule_.blocked) {
            if (b.holds) continue;
            const auto run =
                std::find_if(all_.runs.begin(), all_.runs.end(), [&](const RunWork& r) { return r.place == b.run; });
            schedule_.warnings.push_back(fmt::format(
                "run {} is shut{} from {} to {} ({}), but its storage lasts {}: pump over, or stop the water upstream",
                run->id, days.size() > 1 ? fmt::format(" on day {}", b.day + 1) : "", clock(b.from), clock(b.to),
                span(b.to - b.from), span(*run->storage)));
        }
        for (const int i : schedule_.order) {
            const PatchTimes& times = schedule_.patches[at(i)];
            const std::string& id = all_.patches[at(i)].id;
            if (times.let_down > whole_day)
                schedule_.warnings.push_back(
                    fmt::format("patch {} cures overnight, unwatched, until {}: packer, air and stoppers stay in the "
                                "drain, and no water may be used upstream",
                                id, clock(times.let_down)));
        }
    }

    const Problem& problem_;
    const DayWork& all_;
    std::vector<int> waiting_;  ///< mixes, in the order in which they are tried
    std::int64_t budget_;
    std::vector<int> mix_of_;
    std::set<int> overnight_;      ///< mixes
    std::map<int, Minute> lying_;  ///< patches, and from when they may be let down today
    std::set<job::RunPlace> prepared_;
    Schedule schedule_;
};

}  // namespace

Schedule plan_days(const Problem& problem, std::int64_t budget) {
    check_input(problem.work);
    std::vector<int> order(problem.work.mixes.size());
    std::iota(order.begin(), order.end(), 0);
    Schedule best = Days{problem, order, budget}.run();
    const auto cure = [&](int m) {
        Minute longest = 0;
        for (const int i : problem.work.mixes[at(m)].patches)
            longest = std::max(longest, problem.work.patches[at(i)].mix_to_let_down);
        return longest;
    };
    if (best.days.size() < 2) return best;
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return cure(a) > cure(b); });
    Schedule other = Days{problem, order, budget}.run();
    const auto rank = [](const Schedule& s) {
        return std::tuple{s.impossible.size(), s.days.size(), s.days.empty() ? 0 : s.days.back().finish};
    };
    return rank(other) < rank(best) ? other : best;
}

}  // namespace patchwright::schedule
