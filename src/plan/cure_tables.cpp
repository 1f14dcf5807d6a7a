#include "cure_tables.hpp"

#include <algorithm>

#include "patchwright/units/threads.hpp"

namespace patchwright::plan {

CureTables::CureTables(const PlanContext& context)
    : limits_{context.yard.limits}, temperatures_{table_rows(context.job)} {}

CureTables::Key CureTables::key_of(const Patch& patch) {
    const auto [sleeve, conditions] = cure_case(patch);
    return {patch.resin,
            patch.felt.felt,
            patch.run,
            patch.heater,
            sleeve.thickness.si(),
            conditions.wet_out.si(),
            conditions.resin->in_kelvin()};
}

/// The tasks of a case that is not known yet.
void CureTables::add(PlanContext& context, const Patch& patch, std::vector<Task>& tasks) {
    const auto [place, fresh] = cases_.try_emplace(key_of(patch));
    if (!fresh) return;
    auto resins = resin_rows(context.job, *patch.conditions.resin);
    const auto warmest = context.yard.resins[static_cast<std::size_t>(patch.resin)].application_max;
    std::erase_if(resins, [&](Temperature row) { return row > warmest; });
    place->second = {&context.cures().model(patch.resin), cure_case(patch), patch.surroundings, std::move(resins)};
    constexpr std::size_t rows = 3;
    const std::span<const Temperature> pipes{temperatures_.pipes};
    for (std::size_t i = 0; i < pipes.size(); i += rows)
        tasks.push_back({place->first, &place->second, pipes.subspan(i, std::min(rows, pipes.size() - i)), {}, {}, {}});
    tasks.push_back({place->first, &place->second, {}, temperatures_.airs, {}, {}});
}

void CureTables::work(Task& task) const {
    const auto& [model, at, surroundings, resins] = *task.of;
    try {
        task.rows.let_down = model->let_down_table(at.sleeve, surroundings, at.conditions, limits_, task.pipes);
        if (task.airs.empty()) return;
        auto conditions = at.conditions;
        for (const auto resin : resins) {
            conditions.resin.value = resin;
            const auto rows = model->inflate_table(at.sleeve, surroundings, conditions, limits_, task.airs);
            task.rows.inflate.insert(task.rows.inflate.end(), rows.begin(), rows.end());
        }
    } catch (...) {
        task.failure = std::current_exception();
    }
}

/// The rows of its case, poured by as its own mass allows.
void CureTables::add_rows(const Task& task, Patch& patch) {
    auto& [let_down, inflate] = patch.tables;
    let_down.insert(let_down.end(), task.rows.let_down.begin(), task.rows.let_down.end());
    const Mass mixed = cure_case(patch).sleeve.resin_mass;
    const bool own = mixed == task.of->at.sleeve.resin_mass;
    for (auto row : task.rows.inflate) {
        const auto [place, fresh] =
            pours_.try_emplace({task.key, mixed.si(), row.resin.in_kelvin(), row.air.in_kelvin()}, row.pour_by);
        Working off = Working::off();
        if (fresh && !own) place->second = task.of->model->pour_by(row.pour, mixed, limits_, off);
        row.pour_by = place->second;
        inflate.push_back(row);
    }
}

void CureTables::fill(PlanContext& context, std::vector<Patch>& patches) {
    if (!context.options.tables) return;
    std::vector<Task> tasks;
    for (const auto& patch : patches) add(context, patch, tasks);
    in_parallel(context.options.threads, tasks.size(), [&](std::size_t i) { work(tasks[i]); });
    for (const auto& task : tasks) {
        for (auto& patch : patches) {
            if (key_of(patch) != task.key) continue;
            if (task.failure) std::rethrow_exception(task.failure);
            add_rows(task, patch);
        }
    }
    // A heated sleeve's doubt grows in a step where it gets warmer than the data reach: no row is sooner than a warmer
    // one.
    for (auto& patch : patches) {
        auto& rows = patch.tables.let_down;
        for (std::size_t i = rows.size(); patch.heater >= 0 && i-- > 1;)
            rows[i - 1].let_down = std::max(rows[i - 1].let_down, rows[i].let_down);
    }
}

}  // namespace patchwright::plan
