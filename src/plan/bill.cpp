// What patching takes, for the bill.
#include <algorithm>
#include <map>
#include <set>
#include <string_view>

#include <fmt/format.h>

#include "job_cost.hpp"
#include "mixed_day.hpp"
#include "patchwright/packer/packer.hpp"

namespace patchwright::plan {
namespace {

using schedule::Minute;

void add_materials(const PlanContext& context, const PatchList& patches, price::PatchWorks& works) {
    const auto& yard = context.yard;
    std::map<int, std::pair<int, Money>> felt;
    for (const Patch* p : patches) {
        auto& row = felt[p->felt.felt];
        row.first += static_cast<int>(p->cut.pieces.size());
        row.second += felt_money(yard, *p);
    }
    for (const auto& [index, row] : felt) {
        const auto words =
            fmt::format("Felt {}, {} piece{}, waste included", yard.felts[static_cast<std::size_t>(index)].id,
                        row.first, row.first == 1 ? "" : "s");
        works.materials.push_back({words, 1.0, "lot", row.second, row.second});
    }
}

void add_resin(const PlanContext& context, const std::vector<MixedDay>& days, price::PatchWorks& works) {
    std::map<int, std::pair<Mass, Money>> used;
    for (const MixedDay& day : days) {
        for (const auto& mix : day.mixes.mixes) {
            auto& row = used[mix.resin];
            row.first += mix.batch.total;
            row.second += resin_money(context.yard.resins[static_cast<std::size_t>(mix.resin)], mix.batch.total);
        }
    }
    for (const auto& [index, row] : used) {
        const auto& resin = context.yard.resins[static_cast<std::size_t>(index)];
        const double kg = row.first.in(unit::kg);
        works.materials.push_back({fmt::format("Resin {}, by weight", resin.id), kg, "kg",
                                   kg > 0.0 ? scaled(row.second, 1.0 / kg) : row.second, row.second});
    }
}

void add_conditioning(const PlanContext& context, const PatchList& patches, price::PatchWorks& works) {
    const auto conditioned =
        std::count_if(patches.begin(), patches.end(), [](const Patch* p) { return p->conditioned; });
    const Money each = context.yard.conditioning.cost_per_patch;
    if (conditioned > 0)
        works.materials.push_back({"Resin cooled or warmed before mixing", static_cast<double>(conditioned), "patch",
                                   each, scaled(each, static_cast<double>(conditioned))});
}

void add_film_and_wear(const PlanContext& context, const PatchList& patches, price::PatchWorks& works) {
    std::map<std::string_view, std::pair<int, Money>> wear;
    for (const Patch* p : patches) {
        if (const Money film = film_money(context.yard, *p); !film.is_zero()) {
            works.materials.push_back({"Separating film", packer::overall_length(p->option, p->length()).in(unit::m),
                                       "m", context.yard.rates.film.amount, film});
        }
        auto& row = wear[p->option.packer.id];
        ++row.first;
        row.second += packer::wear(context.yard, p->option, p->length());
    }
    for (const auto& [id, row] : wear) {
        works.wear.push_back({fmt::format("Packer {}, wear", id), static_cast<double>(row.first), "use",
                              scaled(row.second, 1.0 / row.first), row.second});
    }
}

/// Heaters by kind, for the days on which they go along.
void add_heaters(const PlanContext& context, const std::vector<MixedDay>& days, price::PatchWorks& works) {
    std::map<int, int> unit_days;
    for (const MixedDay& day : days) {
        std::set<int> kinds;
        for (const Patch* p : set_today(day.work))
            if (p->heater >= 0) kinds.insert(p->heater);
        for (const int kind : kinds) unit_days[kind] += day.work.heaters;
    }
    for (const auto& [kind, count] : unit_days) {
        const auto& heater = context.yard.heaters[static_cast<std::size_t>(kind)];
        works.hired.push_back({fmt::format("Heater {}", heater.id), static_cast<double>(count), "days",
                               heater.hire_per_day, scaled(heater.hire_per_day, static_cast<double>(count))});
    }
}

}  // namespace

price::PatchWorks bill(const PlanContext& context, const std::vector<MixedDay>& days,
                       const std::vector<Minute>& finishes) {
    price::PatchWorks works;
    PatchList all;
    const auto& site = context.job.site;
    Minute minutes = 0, over = 0;
    for (std::size_t d = 0; d < days.size(); ++d) {
        const auto today = set_today(days[d].work);
        all.insert(all.end(), today.begin(), today.end());
        minutes += finishes[d] - site.start.minutes;
        over += std::max(0, finishes[d] - site.finish.minutes);
        works.helper_days += days[d].work.extra_persons;
        const auto& left = days[d].work.overnight;
        if (std::find(left.begin(), left.end(), true) != left.end()) ++works.nights;
    }
    works.days = works.visits = static_cast<int>(days.size());
    works.patches = static_cast<int>(all.size());
    works.crew_time = static_cast<double>(minutes) * unit::minute;
    works.overtime = static_cast<double>(over) * unit::minute;
    for (const Patch* p : all) {
        works.crew_time += yard_time(context.yard, *p);
        works.cutter_needed = works.cutter_needed || !p->reopened.empty() || !p->preparations.empty();
        works.redo_cost.push_back(p->redo);
        works.dig_cost.push_back(p->dig_instead);
    }
    add_materials(context, all, works);
    add_resin(context, days, works);
    add_conditioning(context, all, works);
    add_film_and_wear(context, all, works);
    add_heaters(context, days, works);
    return works;
}

}  // namespace patchwright::plan
