#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

#include <fmt/format.h>

#include "blocks.hpp"
#include "words.hpp"

/// The tables for temperatures measured on site, once for all patches of a day; patches with almost the same times
/// share a column.
namespace patchwright::sheet {
namespace {

/// Patches with one table: of times that differ little it has the safer.
struct Group {
    std::string ids;
    const plan::Patch* patch = nullptr;  ///< the first of them
    Temperature pipe{};                  ///< coldest that one of them was calculated for
    plan::CureTable table;
};

bool near(Duration a, Duration b, Duration alike) {
    const bool both = (a > Duration{}) == (b > Duration{});  // zero: do not
    return both && a - b <= alike && b - a <= alike;
}

bool near_let_down(const plan::Patch& a, const plan::Patch& b, Duration alike) {
    return a.resin == b.resin && a.heater == b.heater && *a.conditions.resin == *b.conditions.resin &&
           *a.conditions.air == *b.conditions.air &&
           std::equal(a.tables.let_down.begin(), a.tables.let_down.end(), b.tables.let_down.begin(),
                      b.tables.let_down.end(), [&](const auto& x, const auto& y) {
                          return x.pipe == y.pipe && near(x.let_down, y.let_down, alike) &&
                                 near(x.inflate_by, y.inflate_by, alike);
                      });
}

bool near_inflate(const plan::Patch& a, const plan::Patch& b, Duration alike) {
    return std::equal(a.tables.inflate.begin(), a.tables.inflate.end(), b.tables.inflate.begin(),
                      b.tables.inflate.end(), [&](const auto& x, const auto& y) {
                          return x.resin == y.resin && x.air == y.air && near(x.pour_by, y.pour_by, alike) &&
                                 near(x.inflate_by, y.inflate_by, alike) && near(x.crease_by, y.crease_by, alike);
                      });
}

void take_safer(plan::CureTable& table, const plan::CureTable& other) {
    for (std::size_t i = 0; i < std::min(table.let_down.size(), other.let_down.size()); ++i) {
        auto& row = table.let_down[i];
        row.let_down = std::max(row.let_down, other.let_down[i].let_down);
        row.inflate_by = std::min(row.inflate_by, other.let_down[i].inflate_by);
        row.gel = std::min(row.gel, other.let_down[i].gel);
    }
    for (std::size_t i = 0; i < std::min(table.inflate.size(), other.inflate.size()); ++i) {
        auto& row = table.inflate[i];
        row.pour_by = std::min(row.pour_by, other.inflate[i].pour_by);
        row.inflate_by = std::min(row.inflate_by, other.inflate[i].inflate_by);
        row.crease_by = std::min(row.crease_by, other.inflate[i].crease_by);
    }
}

template <class Near>
std::vector<Group> groups_within(const Context& c, const std::vector<std::size_t>& patches, Near is_near,
                                 Duration alike) {
    std::vector<Group> list;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        const auto known =
            std::find_if(list.begin(), list.end(), [&](const Group& g) { return is_near(*g.patch, p, alike); });
        if (known == list.end()) {
            list.push_back({p.id, &p, *p.conditions.pipe, p.tables});
        } else {
            known->ids += ", " + p.id;
            known->pipe = std::min(known->pipe, *p.conditions.pipe);
            take_safer(known->table, p.tables);
        }
    }
    return list;
}

/// As few tables as the page has room for: where two minutes leave more, sleeves that differ by up to ten share one.
template <class Near>
std::vector<Group> groups(const Context& c, const std::vector<std::size_t>& patches, Near is_near) {
    std::vector<Group> list;
    for (const double minutes : {2.0, 5.0, 10.0}) {
        list = groups_within(c, patches, is_near, minutes * unit::minute);
        if (list.size() <= 2) break;
    }
    return list;
}

/// Calculated with the same resin and air, so that one title says it for all.
bool same_conditions(const std::vector<Group>& list) {
    return std::all_of(list.begin(), list.end(), [&](const Group& g) {
        const auto &own = g.patch->conditions, &first = list.front().patch->conditions;
        return *own.resin == *first.resin && *own.air == *first.air;
    });
}

/// Stands in the table's own title: who reads between its rows must not look for the rule elsewhere.
std::string between_rows(bool with_gel) {
    return fmt::format("Between rows: inflated by{} the warmer, deflate by the colder", with_gel ? " and gels" : "");
}

/// One table of those groups, beside each other when there are several; `whole`: there are no others. `with_gel`: from
/// when on what goes wrong is held and no longer pulled out, where there is room for it.
Table let_down_table(const Context& c, const std::vector<Group>& list, bool whole, bool with_gel) {
    Table table;
    const auto& with = list.front().patch->conditions;
    table.title = fmt::format("From mixing{}, by pipe as measured, resin {}, air {}. {}",
                              whole ? std::string{} : ": " + list.front().ids, show(c, Show::temperature, *with.resin),
                              show(c, Show::temperature, *with.air), between_rows(with_gel));
    table.columns = {{"Pipe"}};
    std::vector<Temperature> pipes;
    auto limit = c.yard().resins[static_cast<std::size_t>(list.front().patch->resin)].application_min;
    for (const auto& g : list) {
        table.columns.push_back({list.size() > 1 ? g.ids + ": inflated by" : "inflated by", Align::right});
        if (with_gel) table.columns.push_back({"gels", Align::right});
        table.columns.push_back({"deflate", Align::right});
        limit = std::min(limit, c.plan->resin_of(*g.patch).application_min);
        for (const auto& row : g.table.let_down) pipes.push_back(row.pipe);
    }
    std::sort(pipes.begin(), pipes.end());
    pipes.erase(std::unique(pipes.begin(), pipes.end()), pipes.end());
    const std::vector<std::string> refused((with_gel ? 3 : 2) * list.size(), "do not");
    table.rows.push_back({"< " + show(c, Show::temperature, limit)});
    table.rows.back().insert(table.rows.back().end(), refused.begin(), refused.end());
    for (const auto pipe : pipes) {
        auto cells = list_of<std::string>(show(c, Show::temperature, pipe));
        for (const auto& g : list) {
            const auto& rows = g.table.let_down;
            const auto row = std::find_if(rows.begin(), rows.end(), [&](const auto& r) { return r.pipe == pipe; });
            const bool known = row != rows.end();
            cells.push_back(known && row->inflate_by > Duration{} ? latest(c, row->inflate_by) : "do not");
            if (with_gel)
                cells.push_back(known ? plan::shown(Show::span, plan::Rounding::down, row->gel.si(), c.units)
                                      : "do not");
            cells.push_back(known ? earliest(c, row->let_down) : "do not");
        }
        table.rows.push_back(std::move(cells));
    }
    return table;
}

Table inflate_table(const Context& c, const Group& g, bool only, int side_by_side) {
    Table table;
    table.title = fmt::format(
        "From mixing{}, by resin and air as measured, pipe no warmer than {} or the air. Between rows: the warmer",
        only ? std::string{} : ": " + g.ids, show(c, Show::temperature, g.pipe));
    table.columns = {{"Resin"}, {"Air"}, {"Pour by", Align::right}, {"Inflate by", Align::right}};
    for (const auto& row : g.table.inflate) {
        table.rows.push_back(list_of<std::string>(show(c, Show::temperature, row.resin),
                                                  show(c, Show::temperature, row.air), latest(c, row.pour_by),
                                                  latest(c, row.inflate_by)));
    }
    table.side_by_side = side_by_side;
    return table;
}

double degrees(const Context& c, Temperature t) {
    return c.units == UnitSystem::us ? std::round(t.in_fahrenheit()) : std::round(t.in_celsius() * 10.0) / 10.0;
}
int minutes_down(Duration d) { return static_cast<int>(std::floor(d.in(unit::minute) + 1e-9)); }
int minutes_up(Duration d) { return static_cast<int>(std::ceil(d.in(unit::minute)-1e-9)); }

}  // namespace

Limits limits_of(const Context& c, const plan::Patch& p) {
    Limits limits;
    limits.patch = p.id;
    limits.unit = c.units == UnitSystem::us ? "F" : "C";
    limits.least = degrees(c, c.plan->resin_of(p).application_min);
    for (const auto& row : p.tables.let_down)
        limits.pipes.push_back(
            {degrees(c, row.pipe), minutes_down(row.inflate_by), minutes_down(row.gel), minutes_up(row.let_down)});
    for (const auto& row : p.tables.inflate) {
        limits.airs.push_back(
            {degrees(c, row.resin), degrees(c, row.air), minutes_down(row.pour_by), minutes_down(row.inflate_by)});
    }
    return limits;
}

namespace {

constexpr std::size_t max_beside = 4;  ///< tables beside each other whose figures stay whole

/// Tables beside each other, as many as there is room for.
void add_beside(std::vector<Table> tables, Sheet& sheet) {
    for (std::size_t i = 0; i < tables.size(); i += max_beside) {
        Columns row;
        for (std::size_t k = i; k < std::min(i + max_beside, tables.size()); ++k)
            row.columns.push_back(list_of<Block>(Block{std::move(tables[k])}));
        sheet.blocks.push_back({std::move(row)});
    }
}

/// From inflating at the latest to the end of the wrinkle check.
Duration shortest_check(const Context& c, const std::vector<std::size_t>& patches) {
    Duration shortest = 1.0 * unit::h;
    for (const auto i : patches) {
        const auto& sheet = c.plan->patches[i].cure.sheet;
        shortest = std::min(shortest, sheet.crease_by - sheet.inflate_by);
    }
    return shortest;
}

/// How the tables are used.
Block table_words(const Context& c, const std::vector<std::size_t>& patches, bool crowded) {
    const auto any = [&](auto is) {
        return std::any_of(patches.begin(), patches.end(), [&](std::size_t i) { return is(c.plan->patches[i]); });
    };
    const bool short_of_full = any([](const plan::Patch& p) { return p.cure.stops_short; });
    const bool heated = any([](const plan::Patch& p) { return p.heater >= 0; });
    // Else two times for one temperature would look like a slip.
    const auto& limits = c.yard().limits;
    const auto why = crowded || limits.measured_doubt >= limits.temperature_doubt
                         ? std::string{}
                         : fmt::format(", which allow for {} of doubt in place of {}",
                                       format(Show::temperature_step, limits.temperature_doubt.si(), c.units),
                                       format(Show::temperature_step, limits.measured_doubt.si(), c.units));
    return paragraph("Times by what was measured replace the card's" + why +
                     fmt::format("; of two for inflating the shorter counts, wrinkles checked {} later. Beyond the "
                                 "tables: do not mix. Deflate "
                                 "only when the witness (wet felt in the pipe) shows no nail mark{}. A cup of resin "
                                 "proves the mix, never the "
                                 "cure.",
                                 show(c, Show::minutes, shortest_check(c, patches)),
                                 heated ? "; heated ones go by clock and heater's gauge" : "") +
                     (short_of_full ? " So cold, full hardness takes days more." : ""));
}

/// Of one or two kinds of sleeves: what the pipe allows in one table, beside it what resin and air allow, and the words
/// under the shorter of the two. `crowded`: under four cards there is no room for long tables.
void add_few_tables(const Context& c, const std::vector<Group>& let_down, const std::vector<Group>& inflate,
                    bool crowded, Block words, Sheet& sheet) {
    auto table = let_down_table(c, let_down, true, !crowded);
    const bool two_kinds = let_down.size() == 2;
    table.side_by_side = two_kinds && !crowded ? 1 : 2;
    // Beside the wide table of two kinds there is room for one pair of resin and air in a line.
    const int pairs = two_kinds && !crowded ? 1 : 2;
    std::vector<Block> left = list_of<Block>(Block{std::move(table)}), right;
    for (const auto& g : inflate) right.push_back({inflate_table(c, g, inflate.size() == 1, pairs)});
    // Under four cards every line counts: where two tables stand on the right they go across the page.
    const bool words_beside = two_kinds && !(crowded && inflate.size() > 1);
    if (words_beside) right.push_back(words);
    Columns both;
    both.shares = {two_kinds ? 1.2 : 1.0, 1.0};
    both.columns = list_of<std::vector<Block>>(std::move(left), std::move(right));
    sheet.blocks.push_back({std::move(both)});
    if (!words_beside) sheet.blocks.push_back(std::move(words));
}

/// Of unlike sleeves: a narrow table each, those of one sort beside each other.
void add_many_tables(const Context& c, const std::vector<Group>& let_down, const std::vector<Group>& inflate,
                     Block words, Sheet& sheet) {
    std::vector<Table> pipes, airs;
    for (const auto& g : let_down) pipes.push_back(let_down_table(c, {g}, false, true));
    for (const auto& g : inflate) airs.push_back(inflate_table(c, g, inflate.size() == 1, 1));
    if (pipes.size() + airs.size() <= max_beside) {
        std::move(airs.begin(), airs.end(), std::back_inserter(pipes));
        airs.clear();
    }
    add_beside(std::move(pipes), sheet);
    add_beside(std::move(airs), sheet);
    sheet.blocks.push_back(std::move(words));
}

}  // namespace

void add_site_tables(const Context& c, const std::vector<std::size_t>& patches, Sheet& sheet) {
    if (patches.empty()) return;
    const auto let_down = groups(c, patches, near_let_down);
    const auto inflate = groups(c, patches, near_inflate);
    const bool few = let_down.size() <= 2 && inflate.size() <= 2 && same_conditions(let_down);
    auto words = table_words(c, patches, patches.size() >= 4);
    if (!few) return add_many_tables(c, let_down, inflate, std::move(words), sheet);
    add_few_tables(c, let_down, inflate, patches.size() >= 4, std::move(words), sheet);
}

}  // namespace patchwright::sheet
