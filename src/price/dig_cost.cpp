#include "patchwright/price/dig_cost.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/core.h>

#include "dig_items.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::price {
namespace {

using excavation::Pit;
using excavation::Place;
using excavation::Protection;

constexpr std::size_t longest_group = 12;  ///< neighbours taken together in one trench
constexpr std::size_t widest_front = 64;   ///< trade-offs between cost and days kept while choosing

double mean_days_of(const Pit& pit, const ItemContext& context) {
    return triangular(days_of(pit)).mean * context.access_mean;
}

double once(double mean_days, const ItemContext& context) {
    double total = context.dig.hand_dig_only ? 0.0 : hire_cents(mean_days, context.rates.dig_rates);
    each_job_item(mean_days, context, [&total](const Item& item) { total += item.quantity * cents(item.rate); });
    return total;
}

/// A hole as the choice sees it, in the mean: what it costs by itself, and its days, on which hire and visits hang.
struct Hole {
    std::size_t first = 0, last = 0;  ///< places, both included
    Protection protection = Protection::none;
    double rest = 0.0, days = 0.0;
};
/// A way of digging the first places: cost without what hangs on the total of days, and the days.
struct Way {
    double rest = 0.0, days = 0.0;
    std::size_t previous = 0, previous_way = 0;
    Hole hole;
};

/// Drops ways that cost no less and take no fewer days than another. Earlier ones stay on equal terms.
void keep_undominated(std::vector<Way>& ways) {
    std::stable_sort(ways.begin(), ways.end(),
                     [](const Way& a, const Way& b) { return a.rest != b.rest ? a.rest < b.rest : a.days < b.days; });
    std::vector<Way> kept;
    for (const Way& w : ways) {
        if (kept.empty() || w.days < kept.back().days) kept.push_back(w);
        if (kept.size() == widest_front) break;
    }
    ways = std::move(kept);
}

/// Places by run and distance; those whose own pits meet are one from the start.
std::vector<Place> clustered(const std::vector<Place>& places, const job::DigRates& rates) {
    std::vector<Place> sorted = places;
    // Runs keep the order in which they were first named.
    std::vector<const job::Run*> runs;
    for (const Place& p : places) {
        if (std::find(runs.begin(), runs.end(), p.run) == runs.end()) runs.push_back(p.run);
    }
    const auto rank = [&runs](const Place& p) { return std::find(runs.begin(), runs.end(), p.run) - runs.begin(); };
    std::stable_sort(sorted.begin(), sorted.end(), [&](const Place& a, const Place& b) {
        if (a.run != b.run) return rank(a) < rank(b);
        return a.from != b.from ? a.from < b.from : a.to < b.to;
    });
    std::vector<Place> out;
    for (const Place& p : sorted) {
        Place next = p;
        while (!out.empty() && out.back().run == next.run &&
               excavation::pit_span(out.back(), rates).to >= excavation::pit_span(next, rates).from) {
            next = excavation::joined(out.back(), next);
            out.pop_back();
        }
        out.push_back(std::move(next));
    }
    return out;
}

/// The holes that could hold places first..last, one for each protection allowed.
void holes_for(const Place& place, std::size_t first, std::size_t last, const ItemContext& context,
               std::vector<Hole>& out) {
    Working off = Working::off();
    // Depth and soil decide what is allowed; the depth of the hole is the same for every protection.
    const Pit probe = excavation::pit_figures(place, context.dig, context.rates.dig_rates, Protection::sheeted, off);
    for (const Protection protection :
         excavation::allowed_protections(probe.trench.depth, context.dig.soil.value, context.rates.dig_rates)) {
        const Pit pit = protection == Protection::sheeted
                            ? probe
                            : excavation::pit_figures(place, context.dig, context.rates.dig_rates, protection, off);
        Hole hole{first, last, protection, 0.0, mean_days_of(pit, context)};
        each_pit_item(pit, context, [&](const Item& item) {
            hole.rest += item.quantity * cents(item.rate) * mean_factor(item.sway, pit, context);
        });
        out.push_back(hole);
    }
}

struct Choice {
    DigMean mean;
    std::vector<Place> places;
    std::vector<Hole> holes;
};

Choice choose(const std::vector<Place>& raw, const job::Dig& dig, const job::Yard& yard) {
    Choice choice;
    if (raw.empty()) return choice;
    const ItemContext context{dig, yard};
    choice.places = clustered(raw, yard.dig_rates);
    const std::size_t n = choice.places.size();
    // ways[j]: undominated ways of digging places 0..j-1.
    std::vector<std::vector<Way>> ways(n + 1);
    ways[0].push_back({});
    std::vector<Hole> holes;
    for (std::size_t last = 0; last < n; ++last) {
        Place group = choice.places[last];
        for (std::size_t first = last + 1; first-- > 0 && last - first < longest_group;) {
            if (choice.places[first].run != choice.places[last].run) break;
            if (first != last) {
                group.from = std::min(group.from, choice.places[first].from);
                group.to = std::max(group.to, choice.places[first].to);
            }
            holes.clear();
            holes_for(group, first, last, context, holes);
            for (const Hole& hole : holes) {
                for (std::size_t w = 0; w < ways[first].size(); ++w) {
                    const Way& before = ways[first][w];
                    ways[last + 1].push_back({before.rest + hole.rest, before.days + hole.days, first, w, hole});
                }
            }
        }
        keep_undominated(ways[last + 1]);
    }
    const double overhead_per_day = cents(yard.rates.overhead_per_crew_day);
    std::size_t best = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t w = 0; w < ways[n].size(); ++w) {
        const Way& way = ways[n][w];
        const double job = once(way.days, context);
        const double total = way.rest + job + overhead_per_day * way.days;
        if (total < least) {
            least = total;
            best = w;
            choice.mean = {way.rest, job, way.days};
        }
    }
    for (std::size_t j = n, w = best; j > 0;) {
        const Way& way = ways[j][w];
        choice.holes.push_back(way.hole);
        j = way.previous;
        w = way.previous_way;
    }
    std::reverse(choice.holes.begin(), choice.holes.end());
    return choice;
}

/// Items of one kind over all pits become one line.
void merge_item(std::vector<Item>& items, const Item& item) {
    for (Item& have : items) {
        if (have.what == item.what && have.rate == item.rate) {
            have.quantity += item.quantity;
            return;
        }
    }
    items.push_back(item);
}

}  // namespace

DigWorks cheapest_dig(const std::vector<Place>& places, const job::Dig& dig, const job::Yard& yard, Working& working) {
    const Choice choice = choose(places, dig, yard);
    DigWorks works;
    works.places = static_cast<int>(places.size());
    works.mean_days = choice.mean.days;
    for (const Hole& hole : choice.holes) {
        Place place = choice.places[hole.first];
        for (std::size_t i = hole.first + 1; i <= hole.last; ++i) {
            place = excavation::joined(place, choice.places[i]);
        }
        works.pits.push_back(excavation::pit(place, dig, yard.dig_rates, hole.protection, working));
        const Pit& p = works.pits.back();
        works.team_days += p.days_likely;
        works.surface_days += p.surface_days_likely;
        works.surface_broken += p.surface_reinstated;
        works.carted += p.carted;
    }
    works.visits = visits_for(works.mean_days) + (works.surface_days > 0.0 ? 1 : 0);
    return works;
}

DigMean cheapest_dig_mean(const std::vector<Place>& places, const job::Dig& dig, const job::Yard& yard) {
    return choose(places, dig, yard).mean;
}

std::vector<Line> dig_lines(const DigWorks& works, const job::Dig& dig, const job::Yard& yard, Working& working) {
    std::vector<Line> lines;
    if (works.pits.empty()) return lines;
    static_cast<void>(team_hour(yard.rates, yard.dig_rates.crew_size, working));
    const ItemContext context{dig, yard};
    std::vector<Item> items;
    const auto take = [&items](const Item& item) { merge_item(items, item); };
    for (const Pit& pit : works.pits) each_pit_item(pit, context, take);
    emit_hire(works.team_days, context, take);
    each_job_item(works.mean_days, context, take);
    for (const Item& item : items) add_line(lines, item.kind, item.what, item.quantity, item.unit, item.rate);
    return lines;
}

Money dig_instead(const Place& place, const job::Dig& dig, const job::Yard& yard) {
    return Money::cents(std::llround(cheapest_dig_mean({place}, dig, yard).cents()), yard.rates.currency);
}

DigShape dig_shape(const DigWorks& works, const job::Dig& dig, const job::Yard& yard) {
    DigShape shape;
    if (works.pits.empty()) return shape;
    const ItemContext context{dig, yard};
    for (const Pit& pit : works.pits) {
        DigShape::PitDays days{0.0, days_of(pit)};
        each_pit_item(pit, context, [&](const Item& item) {
            const double amount = item.quantity * cents(item.rate);
            switch (item.sway) {
                case Sway::days:
                    days.per_day += pit.days_likely > 0.0 ? amount / pit.days_likely : 0.0;
                    break;
                case Sway::surface_days:
                    shape.by_surface_team += amount;
                    break;
                case Sway::volume:
                    shape.by_volume += amount;
                    break;
                case Sway::material:
                    shape.by_material += amount;
                    break;
                case Sway::none:
                    shape.fixed += amount;
                    break;
            }
        });
        shape.pits.push_back(days);
    }
    if (!dig.hand_dig_only && hire_by_day(works.mean_days, yard.dig_rates)) {
        for (DigShape::PitDays& p : shape.pits) p.per_day += cents(yard.dig_rates.digger_per_day);
    } else if (!dig.hand_dig_only) {
        shape.fixed += cents(yard.dig_rates.digger_minimum);
    }
    each_job_item(works.mean_days, context,
                  [&shape](const Item& item) { shape.fixed += item.quantity * cents(item.rate); });
    return shape;
}

}  // namespace patchwright::price
