#pragma once
#include <algorithm>
#include <limits>
#include <optional>
#include <set>
#include <vector>

#include "patchwright/schedule/schedule.hpp"

/// Exhaustive enumeration: every order of every job of a day is built, and the best one kept. It knows none of the
/// solver's rules of thumb (no memory, no dominance, no relaxed machine); an order is given up only when the minutes
/// already spent and the work still to do, or one patch's own way to the end, can no longer win.
namespace enumerate {

using namespace patchwright::schedule;

struct Best {
    Minute finish = std::numeric_limits<Minute>::max();
    Minute waiting = std::numeric_limits<Minute>::max();
    bool found() const { return finish != std::numeric_limits<Minute>::max(); }
    auto operator<=>(const Best&) const = default;
};

class Enumeration {
public:
    Enumeration(const Problem& problem, const std::vector<int>& mixes) : p_{problem}, mixes_{mixes} {
        for (int b : mixes) {
            for (int i : p_.batches.at(static_cast<std::size_t>(b)).patches) {
                today_.insert(i);
                runs_.insert(patch(i).run);
            }
        }
        for (int r : runs_) {
            const RunWork& w = run(r);
            jobs_.push_back({Kind::prepare, r, w.set_up + w.clean, 2});
            jobs_.push_back({Kind::look, r, w.survey + w.flow_control, 1});
        }
        for (int i : today_) {
            jobs_.push_back({Kind::cut, i, patch(i).cut, 1});
            jobs_.push_back({Kind::bench, i, patch(i).bench_test, 1});
            jobs_.push_back({Kind::down, i, patch(i).let_down, 1});
            jobs_.push_back({Kind::inspect, i, patch(i).re_survey + patch(i).reopen, 1});
        }
        for (int b : mixes_) {
            Minute hands = 0;
            for (int i : p_.batches[static_cast<std::size_t>(b)].patches)
                hands += patch(i).wet_out + patch(i).load + patch(i).position + patch(i).inflate + patch(i).crease;
            jobs_.push_back({Kind::block, b, hands, 2});
        }
        // A job without minutes that only gates others is done as soon as it may: it is no choice.
        for (const Job& job : jobs_) work_ += job.minutes;
        done_.assign(jobs_.size(), 0);
        mixed_.assign(p_.patches.size(), 0);
        creased_ = mixed_;
        clean_.assign(p_.runs.size(), 0);
        in_.assign(p_.patches.size(), 0);
        out_ = in_;
        tested_ = in_;
    }

    Best run_all() {
        descend(p_.start + p_.travel, work_, 0);
        return best_;
    }

private:
    enum class Kind { prepare, look, cut, bench, block, down, inspect };
    struct Job {
        Kind kind;
        int index;
        Minute minutes;
        int persons;
    };
    const PatchWork& patch(int i) const { return p_.patches[static_cast<std::size_t>(i)]; }
    const RunWork& run(int r) const { return p_.runs[static_cast<std::size_t>(r)]; }
    static std::size_t at(int i) { return static_cast<std::size_t>(i); }
    bool is_done(Kind kind, int index) const {
        for (std::size_t k = 0; k < jobs_.size(); ++k)
            if (jobs_[k].kind == kind && jobs_[k].index == index) return done_[k] != 0;
        return true;
    }
    int watched() const {
        int count = 0;
        for (int i : today_) count += in_[at(i)] != 0 ? 1 : 0;
        return p_.watch_cure ? count : 0;
    }
    int lying() const {
        int count = 0;
        for (int i : today_) count += in_[at(i)];
        return count;
    }
    bool shut(int r) const {
        for (int i : today_)
            if (in_[at(i)] != 0 && patch(i).run == r) return true;
        return false;
    }
    int bound_packers(int kind, const std::vector<int>& but) const {
        int count = 0;
        for (int i : today_)
            if (patch(i).packer == kind && (in_[at(i)] != 0 || tested_[at(i)] != 0) &&
                std::find(but.begin(), but.end(), i) == but.end())
                ++count;
        return count;
    }
    static bool apart(const PatchWork& a, const PatchWork& b) {
        if (a.run != b.run) return true;
        if (a.from_far_end == b.from_far_end) return false;
        return a.from_far_end ? b.at_end < a.at_start : a.at_end < b.at_start;
    }

    /// Earliest start of a job now, or nothing when the rules forbid it.
    std::optional<Minute> may_start(const Job& job, Minute t) const {
        const int persons = std::min(job.persons, p_.crew_size);
        switch (job.kind) {
            case Kind::prepare:
                if (shut(job.index) || persons + watched() > p_.crew_size) return {};
                return t;
            case Kind::look:
                if (!is_done(Kind::prepare, job.index) || shut(job.index)) return {};
                break;
            case Kind::cut:
                break;
            case Kind::bench:
                if (job.minutes > 0) {
                    const int kind = patch(job.index).packer;
                    if (bound_packers(kind, {}) + 1 > p_.packers[at(kind)].count) return {};
                    if (lying() + 1 > p_.air_lines) return {};
                }
                break;
            case Kind::inspect:
                if (!is_done(Kind::down, job.index) || shut(patch(job.index).run)) return {};
                break;
            case Kind::down:
                if (in_[at(job.index)] == 0) return {};
                if (persons + watched() - (p_.watch_cure ? 1 : 0) > p_.crew_size) return {};
                return std::max({t, mixed_[at(job.index)] + patch(job.index).mix_to_let_down, creased_[at(job.index)]});
            case Kind::block:
                return t;  // decided order by order
        }
        if (job.minutes > 0 && persons + watched() > p_.crew_size) return {};
        return t;
    }

    /// End of one patch's let-down and look if nothing else were to be done.
    Minute way_out(int i, Minute t) const {
        if (out_[at(i)] != 0) return t;
        const Minute cured = in_[at(i)] != 0 ? mixed_[at(i)] + patch(i).mix_to_let_down : t + patch(i).mix_to_let_down;
        return std::max(t, cured) + patch(i).let_down + patch(i).re_survey + patch(i).reopen;
    }

    bool block_allowed(int b, const std::vector<int>& members) const {
        (void)b;
        if (std::min(2, p_.crew_size) + watched() + (p_.watch_cure ? static_cast<int>(members.size()) - 1 : 0) >
            p_.crew_size)
            return false;
        if (lying() + static_cast<int>(members.size()) > p_.air_lines) return false;
        for (int i : members) {
            if (!is_done(Kind::cut, i) || !is_done(Kind::bench, i) || !is_done(Kind::look, patch(i).run)) return false;
            for (int a : patch(i).after)
                if (today_.count(a) != 0 && out_[at(a)] == 0) return false;
            for (int j : today_)
                if (j != i && (in_[at(j)] != 0 || std::find(members.begin(), members.end(), j) != members.end()) &&
                    !apart(patch(i), patch(j)))
                    return false;
            const int kind = patch(i).packer;
            int wanted = 0;
            for (int j : members) wanted += patch(j).packer == kind ? 1 : 0;
            if (bound_packers(kind, members) + wanted > p_.packers[at(kind)].count) return false;
        }
        return true;
    }

    void descend(Minute t, Minute left, Minute waiting) {
        const Minute home = p_.pack_up + p_.travel;
        if (t + left + home > p_.finish || Best{t + left + home, waiting} >= best_) return;
        for (int i : today_)
            if (Best{way_out(i, t) + home, waiting} >= best_ || way_out(i, t) + home > p_.finish) return;
        bool all = true;
        for (std::size_t k = 0; k < jobs_.size(); ++k) {
            if (done_[k] != 0) continue;
            all = false;
            const Job job = jobs_[k];
            if (job.kind == Kind::block) {
                std::vector<int> members = p_.batches[at(job.index)].patches;
                std::sort(members.begin(), members.end());
                if (!block_allowed(job.index, members)) continue;
                done_[k] = 1;
                do block(members, p_.batches[at(job.index)].pour_by, t, left - job.minutes, waiting);
                while (std::next_permutation(members.begin(), members.end()));
                done_[k] = 0;
                continue;
            }
            const auto start = may_start(job, t);
            if (!start) continue;
            done_[k] = 1;
            const Minute end = *start + job.minutes;
            if (job.kind == Kind::prepare) clean_[at(job.index)] = end;
            if (job.kind == Kind::bench && job.minutes > 0) tested_[at(job.index)] = 1;
            if (job.kind == Kind::down) {
                in_[at(job.index)] = 0;
                out_[at(job.index)] = 1;
            }
            descend(end, left - job.minutes, waiting);
            done_[k] = 0;
            if (job.kind == Kind::bench) tested_[at(job.index)] = 0;
            if (job.kind == Kind::down) {
                in_[at(job.index)] = 1;
                out_[at(job.index)] = 0;
            }
            const bool no_choice = job.kind != Kind::down && (job.kind != Kind::prepare || run(job.index).dry == 0);
            if (job.minutes == 0 && no_choice) return;
        }
        if (all) best_ = std::min(best_, Best{t + home, waiting});
    }

    void block(const std::vector<int>& order, Minute pour_by, Minute t, Minute left, Minute waiting) {
        Minute wet = 0, start = t;
        std::vector<Minute> wet_at, positioned, creased;
        for (int i : order) {
            if (pour_by > 0 && wet + patch(i).pour > pour_by) return;
            wet += patch(i).wet_out;
        }
        Minute clock = wet;
        for (int i : order) {
            const Minute own = patch(i).wet_out + patch(i).load + patch(i).position + patch(i).inflate;
            positioned.push_back(clock + patch(i).load);
            clock += patch(i).load + patch(i).position + patch(i).inflate;
            if (clock > patch(i).inflate_by) return;
            waiting += clock - own;
            clock += patch(i).crease;
            if (clock > patch(i).crease_by) return;
            creased.push_back(clock);
        }
        for (std::size_t k = 0; k < order.size(); ++k) {
            const RunWork& r = run(patch(order[k]).run);
            start = std::max(start, clean_[at(patch(order[k]).run)] + r.dry - positioned[k]);
        }
        std::vector<int> tested;
        for (std::size_t k = 0; k < order.size(); ++k) {
            mixed_[at(order[k])] = start;
            creased_[at(order[k])] = start + creased[k];
            in_[at(order[k])] = 1;
            tested.push_back(tested_[at(order[k])]);
            tested_[at(order[k])] = 0;
        }
        descend(start + clock, left, waiting);
        for (std::size_t k = 0; k < order.size(); ++k) {
            in_[at(order[k])] = 0;
            tested_[at(order[k])] = tested[k];
        }
    }

    const Problem& p_;
    std::vector<int> mixes_;
    std::set<int> today_, runs_;
    std::vector<Job> jobs_;
    std::vector<char> done_;
    std::vector<Minute> mixed_, creased_, clean_;
    std::vector<int> in_, out_, tested_;
    Minute work_ = 0;
    Best best_;
};

/// Best single day for those mixes; not found when no order is back in time.
inline Best day(const Problem& problem, const std::vector<int>& mixes) { return Enumeration{problem, mixes}.run_all(); }

struct Days {
    int days = std::numeric_limits<int>::max();
    Best last;
    auto operator<=>(const Days&) const = default;
};

/// Every way to deal the mixes over days, every day enumerated. `before(a, b)`: mix a must not come on a later day.
inline Days all_days(const Problem& problem, const std::vector<int>& mixes) {
    const std::size_t n = mixes.size();
    std::vector<Best> by_set(std::size_t{1} << n);
    for (std::size_t set = 1; set < by_set.size(); ++set) {
        std::vector<int> chosen;
        for (std::size_t k = 0; k < n; ++k)
            if (set >> k & 1U) chosen.push_back(mixes[k]);
        by_set[set] = day(problem, chosen);
    }
    const auto closed = [&](std::size_t done) {
        for (std::size_t k = 0; k < n; ++k)
            if (done >> k & 1U)
                for (int i : problem.batches[static_cast<std::size_t>(mixes[k])].patches)
                    for (int a : problem.patches[static_cast<std::size_t>(i)].after)
                        for (std::size_t m = 0; m < n; ++m)
                            if (mixes[m] == problem.patches[static_cast<std::size_t>(a)].batch && !(done >> m & 1U))
                                return false;
        return true;
    };
    std::vector<Days> best(by_set.size());
    best[0] = {0, {}};
    for (std::size_t done = 1; done < by_set.size(); ++done) {
        if (!closed(done)) continue;
        for (std::size_t last = done; last != 0; last = (last - 1) & done) {
            const Days& before = best[done & ~last];
            if (before.days == std::numeric_limits<int>::max() || !by_set[last].found()) continue;
            best[done] = std::min(best[done], Days{before.days + 1, by_set[last]});
        }
    }
    return best.back();
}

}  // namespace enumerate
