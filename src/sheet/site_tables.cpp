#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "blocks.hpp"
#include "words.hpp"

/// The tables for temperatures measured on site, once for all patches of a day; patches with the same times share a
/// column.
namespace patchwright::sheet {
namespace {

struct Group {
    std::string ids;
    const plan::Patch* patch = nullptr;
};

template <class Same>
std::vector<Group> groups(const Context& c, const std::vector<std::size_t>& patches, Same same) {
    std::vector<Group> list;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        const auto known = std::find_if(list.begin(), list.end(), [&](const Group& g) { return same(*g.patch, p); });
        if (known == list.end()) {
            list.push_back({p.id, &p});
        } else {
            known->ids += ", " + p.id;
        }
    }
    return list;
}

bool same_let_down(const plan::Patch& a, const plan::Patch& b) {
    return a.resin == b.resin &&
           std::equal(a.tables.let_down.begin(), a.tables.let_down.end(), b.tables.let_down.begin(),
                      b.tables.let_down.end(), [](const auto& x, const auto& y) {
                          return x.pipe == y.pipe && x.let_down == y.let_down &&
                                 x.without_exotherm == y.without_exotherm && x.inflate_by == y.inflate_by;
                      });
}

bool same_inflate(const plan::Patch& a, const plan::Patch& b) {
    return *a.conditions.pipe == *b.conditions.pipe &&
           std::equal(a.tables.inflate.begin(), a.tables.inflate.end(), b.tables.inflate.begin(),
                      b.tables.inflate.end(), [](const auto& x, const auto& y) {
                          return x.resin == y.resin && x.air == y.air && x.pour_by == y.pour_by &&
                                 x.inflate_by == y.inflate_by && x.crease_by == y.crease_by;
                      });
}

Table let_down_table(const Context& c, const std::vector<Group>& list) {
    Table table;
    table.title = "By pipe as measured, from mixing; between rows the warmer for inflated by, the colder for deflate";
    table.columns = {{"Pipe"}};
    std::vector<Temperature> pipes;
    auto limit = c.yard->resins[static_cast<std::size_t>(list.front().patch->resin)].application_min;
    for (const auto& g : list) {
        table.columns.push_back({list.size() > 1 ? g.ids + ": inflated by" : "inflated by", Align::right});
        table.columns.push_back({"deflate", Align::right});
        table.columns.push_back({"no own heat", Align::right});
        limit = std::min(limit, c.yard->resins[static_cast<std::size_t>(g.patch->resin)].application_min);
        for (const auto& row : g.patch->tables.let_down) pipes.push_back(row.pipe);
    }
    std::sort(pipes.begin(), pipes.end());
    pipes.erase(std::unique(pipes.begin(), pipes.end()), pipes.end());
    const std::vector<std::string> refused(3 * list.size(), "do not");
    table.rows.push_back({"< " + show(c, Show::temperature, limit)});
    table.rows.back().insert(table.rows.back().end(), refused.begin(), refused.end());
    for (const auto pipe : pipes) {
        auto cells = list_of<std::string>(show(c, Show::temperature, pipe));
        for (const auto& g : list) {
            const auto& rows = g.patch->tables.let_down;
            const auto row = std::find_if(rows.begin(), rows.end(), [&](const auto& r) { return r.pipe == pipe; });
            const bool known = row != rows.end();
            cells.push_back(known && row->inflate_by > Duration{} ? latest(c, row->inflate_by) : "do not");
            cells.push_back(known ? earliest(c, row->let_down) : "do not");
            cells.push_back(known ? earliest(c, row->without_exotherm) : "do not");
        }
        table.rows.push_back(std::move(cells));
    }
    table.side_by_side = list.size() == 1 ? 2 : 1;
    return table;
}

Table inflate_table(const Context& c, const Group& g, bool only) {
    Table table;
    table.title = fmt::format("{}, by resin and air as measured, in a pipe of {} or colder",
                              only ? std::string{"Inflated by, from mixing"} : "Inflated by: " + g.ids,
                              show(c, Show::temperature, *g.patch->conditions.pipe));
    table.columns = {
        {"Resin"}, {"Air"}, {"Pour by", Align::right}, {"Inflate by", Align::right}, {"Wrinkles by", Align::right}};
    for (const auto& row : g.patch->tables.inflate) {
        table.rows.push_back(list_of<std::string>(show(c, Show::temperature, row.resin),
                                                  show(c, Show::temperature, row.air), latest(c, row.pour_by),
                                                  latest(c, row.inflate_by), latest(c, row.crease_by)));
    }
    table.side_by_side = 2;
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
    limits.least = degrees(c, c.yard->resins[static_cast<std::size_t>(p.resin)].application_min);
    for (const auto& row : p.tables.let_down)
        limits.pipes.push_back({degrees(c, row.pipe), minutes_down(row.inflate_by), minutes_up(row.let_down)});
    for (const auto& row : p.tables.inflate) {
        limits.airs.push_back(
            {degrees(c, row.resin), degrees(c, row.air), minutes_down(row.pour_by), minutes_down(row.inflate_by)});
    }
    return limits;
}

void add_site_tables(const Context& c, const std::vector<std::size_t>& patches, Sheet& sheet) {
    if (patches.empty()) return;
    const auto let_down = groups(c, patches, same_let_down);
    const auto inflate = groups(c, patches, same_inflate);
    std::vector<Block> right;
    for (const auto& g : inflate) right.push_back({inflate_table(c, g, inflate.size() == 1)});
    Columns both;
    both.columns = list_of<std::vector<Block>>(list_of<Block>(Block{let_down_table(c, let_down)}), std::move(right));
    both.shares = {1.0 + 0.2 * static_cast<double>(let_down.size() - 1), 1.0};
    sheet.blocks.push_back({std::move(both)});
    const bool short_of_full =
        std::any_of(patches.begin(), patches.end(), [&](std::size_t i) { return c.plan->patches[i].cure.stops_short; });
    sheet.blocks.push_back(paragraph(
        std::string{"Times by what was measured replace the card's; of the two for inflating the shorter counts. "
                    "Warmer or colder than the tables: do not mix. Deflate only when the witness (a bag of the same "
                    "wet felt, kept in the pipe) shows no nail mark. "
                    "A cup of resin proves the mix, never the cure."} +
        (short_of_full ? " A pipe this cold stops the cure short of full hardness, which goes on slowly for "
                         "days."
                       : "")));
}

}  // namespace patchwright::sheet
