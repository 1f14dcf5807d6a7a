// The whole way: check, leave out what cannot be done, allocate days, write the clock.
#include "patchwright/schedule/schedule.hpp"

#include <algorithm>
#include <array>
#include <numeric>

#include <fmt/core.h>

#include "crew.hpp"
#include "memory.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::schedule {
namespace {

constexpr std::int64_t single_budget = 20000;
constexpr Minute no_limit = 100000;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

bool fits_alone(const Model& model, int mix, Minute latest) {
    std::int64_t budget = single_budget;
    return plan_day(model, {mix}, CrewDay{}, latest, true, budget).found;
}

/// Mixing to creased on one day, let down on the next.
bool fits_overnight(const Model& model, int mix) {
    CrewDay evening;
    evening.overnight.push_back(mix);
    std::int64_t budget = single_budget;
    const DayPlan first = plan_day(model, {mix}, evening, model.problem->finish, true, budget);
    if (!first.found) return false;
    CrewDay morning;
    for (const Step& step : first.work.plans.front().steps) {
        if (step.piece != Piece::block) continue;
        for (int patch : model.mixes[at(mix)].patches) {
            morning.carried.push_back(patch);
            morning.carried_at.push_back(step.start + model.patch(patch).mix_to_let_down - 1440);
        }
    }
    budget = single_budget;
    return plan_day(model, {}, morning, model.problem->finish, true, budget).found;
}

bool fits_when_faster(const Model& model, int mix, Minute sooner) {
    Problem faster = *model.problem;
    for (int patch : model.mixes[at(mix)].patches) {
        Minute& lag = faster.patches[at(patch)].mix_to_let_down;
        if (lag <= sooner) return false;
        lag -= sooner;
    }
    return fits_alone(make_model(faster), mix, faster.finish);
}

std::string day_too_short(const Model& model, int mix) {
    const Problem& problem = *model.problem;
    std::int64_t budget = single_budget;
    const DayPlan plan = plan_day(model, {mix}, CrewDay{}, no_limit, false, budget);
    if (!plan.found) return "no order of work keeps the rules even without an end of the day";
    const Minute late = plan.work.finish() - problem.finish;
    std::vector<std::string> ways;
    if (problem.start >= late) ways.push_back(fmt::format("a start at {}", clock(problem.start - late)));
    if (problem.finish + late <= 1440) ways.push_back(fmt::format("a finish at {}", clock(problem.finish + late)));
    if (fits_when_faster(model, mix, late))
        ways.push_back(fmt::format("a let-down {} sooner (faster resin, warm air in the packer)", span(late)));
    if (!problem.overnight) ways.emplace_back("a cure overnight, where the yard allows it");
    std::string advice = ways.empty() ? "" : ways.front();
    for (std::size_t k = 1; k < ways.size(); ++k) advice += (k + 1 == ways.size() ? ", or " : ", ") + ways[k];
    return fmt::format(
        "the day is too short for its cure: from leaving the yard to being back takes {}, the day from {} "
        "to {} has {}. It would go with {}",
        span(plan.work.finish() - problem.start), clock(problem.start), clock(problem.finish),
        span(problem.finish - problem.start), advice.empty() ? "less work on site" : advice);
}

void refuse(const Model& model, int mix, const std::string& why, Schedule& schedule) {
    const auto& patches = model.mixes[at(mix)].patches;
    for (int patch : patches) {
        schedule.impossible.push_back(patch);
        schedule.why_impossible.push_back(fmt::format(
            "patch {}{}: {}", model.patch(patch).id,
            patches.size() > 1 ? fmt::format(" (shares {})", mix_name(*model.problem, mix)) : std::string{}, why));
    }
}

void warn_of_crews(const Model& model, Schedule& schedule) {
    const Problem& problem = *model.problem;
    if (problem.crews <= model.crews || problem.patches.empty()) return;
    int packers = 0;
    for (const Packers& kind : problem.packers) packers += kind.count;
    schedule.warnings.push_back(fmt::format(
        "{} crews, but {} packers and {} air lines: only {} can work. Every crew needs a packer and an air line of its "
        "own",
        problem.crews, packers, problem.air_lines, model.crews));
}

/// The mixes by what can be done with them.
struct Sorted {
    std::vector<int> regular, overnight;
    std::vector<int> unworkable, too_long;
};

Sorted sort_out(const Model& model) {
    Sorted sorted;
    std::vector<int> workable;
    for (int mix = 0; mix < static_cast<int>(model.mixes.size()); ++mix)
        (model.mixes[at(mix)].variants.empty() ? sorted.unworkable : workable).push_back(mix);
    const Minute finish = model.problem->finish;
    std::int64_t budget = single_budget;
    // Mostly all fit into one day; only when they do not is each asked alone.
    if (plan_day(model, workable, CrewDay{}, finish, true, budget).found) {
        sorted.regular = std::move(workable);
        return sorted;
    }
    for (int mix : workable) {
        if (fits_alone(model, mix, finish))
            sorted.regular.push_back(mix);
        else if (model.problem->overnight && fits_overnight(model, mix))
            sorted.overnight.push_back(mix);
        else
            sorted.too_long.push_back(mix);
    }
    return sorted;
}

Model checked_model(const Problem& problem, std::int64_t steps, Memory* memory) {
    if (steps < 1) throw InputError("schedule: the search needs at least one step");
    check_input(problem);
    Model model = make_model(problem);
    if (memory != nullptr) memory->store().recognise(model);
    return model;
}

Allocation allocate(const Model& model, const Sorted& sorted, std::int64_t steps) {
    return allocate(model, sorted.regular, sorted.overnight, {steps, std::max<std::int64_t>(steps / 10, 1000)});
}

Schedule plan(const Problem& problem, std::int64_t steps, Memory* memory) {
    const Model model = checked_model(problem, steps, memory);
    Schedule schedule;
    schedule.patches.resize(problem.patches.size());
    warn_of_crews(model, schedule);
    const Sorted sorted = sort_out(model);
    for (int mix : sorted.unworkable) refuse(model, mix, model.mixes[at(mix)].why_not, schedule);
    for (int mix : sorted.too_long) refuse(model, mix, day_too_short(model, mix), schedule);
    write_schedule(model, allocate(model, sorted, steps), schedule);
    return schedule;
}

Outline outline(const Model& model, std::int64_t steps) {
    const Sorted sorted = sort_out(model);
    const Allocation allocation = allocate(model, sorted, steps);
    Outline outline;
    for (const WorkDay& day : allocation.days) outline.finishes.push_back(day.finish());
    for (const auto* mixes : {&sorted.unworkable, &sorted.too_long})
        for (int mix : *mixes)
            outline.impossible.insert(outline.impossible.end(), model.mixes[at(mix)].patches.begin(),
                                      model.mixes[at(mix)].patches.end());
    outline.order = order_of_work(model, allocation);
    outline.proven_optimal = allocation.proven;
    return outline;
}

/// The whole of the work as if one crew did it in a day: what days it takes follows from that alone.
CrewDay day_of_all(const Model& model) {
    CrewDay day;
    day.mixes.resize(model.mixes.size());
    std::iota(day.mixes.begin(), day.mixes.end(), 0);
    day.packers = model.packers;
    day.air_lines = model.problem->air_lines;
    return day;
}

}  // namespace

Schedule plan_days(const Problem& problem, std::int64_t steps) { return plan(problem, steps, nullptr); }
Schedule plan_days(const Problem& problem, std::int64_t steps, Memory& memory) { return plan(problem, steps, &memory); }

Outline outline_days(const Problem& problem, std::int64_t steps, Memory& memory) {
    const Model model = checked_model(problem, steps, &memory);
    if (problem.patches.size() > static_cast<std::size_t>(crew::most)) return outline(model, steps);
    const CrewDay all = day_of_all(model);
    const Likeness work{model, all, problem.finish};
    const std::array row{problem.crews, static_cast<int>(problem.overnight), static_cast<int>(steps)};
    if (auto known = memory.store().find(work, row)) return std::move(*known);
    Outline found = outline(model, steps);
    memory.store().keep(work, row, found);
    return found;
}

std::vector<int> mixes_to_divide(const Problem& problem) {
    check_input(problem);
    const Model model = make_model(problem);
    std::vector<int> out;
    for (int mix = 0; mix < static_cast<int>(problem.batches.size()); ++mix) {
        if (problem.batches[at(mix)].patches.size() < 2) continue;
        if (!model.mixes[at(mix)].variants.empty() && fits_alone(model, mix, problem.finish)) continue;
        Problem single = problem;
        single.batches[at(mix)].patches.resize(1);
        bool each = true;
        for (int patch : problem.batches[at(mix)].patches) {
            for (int other : problem.batches[at(mix)].patches) single.patches[at(other)].batch = -1;
            single.patches[at(patch)].batch = mix;
            single.batches[at(mix)].patches = {patch};
            const Model alone = make_model(single);
            each = each && !alone.mixes[at(mix)].variants.empty() && fits_alone(alone, mix, problem.finish);
        }
        if (each) out.push_back(mix);
    }
    return out;
}

}  // namespace patchwright::schedule
