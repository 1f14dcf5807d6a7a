#include "cure_tables.hpp"

#include <algorithm>
#include <array>

#include "patchwright/units/threads.hpp"

namespace patchwright::plan {
namespace {

// From well below the resin's limit to a warm pipe, in steps that a thermometer can tell apart.
constexpr std::array pipes_celsius{2.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 18.0, 20.0, 25.0};
constexpr std::array pipes_fahrenheit{36.0, 41.0, 45.0, 50.0, 55.0, 60.0, 65.0, 70.0, 77.0};
constexpr std::array airs_celsius{10.0, 15.0, 20.0, 25.0};
constexpr std::array airs_fahrenheit{50.0, 60.0, 70.0, 80.0};

template <std::size_t C, std::size_t F>
std::vector<Temperature> points(UnitSystem units, const std::array<double, C>& celsius,
                                const std::array<double, F>& fahrenheit) {
    std::vector<Temperature> list;
    if (units == UnitSystem::us) {
        for (const double f : fahrenheit) list.push_back(Temperature::fahrenheit(f));
    } else {
        for (const double c : celsius) list.push_back(Temperature::celsius(c));
    }
    return list;
}

}  // namespace

CureTables::CureTables(const Setting& setting)
    : limits_{setting.yard.limits},
      pipes_{points(setting.job.units, pipes_celsius, pipes_fahrenheit)},
      airs_{points(setting.job.units, airs_celsius, airs_fahrenheit)} {}

CureTables::Key CureTables::key_of(const Patch& patch) {
    const auto [sleeve, conditions] = cure_case(patch);
    return {patch.resin, patch.felt.felt, patch.run, sleeve.thickness.si(), conditions.wet_out.si()};
}

/// The tasks of a case that is not known yet.
void CureTables::add(Setting& setting, const Patch& patch, std::vector<Task>& tasks) {
    const auto [place, fresh] = cases_.try_emplace(key_of(patch));
    if (!fresh) return;
    place->second = {&setting.model(patch.resin), cure_case(patch), patch.surroundings};
    constexpr std::size_t rows = 3;
    const std::span<const Temperature> pipes{pipes_};
    for (std::size_t i = 0; i < pipes.size(); i += rows)
        tasks.push_back({place->first, &place->second, pipes.subspan(i, std::min(rows, pipes.size() - i)), {}, {}, {}});
    tasks.push_back({place->first, &place->second, {}, airs_, {}, {}});
}

void CureTables::work(Task& task) const {
    const auto& [model, at, surroundings] = *task.of;
    try {
        task.rows.let_down = model->let_down_table(at.sleeve, surroundings, at.conditions, limits_, task.pipes);
        task.rows.inflate = model->inflate_table(at.sleeve, surroundings, at.conditions, limits_, task.airs);
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
        const auto [place, fresh] = pours_.try_emplace({task.key, mixed.si(), row.air.in_kelvin()}, row.pour_by);
        Working off = Working::off();
        if (fresh && !own) place->second = task.of->model->pour_by(row.pour, mixed, limits_, off);
        row.pour_by = place->second;
        inflate.push_back(row);
    }
}

void CureTables::fill(Setting& setting, std::vector<Patch>& patches) {
    if (!setting.options.tables) return;
    std::vector<Task> tasks;
    for (const auto& patch : patches) add(setting, patch, tasks);
    in_parallel(setting.options.threads, tasks.size(), [&](std::size_t i) { work(tasks[i]); });
    for (const auto& task : tasks) {
        for (auto& patch : patches) {
            if (key_of(patch) != task.key) continue;
            if (task.failure) std::rethrow_exception(task.failure);
            add_rows(task, patch);
        }
    }
}

}  // namespace patchwright::plan
