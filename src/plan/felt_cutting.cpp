#include "felt_cutting.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "patchwright/plan/cut_together.hpp"

namespace patchwright::plan {
namespace {

using cutting::Millimetre;

/// Trim lost between neighbouring pieces: a scissors cut, common practice, no source.
constexpr Millimetre kerf = 5;

Millimetre mm_up(Length l) { return static_cast<Millimetre>(std::ceil(l.in(unit::mm)-1e-6)); }
Millimetre mm_down(Length l) { return static_cast<Millimetre>(std::floor(l.in(unit::mm) + 1e-6)); }

Money area_money(const job::Felt& felt, Millimetre length, Millimetre width) {
    const double plies = felt.form == job::FeltForm::sewn_tube ? 2.0 : 1.0;
    return cost(felt.price, plies * (static_cast<double>(length) * unit::mm) * (static_cast<double>(width) * unit::mm));
}

/// Offcuts are owned and charged at their stated share; rolls in stock and rolls to buy at the price of what they hold.
std::vector<cutting::Stock> stock_of(const job::Felt& felt) {
    std::vector<cutting::Stock> stock;
    for (const auto& piece : felt.stock) {
        const auto length = mm_down(piece.length), width = mm_down(piece.width);
        const Money full = area_money(felt, length, width);
        const Money price = piece.offcut ? scaled(full, felt.offcut_value) : full;
        stock.push_back({fmt::format("{} {} mm x {} mm", piece.offcut ? "offcut" : "roll", length, width), length,
                         width, price.in_cents(), piece.count, piece.offcut});
    }
    const auto length = mm_down(felt.roll_length);
    const auto width = mm_down(felt.form == job::FeltForm::sewn_tube ? felt.flat_width : felt.roll_width);
    if (length > 0 && width > 0) {
        stock.push_back({fmt::format("new roll {} mm x {} mm", length, width), length, width,
                         area_money(felt, length, width).in_cents(), -1, false});
    }
    return stock;
}

/// Offcuts that are used at their value; of a roll the length that the job takes.
Money used_money(const job::Felt& felt, const std::vector<cutting::Piece>& pieces,
                 const std::vector<cutting::Stock>& stock, const cutting::CutPlan& plan, Currency currency) {
    Money total = Money::cents(0, currency);
    std::map<std::pair<int, int>, Millimetre> taken;  // stock and copy to the furthest cut
    for (const auto& placed : plan.placements) {
        auto& length = taken[{placed.stock, placed.copy}];
        length = std::max(length, placed.along + pieces[static_cast<std::size_t>(placed.piece)].length);
    }
    for (const auto& [where, length] : taken) {
        const auto& from = stock[static_cast<std::size_t>(where.first)];
        total += from.owned ? Money::cents(from.price, currency) : area_money(felt, length, from.width);
    }
    return total;
}

/// The pieces of each felt; names are for those who cut.
std::map<int, std::vector<cutting::Piece>> pieces_of(const PatchList& patches, bool named) {
    std::map<int, std::vector<cutting::Piece>> felts;
    for (const Patch* patch : patches) {
        auto& pieces = felts[patch->felt.felt];
        if (pieces.empty()) pieces.reserve(patches.size());
        for (const auto& piece : patch->cut.pieces) {
            std::string name;
            if (named) name = patch->cut.pieces.size() > 1 ? fmt::format("{}/{}", patch->id, piece.layer) : patch->id;
            pieces.push_back({std::move(name), mm_up(piece.length), mm_up(piece.width)});
        }
    }
    return felts;
}

/// The same pieces of a felt are cut only once in a plan.
const FeltCut& cut_once(PlanContext& context, int index, const std::vector<cutting::Piece>& pieces) {
    std::vector<Millimetre> key{index};
    key.reserve(1 + 2 * pieces.size());
    for (const auto& piece : pieces) key.insert(key.end(), {piece.length, piece.width});
    const auto known = context.cuts.find(key);
    if (known != context.cuts.end()) return known->second;
    const auto& felt = context.yard.felts[static_cast<std::size_t>(index)];
    const auto stock = stock_of(felt);
    FeltCut cut{cutting::plan_cuts(pieces, stock, kerf), {}};
    cut.cost = used_money(felt, pieces, stock, cut.plan, context.yard.rates.currency);
    return context.cuts.emplace(std::move(key), std::move(cut)).first->second;
}

}  // namespace

std::vector<FeltCutting> cut_felts(PlanContext& context, const PatchList& patches) {
    std::vector<FeltCutting> result;
    for (auto& [index, pieces] : pieces_of(patches, true)) {
        const auto& [plan, cost] = cut_once(context, index, pieces);
        result.push_back({index, pieces, stock_of(context.yard.felts[static_cast<std::size_t>(index)]), plan, cost});
    }
    return result;
}

std::vector<FeltCutting> cut_together(const job::Yard& yard,
                                      const std::vector<std::pair<std::string, const Patch*>>& patches) {
    const job::Job nobodys;
    const Options options;
    PlanContext context{nobodys, yard, options};
    std::map<int, FeltCutting> felts;
    for (const auto& [name, patch] : patches) {
        for (auto& [index, pieces] : pieces_of({patch}, true)) {
            auto& all = felts[index].pieces;
            for (auto& piece : pieces) {
                piece.name = name + " " + piece.name;
                all.push_back(std::move(piece));
            }
        }
    }
    std::vector<FeltCutting> result;
    for (auto& [index, felt] : felts) {
        const auto& [plan, cost] = cut_once(context, index, felt.pieces);
        felt.felt = index;
        felt.stock = stock_of(yard.felts[static_cast<std::size_t>(index)]);
        felt.plan = plan;
        felt.cost = cost;
        result.push_back(std::move(felt));
    }
    return result;
}

std::vector<FeltBill> felt_bills(PlanContext& context, const PatchList& patches) {
    std::vector<FeltBill> result;
    for (const auto& [index, pieces] : pieces_of(patches, false))
        result.push_back({index, pieces.size(), cut_once(context, index, pieces).cost});
    return result;
}

}  // namespace patchwright::plan
