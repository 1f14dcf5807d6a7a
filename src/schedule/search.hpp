#pragma once
#include <cstdint>
#include <unordered_map>
#include <vector>

#include "model.hpp"

namespace patchwright::schedule {

using JobSet = std::bitset<max_jobs>;

/// The day as far as it is decided. Jobs are started in the order of their clock times: the next one starts no earlier
/// than the last, as soon as all that it needs is there. What matters of the past is then who is busy until when.
class Partial {
public:
    explicit Partial(const Model& model);

    struct Start {
        int job = 0;
        Minute at = 0, opening = 0;
    };
    /// Earliest start of a job as things stand; `never` while it waits for a job that has not started.
    Minute earliest(int job) const;
    Minute opening(const Job& job) const;  ///< its run's, were it the next to start
    void start(int job, Minute when);
    void undo();

    const std::vector<Start>& starts() const { return starts_; }
    const JobSet& started() const { return started_; }
    bool done() const { return starts_.size() == model_.jobs.size(); }
    /// Earliest end of all work on site; exact when done. Not made better than `enough`.
    Minute bound(Minute enough) const;
    /// All that the future depends on besides the set of started jobs: no later in any entry is as good or better.
    void profile(std::vector<Minute>& entries) const;

    /// Work on one machine that may be broken off.
    struct Load {
        Minute head = 0, length = 0, tail = 0;
    };

private:
    /// A person who is busy. At a watched place whoever is busy there with what can be dropped watches as well.
    struct Busy {
        Minute until = 0;
        int place = -1;
    };
    struct Moment {
        Minute now = 0, end = 0, work = 0;
        std::uint64_t open_accesses = 0;
        std::array<Busy, max_persons> busy{};
        std::size_t busy_count = 0;
    };

    void hold(const Job& job, Minute when);
    void set_gear(int patch, Minute held, Minute line, Minute lies);
    bool has_started(int job) const { return start_[static_cast<std::size_t>(job)] >= 0; }
    Minute released(int job) const;
    Minute clear_of_packers(int run, Minute from) const;
    Minute gear_free(const Job& mix, Minute from) const;
    Minute packer_free(int kind, int wanted, Minute from) const;
    Minute heater_free(int kind, int wanted, Minute from) const;
    Minute run_free(int run, int wanted, Minute from) const;
    Minute lines_free(int wanted, Minute from) const;
    Minute hands_free(const Job& job, Minute from) const;
    Minute machine_free(const Model::MachineTurns& turns, int wanted, Minute from) const;
    Minute machines_free(const Job& job, Minute from) const;
    int bound_persons(Minute when, const Job* job) const;
    Minute watched_from(int place, const Job* let_down) const;
    Minute free_persons_from(int wanted) const;  ///< with nothing more started

    void find_heads() const;
    Minute hands_bound() const;
    Minute pair_bound() const;
    Minute chain_bound() const;
    Minute machine_bound() const;
    Minute watched_after(const Job& mix) const;
    Minute watched_until() const;

    const Model& model_;
    std::vector<Minute> start_, opened_;  ///< by job; start -1: not started
    std::vector<Minute> held_until_;      ///< by patch: its packer; 0: free, `never`: not let down yet
    std::vector<Minute> line_until_;      ///< by patch: its air line
    std::vector<Minute> lies_until_;      ///< by patch: in its pipe
    std::vector<Start> starts_;
    std::vector<Moment> moments_;  ///< the last is now
    JobSet started_;
    mutable std::vector<Minute> heads_;
    mutable std::vector<Load> loads_;
};

/// Depth first over the orders in which jobs start, with bounds, and without orders that another with the same jobs
/// started beats in every respect.
class Search {
public:
    /// Looks for a day with all site work done before `limit`.
    Search(const Model& model, Minute limit, std::int64_t budget);
    void run(bool any = false);  ///< `any`: the first one found will do
    bool found() const { return !best_.empty(); }
    bool complete() const { return complete_; }
    Minute bound() const { return root_bound_; }
    Minute end() const { return limit_; }
    std::int64_t visited() const { return visited_; }
    const std::vector<Partial::Start>& best() const { return best_; }

private:
    void visit();
    bool beaten();

    const Model& model_;
    Partial partial_;
    Minute limit_;
    std::int64_t budget_, visited_ = 0;
    Minute root_bound_ = 0;
    bool complete_ = true, stop_ = false, any_ = false;
    std::vector<Partial::Start> best_;
    struct Choice {
        Minute at = 0, tail = 0;
        int job = 0;
    };
    std::vector<std::vector<Choice>> choices_;  ///< by depth; their memory is used again
    /// Profiles one after the other, each behind the place of the one before with the same jobs started; 0: none.
    std::vector<Minute> kept_;
    std::unordered_map<JobSet, std::size_t> seen_;  ///< the newest profile
    std::vector<Minute> profile_;
};

}  // namespace patchwright::schedule
