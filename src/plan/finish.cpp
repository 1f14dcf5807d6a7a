#include "finish.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "design.hpp"
#include "mixes.hpp"
#include "patchwright/plan/builds.hpp"

namespace patchwright::plan {
namespace {

constexpr std::array pour_inputs{Symbol{"tb", "by the mass in the pot", Show::minutes},
                                 Symbol{"ts", "by the sleeve, if it has the pot to itself", Show::minutes}};
constexpr Formula pour_formula{"mix.pour_by", {"t", "pour by", Show::minutes},      "t = min(tb, ts)",
                               pour_inputs,   "derived here, docs/methods/cure.md", "cure"};

/// One pot of each mix: what goes into it, and how it behaves as long as it stands full.
void add_pots(PlanContext& context, Plan& plan) {
    for (auto& batch : plan.batches) {
        const auto& resin = context.yard.resins[static_cast<std::size_t>(batch.resin)];
        const auto& first = plan.patches[static_cast<std::size_t>(batch.batch.patches.front())];
        Mass in_sleeves{};
        for (const int p : batch.batch.patches)
            in_sleeves += plan.patches[static_cast<std::size_t>(p)].need.in_sleeve();
        batch.mixing = context.working();
        batch.pot = resin::pot_of(resin, batch.batch, in_sleeves, context.yard.limits, batch.mixing);
        batch.standing = context.working();
        batch.bucket =
            context.cures()
                .model(batch.resin)
                .bucket(batch.pot.total, *first.conditions.resin,
                        std::max(*first.conditions.air, *first.conditions.van), context.yard.limits, batch.standing);
        batch.standing.add(pour_formula, {batch.bucket.pour_by, first.cure.sheet.pour_by}, batch.batch.pour_by);
    }
}

void add_strength(const PlanContext& context, Patch& patch) {
    const auto& input = patch.thickness_input;
    Working checking = context.working();
    patch.utilisation = liner::utilisation(input, patch.felt.installed, checking);
    patch.sensitivity = liner::sensitivity(input, patch.felt.installed);
    const auto& felt = context.yard.felts[static_cast<std::size_t>(patch.felt.felt)];
    patch.layer_change = liner::layer_change(input, felt.thickness, patch.felt.layers, context.yard.limits.most_layers);
    patch.working(Calculation::strength) = std::move(checking);
}

void add_bench(const PlanContext& context, Patch& patch) {
    Working testing = context.working();
    patch.bench = packer::bench_test(context.yard, patch.option.packer, patch.pressure, testing);
    patch.working(Calculation::bench) = std::move(testing);
    Working building = context.working();
    const auto kind = context.yard.resins[static_cast<std::size_t>(patch.resin)].kind;
    patch.build = packer::build_card(context.yard, patch.option, patch.length(), kind, building);
    patch.working(Calculation::build) = std::move(building);
}

constexpr std::array late_inputs{
    Symbol{"h", "hands from mixing to shaped, likely", Show::minutes},
    Symbol{"W", "end of shaping, likely", Show::minutes}, Symbol{"sW", "standard deviation of ln W", Show::ratio},
    Symbol{"tg", "sleeve gels, likely", Show::minutes}, Symbol{"sg", "standard deviation of ln tg", Show::ratio}};
constexpr Formula late_formula{"cure.late",
                               {"P", "chance of not being shaped in time", Show::ratio},
                               "P = P(hands > min(W, tg)); hands as uncertain as the yard says",
                               late_inputs,
                               "derived here, docs/methods/cure.md",
                               "cure"};
constexpr std::array soft_inputs{Symbol{"t", "deflated", Show::minutes},
                                 Symbol{"th", "sleeve is hard, likely", Show::minutes},
                                 Symbol{"s", "standard deviation of ln th", Show::ratio}};
constexpr Formula soft_formula{"cure.soft",
                               {"P", "chance of being soft when deflated", Show::ratio},
                               "P = 1 - Phi(ln(t / th) / s)",
                               soft_inputs,
                               "derived here, docs/methods/cure.md",
                               "cure"};

/// The two promises of a sleeve, with all hands of its mix before it.
void add_promises(const PlanContext& context, Duration hands, Patch& patch) {
    Working promising = context.working();
    const auto& cure = patch.cure;
    promising.add(late_formula, {hands, cure.shaping.likely, cure.shaping.log_sd, cure.gel.likely, cure.gel.log_sd},
                  patch.late_probability);
    promising.add(soft_formula, {cure.sheet.let_down, cure.hard.likely, cure.hard.log_sd}, cure.soft_probability);
    patch.working(Calculation::promise) = std::move(promising);
}

/// What the order in each mix makes of the promise to be in time.
void add_lateness(const PlanContext& context, Plan& plan) {
    PatchList patches;
    for (const auto& patch : plan.patches) patches.push_back(&patch);
    for (const auto& batch : plan.batches) {
        const auto& order = batch.batch.patches;
        Duration hands{};  // likely: all wet-outs first, then each sleeve's load to crease
        for (const int p : order) hands += plan.patches[static_cast<std::size_t>(p)].tasks.front().likely;
        for (std::size_t which = 0; which < order.size(); ++which) {
            const auto place = static_cast<std::size_t>(order[which]);
            const double late = late_in_mix(context.yard.limits, patches, order, which);
            plan.patches[place].late_probability = late;
            const auto& tasks = plan.patches[place].tasks;
            for (std::size_t task = 1; task < tasks.size(); ++task) hands += tasks[task].likely;
            add_promises(context, hands, plan.patches[place]);
        }
    }
}

/// A wall that water sweats or drips through, under a resin that wants it dry.
void add_damp_notes(const PlanContext& context, Patch& patch) {
    const auto& resin = context.yard.resins[static_cast<std::size_t>(patch.resin)];
    if (resin.tolerates_damp) return;
    std::string wet;
    for (const int d : patch.defects) {
        const auto& defect = context.job.runs[static_cast<std::size_t>(patch.run)].defects[static_cast<std::size_t>(d)];
        const bool damp = defect.inflow == job::Inflow::sweating || defect.inflow == job::Inflow::dripping;
        if (damp) wet += (wet.empty() ? "" : ", ") + defect.id;
    }
    if (!wet.empty())
        patch.notes.push_back(fmt::format(
            "Wall wet at {}: dried last thing, or a film between it and the felt; {} bears no damp.", wet, resin.id));
}

std::vector<excavation::Place> places(const PlanContext& context, const Plan& plan, bool patched) {
    std::vector<excavation::Place> list;
    for (std::size_t r = 0; r < plan.runs.size(); ++r) {
        const auto& run = context.job.runs[r];
        for (std::size_t d = 0; d < run.defects.size(); ++d) {
            const auto verdict = plan.runs[r].verdicts[d].assessment.verdict;
            const bool in_patch = std::any_of(plan.patches.begin(), plan.patches.end(), [&](const Patch& p) {
                return p.run == static_cast<int>(r) &&
                       std::find(p.defects.begin(), p.defects.end(), static_cast<int>(d)) != p.defects.end();
            });
            // What wants a patch but cannot have one must be dug as well, whichever way the rest is done; what only
            // waits for a longer day is in neither sum.
            const auto& waiting = plan.runs[r].waiting;
            const bool waits = std::find(waiting.begin(), waiting.end(), static_cast<int>(d)) != waiting.end();
            const bool dug_anyway =
                verdict == survey::Verdict::dig || (survey::wants_patch(verdict) && !in_patch && !waits);
            if (patched ? !in_patch : !dug_anyway) continue;
            excavation::Place place;
            place.run = &run;
            place.defects = {&run.defects[d]};
            place.from = run.defects[d].at;
            place.to = run.defects[d].to;
            list.push_back(std::move(place));
        }
    }
    return list;
}

price::Input price_input(const PlanContext& context, const Plan& plan) {
    price::Input input;
    input.job = &context.job;
    input.yard = &context.yard;
    input.works = plan.works;
    input.dig_places = places(context, plan, true);
    input.unavoidable_places = places(context, plan, false);
    for (const auto& p : plan.patches) input.sleeves.push_back({p.id, p.bore, p.length()});
    input.trials = context.options.trials;
    input.threads = context.options.threads;
    return input;
}

void add_price(const PlanContext& context, Plan& plan) {
    if (!context.options.price) return;
    Working working = context.working();
    plan.offer = price::make_offer(price_input(context, plan), working);
    plan.figures.push_back(
        {"price", Show::money, static_cast<double>(plan.offer.offered.total.in_cents()), std::move(working)});
}

void add_cautions(const PlanContext& context, Plan& plan) {
    safety::Situation situation;
    for (const auto& p : plan.patches) {
        situation.resins.push_back(context.yard.resins[static_cast<std::size_t>(p.resin)].kind);
        situation.greatest_energy = std::max(situation.greatest_energy, p.pressure.stored);
        situation.heated_cure = situation.heated_cure || p.heater >= 0;
        situation.cutting_or_grinding = situation.cutting_or_grinding || !p.reopened.empty() || !p.preparations.empty();
    }
    for (std::size_t r = 0; r < plan.runs.size(); ++r) {
        const auto& run = context.job.runs[r];
        situation.hosts.push_back(run.material);
        situation.deepest = std::max(situation.deepest, run.depth);
        situation.traffic = situation.traffic || *run.traffic != job::Traffic::none;
        for (const auto& defect : run.defects) {
            situation.water_running = situation.water_running || defect.inflow >= job::Inflow::running;
        }
        for (const auto& verdict : plan.runs[r].verdicts) {
            situation.dig = situation.dig || verdict.assessment.verdict == survey::Verdict::dig;
        }
    }
    situation.compressed_air = !plan.patches.empty();
    situation.plug_or_stopper = !plan.patches.empty();
    situation.jetting = !plan.patches.empty();
    situation.confined_entry_possible = situation.deepest >= 1.0 * unit::m;
    situation.services_near = context.job.dig.services_near || situation.dig;
    situation.overnight = context.yard.limits.overnight_cure;
    situation.units = context.job.units;
    plan.cautions = safety::cautions(situation);
}

/// Length of the run under sleeves, laps counted once.
Length lined_length(const Plan& plan, std::size_t run) {
    std::vector<std::pair<Length, Length>> sleeves;
    for (const auto& p : plan.patches) {
        if (p.run == static_cast<int>(run)) sleeves.emplace_back(p.start, p.end);
    }
    std::sort(sleeves.begin(), sleeves.end());
    Length lined{}, reached{};
    for (const auto& [start, end] : sleeves) {
        lined += std::max(Length{}, end - std::max(reached, start));
        reached = std::max(reached, end);
    }
    return lined;
}

void add_lined_remarks(const PlanContext& context, Plan& plan) {
    for (std::size_t r = 0; r < plan.runs.size(); ++r) {
        auto remark =
            survey::lined_remark(context.job.runs[r], lined_length(plan, r), context.yard.limits, context.job.units);
        if (remark) plan.runs[r].remarks.push_back(std::move(*remark));
    }
}

void add_warnings(const PlanContext& context, Plan& plan) {
    const auto found = std::exchange(plan.warnings, {});
    auto& list = plan.warnings;
    const auto add = [&](std::string words) {
        if (std::find(list.begin(), list.end(), words) == list.end()) list.push_back(std::move(words));
    };
    for (const auto& words : found) add(words);
    for (std::size_t r = 0; r < plan.runs.size(); ++r) {
        for (const auto& words : plan.runs[r].remarks) add(fmt::format("Run {}: {}", plan.runs[r].id, words));
        for (const auto& words : plan.runs[r].unanswered) add(fmt::format("No patch for {}", words));
        for (const auto& verdict : plan.runs[r].verdicts) {
            plan.everything_patched = plan.everything_patched && survey::wants_patch(verdict.assessment.verdict);
        }
        plan.everything_patched = plan.everything_patched && plan.runs[r].unanswered.empty() && !plan.runs[r].no_day;
    }
    for (const auto& p : plan.patches) {
        for (const auto& words : p.cure.warnings) add(fmt::format("{}: {}", p.id, words));
        if (p.bore < context.yard.limits.scope_bore_min) {
            add(fmt::format("{}: a bore of {} lies below the scope of the published standards.", p.id,
                            format(Show::tape, p.bore, context.job.units)));
        }
        // A small inspection chamber is that wide. Common practice, no source.
        constexpr Length small_chamber = 450.0 * unit::mm;
        const auto& run = context.job.runs[static_cast<std::size_t>(p.run)];
        const Length opening = packer::opening_wanted(run, p.option, p.felt.installed);
        if (!run.chamber_opening && opening > small_chamber) {
            add(
                fmt::format("{}: {} wants a chamber at least {} wide along the pipe: measure it and give it as "
                            "\"chamber_opening\" of run {}.",
                            p.id, p.option.packer.id, format(Show::tape, opening, context.job.units), run.id));
        }
        if (p.pressure.relief_opens)
            add(fmt::format("{}: the relief valve opens when the air warms: watch the gauge.", p.id));
    }
    for (auto& words : build_warnings(plan)) add(std::move(words));
    for (const auto& words : plan.offer.warnings) add(words);
    plan.everything_patched = plan.everything_patched && plan.schedule.impossible.empty();
}

}  // namespace

void rig(const PlanContext& context, const job::Run& run, int way, Patch& patch) {
    Working marking = context.working();
    auto ways =
        packer::riggings(run, context.yard, patch.option, patch.start, patch.end, patch.felt.installed, marking);
    if (ways.empty()) return;
    // The best method from each mouth; which of them counts is for the day to say.
    for (auto w = ways.begin(); w != ways.end();) {
        const bool known = std::any_of(ways.begin(), w, [&](const auto& other) { return other.from == w->from; });
        w = known ? ways.erase(w) : w + 1;
    }
    patch.rigging = std::move(ways[static_cast<std::size_t>(way) % ways.size()]);
    patch.notes.insert(patch.notes.end(), patch.rigging.notes.begin(), patch.rigging.notes.end());
    patch.working(Calculation::mark) = std::move(marking);
}

Money patch_net(const PlanContext& context, price::PatchWorks works) {
    price::Input input;
    input.job = &context.job;
    input.yard = &context.yard;
    input.works = std::move(works);
    Working off = Working::off();
    return price::patch_build_up(input, off).net;
}

price::Offer offer_again(const job::Job& job, const job::Yard& yard, const Options& options, const Plan& plan) {
    const PlanContext context{job, yard, options};
    auto input = price_input(context, plan);
    // What a lost sleeve costs hangs on the ground above it as well.
    input.works.redo_cost.clear();
    input.works.dig_cost.clear();
    for (const auto& patch : plan.patches) {
        input.works.redo_cost.push_back(patch.redo);
        input.works.dig_cost.push_back(dig_instead(job, yard, patch.run, patch.length()));
    }
    Working off = Working::off();
    return price::make_offer(input, off);
}

Options bare(Options options) {
    options.trials = 0;
    options.working = options.tables = options.conditions = false;
    options.price = true;
    options.threads = 1;
    if (options.days == nullptr) options.days = std::make_shared<schedule::KnownDays>();
    return options;
}

void finish(PlanContext& context, Whole whole, CureTables& tables, Plan& plan) {
    plan.patches = std::move(whole.patches);
    plan.batches = std::move(whole.batches);
    plan.kits_to_buy = std::move(whole.kits_to_buy);
    plan.cutting = std::move(whole.cutting);
    plan.work = std::move(whole.work);
    plan.schedule = std::move(whole.schedule);
    plan.flows = std::move(whole.flows);
    plan.warnings = std::move(whole.warnings);
    for (auto& patch : plan.patches) {
        add_strength(context, patch);
        add_bench(context, patch);
        add_damp_notes(context, patch);
    }
    add_pots(context, plan);
    add_lateness(context, plan);
    tables.fill(context, plan.patches);
    if (context.job.date) {
        Date date = *context.job.date;
        for (std::size_t d = 0; d < plan.schedule.days.size(); ++d, date = next_day(date)) plan.dates.push_back(date);
    }
    for (const auto& flow : plan.flows) {
        if (!flow.known) continue;
        plan.figures.push_back({context.job.runs[static_cast<std::size_t>(flow.run)].id + ".flow", Show::span,
                                flow.verdict.fills_in.si(), flow.working});
    }
    plan.works = std::move(whole.works);
    add_price(context, plan);
    // The runner-up by the offer's own net price, as far off as the two whole jobs were.
    if (plan.layout.second_best && context.options.price)
        *plan.layout.second_best = plan.offer.patch.net + plan.layout.second_more;
    plan.assumptions = context.job.assumptions;
    plan.assumptions.insert(plan.assumptions.end(), context.yard.assumptions.begin(), context.yard.assumptions.end());
    add_cautions(context, plan);
    add_lined_remarks(context, plan);
    add_warnings(context, plan);
}

}  // namespace patchwright::plan
