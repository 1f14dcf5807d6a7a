#pragma once
#include <gecode/int.hh>
#include <gecode/minimodel.hh>

#include <algorithm>
#include <map>
#include <optional>
#include <vector>

#include "day_facts.hpp"

/// One crew's day as a constraint model, written from docs/methods/schedule.md alone: persons, packers and air lines as
/// cumulative resources, pipes as disjunctions, watching minute by minute.
namespace gecode_day {

using Gecode::IntArgs;
using Gecode::IntVar;
using Gecode::IntVarArgs;

class Builder : Facts {
public:
    /// All work on site lies from `begin` to `end`.
    Builder(Gecode::Space& home, const DayWork& work, Minute end)
        : Facts{work}, home_{home}, begin_{work.start + work.travel}, end_{end} {
        runs();
        sleeves();
        looks();
        pipes();
        orders();
        gear();
        persons();
    }
    /// All that must be settled: starts first, then what may still be open of opening the runs.
    IntVarArgs decisions() const {
        IntVarArgs list;
        for (const Job& job : jobs_) list << job.start;
        for (const Job& job : jobs_) list << job.end;
        for (const Job& job : jobs_)
            for (const IntVar& time : job.hands) list << time;
        return list;
    }

private:
    struct Job {
        IntVar start, end;
        std::vector<IntVar> hands;  ///< each person's time, from the start
        std::optional<int> place;   ///< where whoever does it watches meanwhile
        job::RunPlace run{};
        bool needs_clear = false;
        std::array<std::optional<IntVar>, machine_kinds> machine_end;  ///< needed from the start until then
    };
    struct Sleeve {
        IntVar mix, mix_end, out, gone;  ///< mixing, last crease, let-down from and to; `out` past the end: overnight
        IntVar held;                     ///< packer bound from
        bool lying = false;
    };

    IntVar fixed(int value) { return IntVar(home_, value, value); }

    /// Done in one go: each person stays until nothing later in it needs them. `opening`: minutes before it.
    std::size_t add(const std::vector<Labour>& parts, std::optional<IntVar> opening = {}, int openers = 0,
                    int at_least = 0) {
        int length = 0;
        std::vector<int> bound(4, 0);
        for (const Labour& part : parts) {
            length += part.minutes;
            for (int k = 0; k < clip(part.persons) && part.minutes > 0; ++k)
                bound[static_cast<std::size_t>(k)] = length;
        }
        for (int k = 0; k < clip(at_least); ++k) bound[static_cast<std::size_t>(k)] = length;
        Job job;
        job.start = IntVar(home_, begin_, end_);
        job.end = IntVar(home_, begin_, end_);
        const IntVar before = opening ? *opening : fixed(0);
        Gecode::rel(home_, job.end == job.start + before + length);
        for (int k = 0; k < 4; ++k) {
            const int own = bound[static_cast<std::size_t>(k)];
            if (own > 0)
                job.hands.push_back(Gecode::expr(home_, before + own));
            else if (opening && k < clip(openers))
                job.hands.push_back(before);
        }
        jobs_.push_back(job);
        return jobs_.size() - 1;
    }

    void runs() {
        std::vector<const RunWork*> opened;
        for (const RunWork& run : work_.runs)
            if (std::any_of(work_.patches.begin(), work_.patches.end(), [&](auto& p) { return p.run == run.place; }))
                opened.push_back(&run);
        std::vector<IntVar> opening;
        for (const RunWork* run : opened) opening.push_back(IntVar(home_, 0, 2 * run->set_up.minutes));
        std::vector<std::size_t> opener;
        for (std::size_t r = 0; r < opened.size(); ++r) opener.push_back(add_run(*opened[r], opening[r]));
        // first[q][r]: run q is opened before run r.
        std::map<std::pair<std::size_t, std::size_t>, Gecode::BoolVar> first;
        for (std::size_t q = 0; q < opened.size(); ++q)
            for (std::size_t r = q + 1; r < opened.size(); ++r) {
                const Gecode::BoolVar b(home_, 0, 1);
                first[{q, r}] = b;
                first[{r, q}] = Gecode::expr(home_, !b);
                Gecode::rel(home_, b >> (jobs_[opener[q]].start <= jobs_[opener[r]].start));
                Gecode::rel(home_, !b >> (jobs_[opener[r]].start <= jobs_[opener[q]].start));
            }
        for (std::size_t r = 0; r < opened.size(); ++r) {
            Gecode::LinIntExpr before = 0, closed = 0;
            for (std::size_t q = 0; q < opened.size(); ++q)
                if (q != r) before = before + first[{q, r}];
            for (const int access : ends_of(*opened[r])) {
                Gecode::LinIntExpr open = 0;
                for (std::size_t q = 0; q < opened.size(); ++q) {
                    const auto theirs = ends_of(*opened[q]);
                    if (q != r && std::find(theirs.begin(), theirs.end(), access) != theirs.end())
                        open = open + first[{q, r}];
                }
                closed = closed + Gecode::expr(home_, open == 0);
            }
            const int full = opened[r]->set_up.minutes, each = std::min(full, opened[r]->open_access.minutes);
            const Gecode::BoolVar is_first = Gecode::expr(home_, before == 0);
            Gecode::rel(home_,
                        is_first >> (opening[r] == full + each * (static_cast<int>(ends_of(*opened[r]).size()) - 1)));
            Gecode::rel(home_, !is_first >> (opening[r] == each * closed));
        }
    }
    /// Returns the job that opens the run.
    std::size_t add_run(const RunWork& run, const IntVar& opening) {
        bool worked = false, lying = false;
        for (const PatchWork& p : work_.patches)
            if (p.run == run.place) (p.lying ? lying : worked) = true;
        const int openers = std::max(run.set_up.persons, run.open_access.persons);
        std::optional<std::size_t> opener;
        if (lying) opened_[run.place] = *(opener = add({}, opening, openers));
        if (!worked) return *opener;
        const std::vector<Labour> clean = run.prepared ? std::vector{run.flush} : std::vector{run.clean, run.roots};
        const std::size_t prepare = lying ? add(clean) : add(clean, opening, openers);
        std::vector<Labour> looking{run.flow_control};
        if (!run.prepared) looking.insert(looking.begin(), run.survey);
        const std::size_t look = add(looking);
        int jetting = 0;
        for (const Labour& part : clean) jetting += part.minutes;
        if (jetting > 0) machine(prepare, Machine::jetter, jobs_[prepare].end);
        if (jetting > 0 && run.prepared) machine(prepare, Machine::camera, jobs_[prepare].end);
        if (!run.prepared && run.survey.minutes > 0)
            machine(look, Machine::camera, Gecode::expr(home_, jobs_[look].start + run.survey.minutes));
        for (const std::size_t j : {prepare, look}) {
            jobs_[j].run = run.place;
            jobs_[j].needs_clear = true;
        }
        if (lying) Gecode::rel(home_, jobs_[prepare].start >= jobs_[*opener].end);
        Gecode::rel(home_, jobs_[look].start >= jobs_[prepare].end);
        look_[run.place] = look;
        prepare_[run.place] = prepare;
        return opener ? *opener : prepare;
    }

    void sleeves() {
        sleeves_.resize(work_.patches.size());
        for (std::size_t i = 0; i < sleeves_.size(); ++i) sleeve_ends(static_cast<int>(i));
        for (const Mix& mix : work_.mixes) {
            const auto order = order_of(mix);
            std::vector<Labour> parts;
            for (const int i : order) parts.push_back(patch(i).wet_out);
            std::vector<std::pair<int, int>> positions, creased;
            int t = 0;
            for (const int i : order) t += patch(i).wet_out.minutes;
            std::map<int, bool> watched;
            for (const int i : order) {
                const PatchWork& p = patch(i);
                for (const Labour& part : {p.load, p.position, p.inflate, p.crease}) parts.push_back(part);
                positions.push_back({i, t + p.load.minutes});
                t += p.load.minutes + p.position.minutes + p.inflate.minutes + p.crease.minutes;
                creased.push_back({i, t});
                if (!work_.alarm_gauge && !p.overnight) watched[place_of(i)] = true;
            }
            const std::size_t j = add(parts, {}, 0, static_cast<int>(watched.size()));
            mixes_.push_back(j);
            for (std::size_t k = 0; k < order.size(); ++k) {
                const int i = order[k];
                Sleeve& s = sleeves_[static_cast<std::size_t>(i)];
                Gecode::rel(home_, s.mix == jobs_[j].start);
                Gecode::rel(home_, s.mix_end == jobs_[j].end);
                if (!patch(i).overnight)
                    Gecode::rel(home_, s.out >= s.mix + std::max(patch(i).mix_to_let_down, creased[k].second));
                Gecode::rel(home_, jobs_[j].start >= jobs_[look_.at(patch(i).run)].end);
            }
            std::map<job::RunPlace, int> first;
            for (const auto& [i, position] : positions) first.try_emplace(patch(i).run, position);
            for (const auto& [run, position] : first) {
                const int dry = run_of(run).dry;
                Gecode::rel(home_, jobs_[j].start + position >= jobs_[prepare_.at(run)].end + dry);
            }
        }
    }
    void sleeve_ends(int i) {
        const PatchWork& p = patch(i);
        Sleeve& s = sleeves_[static_cast<std::size_t>(i)];
        s.lying = p.lying.has_value();
        s.mix = s.lying ? fixed(begin_) : IntVar(home_, begin_, end_);
        s.mix_end = s.lying ? fixed(begin_) : IntVar(home_, begin_, end_);
        s.held = s.mix;
        if (!work_.ready_in_yard && !s.lying) {
            const std::size_t ready = add({p.cut, p.bench_test});
            place(ready, i);
            Gecode::rel(home_, s.mix >= jobs_[ready].end);
            s.held = jobs_[ready].start;
            tests_.push_back(ready);
        }
        if (p.overnight) {
            s.out = s.gone = fixed(end_ + 1);
            return;
        }
        const std::size_t out = add({p.let_down});
        place(out, i, true);
        s.out = jobs_[out].start;
        s.gone = jobs_[out].end;
        if (s.lying) {
            Gecode::rel(home_, s.out >= *p.lying);
            Gecode::rel(home_, s.out >= jobs_[opened_.at(p.run)].end);
        }
    }
    /// One look along a run when all its sleeves of the day are out, then what is cut open again.
    void looks() {
        for (const RunWork& run : work_.runs) {
            Labour pass{0, 1};
            const auto of_this = [&](std::size_t i) {
                return work_.patches[i].run == run.place && !work_.patches[i].overnight;
            };
            for (std::size_t i = 0; i < sleeves_.size(); ++i)
                if (const Labour& own = work_.patches[i].re_survey; of_this(i))
                    pass = {std::max(pass.minutes, own.minutes), std::max(pass.persons, own.persons)};
            std::optional<std::size_t> look;
            if (pass.minutes > 0) {
                look = add({pass});
                jobs_[*look].run = run.place;
                jobs_[*look].needs_clear = true;
                inspect_[run.place] = *look;
                machine(*look, Machine::camera, jobs_[*look].end);
            }
            for (std::size_t i = 0; i < sleeves_.size(); ++i) {
                const PatchWork& p = work_.patches[i];
                if (!of_this(i)) continue;
                const bool seen = p.re_survey.minutes > 0;
                if (seen) Gecode::rel(home_, jobs_[*look].start >= sleeves_[i].gone);
                if (p.reopen.minutes == 0) continue;
                const std::size_t j = add({p.reopen});
                jobs_[j].run = p.run;
                jobs_[j].needs_clear = true;
                machine(j, Machine::cutter, jobs_[j].end);
                Gecode::rel(home_, jobs_[j].start >= (seen ? jobs_[*look].end : sleeves_[i].gone));
            }
        }
    }
    void machine(std::size_t j, Machine kind, const IntVar& end) {
        jobs_[j].machine_end[static_cast<std::size_t>(kind)] = end;
    }
    void place(std::size_t j, int i, bool let_down = false) {
        if (work_.alarm_gauge || !is_watched(place_of(i))) return;
        const bool one = jobs_[j].hands.size() <= 1;
        if (let_down || (one && work_.while_watching == WhileWatching::jobs_there)) jobs_[j].place = place_of(i);
    }

    void pipes() {
        for (std::size_t i = 0; i < sleeves_.size(); ++i) {
            for (const Job& job : jobs_)
                if (job.needs_clear && job.run == work_.patches[i].run) apart(job.start, job.end, i);
            for (std::size_t k = i + 1; k < sleeves_.size(); ++k) {
                const PatchWork &a = work_.patches[i], &b = work_.patches[k];
                if (a.run != b.run) continue;
                const bool passes = a.from_far_end == b.from_far_end ||
                                    (a.from_far_end ? b.at_end >= a.at_start : a.at_end >= b.at_start);
                if (passes) apart(sleeves_[k].mix, sleeves_[k].gone, i, sleeves_[k].lying);
            }
        }
    }
    /// Something in the run is over before the sleeve is mixed, or begins when it is out.
    void apart(const IntVar& start, const IntVar& end, std::size_t i, bool first = false) {
        const Sleeve& s = sleeves_[i];
        if (s.lying)
            Gecode::rel(home_, s.gone <= start);
        else if (first)
            Gecode::rel(home_, end <= s.mix);
        else
            Gecode::rel(home_, (end <= s.mix) || (s.gone <= start));
    }

    void orders() {
        for (std::size_t i = 0; i < sleeves_.size(); ++i)
            for (const int first : work_.patches[i].after)
                Gecode::rel(home_, sleeves_[static_cast<std::size_t>(first)].gone <= sleeves_[i].mix);
        for (const auto& [far, near] : far_first())
            Gecode::rel(home_,
                        sleeves_[static_cast<std::size_t>(far)].mix <= sleeves_[static_cast<std::size_t>(near)].mix);
    }

    void cumulative(int capacity, const std::vector<std::pair<IntVar, IntVar>>& from_to) {
        IntVarArgs s, p, e;
        IntArgs u;
        for (const auto& [from, to] : from_to) {
            s << from;
            e << to;
            p << Gecode::expr(home_, to - from);
            u << 1;
        }
        if (u.size() > 0) Gecode::cumulative(home_, capacity, s, p, e, u);
    }
    void gear() {
        std::vector<std::pair<IntVar, IntVar>> lines;
        std::vector<std::vector<std::pair<IntVar, IntVar>>> packers(work_.packers.size()),
            heaters(work_.heaters.size());
        for (std::size_t i = 0; i < sleeves_.size(); ++i) {
            const PatchWork& p = work_.patches[i];
            packers[static_cast<std::size_t>(p.packer)].push_back({sleeves_[i].held, sleeves_[i].gone});
            if (p.heater >= 0)
                heaters[static_cast<std::size_t>(p.heater)].push_back({sleeves_[i].mix, sleeves_[i].gone});
        }
        for (std::size_t k = 0; k < packers.size(); ++k) cumulative(work_.packers[k].count, packers[k]);
        for (std::size_t k = 0; k < heaters.size(); ++k) cumulative(work_.heaters[k].count, heaters[k]);
        for (const Sleeve& s : sleeves_) lines.push_back({s.mix, s.gone});
        for (const std::size_t j : tests_) lines.push_back({jobs_[j].start, jobs_[j].end});
        cumulative(work_.air_lines, lines);
        for (std::size_t k = 0; k < machine_kinds; ++k) {
            std::vector<std::pair<IntVar, IntVar>> uses;
            for (const Job& job : jobs_)
                if (job.machine_end[k]) uses.push_back({job.start, *job.machine_end[k]});
            cumulative(work_.machines[k], uses);
        }
    }

    void persons() {
        if (work_.alarm_gauge) {
            std::vector<std::pair<IntVar, IntVar>> hands;
            for (const Job& job : jobs_)
                for (const IntVar& time : job.hands)
                    hands.push_back({job.start, Gecode::expr(home_, job.start + time)});
            cumulative(work_.persons, hands);
            return;
        }
        std::multimap<job::RunPlace, std::size_t> looks{look_.begin(), look_.end()};
        looks.insert(inspect_.begin(), inspect_.end());
        for (const auto& [run, j] : looks) {
            if (jobs_[j].hands.size() > 1 || work_.while_watching != WhileWatching::jobs_there) continue;
            for (const bool far : {true, false})  // the near end counts when both are watched
                if (is_watched(place_of_end(run, far))) jobs_[j].place = place_of_end(run, far);
        }
        std::map<int, bool> places;
        for (std::size_t i = 0; i < sleeves_.size(); ++i)
            if (!work_.patches[i].overnight && !sleeves_[i].lying) places[place_of(static_cast<int>(i))] = true;
        for (Minute t = begin_; t < end_; ++t) {
            Gecode::LinIntExpr sum = 0;
            std::map<int, Gecode::LinIntExpr> there;
            for (const Job& job : jobs_)
                for (std::size_t k = 0; k < job.hands.size(); ++k) {
                    const Gecode::BoolVar busy =
                        Gecode::expr(home_, (job.start <= t) && (job.start + job.hands[k] > t));
                    if (k == 0 && job.place)
                        there[*job.place] =
                            there.contains(*job.place) ? there[*job.place] + busy : Gecode::LinIntExpr(busy);
                    else
                        sum = sum + busy;
                }
            for (const auto& [place, used] : places) {
                Gecode::BoolVarArgs cures;
                for (std::size_t i = 0; i < sleeves_.size(); ++i)
                    if (!work_.patches[i].overnight && !sleeves_[i].lying && place_of(static_cast<int>(i)) == place)
                        cures << Gecode::expr(home_, (sleeves_[i].mix_end <= t) && (sleeves_[i].out > t));
                const IntVar needed(home_, 0, 4);
                for (const auto& cure : cures) Gecode::rel(home_, needed >= cure);
                if (there.contains(place)) Gecode::rel(home_, needed >= there[place]);
                sum = sum + needed;
            }
            Gecode::rel(home_, sum <= work_.persons);
        }
    }

    Gecode::Space& home_;
    const Minute begin_, end_;
    std::vector<Job> jobs_;
    std::vector<Sleeve> sleeves_;
    std::vector<std::size_t> mixes_, tests_;
    std::map<job::RunPlace, std::size_t> opened_, prepare_, look_, inspect_;
};

}  // namespace gecode_day
