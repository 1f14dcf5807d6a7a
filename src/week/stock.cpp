// Resin and felt of all jobs together: one cutting, and what has to be bought by when.
#include <algorithm>
#include <map>
#include <optional>

#include <fmt/format.h>

#include "parts.hpp"
#include "patchwright/plan/cut_together.hpp"

namespace patchwright::week {
namespace {

/// The stops by date, with the plan's day that each is.
template <class Do>
void each_stop(const Week& week, const Do& act) {
    for (const CrewDay& day : week.days)
        for (const Visit& visit : day.stops) act(day, week.jobs[at(visit.job)], visit.part);
}

Mass in_yard(const job::Resin& resin) {
    Mass sum{};
    for (const auto& kit : resin.kits) sum += static_cast<double>(kit.stock) * kit.mass;
    return sum;
}

/// What a mix takes out of the yard: of kits that may not be split by weight, whole ones.
Mass taken(const job::Resin& resin, Mass mixed) {
    const bool by_weight =
        std::any_of(resin.kits.begin(), resin.kits.end(), [](const auto& kit) { return kit.splittable; });
    if (by_weight) return mixed;
    Mass sum{};
    for (const auto& [mass, count] : resin::kits_for(resin.kits, mixed)) sum += static_cast<double>(count) * mass;
    return sum;
}

void buy_resin(const job::Yard& yard, Week& week) {
    std::map<int, Mass> used;
    std::map<int, Date> short_from;
    each_stop(week, [&](const CrewDay& day, const Address& address, int part) {
        for (const auto& batch : address.plan.batches) {
            if (batch.day != part) continue;
            const auto& resin = yard.resins[at(batch.resin)];
            Mass& sum = used[batch.resin];
            sum += taken(resin, batch.batch.total);
            if (sum > in_yard(resin)) short_from.try_emplace(batch.resin, day.date);
        }
    });
    for (const auto& [place, date] : short_from) {
        const auto& resin = yard.resins[at(place)];
        std::string kits;
        for (const auto& [mass, count] : resin::kits_for(resin.kits, used[place] - in_yard(resin)))
            kits += fmt::format("{}{} x {}", kits.empty() ? "" : ", ", count,
                                format(Show::big_mass, mass, week.jobs.front().job.units));
        week.purchases.push_back({"resin " + resin.id, kits, date});
    }
}

/// Rolls that do not stand in the yard, from the day of their first piece.
void buy_felt(const job::Yard& yard, const std::map<std::string, Date>& piece_dates, Week& week) {
    for (const auto& cut : week.cutting) {
        int rolls = 0;
        std::optional<Date> first;
        for (std::size_t s = 0; s < cut.stock.size(); ++s)
            if (cut.stock[s].count < 0 && s < cut.plan.used.size()) rolls += cut.plan.used[s];
        for (const auto& placed : cut.plan.placements) {
            if (cut.stock[at(placed.stock)].count >= 0) continue;
            const Date date = piece_dates.at(cut.pieces[at(placed.piece)].name);
            first = first ? std::min(*first, date) : date;
        }
        const auto& id = yard.felts[at(cut.felt)].id;
        if (first)
            week.purchases.push_back(
                {"felt " + id, fmt::format("{} new roll{}", rolls, rolls == 1 ? "" : "s"), *first});
        for (const int piece : cut.plan.unplaced)
            week.warnings.push_back(fmt::format("felt {}: {} is too large for any roll, or the stock does not suffice",
                                                id, cut.pieces[at(piece)].name));
    }
}

}  // namespace

void add_stock(const job::Yard& yard, Week& week) {
    std::vector<std::pair<std::string, const plan::Patch*>> patches;
    std::map<std::string, Date> piece_dates;
    each_stop(week, [&](const CrewDay& day, const Address& address, int part) {
        for (std::size_t p = 0; p < address.plan.patches.size(); ++p) {
            if (address.plan.schedule.patches[p].day != part) continue;
            const auto& patch = address.plan.patches[p];
            patches.emplace_back(address.job.reference, &patch);
            const std::string name = address.job.reference + " " + patch.id;
            piece_dates[name] = day.date;
            for (const auto& piece : patch.cut.pieces) piece_dates[fmt::format("{}/{}", name, piece.layer)] = day.date;
        }
    });
    week.cutting = plan::cut_together(yard, patches);
    buy_felt(yard, piece_dates, week);
    buy_resin(yard, week);
    std::stable_sort(week.purchases.begin(), week.purchases.end(),
                     [](const Purchase& a, const Purchase& b) { return a.needed < b.needed; });
}

}  // namespace patchwright::week
