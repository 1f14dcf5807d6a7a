#pragma once
#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "patchwright/schedule/schedule.hpp"

/// What the solver works on: the problem with its places resolved and everything precomputed that an order needs.
namespace patchwright::schedule {

/// One order in which the sleeves of a mix are done, without a break from mixing to the last crease.
struct BlockVariant {
    /// Start of each task, from mixing.
    struct Sleeve {
        Minute wet_out = 0, load = 0, position = 0, inflate = 0, crease = 0, creased = 0;
    };
    std::vector<int> order;       ///< patches
    std::vector<Sleeve> sleeves;  ///< in that order
    Minute waiting = 0;           ///< mixed resin waiting for hands that are on another sleeve
};

struct MixModel {
    std::span<const int> patches;        ///< the problem's list
    Minute length = 0;                   ///< hands-on, from mixing to the last crease
    std::vector<BlockVariant> variants;  ///< that keep every limit, least waiting first; empty: none does
    std::string why_not;                 ///< when there is none
    int kind = -1;                       ///< in the memory: equal for mixes whose work is equal
};

struct Model {
    const Problem* problem = nullptr;
    std::vector<MixModel> mixes;
    std::vector<int> packers;         ///< of each kind
    std::vector<char> conflict;       ///< patch by patch, in rows: not in the pipe together
    int crews = 1;                    ///< that can work: as many as there are packers and air lines
    Memory::Store* memory = nullptr;  ///< of days searched before; may be missing
    int kind = -1;                    ///< in the memory: equal for days that start and end alike
    std::vector<int> run_kinds;       ///< in the memory: equal for runs whose work is equal
    bool keep_out(int i, int j) const {
        return conflict[static_cast<std::size_t>(i) * problem->patches.size() + static_cast<std::size_t>(j)] != 0;
    }
    const PatchWork& patch(int i) const { return problem->patches[static_cast<std::size_t>(i)]; }
    const RunWork& run(int r) const { return problem->runs[static_cast<std::size_t>(r)]; }
    Minute inspect(int i) const { return patch(i).re_survey + patch(i).reopen; }
};

/// Throws InputError as `plan_days` says.
void check_input(const Problem& problem);
Model make_model(const Problem& problem);
/// Both packers would lie in the pipe at once and one of them, or its hose, would have to pass the other.
bool must_pass(const PatchWork& a, const PatchWork& b);
std::string mix_name(const Problem& problem, int mix);
std::string clock(Minute minute);  ///< "08:05"; "07:40 next day"
std::string span(Minute minutes);  ///< "3 h 20 min"

/// A piece of the day that the team does in one go.
enum class Piece : std::uint8_t { open, prepare, look, cut, bench, block, let_down, inspect };
struct Step {
    Piece piece = Piece::open;
    int index = 0;    ///< run (open, prepare, look), mix (block), else patch
    int variant = 0;  ///< of the mix
    Minute start = 0;
};

/// What one crew is to do on one day, and with what.
struct CrewDay {
    std::vector<int> mixes;          ///< to be worked
    std::vector<int> overnight;      ///< of those, left curing
    std::vector<int> carried;        ///< patches that cured overnight
    std::vector<Minute> carried_at;  ///< earliest let-down of each, on this day's clock
    std::vector<int> packers;        ///< of each kind, for this crew
    int air_lines = 1;
};
struct CrewPlan {
    bool found = false;
    bool proven = false;  ///< that no order finishes earlier, or that none is in time when `found` is false
    std::vector<Step> steps;
    Minute finish = 0;
    Minute waiting = 0;
    Minute bound = 0;
};

/// The best order of one crew's day that is back by `latest`. With `any` the first order that is in time will do.
/// `budget` counts search steps and is used up.
CrewPlan plan_crew(const Model& model, const CrewDay& day, Minute latest, bool any, std::int64_t& budget);

/// Start of every step, earliest first in the order given; fills `Step::start`. Returns the day's finish.
Minute clock_steps(const Model& model, const CrewDay& day, std::vector<Step>& steps);
/// Latest start of every step so that the crew is back by `back`, order kept.
std::vector<Minute> latest_starts(const Model& model, const CrewDay& day, const std::vector<Step>& steps, Minute back);
Minute length_of(const Model& model, const Step& step);

/// The whole crew-days of a schedule, before they become tasks.
struct WorkDay {
    std::vector<CrewDay> crews;
    std::vector<CrewPlan> plans;
    Minute finish() const;
};
struct Allocation {
    std::vector<WorkDay> days;
    bool proven = false;
    Minute bound = 0;
    int fewest_days = 0;
};
/// Search steps: for the best order of one day, and to find out whether some mixes fit into a day.
struct Effort {
    std::int64_t search = 0, fitting = 0;
};
Allocation allocate(const Model& model, const std::vector<int>& mixes, const std::vector<int>& overnight,
                    const Effort& effort);
/// One day for those mixes, split over the crews; `found` false: no way in time. Carried patches go to crew 0.
struct DayPlan {
    bool found = false, proven = false;
    WorkDay work;
    Minute bound = 0;
};
DayPlan plan_day(const Model& model, const std::vector<int>& mixes, const CrewDay& carried, Minute latest, bool any,
                 std::int64_t& budget);

/// Patches in order of work: by day, then by the start of their wet-out.
std::vector<int> order_of_work(const Model& model, const Allocation& allocation);
/// Fills days, tasks, patch times and blocked times.
void write_schedule(const Model& model, const Allocation& allocation, Schedule& schedule);

}  // namespace patchwright::schedule
