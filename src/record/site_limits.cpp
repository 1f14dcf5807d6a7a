// The card's tables, read as the card says that they are read.
#include <algorithm>

#include "patchwright/record/as_built.hpp"
#include "workings.hpp"

namespace patchwright::record {
namespace {

/// Both print as the same whole degree, or would have.
bool reads_as(Temperature measured, Temperature planned) {
    constexpr TemperatureDifference half = 0.5 * unit::K;
    return measured - planned <= half && planned - measured <= half;
}

}  // namespace

SiteLimits site_limits(const plan::Patch& p, std::optional<Temperature> pipe, std::optional<Temperature> resin,
                       std::optional<Temperature> air, SiteWorkings* workings) {
    const auto taken = [](std::optional<Temperature> measured, Temperature planned) {
        return measured && !reads_as(*measured, planned) ? *measured : planned;
    };
    const Temperature wall = taken(pipe, *p.conditions.pipe), mix = taken(resin, *p.conditions.resin),
                      table = taken(air, *p.conditions.air);
    const cure::Times& card = p.cure.sheet;
    SiteLimits limits;

    // What was not measured counts as planned, with the doubt of a figure that was calculated: the card's large
    // figures.
    std::vector<cure::LetDownRow> pipes{{*p.conditions.pipe, card.let_down, card.let_down, card.inflate_by}};
    if (pipe) pipes.insert(pipes.begin(), p.tables.let_down.begin(), p.tables.let_down.end());
    const cure::LetDownRow *colder = nullptr, *warmer = nullptr;
    for (const auto& row : pipes) {
        if (row.pipe <= wall && (colder == nullptr || row.pipe > colder->pipe)) colder = &row;
        if (row.pipe >= wall && (warmer == nullptr || row.pipe < warmer->pipe)) warmer = &row;
    }
    if (colder != nullptr) limits.let_down = colder->let_down;

    std::vector<cure::InflateRow> airs{
        {*p.conditions.resin, *p.conditions.air, card.pour_by, card.inflate_by, card.crease_by, {}}};
    if (resin && air) airs.insert(airs.begin(), p.tables.inflate.begin(), p.tables.inflate.end());
    const cure::InflateRow* best = nullptr;
    for (const auto& row : airs) {
        if (row.resin < mix || row.air < table) continue;
        if (best == nullptr || row.inflate_by > best->inflate_by) best = &row;
    }
    if (best != nullptr && warmer != nullptr && warmer->inflate_by > Duration{}) {
        limits.pour_by = best->pour_by;
        limits.inflate_by = std::min(best->inflate_by, warmer->inflate_by);
        limits.crease_by = *limits.inflate_by + (best->crease_by - best->inflate_by);
    }
    if (workings != nullptr) {
        const auto from = [](bool measured) { return measured ? Origin::given : Origin::computed; };
        const Operand wall_in{wall, from(pipe.has_value())}, mix_in{mix, from(resin.has_value())},
            air_in{table, from(air.has_value())};
        if (colder != nullptr) workings->let_down.add(let_down_formula, {wall_in, colder->pipe}, colder->let_down);
        if (limits.inflate_by) {
            workings->pour_by.add(pour_by_formula, {mix_in, air_in, best->resin, best->air}, best->pour_by);
            auto& inflate = workings->inflate_by;
            inflate.add(by_air_formula, {mix_in, air_in, best->resin, best->air}, best->inflate_by);
            inflate.add(by_pipe_formula, {wall_in, warmer->pipe}, warmer->inflate_by);
            inflate.add(inflate_by_formula, {best->inflate_by, warmer->inflate_by}, *limits.inflate_by);
            workings->crease_by = inflate;
            workings->crease_by.add(crease_by_formula, {*limits.inflate_by, best->crease_by - best->inflate_by},
                                    *limits.crease_by);
        }
    }
    limits.as_planned = limits.let_down == card.let_down && limits.pour_by == card.pour_by &&
                        limits.inflate_by == card.inflate_by && limits.crease_by == card.crease_by;
    return limits;
}

}  // namespace patchwright::record
