#pragma once
#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/cure/cure.hpp"
#include "patchwright/cutting/cutting.hpp"
#include "patchwright/job/change.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/layout/layout.hpp"
#include "patchwright/liner/felt.hpp"
#include "patchwright/liner/thickness.hpp"
#include "patchwright/packer/packer.hpp"
#include "patchwright/price/break_even.hpp"
#include "patchwright/price/price.hpp"
#include "patchwright/resin/batch.hpp"
#include "patchwright/resin/resin.hpp"
#include "patchwright/safety/safety.hpp"
#include "patchwright/schedule/known_days.hpp"
#include "patchwright/schedule/schedule.hpp"
#include "patchwright/survey/verdict.hpp"

namespace patchwright::job {
struct Resin;
struct Yard;
}  // namespace patchwright::job

/// The whole plan: what the modules found, put together. Gathers, computes nothing of its own.
namespace patchwright::plan {

/// A figure of the whole job that can be asked why; those of patches and mixes stand in plan/figures.hpp.
struct Figure {
    std::string name;  ///< "price", "A.flow"
    Show show = Show::ratio;
    double value = 0.0;  ///< SI, as in Operand
    Working working;
};

struct Verdict {
    std::string defect;
    survey::Assessment assessment;
};
struct RunPlan {
    std::string id;
    std::vector<Verdict> verdicts;  ///< in the job file's order
    std::vector<std::string> remarks;
    layout::Problem problem;  ///< as put to the optimiser
    layout::Solution solution;
    std::vector<int> target_defects;           ///< target to place in Run::defects
    std::vector<std::string> carrier_packers;  ///< carrier to packer id
    std::vector<int> chosen;                   ///< places in solution.candidates, by start
    bool no_day = false;                       ///< some patch of it found no day that holds it
    std::vector<int> waiting;                  ///< defects that wait for a longer day or another resin
    std::vector<std::string> unanswered;       ///< per uncovered defect: what stands in the way, what would lift it
};

struct CureTable {
    std::vector<cure::LetDownRow> let_down;
    std::vector<cure::InflateRow> inflate;
};

/// Calculations behind the figures of a patch; several figures may come from one.
enum class Calculation : std::uint8_t {
    wall,
    felt,
    strength,
    mark,
    pressure,
    bench,
    build,
    resin,
    cure,
    heating,
    promise,
    price
};
inline constexpr std::size_t calculations = static_cast<std::size_t>(Calculation::price) + 1;

struct Patch {
    std::string id;            ///< "A-P1"
    int run = 0;               ///< place in Job::runs, see Plan::run_of
    std::vector<int> defects;  ///< places in Run::defects
    Length start{}, end{};
    Length bore{};
    bool fully_deteriorated = false;
    liner::ThicknessInput thickness_input;
    liner::ThicknessDesign thickness;
    std::array<double, 5> utilisation{};
    liner::Sensitivity sensitivity;
    liner::LayerChange layer_change;
    liner::FeltChoice felt;
    liner::CutSizes cut;
    packer::Option option;
    packer::Rigging rigging;
    packer::PressurePlan pressure;
    packer::BenchTest bench;
    std::optional<packer::BuildCard> build;
    int resin = 0;  ///< place in Yard::resins, see Plan::resin_of
    resin::Need need;
    cure::Answer cure;
    CureTable tables;
    cure::Sleeve sleeve;
    cure::Surroundings surroundings;
    cure::Conditions conditions;
    bool conditioned = false;       ///< the resin is cooled or warmed before mixing, to conditions.resin
    int heater = -1;                ///< place in Yard::heaters; -1: not heated
    Duration heater_on{};           ///< likely, from mixing: crease step done, heater connected
    Duration let_down_unheated{};   ///< from mixing, should the heater fail from the start
    cure::SleeveTasks tasks;        ///< hands-on work from mixing to shaped
    double late_probability = 0.0;  ///< not shaped in time, with all hands of its mix before it
    std::vector<int> reopened;      ///< places in Run::fittings that are covered and cut open again
    std::vector<std::string> preparations;
    std::vector<std::string> notes;              ///< restraint sleeve, film, turn to clock, ...
    Money redo;                                  ///< doing this sleeve once more, without any risk in it
    Money dig_instead;                           ///< digging its length of the run
    Money cost;                                  ///< marginal, what the layout summed
    std::array<Working, calculations> workings;  ///< by Calculation; which figure is of which: plan/figures.hpp
    Length length() const { return end - start; }
    const Working& working(Calculation of) const { return workings[static_cast<std::size_t>(of)]; }
    Working& working(Calculation of) { return workings[static_cast<std::size_t>(of)]; }
};

struct Batch {
    std::string id;  ///< "M1"
    resin::Batch batch;
    int resin = 0;
    int day = 0;
    ClockTime mix_at{};
    resin::Pot pot;             ///< one pot of it
    cure::BucketAnswer bucket;  ///< how it behaves if it is left standing
    Working mixing, standing;   ///< of the weights and volumes, and of the times
};

struct KitsToBuy {
    std::string resin;  ///< its id
    resin::KitCount kits;
};

/// The pieces of one felt, cut from its rolls and offcuts.
struct FeltCutting {
    int felt = 0;  ///< place in Yard::felts
    std::vector<cutting::Piece> pieces;
    std::vector<cutting::Stock> stock;
    cutting::CutPlan plan;
    Money cost;  ///< of what is used: offcuts at their value, rolls by the length taken
};

/// A whole job with another number of sleeves that costs little more than the best.
struct OtherWay {
    std::size_t patches = 0;
    Length longest{};  ///< of its sleeves
    int days = 0;
    Money more{};  ///< than the best, net
};

struct LayoutSummary {
    Money cost;  ///< sum of the patches' marginal costs
    bool proven_optimal = false;
    int repriced = 0;                  ///< whole jobs compared
    std::optional<Money> second_best;  ///< whole-job net of the runner-up
    Money second_more;                 ///< so much more than the best
    std::vector<OtherWay> others;      ///< cheapest of each number of sleeves, little dearer than the best
    std::string difference;            ///< in what best and second differ, one sentence
};

/// How good the whole job is. Its net price is the offer's.
struct WholeSummary {
    bool proven_optimal = false;  ///< no whole job of these patches is cheaper
    double bound_share = 1.0;     ///< no whole job costs less than this share of it
    int compared = 0;             ///< whole jobs that were worked out
    /// What the job leaves room for and the proof leaves out: "heaters". Tried where it may pay, so it can only have
    /// made the job cheaper; a use of it that is cheaper still is not ruled out.
    std::vector<std::string> tried_only;
};

/// One thing changed in job or yard with which a patch can be made.
struct Remedy {
    enum class Kind : std::uint8_t { any_resin, resin_at, air_at, pipe_at, overtime, overnight, helper } kind{};
    int run = 0;                       ///< place in Job::runs, of a resin or a pipe
    Temperature warmth{};              ///< of resin, pipe, or the air where the sleeve is wet out and waits
    Duration overtime{};               ///< allowed
    std::string words;                 ///< "overtime up to 30 min"
    std::vector<job::Change> changes;  ///< the same as `whatif --try` takes it
    std::optional<Money> extra_net;    ///< the job planned anew with that, less the job as it is
};
/// A patch that no day holds as job and yard are given, or that no resin can be made of, and what would help.
struct UnplannedPatch {
    Patch patch;
    schedule::Minute minutes = 0;     ///< so much earlier would the day have to start, or later to end; 0: not the day
    std::optional<Money> extra_net;   ///< the job planned anew with that, less the job as it is
    std::string condition;            ///< one sentence
    std::optional<Remedy> otherwise;  ///< the cheapest of the other things that were tried and do
};

/// What happens upstream while a run is blocked.
struct FlowPlan {
    int run = 0;
    schedule::FlowVerdict verdict;
    Duration blocked{};
    bool known = false;
    Working working;
};

/// A defect that wants another look, both ways: so much more than the offer, net. Neither is in the offer's sum.
struct LookAgain {
    int run = 0, defect = 0;           ///< places in Job::runs, Run::defects
    std::string mended_if, beyond_if;  ///< "up to 31 mm wide", "larger"
    Money mended{}, beyond{};
};
/// A complete other way to do the job.
struct VariantFigures {
    std::string words;  ///< "fewest days"
    int days = 0, patches = 0;
    Money own{}, offered{};
    double late_probability = 0.0;
};

struct Plan {
    std::shared_ptr<const job::Job> job;    ///< that it is a plan of; never null in a plan that was made
    std::shared_ptr<const job::Yard> yard;  ///< that it was made with; the same
    std::vector<RunPlan> runs;
    std::vector<Patch> patches;  ///< in order of work
    std::vector<Batch> batches;
    std::vector<KitsToBuy> kits_to_buy;
    std::vector<FeltCutting> cutting;
    schedule::DayWork work;  ///< of all days as if they were one: no patch overnight or lying
    schedule::Schedule schedule;
    std::vector<Date> dates;  ///< of each day; empty when the job has no date
    std::vector<FlowPlan> flows;
    LayoutSummary layout;
    WholeSummary whole;
    std::vector<UnplannedPatch> not_planned;  ///< "patch, if"
    price::PatchWorks works;                  ///< what the patches come to in labour, material and days
    price::Offer offer;
    std::vector<price::BreakEven> break_even;  ///< filled by `add_outlook`, as what follows
    std::vector<LookAgain> look_again;
    std::vector<VariantFigures> variants;  ///< the first is this plan
    std::vector<Figure> figures;           ///< of the job
    std::vector<job::Assumption> assumptions;
    std::vector<std::string> warnings;
    std::vector<const safety::Caution*> cautions;
    bool everything_patched = true;  ///< for --strict: no defect that cannot be patched, no failed check

    /// Of a patch, a flow, a defect that wants another look.
    template <class PartOfRun>
    const job::Run& run_of(const PartOfRun& part) const {
        return job->runs[static_cast<std::size_t>(part.run)];
    }
    const job::Resin& resin_of(const Patch& patch) const;
    const job::Resin& resin_of(const Batch& batch) const;
};

struct Options {
    int k_best = 20;
    int trials = 10000;
    bool working = true;  ///< false: no figure can be asked why, and nothing is recorded
    bool price = true;
    bool tables = true;      ///< false: no cure tables, for sheets that print none
    int threads = 1;         ///< same plan with any
    bool conditions = true;  ///< false: what is not planned is told without what it would cost
    /// Shared by plans that are compared, so that a day which they have in common is worked out once; it decides no
    /// figure. None: each plan has its own.
    std::shared_ptr<schedule::KnownDays> days{};
};

/// The options of plans that are made for what they come to alone: no trials, working or tables; days shared.
Options bare(Options options);

/// Pure: same job and yard, same plan, byte for byte. No clock, no locale, no global state.
/// `job` and `yard` come from the readers and are valid. What cannot be done is said in the plan, not thrown.
[[nodiscard]] Plan make_plan(const job::Job& job, const job::Yard& yard, const Options& options = {});

}  // namespace patchwright::plan
