#include "support/crew_day_rules.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "support/camera_rules.hpp"
#include "support/faults.hpp"

namespace patchwright::test {
namespace {

using namespace schedule;

class DayRules {
public:
    DayRules(const DayWork& work, const Day& day) : work_{work}, day_{day} {
        for (const Task& task : day.tasks) {
            if (task.patch) of_patch_[*task.patch][task.what].push_back(&task);
            if (!task.patch && task.run) of_run_[*task.run][task.what].push_back(&task);
        }
        find_places();
    }

    std::vector<std::string> check() {
        check_frame();
        for (std::size_t i = 0; i < work_.patches.size(); ++i) check_patch(static_cast<int>(i));
        for (const RunWork& run : work_.runs) check_run(run);
        for (const auto& [place, tasks] : of_run_)
            faults_.unless(run_work(place) != nullptr, "a task in a run that is not of this day");
        for (const Mix& mix : work_.mixes) check_mix(mix);
        check_openings();
        for (Minute minute = work_.start; minute < day_.finish; ++minute) check_minute(minute);
        check_lanes();
        check_cameras(work_, day_, faults_);
        return faults_.list;
    }

private:
    const PatchWork& patch(int i) const { return work_.patches[static_cast<std::size_t>(i)]; }
    int crew(int persons) const { return std::min(persons, work_.persons); }
    const RunWork* run_work(job::RunPlace place) const {
        for (const RunWork& run : work_.runs)
            if (run.place == place) return &run;
        return nullptr;
    }
    const Task* task(int i, What what) const {
        const auto tasks = of_patch_.find(i);
        if (tasks == of_patch_.end()) return nullptr;
        const auto found = tasks->second.find(what);
        return found == tasks->second.end() || found->second.empty() ? nullptr : found->second.front();
    }
    bool has_lying(job::RunPlace run) const {
        return std::any_of(work_.patches.begin(), work_.patches.end(),
                           [&](const PatchWork& p) { return p.run == run && p.lying; });
    }
    bool is_worked(job::RunPlace run) const {
        return std::any_of(work_.patches.begin(), work_.patches.end(),
                           [&](const PatchWork& p) { return p.run == run && !p.lying; });
    }
    /// Begun before the start: part of a mix that is in hand.
    bool in_hand(int i) const {
        return std::any_of(work_.mixes.begin(), work_.mixes.end(), [i](const Mix& mix) {
            return mix.in_hand && std::find(mix.patches.begin(), mix.patches.end(), i) != mix.patches.end();
        });
    }
    Minute on_site() const { return work_.start + work_.travel_out.value_or(work_.travel); }
    bool is_ahead(job::RunPlace run) const {
        return std::find(day_.prepared_ahead.begin(), day_.prepared_ahead.end(), run) != day_.prepared_ahead.end();
    }

    /// Names of places from which one person sees what cures there.
    void find_places() {
        for (std::size_t r = 0; r < work_.runs.size(); ++r) {
            const RunWork& run = work_.runs[r];
            const int names[] = {run.access_from >= 0 ? run.access_from : 1000 + 2 * static_cast<int>(r),
                                 run.access_to >= 0 ? run.access_to : 1001 + 2 * static_cast<int>(r)};
            for (int name : names) place_.try_emplace(name, name);
            ends_[run.place] = {names[0], names[1]};
        }
        for (const RunWork& run : work_.runs) {
            if (!run.ends_in_sight) continue;
            const int from = place_[ends_[run.place].first], to = place_[ends_[run.place].second];
            for (auto& [name, place] : place_)
                if (place == from) place = to;
        }
    }
    int place_of(int i) const {
        const auto& ends = ends_.at(patch(i).run);
        return place_.at(patch(i).from_far_end ? ends.second : ends.first);
    }

    void check_frame() {
        const bool there = work_.travel_out == 0;
        faults_.unless(there || (!day_.tasks.empty() && day_.tasks.front().what == What::travel &&
                                 day_.tasks.front().start == work_.start && day_.tasks.back().finish <= day_.finish),
                       "the day does not begin with travel");
        Minute last = 0, packed = 0, home = 0;
        for (const Task& t : day_.tasks) {
            faults_.unless(t.start >= work_.start && t.finish >= t.start, "{} at an odd time", word(t.what));
            if (t.what == What::travel && t.start > on_site() - 1) home = std::max(home, t.start);
            if (t.what == What::pack_up) packed = t.start;
            if (t.what == What::travel || t.what == What::pack_up ||
                (t.what == What::cure && t.patch && patch(*t.patch).overnight))
                continue;
            last = std::max(last, t.finish);
            faults_.unless(t.start >= on_site(), "{} before the crew is there", word(t.what));
        }
        faults_.unless(work_.pack_up.minutes == 0 || packed >= last, "packed up before the work is done");
        faults_.unless(day_.finish == std::max(last, on_site()) + work_.pack_up.minutes + work_.travel,
                       "home at {}, not when the work is done", day_.finish);
    }

    void check_task(int i, What what, Labour labour, bool wanted) {
        const auto tasks = of_patch_[i][what];
        faults_.unless(tasks.size() == (wanted ? 1u : 0u), "{}: {} {} times", patch(i).id, word(what), tasks.size());
        for (const Task* t : tasks) {
            faults_.unless(t->finish - t->start == labour.minutes, "{}: {} takes {} min", patch(i).id, word(what),
                           t->finish - t->start);
            faults_.unless(t->persons == crew(labour.persons), "{}: {} by {}", patch(i).id, word(what), t->persons);
            faults_.unless(t->run == patch(i).run, "{}: {} in another run", patch(i).id, word(what));
        }
    }
    void check_patch(int i) {
        const PatchWork& p = patch(i);
        const bool mixed = !p.lying;
        const bool made_here = mixed && !in_hand(i) && (!work_.ready_in_yard || p.ready_on_site);
        check_task(i, What::cut, p.cut, made_here && p.cut.minutes > 0);
        check_task(i, What::bench_test, p.bench_test, made_here && p.bench_test.minutes > 0);
        check_task(i, What::wet_out, p.wet_out, mixed);
        check_task(i, What::load, p.load, mixed);
        check_task(i, What::position, p.position, mixed);
        check_task(i, What::inflate, p.inflate, mixed);
        check_task(i, What::crease, p.crease, mixed);
        check_task(i, What::let_down, p.let_down, !p.overnight);
        check_task(i, What::reopen, p.reopen, !p.overnight && p.reopen.minutes > 0);
        constexpr What order[] = {What::cut,     What::bench_test, What::wet_out,  What::load,  What::position,
                                  What::inflate, What::crease,     What::let_down, What::reopen};
        Minute now = 0;
        for (const What what : order)
            if (const Task* t = task(i, what)) {
                faults_.unless(t->start >= now, "{}: {} out of turn", p.id, word(what));
                now = t->finish;
            }
        const Task* let_down = task(i, What::let_down);
        if (p.lying && let_down != nullptr) faults_.unless(let_down->start >= *p.lying, "{}: let down too early", p.id);
        const Task* wet = task(i, What::wet_out);
        if (wet == nullptr) return;
        const Minute mixed_at = mix_start(i);
        if (in_hand(i)) faults_.unless(mixed_at == work_.start, "{} is in hand and does not go on", p.id);
        if (const auto& ready = run_work(p.run)->ready; ready && !in_hand(i))
            faults_.unless(task(i, What::position)->start >= *ready, "{}: not dry", p.id);
        if (let_down != nullptr)
            faults_.unless(let_down->start - mixed_at >= p.mix_to_let_down, "{}: let down too early", p.id);
        faults_.unless(task(i, What::inflate)->finish - mixed_at <= p.inflate_by, "{}: inflated too late", p.id);
        faults_.unless(task(i, What::crease)->finish - mixed_at <= p.crease_by, "{}: creased too late", p.id);
        for (const int first : p.after) {
            const Task* out = task(first, What::let_down);
            faults_.unless(out != nullptr && out->finish <= mixed_at, "{} does not wait for {}", p.id, patch(first).id);
        }
        const auto& run = of_run_[p.run];
        for (const What what : {What::set_up, What::clean, What::survey, What::flow_control})
            if (const auto found = run.find(what); found != run.end())
                for (const Task* t : found->second)
                    faults_.unless(t->finish <= mixed_at, "{}: mixed before {}", p.id, word(what));
        if (const auto found = run.find(What::clean); found != run.end())
            for (const Task* t : found->second)
                faults_.unless(t->finish + run_work(p.run)->dry <= task(i, What::position)->start, "{}: not dry", p.id);
    }
    Minute mix_start(int i) const {
        Minute start = task(i, What::wet_out)->start;
        for (const Mix& mix : work_.mixes)
            if (std::find(mix.patches.begin(), mix.patches.end(), i) != mix.patches.end())
                for (const int k : mix.patches) start = std::min(start, task(k, What::wet_out)->start);
        return start;
    }

    void check_run(const RunWork& run) {
        const bool worked = is_worked(run.place), ahead = is_ahead(run.place);
        const auto minutes = [&](What what) {
            Minute sum = 0;
            for (const Task* t : of_run_[run.place][what]) sum += t->finish - t->start;
            return sum;
        };
        const bool prepared = (worked || ahead) && !run.ready;
        const Minute clean = run.prepared ? run.flush.minutes : run.clean.minutes + run.roots.minutes;
        faults_.unless(minutes(What::clean) == (prepared ? clean : 0), "run {}: {} min of cleaning", run.id,
                       minutes(What::clean));
        faults_.unless(minutes(What::survey) == (prepared && !run.prepared ? run.survey.minutes : 0),
                       "run {}: {} min of survey", run.id, minutes(What::survey));
        faults_.unless(minutes(What::flow_control) == (worked && !run.ready ? run.flow_control.minutes : 0),
                       "run {}: {} min of flow control", run.id, minutes(What::flow_control));
        faults_.unless(prepared || run.ready || has_lying(run.place) || minutes(What::set_up) == 0,
                       "run {}: set up for nothing", run.id);
    }

    /// The day's first access takes the whole set-up, each further one that is not open yet its opening.
    void check_openings() {
        std::vector<std::pair<Minute, job::RunPlace>> openings;
        for (const auto& [place, tasks] : of_run_)
            if (const auto found = tasks.find(What::set_up); found != tasks.end() && !found->second.empty()) {
                faults_.unless(found->second.size() == 1, "a run is set up {} times", found->second.size());
                openings.push_back({found->second.front()->start, place});
            }
        if (openings.empty()) return;
        std::sort(openings.begin(), openings.end());
        const auto takes = [&](job::RunPlace place) {
            const Task* t = of_run_[place][What::set_up].front();
            return t->finish - t->start;
        };
        const auto further = [&](job::RunPlace place) {
            const RunWork& run = *run_work(place);
            const Minute each = std::min(run.set_up.minutes, run.open_access.minutes);
            return takes(place) == each || takes(place) == 2 * each;
        };
        const auto in_full = [&](job::RunPlace place) {
            const RunWork& run = *run_work(place);
            const Minute more = takes(place) - run.set_up.minutes;
            return more == 0 || more == std::min(run.set_up.minutes, run.open_access.minutes);
        };
        // Of several at one time any may be the first.
        const bool open = std::any_of(work_.runs.begin(), work_.runs.end(),
                                      [](const RunWork& run) { return run.from_open || run.to_open; });
        if (open)
            return faults_.unless(
                std::all_of(openings.begin(), openings.end(), [&](const auto& o) { return further(o.second); }),
                "a run is set up in full at a site that is open");
        const bool right = std::any_of(openings.begin(), openings.end(), [&](const auto& first) {
            return first.first == openings.front().first && in_full(first.second) &&
                   std::all_of(openings.begin(), openings.end(),
                               [&](const auto& o) { return o == first || further(o.second); });
        });
        faults_.unless(right, "one run is set up in full, any further one by its accesses");
    }

    /// From mixing to the last crease there is no pause.
    void check_mix(const Mix& mix) {
        Minute from = mix_start(mix.patches.front()), to = 0, sum = 0;
        for (const int i : mix.patches)
            for (const What what : {What::wet_out, What::load, What::position, What::inflate, What::crease}) {
                const Task* t = task(i, what);
                if (t == nullptr) continue;
                to = std::max(to, t->finish);
                sum += t->finish - t->start;
                if (what != What::wet_out) continue;
                const Minute poured = t->start + patch(i).pour;
                faults_.unless(mix.pour_by == 0 || poured - from <= mix.pour_by, "{}: poured too late", patch(i).id);
                faults_.unless(day_.patches[static_cast<std::size_t>(i)].pour == poured,
                               "{}: its pouring is told otherwise", patch(i).id);
            }
        faults_.unless(to - from == sum, "a mix waits for {} min", to - from - sum);
    }

    struct Hold {
        Minute from = 0, to = 0;  ///< until `to`, not included
    };
    Hold in_pipe(int i) const {
        const Task* out = task(i, What::let_down);
        return {patch(i).lying ? work_.start : mix_start(i), out != nullptr ? out->finish : day_.finish};
    }
    static bool runs_at(const Task& t, Minute minute) { return t.start <= minute && minute < t.finish; }

    void check_minute(Minute minute) {
        std::map<int, int> packers, heaters;
        int lines = 0;
        std::vector<int> lying;
        for (int i = 0; i < static_cast<int>(work_.patches.size()); ++i) {
            const Hold hold = in_pipe(i);
            const bool lies = hold.from <= minute && minute < hold.to;
            const Task* bench = task(i, What::bench_test);
            const bool tested = bench != nullptr && bench->start <= minute && minute < hold.to;
            if (lies || tested) ++packers[patch(i).packer];
            if (lies || (bench != nullptr && runs_at(*bench, minute))) ++lines;
            if (lies && patch(i).heater >= 0) ++heaters[patch(i).heater];
            if (lies) lying.push_back(i);
        }
        for (const auto& [kind, count] : packers)
            faults_.unless(count <= work_.packers[static_cast<std::size_t>(kind)].count, "{} packers {} at {}", count,
                           work_.packers[static_cast<std::size_t>(kind)].id, minute);
        for (const auto& [kind, count] : heaters)
            faults_.unless(count <= work_.heaters[static_cast<std::size_t>(kind)].count, "{} heaters {} at {}", count,
                           work_.heaters[static_cast<std::size_t>(kind)].id, minute);
        faults_.unless(lines <= work_.air_lines, "{} air lines at {}", lines, minute);
        check_pipes(minute, lying);
        check_persons(minute);
    }
    void check_pipes(Minute minute, const std::vector<int>& lying) {
        for (const int i : lying) {
            for (const int k : lying) {
                const PatchWork &a = patch(i), &b = patch(k);
                if (i == k || a.run != b.run) continue;
                // What lies there since before the start is not this day's doing.
                if ((a.lying || in_hand(i)) && (b.lying || in_hand(k))) continue;
                faults_.unless(a.from_far_end != b.from_far_end, "{} and {} from one end at {}", a.id, b.id, minute);
                if (!a.from_far_end && b.from_far_end)
                    faults_.unless(a.at_end < b.at_start, "{} and {} meet at {}", a.id, b.id, minute);
            }
            for (const Task& t : day_.tasks) {
                const bool needs_clear = t.what == What::clean || t.what == What::survey || t.what == What::re_survey ||
                                         t.what == What::reopen;
                faults_.unless(!(needs_clear && t.run == patch(i).run && runs_at(t, minute)),
                               "{} beside packer of {} at {}", word(t.what), patch(i).id, minute);
            }
        }
    }
    void check_persons(Minute minute) {
        int persons = 0;
        std::map<int, int> droppable;  // by place
        for (const Task& t : day_.tasks) {
            if (t.what == What::cure || !runs_at(t, minute)) continue;
            persons += t.persons;
            if (t.persons != 1 && t.what != What::let_down) continue;
            const bool light = t.what == What::cut || t.what == What::bench_test || t.what == What::survey ||
                               t.what == What::flow_control || t.what == What::re_survey;
            const bool may = t.what == What::let_down || (light && work_.while_watching == WhileWatching::jobs_there);
            if (!may) continue;
            if (t.patch) {
                ++droppable[place_of(*t.patch)];
            } else if (t.run) {  // a run's look is done from either end
                const auto& ends = ends_.at(*t.run);
                ++droppable[place_.at(ends.first)];
                if (place_.at(ends.first) != place_.at(ends.second)) ++droppable[place_.at(ends.second)];
            }
        }
        std::set<int> watched;
        if (!work_.alarm_gauge)
            for (const Mix& mix : work_.mixes) {
                Minute creased = 0;
                for (const int i : mix.patches) creased = std::max(creased, task(i, What::crease)->finish);
                for (const int i : mix.patches) {
                    const Task* out = task(i, What::let_down);
                    if (out != nullptr && creased <= minute && minute < out->start) watched.insert(place_of(i));
                }
            }
        for (int i = 0; i < static_cast<int>(work_.patches.size()) && !work_.alarm_gauge; ++i)
            if (const Task* out = task(i, What::let_down); patch(i).watched && minute < out->start)
                watched.insert(place_of(i));
        // A wet sleeve is not dropped to watch another one.
        const bool wet = std::any_of(day_.tasks.begin(), day_.tasks.end(), [&](const Task& t) {
            return t.patch && in_hand(*t.patch) && t.what >= What::wet_out && t.what <= What::crease &&
                   runs_at(t, minute);
        });
        for (const int place : watched)
            if (droppable[place] == 0 && !(wet && persons >= work_.persons)) ++persons;
        faults_.unless(persons <= work_.persons, "{} persons at {}", persons, minute);
    }

    void check_lanes() {
        std::map<int, std::vector<const Task*>> lanes;
        for (const Task& t : day_.tasks) {
            if (t.what == What::cure || t.finish == t.start) continue;
            faults_.unless(static_cast<int>(std::set<int>(t.lanes.begin(), t.lanes.end()).size()) == t.persons,
                           "{}: {} lanes for {} persons", word(t.what), t.lanes.size(), t.persons);
            for (const int lane : t.lanes) lanes[lane].push_back(&t);
        }
        for (const auto& [lane, tasks] : lanes) {
            faults_.unless(lane >= 1 && lane <= work_.persons, "lane {}", lane);
            for (const Task* a : tasks)
                for (const Task* b : tasks)
                    faults_.unless(a == b || a->finish <= b->start || b->finish <= a->start,
                                   "lane {} does {} and {} at once", lane, word(a->what), word(b->what));
        }
    }

    const DayWork& work_;
    const Day& day_;
    std::map<int, std::map<What, std::vector<const Task*>>> of_patch_;
    std::map<job::RunPlace, std::map<What, std::vector<const Task*>>> of_run_;
    std::map<int, int> place_;
    std::map<job::RunPlace, std::pair<int, int>> ends_;
    Faults faults_;
};

}  // namespace

std::vector<std::string> broken_crew_day_rules(const DayWork& work, const Day& day) {
    return DayRules{work, day}.check();
}

}  // namespace patchwright::test
