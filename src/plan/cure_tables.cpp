#include "cure_tables.hpp"

#include <algorithm>
#include <array>
#include <system_error>

#include "in_parallel.hpp"

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

CureTables::~CureTables() { next_ = expected_.size(); }

CureTables::Key CureTables::key_of(const Patch& patch) {
    const auto [sleeve, conditions] = cure_case(patch);
    return {patch.resin,           patch.felt.felt,        patch.run,
            sleeve.thickness.si(), sleeve.resin_mass.si(), conditions.wet_out.si()};
}

/// Both tables of a case that is not known yet.
std::vector<CureTables::Task> CureTables::new_tasks(Setting& setting, const Patch& patch) {
    const auto [place, fresh] = cases_.try_emplace(key_of(patch));
    if (!fresh) return {};
    Case& c = place->second;
    c.model = &setting.model(patch.resin);
    c.at = cure_case(patch);
    c.surroundings = patch.surroundings;
    return {{&c, true}, {&c, false}};
}

void CureTables::work(const Task& task) {
    Case& c = *task.of;
    const auto& [sleeve, conditions] = c.at;
    if (task.let_down)
        c.table.let_down = c.model->let_down_table(sleeve, c.surroundings, conditions, limits_, pipes_);
    else
        c.table.inflate = c.model->inflate_table(sleeve, c.surroundings, conditions, limits_, airs_);
}

void CureTables::take() {
    for (std::size_t i = next_++; i < expected_.size(); i = next_++) {
        try {
            work(expected_[i]);
        } catch (...) {
            Case& c = *expected_[i].of;
            (expected_[i].let_down ? c.no_let_down : c.no_inflate) = std::current_exception();
        }
    }
}

void CureTables::expect(Setting& setting, const PatchList& patches) {
    if (!setting.options.tables || setting.options.threads < 2) return;
    for (const auto* patch : patches) {
        const auto tasks = new_tasks(setting, *patch);
        expected_.insert(expected_.end(), tasks.begin(), tasks.end());
    }
    const auto most = std::min(static_cast<std::size_t>(setting.options.threads - 1), expected_.size());
    try {
        while (ahead_.size() < most) ahead_.emplace_back([this] { take(); });
    } catch (const std::system_error&) {
        // A machine that gives no more threads: `fill` does what is left.
    }
}

void CureTables::fill(Setting& setting, std::vector<Patch>& patches) {
    if (!setting.options.tables) return;
    const bool as_expected =
        std::any_of(patches.begin(), patches.end(), [&](const Patch& patch) { return cases_.contains(key_of(patch)); });
    if (!as_expected) next_ = expected_.size();
    take();
    ahead_.clear();
    std::vector<Task> rest;
    for (const auto& patch : patches) {
        const auto tasks = new_tasks(setting, patch);
        rest.insert(rest.end(), tasks.begin(), tasks.end());
    }
    in_parallel(setting.options.threads, rest.size(), [&](std::size_t i) { work(rest[i]); });
    for (auto& patch : patches) {
        const Case& c = cases_.at(key_of(patch));
        if (c.no_let_down) std::rethrow_exception(c.no_let_down);
        if (c.no_inflate) std::rethrow_exception(c.no_inflate);
        patch.tables = c.table;
    }
}

}  // namespace patchwright::plan
