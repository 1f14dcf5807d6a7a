// The rest of the day: what must be gone on with, and as much of what is still to be made as the day holds.
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "items.hpp"

namespace patchwright::site {
namespace {

using schedule::DayWork;

constexpr std::int64_t nodes_a_try = 5'000;
constexpr std::size_t max_tried = 10;  ///< mixes of which every combination is tried

class CrewRest {
public:
    CrewRest(const Site& site, LimitBook& limits, Now& now, int crew)
        : site_{site}, limits_{limits}, now_{now}, items_{site, now, crew} {}

    void plan() {
        choose();
        Now::Crew result;
        result.crew = items_.crew;
        result.work = work_of(chosen_, &result.sleeves);
        result.day = schedule::best_day_by(sheet(result.sleeves), result.work);
        if (result.day.verdict.hindrance != schedule::Hindrance::none && !result.work.alarm_gauge) {
            const int persons = result.work.persons;
            now_.warnings.push_back(fmt::format(
                "{} cannot watch all that cures: the times below hold, the watching does not. Call for help.",
                persons == 1 ? "One person" : fmt::format("{} persons", persons)));
            result.work.alarm_gauge = true;
            result.day = schedule::best_day_by(sheet(result.sleeves), result.work);
        }
        if (result.day.verdict.hindrance != schedule::Hindrance::none)
            now_.warnings.push_back("What was told fits into no order of work: the limits hold, the order is yours.");
        now_.crews.push_back(std::move(result));
    }

private:
    using Chosen = std::vector<std::size_t>;  ///< places in `units_`

    Sleeve& sleeve(std::size_t i) { return now_.sleeves[i]; }
    const Sleeve& sleeve(std::size_t i) const { return now_.sleeves[i]; }
    std::size_t place(std::size_t i) const { return now_.sleeves[i].patch; }

    /// Mixes that are still to be made, each with its items.
    std::vector<std::vector<std::size_t>> mixes() const {
        std::vector<std::vector<std::size_t>> list;
        std::vector<int> names;
        for (std::size_t k = 0; k < items_.to_make.size(); ++k) {
            const auto known = std::find(names.begin(), names.end(), items_.to_make[k].mix);
            const auto at = static_cast<std::size_t>(known - names.begin());
            if (known == names.end()) {
                names.push_back(items_.to_make[k].mix);
                list.emplace_back();
            }
            list[at].push_back(k);
        }
        std::vector<std::vector<std::size_t>> kept;
        for (auto& mix : list) {
            if (mix.size() == 1 || may_share(mix)) {
                kept.push_back(std::move(mix));
                continue;
            }
            for (const std::size_t k : mix) kept.push_back({k});
        }
        return kept;
    }
    /// As measured each of them is still in place in time, with the hands of those before it.
    bool may_share(const std::vector<std::size_t>& mix) const {
        std::vector<cure::SleeveTasks> tasks;
        for (const std::size_t k : mix) tasks.push_back(site_.patch(place(items_.to_make[k].sleeve)).tasks);
        for (std::size_t which = 0; which < mix.size(); ++which) {
            const Sleeve& s = sleeve(items_.to_make[mix[which]].sleeve);
            if (s.on_other) return false;
            if (!s.next.measured) continue;
            const auto hands = cure::hands_in_mix(tasks, which, site_.yard.limits);
            if (cure::late_probability(hands, *s.next.measured) > site_.yard.limits.late_at_most) return false;
        }
        return true;
    }

    /// The work with these mixes still to make. `sleeves`: of each patch in it, when asked for.
    DayWork work_of(const Chosen& chosen, std::vector<std::size_t>* sleeves) {
        DayWork work = items_.frame;
        std::vector<const Item*> items;
        for (const Item& i : items_.fixed) items.push_back(&i);
        std::vector<std::pair<int, std::vector<int>>> in_hand;
        for (std::size_t k = 0; k < items_.fixed.size(); ++k) {
            if (items_.fixed[k].in_hand < 0) continue;
            auto known = std::find_if(in_hand.begin(), in_hand.end(),
                                      [&](const auto& m) { return m.first == items_.fixed[k].in_hand; });
            if (known == in_hand.end()) known = in_hand.insert(in_hand.end(), {items_.fixed[k].in_hand, {}});
            known->second.push_back(static_cast<int>(k));
        }
        for (auto& [mix, patches] : in_hand) {
            auto& added = work.mixes.emplace_back();
            added.patches = patches;
            added.in_hand = true;
        }
        for (const std::size_t u : chosen) {
            auto& mix = work.mixes.emplace_back();
            for (const std::size_t k : units_[u]) {
                mix.patches.push_back(static_cast<int>(items.size()));
                items.push_back(&items_.to_make[k]);
            }
            const Sleeve& first = sleeve(items_.to_make[units_[u].front()].sleeve);
            const auto& plan_mix = site_.mix_of(first.patch);
            mix.pour_by =
                whole_minutes(units_[u].size() == 1 ? first.next.pour_by
                                                    : limits_.pour_by(plan_mix, site_.patch(first.patch), first.noted));
            for (const std::size_t k : units_[u])
                mix.id += (mix.id.empty() ? "the mix of " : ", ") + site_.patch(place(items_.to_make[k].sleeve)).id;
        }
        for (const Item* i : items) {
            work.patches.push_back(i->work);
            work.patches.back().after = after_of(*i, items);
            work.patches.back().id = site_.patch(place(i->sleeve)).id;
            for (const auto what : i->under_way)
                work.under_way.push_back({static_cast<int>(work.patches.size()) - 1, {}, what});
            if (sleeves != nullptr) sleeves->push_back(i->sleeve);
        }
        for (const auto& p : work.patches) {
            const bool known = std::any_of(work.runs.begin(), work.runs.end(),
                                           [&](const schedule::RunWork& r) { return r.place == p.run; });
            if (!known) work.runs.push_back(run_of(p.run));
        }
        for (const auto& step : run_steps_)
            if (std::any_of(work.runs.begin(), work.runs.end(), [&](const auto& r) { return r.place == step.run; }))
                work.under_way.push_back(step);
        return work;
    }
    std::vector<int> after_of(const Item& of, const std::vector<const Item*>& items) const {
        std::vector<int> after;
        for (std::size_t k = 0; k < items.size(); ++k) {
            const Item& other = *items[k];
            if (&other == &of || of.mix < 0) continue;
            const bool first_of_it = other.sleeve == of.sleeve;  // stripped before it is made again
            const bool waits =
                std::find(of.after.begin(), of.after.end(), static_cast<int>(place(other.sleeve))) != of.after.end();
            if (first_of_it || waits) after.push_back(static_cast<int>(k));
        }
        return after;
    }
    const schedule::RunWork& run_of(job::RunPlace run) {
        const auto known =
            std::find_if(runs_.begin(), runs_.end(), [&](const schedule::RunWork& r) { return r.place == run; });
        if (known != runs_.end()) return *known;
        runs_.push_back(run_work(site_, run, items_.frame.start, now_.taken, run_steps_));
        return runs_.back();
    }

    /// The order of the sheet, as far as it is still to be done.
    std::vector<schedule::Task> sheet(const std::vector<std::size_t>& sleeves) const {
        std::vector<schedule::Task> tasks;
        for (const auto& day : site_.plan.schedule.days)
            for (schedule::Task task : day.tasks) {
                if (task.patch) {
                    const auto own = std::find_if(sleeves.begin(), sleeves.end(), [&](std::size_t i) {
                        return static_cast<int>(place(i)) == *task.patch;
                    });
                    if (own == sleeves.end()) continue;
                    task.patch = static_cast<int>(own - sleeves.begin());
                } else if (&day != &site_.today()) {
                    continue;
                }
                tasks.push_back(std::move(task));
            }
        return tasks;
    }

    Minute closing() const { return items_.frame.finish + items_.frame.overtime; }
    /// Being back with these mixes, no later than `latest`; nothing where no such day is.
    std::optional<Minute> back(const Chosen& chosen, Minute latest) {
        const auto work = work_of(chosen, nullptr);
        const auto found = schedule::earliest_finish(work, nodes_a_try, latest);
        if (found.verdict.hindrance != schedule::Hindrance::none || found.finish > latest) return std::nullopt;
        return found.finish;
    }
    /// What must lie before a patch lies before it, or is not made today either.
    bool holds_waits(const Chosen& chosen) const {
        std::vector<std::size_t> made;
        for (const std::size_t u : chosen)
            for (const std::size_t k : units_[u]) made.push_back(items_.to_make[k].sleeve);
        const auto open = [&](int patch) {  // still to be made, but not today
            for (std::size_t i = 0; i < now_.sleeves.size(); ++i) {
                const Sleeve& s = now_.sleeves[i];
                if (static_cast<int>(s.patch) != patch || s.state == State::done) continue;
                const bool lies =
                    (s.state == State::in_pipe || s.state == State::in_hand) && s.verdict != Verdict::strip;
                return !lies && std::find(made.begin(), made.end(), i) == made.end();
            }
            return false;
        };
        for (const std::size_t u : chosen)
            for (const std::size_t k : units_[u])
                if (std::any_of(items_.to_make[k].after.begin(), items_.to_make[k].after.end(), open)) return false;
        return true;
    }

    /// As many sleeves as the day holds, of as many the planned ones, then the earliest finish.
    void choose() {
        units_ = mixes();
        const Minute alone = schedule::earliest_finish(work_of({}, nullptr), nodes_a_try).finish;
        const Minute latest = std::max(closing(), alone);
        std::vector<Chosen> tries;
        if (units_.size() <= max_tried) {
            for (unsigned mask = 0; mask < 1U << units_.size(); ++mask) {
                Chosen chosen;
                for (std::size_t u = 0; u < units_.size(); ++u)
                    if ((mask >> u & 1U) != 0) chosen.push_back(u);
                tries.push_back(std::move(chosen));
            }
        } else {  // one after the other
            for (std::size_t u = 0; u < units_.size(); ++u) {
                auto longer = chosen_;
                longer.push_back(u);
                if (holds_waits(longer) && back(longer, latest)) chosen_ = longer;
            }
            return explain(latest);
        }
        const auto worth = [&](const Chosen& chosen) {
            int sleeves = 0, again = 0;
            for (const std::size_t u : chosen)
                for (const std::size_t k : units_[u]) {
                    ++sleeves;
                    again += sleeve(items_.to_make[k].sleeve).again ? 1 : 0;
                }
            return std::pair{-sleeves, again};
        };
        std::stable_sort(tries.begin(), tries.end(),
                         [&](const Chosen& a, const Chosen& b) { return worth(a) < worth(b); });
        std::optional<Minute> best;
        for (std::size_t t = 0; t < tries.size(); ++t) {
            if (best && worth(tries[t]) != worth(chosen_)) break;
            if (!holds_waits(tries[t])) continue;
            const auto finish = back(tries[t], best ? *best - 1 : latest);
            if (!finish) continue;
            best = finish;
            chosen_ = tries[t];
        }
        explain(latest);
    }
    void explain(Minute latest) {
        for (std::size_t u = 0; u < units_.size(); ++u) {
            if (std::find(chosen_.begin(), chosen_.end(), u) != chosen_.end()) continue;
            auto with = chosen_;
            with.push_back(u);
            std::sort(with.begin(), with.end());
            const auto why = why_not(with, {u}, latest);
            for (const std::size_t k : units_[u]) {
                sleeve(items_.to_make[k].sleeve).another_day = why;
                sleeve(items_.to_make[k].sleeve).again = false;
            }
        }
    }
    std::string why_not(const Chosen& with, const Chosen& alone, Minute latest) {
        if (!holds_waits(with)) return "what must lie before it does not";
        const auto own = schedule::earliest_finish(work_of(alone, nullptr), nodes_a_try);
        switch (own.verdict.hindrance) {
            case schedule::Hindrance::none:
                break;
            case schedule::Hindrance::slow_hands:
                return fmt::format("the work from mixing takes {} min longer than its resin allows as measured",
                                   own.verdict.minutes);
            case schedule::Hindrance::packers:
                return "its packer is lost";
            case schedule::Hindrance::heaters:
                return "no heater is left for it";
            case schedule::Hindrance::air_lines:
                return "no air line is left for it";
            case schedule::Hindrance::pipe:
                return "its packer would have to pass another";
            case schedule::Hindrance::order:
                return "nobody is free to watch what cures meanwhile";
        }
        const auto finish = schedule::earliest_finish(work_of(with, nullptr), nodes_a_try).finish;
        return fmt::format("with it the crew is back at {}, {} min after the latest, {}", clock_words(finish),
                           finish - std::min(latest, closing()), clock_words(closing()));
    }

    const Site& site_;
    LimitBook& limits_;
    Now& now_;
    CrewItems items_;
    std::vector<std::vector<std::size_t>> units_;  ///< places in `to_make` that share a mix
    Chosen chosen_;
    std::vector<schedule::RunWork> runs_;
    std::vector<DayWork::UnderWay> run_steps_;
};

}  // namespace

void plan_rest(const Site& site, LimitBook& limits, Now& now) {
    int crews = 1;
    for (const Sleeve& s : now.sleeves) crews = std::max(crews, site.crew_of(s.patch) + 1);
    for (int crew = 0; crew < crews; ++crew) CrewRest{site, limits, now, crew}.plan();
}

}  // namespace patchwright::site
