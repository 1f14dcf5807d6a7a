#pragma once
#include <algorithm>
#include <array>
#include <bitset>
#include <cstdint>
#include <initializer_list>
#include <limits>
#include <span>
#include <string>
#include <vector>

#include "patchwright/schedule/day.hpp"

/// A day as jobs: things that are done in one go, with what must come before and what they bind. Internal.
namespace patchwright::schedule {

inline constexpr int max_patches = 24, max_runs = 24, max_persons = 4;
inline constexpr std::size_t max_jobs = 192;
/// Places in lists are ints, with -1 for none.
inline std::size_t at(int place) { return static_cast<std::size_t>(place); }

inline constexpr Minute never = std::numeric_limits<Minute>::max() / 4;

enum class Piece : std::uint8_t { open, prepare, look, inspect, ready, mix, let_down, reopen };
/// Of a run, not of a patch or a mix.
constexpr bool of_run(Piece piece) { return piece <= Piece::inspect; }

/// A task inside a job.
struct Segment {
    What what = What::travel;
    int patch = -1;  ///< none
    Minute offset = 0, minutes = 0;
    int persons = 1;
};

/// `job` starts at least `lag` after the start of the other; of a job that opens a run, after its opening.
struct Link {
    int job = 0;
    Minute lag = 0;
};

struct Job {
    Piece piece = Piece::open;
    int index = 0;               ///< run (place in DayWork::runs), mix or patch
    int run = -1;                ///< that must be clear of packers; place in DayWork::runs
    Minute minutes = 0;          ///< without opening the run
    std::uint64_t accesses = 0;  ///< that it opens first, unless they are open; 0: none
    int opening_persons = 1;
    Minute min_opening = 0;
    Minute release = 0;  ///< clock time before which it cannot start
    int persons = 1;
    std::array<Minute, max_persons> bound{};      ///< [k]: until then, from the start, more than k persons are bound
    std::array<Minute, machine_kinds> machine{};  ///< until when it has one, from the end of its opening; 0: needs none
    int place = -1;                               ///< where one who watches could do it as well; -1: nowhere
    std::span<const Link> before, after;
    Minute tail = 0;                              ///< least time from its start to the end of all that follows from it
    std::size_t first_segment = 0, segments = 0;  ///< places in Model::segments, and how many
    Minute person_minutes() const {
        Minute sum = 0;
        for (const Minute m : bound) sum += m;
        return sum;
    }
};

/// One order of a mix's sleeves, without a break from mixing to the last crease.
struct MixOrder {
    struct Sleeve {
        int patch = 0;
        Minute wet_out = 0, load = 0, position = 0, inflate = 0, crease = 0, creased = 0;  ///< starts, from mixing
    };
    std::vector<Sleeve> sleeves;
    Minute waiting = 0;   ///< mixed resin waiting for hands that are on another sleeve
    Minute too_slow = 0;  ///< by which it breaks its limits
};
/// Keeps the limits best, then waits least; of up to six sleeves all orders are tried, more go by their inflate-by.
MixOrder best_order(const DayWork& work, const Mix& mix);

struct PatchJobs {
    int run = 0;  ///< place in DayWork::runs
    int ready = -1, mix = -1, let_down = -1, inspect = -1;
    int watch = -1;               ///< access from which it is watched while it cures; -1: nobody need
    std::vector<int> keeps_out;   ///< patches that cannot lie in the pipe beside it
    Minute out_after_mixing = 0;  ///< least time to the start of its let-down
};

/// Built by the thousand: what belongs to a job lies in one list for all jobs. Moved, not copied: jobs point into them.
struct Model {
    explicit Model(const DayWork& day_work, const std::vector<int>& prepare_ahead = {});
    Model(Model&&) = default;
    Model& operator=(Model&&) = default;

    const DayWork* work = nullptr;
    Verdict verdict;
    std::vector<MixOrder> orders;  ///< of each mix
    std::vector<Job> jobs;
    std::vector<Segment> segments;
    std::vector<int> sorted;  ///< jobs, each after those before it
    std::vector<int> begun;   ///< jobs that go on at the start, if hands are there: each after those before it
    std::vector<PatchJobs> patches;
    struct Chain {
        std::vector<int> patches;
        int servers = 1;
    };
    struct MachineTurns {
        Machine kind = Machine::jetter;
        std::vector<int> jobs;
        int count = 1;
    };
    std::vector<MachineTurns> turns;  ///< where the crew could use more machines of a kind at once than it has
    std::vector<Chain> chains;        ///< patches that share packers, heaters, air lines or a way into a run
    std::vector<int> ways_in;         ///< of each run with a patch from any end: packers that may lie in it; else 0
    int watch_places = 0;
    std::uint64_t open_accesses = 0;  ///< at the start
    Minute on_site = 0, home = 0;     ///< arrival; pack up and travel back
    int persons = 2;

    std::span<const Segment> segments_of(const Job& job) const {
        return std::span{segments}.subspan(job.first_segment, job.segments);
    }
    bool in_hand(const Job& job) const {
        return job.piece == Piece::mix && work->mixes[static_cast<std::size_t>(job.index)].in_hand;
    }
    /// Set today before the start: it cures from then on.
    bool cures_at_start(std::size_t patch) const { return work->patches[patch].lying && work->patches[patch].watched; }
    /// Who watches at a place may do this there; letting down is what the watching is for.
    bool can_be_dropped(const Job& job) const;
    /// Minutes to open so many accesses; the day's first takes the whole set-up.
    Minute opening(const RunWork& run, int accesses, bool first) const {
        const Minute further = std::min(run.set_up.minutes, run.open_access.minutes);
        return first ? run.set_up.minutes + further * (accesses - 1) : further * accesses;
    }
    int clip(int wanted) const { return std::clamp(wanted, 1, persons); }

private:
    void add_runs(const std::vector<int>& prepare_ahead);
    void add_run(int run, bool worked);
    void add_patches();
    void add_inspections();
    void add_mixes();
    void link_patches();
    void find_ways_in();
    void find_places();
    void find_chains();
    void find_turns();
    void find_accesses(const std::vector<int>& prepare_ahead);
    void finish_jobs();
    bool sort_jobs();
    void check_mix(int mix);
    void find_begun();
    void begin(int job);
    int add(Piece piece, int index, int run, std::initializer_list<Segment> tasks);
    void begin_job(Piece piece, int index, int run);
    void add_segment(Segment segment);
    void link(int first, int then, Minute lag);
    bool leads_to(int from, int to) const;
    void list_links();

    struct Pair {
        int first = 0, then = 0;
        Minute lag = 0;
    };
    std::vector<Pair> pairs_;                      ///< every link while they are being made
    std::vector<Link> before_, after_;             ///< of the first job, of the second, ...
    std::vector<std::array<int, 2>> watch_place_;  ///< of both ends of each run
    struct RunJobs {
        int open = -1, prepare = -1, look = -1;
    };
    std::vector<RunJobs> run_jobs_;
    std::vector<std::uint64_t> accesses_;  ///< of each run, those that today's work needs
};

/// Throws InputError as `best_day` says.
void check_input(const DayWork& work);
void check_size(const DayWork& work);
void check_decided(const DayWork& work);  ///< from which end each patch comes in
std::string clock(Minute minute);         ///< "08:05"; "07:40 next day"
std::string span(Minute minutes);         ///< "3 h 20 min"

}  // namespace patchwright::schedule
