#include "day_book.hpp"

#include <algorithm>
#include <utility>

#include "day_search.hpp"
#include "work.hpp"

namespace patchwright::plan {
namespace {

using schedule::Minute;

// How long one day of given sleeves is searched, in nodes of the clock's search: all combinations of ways; the day with
// any ways that bounds them; with given sleeves heated. Beyond that the best so far is taken, and the day counts as not
// proven.
constexpr std::int64_t nodes_a_day = 30'000, nodes_for_any = 3000, nodes_for_heating = 300;

}  // namespace

DayBook::Key DayBook::key_of(const DayTask& day) {
    Key key;
    for (const Sleeve* sleeve : day.sleeves) key.push_back(sleeve->id);
    key.push_back(-1);
    for (const Sleeve* sleeve : day.lying) key.push_back(sleeve->id);
    key.push_back(-1);
    key.insert(key.end(), day.prepared.begin(), day.prepared.end());
    return key;
}

Minute DayBook::earliest(const DayTask& day, int helpers, const DayHeating* heating, std::int64_t nodes) {
    const auto work = with_any(context_, day, {}, helpers, heating);
    const auto finish = context_.days().earliest_finish(work, nodes, work.finish + work.overtime);
    spent_ += look + finish.visited;
    return finish.bound;
}

double DayBook::bound(const DayTask& day) { return bound(day, nodes_for_any); }

double DayBook::bound(const DayTask& day, std::int64_t nodes) {
    double sleeves = 0.0;
    for (const Sleeve* sleeve : day.sleeves) sleeves += sleeve->options.front().cost;
    const auto& site = context_.job.site;
    double least = never;
    const DayHeating none;
    for (const DayHeating* heating : heatings_to_bound(day, none, may_heat(day))) {
        for (int helpers = 0; helpers <= max_helpers(context_.yard); ++helpers) {
            const Minute finish = earliest(day, helpers, heating, nodes);
            const Minute over = std::max(0, finish - site.finish.minutes);
            if (over > minutes_down(context_.yard.limits.overtime)) continue;
            least = std::min(least, cost_.day(finish - site.start.minutes, over, helpers, false) +
                                        (heating == nullptr ? cost_.cheapest_heater() : 0.0));
        }
    }
    return sleeves + least;
}

/// A day that is known to be too full with fewer sleeves is so with more.
bool DayBook::part_is_impossible(const DayTask& day) const {
    for (std::size_t i = 0; i < day.sleeves.size(); ++i) {
        DayTask part = day;
        part.sleeves.erase(part.sleeves.begin() + static_cast<std::ptrdiff_t>(i));
        std::erase_if(part.prepared, [&](int run) {
            return std::none_of(part.sleeves.begin(), part.sleeves.end(),
                                [&](const Sleeve* sleeve) { return sleeve->run == run; });
        });
        const auto known = days_.find(key_of(part));
        if (known != days_.end() && known->second.complete && known->second.cost == never) return true;
    }
    return false;
}

const DayChoice& DayBook::choice(const DayTask& day) {
    auto key = key_of(day);
    const auto known = days_.find(key);
    if (known != days_.end()) return known->second;
    if (part_is_impossible(day))
        return days_.emplace(std::move(key), DayChoice{never, {}, 0, {}, 0, true}).first->second;
    return days_.emplace(std::move(key), search(day)).first->second;
}

/// Better with a heater? Every set of sleeves that it may get round to, in the ways found best without it and in those
/// to begin with; the best of them made better sleeve by sleeve. One that is a little dearer at first may end cheaper.
void DayBook::heat(const DayTask& day, DayChoice& best) {
    constexpr double a_little_dearer = 1.02;
    const DayHeating none;
    std::int64_t budget = nodes_a_day;
    UsefulWays useful{context_.job, day};
    const auto sets = ways_to_heat(context_, day);
    DayChoice warm = best;
    warm.cost *= a_little_dearer;
    const DayHeating* taken = nullptr;
    for (int helpers = 0; helpers <= max_helpers(context_.yard); ++helpers) {
        const DaySearch plain{context_, cost_, day, helpers, none, useful, budget};
        // Nothing is gained where not even a heater for each sleeve would do.
        const Minute soonest = earliest(day, helpers, nullptr, nodes_for_any);
        if (!plain.worth(soonest, best)) continue;
        auto bases = plain.first_ways();
        if (!best.options.empty()) bases.insert(best.options);
        for (const DayHeating& heating : sets) {
            DaySearch search{context_, cost_, day, helpers, heating, useful, budget};
            const double enough = std::min(best.cost, warm.cost);
            if (search.least(soonest) >= enough) continue;
            if (search.least(earliest(day, helpers, &heating, nodes_for_heating)) >= enough) continue;
            const double before = warm.cost;
            for (const auto& ways : bases) search.heat(ways, warm);
            if (warm.cost < before) taken = &heating;
        }
    }
    if (taken != nullptr) DaySearch{context_, cost_, day, warm.extra_persons, *taken, useful, budget}.polish(warm);
    spent_ += nodes_a_day - budget;
    warm.complete = best.complete;
    if (taken != nullptr && warm.cost < best.cost) best = std::move(warm);
}

/// A sleeve alone on its day always: what only a heater makes possible is not left out.
bool DayBook::may_heat(const DayTask& day) const { return (heaters_ || day.sleeves.size() == 1) && can_be_heated(day); }

DayChoice DayBook::heated(const DayTask& day) {
    DayChoice best = choice(day);
    if (can_be_heated(day)) heat(day, best);
    return best;
}

DayChoice DayBook::search(const DayTask& day) {
    DayChoice best;
    best.cost = never;
    const DayHeating none;
    UsefulWays useful{context_.job, day};
    for (int helpers = 0; helpers <= max_helpers(context_.yard); ++helpers) {
        std::int64_t budget = nodes_a_day;
        DaySearch{context_, cost_, day, helpers, none, useful, budget}.run(earliest(day, helpers, &none, nodes_for_any),
                                                                           best);
        spent_ += nodes_a_day - budget;
    }
    if (may_heat(day)) heat(day, best);
    return best;
}

}  // namespace patchwright::plan
