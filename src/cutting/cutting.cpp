#include "patchwright/cutting/cutting.hpp"

#include <algorithm>
#include <stdexcept>

#include "exact.hpp"

namespace patchwright::cutting {
namespace {

void check(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf) {
    constexpr Millimetre largest = 1'000'000'000;
    const auto size = [](Millimetre length) { return length > 0 && length <= largest; };
    for (const auto& piece : pieces) {
        if (!size(piece.length) || !size(piece.width)) {
            throw std::invalid_argument("cutting: piece " + piece.name + " needs a length and a width");
        }
    }
    for (const auto& s : stock) {
        if (!size(s.length) || !size(s.width)) {
            throw std::invalid_argument("cutting: stock " + s.name + " needs a length and a width");
        }
        if (s.price < 0) throw std::invalid_argument("cutting: stock " + s.name + " cannot cost less than nothing");
    }
    if (kerf < 0 || kerf > largest) throw std::invalid_argument("cutting: the kerf cannot be negative");
}

/// Places the bands of the pattern one after the other and numbers the copies.
void lay_out(const std::vector<Piece>& pieces, Millimetre kerf, const Pattern& pattern, CutPlan& plan) {
    for (const auto& cut : pattern.cuts) {
        const int copy = plan.used[static_cast<std::size_t>(cut.stock)]++;
        Millimetre along = 0;
        for (const auto& band : cut.bands) {
            Millimetre across = 0, length = 0;
            for (const int p : band.pieces) {
                const auto& piece = pieces[static_cast<std::size_t>(p)];
                plan.placements.push_back({p, cut.stock, copy, along, across});
                across += piece.width + kerf;
                length = std::max(length, piece.length);
            }
            along += length + kerf;
        }
    }
    std::sort(plan.placements.begin(), plan.placements.end(), [](const Placement& a, const Placement& b) {
        if (a.stock != b.stock) return a.stock < b.stock;
        if (a.copy != b.copy) return a.copy < b.copy;
        return a.along != b.along ? a.along < b.along : a.across < b.across;
    });
}

/// Least price of stock that offers `wanted`, taken in fractions, cheapest first: no whole pieces cost less.
template <class Offer>
Cost fractional(const std::vector<Stock>& stock, double wanted, Offer&& offer) {
    std::vector<const Stock*> order;
    for (const auto& s : stock) {
        if (s.count != 0) order.push_back(&s);
    }
    std::stable_sort(order.begin(), order.end(), [&](const Stock* a, const Stock* b) {
        return static_cast<double>(a->price) * offer(*b) < static_cast<double>(b->price) * offer(*a);
    });
    double cost = 0.0;
    for (const Stock* s : order) {
        const double whole = wanted / offer(*s);
        const double copies = s->count < 0 ? whole : std::min(whole, static_cast<double>(s->count));
        cost += copies * static_cast<double>(s->price);
        wanted -= copies * offer(*s);
        if (wanted <= 0.0) break;
    }
    // A fraction of a cent too much from rounding must not lift the bound.
    return static_cast<Cost>(cost * (1.0 - 1e-12) + 1.0 - 1e-6);
}

/// The kerf is added once to every piece and every piece of stock, in both directions; then a band holds at most the
/// stock's width, and what it holds is no longer than the band.
Cost bound_of(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf) {
    Millimetre widest = 0;
    for (const auto& s : stock) widest = std::max(widest, s.width);
    double area = 0.0, length = 0.0;
    for (const auto& piece : pieces) {
        const double along = static_cast<double>(piece.length) + kerf;
        const std::int64_t twice = 2 * (static_cast<std::int64_t>(piece.width) + kerf);
        const std::int64_t all = static_cast<std::int64_t>(widest) + kerf;
        area += along * (static_cast<double>(piece.width) + kerf);
        // Two pieces of more than half the width never lie side by side.
        length += twice > all ? along : twice == all ? along / 2.0 : 0.0;
    }
    const Cost by_area = fractional(stock, area, [&](const Stock& s) {
        return (static_cast<double>(s.length) + kerf) * (static_cast<double>(s.width) + kerf);
    });
    const Cost by_length =
        fractional(stock, length, [&](const Stock& s) { return static_cast<double>(s.length) + kerf; });
    return std::max(by_area, by_length);
}

}  // namespace

CutPlan plan_cuts(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf) {
    check(pieces, stock, kerf);
    CutPlan plan;
    plan.used.assign(stock.size(), 0);
    // What fits no stock takes no part in the search.
    std::vector<Piece> fitting;
    std::vector<int> place;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const bool fits = std::any_of(stock.begin(), stock.end(), [&](const Stock& s) {
            return s.count != 0 && pieces[i].length <= s.length && pieces[i].width <= s.width;
        });
        if (!fits) {
            plan.unplaced.push_back(static_cast<int>(i));
            continue;
        }
        fitting.push_back(pieces[i]);
        place.push_back(static_cast<int>(i));
    }
    if (!fitting.empty()) {
        plan.proven_optimal = exact_effort(fitting) <= max_effort;
        auto pattern = plan.proven_optimal ? solve_exactly(fitting, stock, kerf) : solve_in_parts(fitting, stock, kerf);
        std::vector<bool> left(fitting.size(), false);
        for (const int p : pattern.unplaced) {
            left[static_cast<std::size_t>(p)] = true;
            plan.unplaced.push_back(place[static_cast<std::size_t>(p)]);
        }
        lay_out(fitting, kerf, pattern, plan);
        for (auto& placed : plan.placements) placed.piece = place[static_cast<std::size_t>(placed.piece)];
        plan.cost = pattern.price.cost;
        plan.cuts = pattern.price.cuts;
        std::vector<Piece> placed;
        for (std::size_t i = 0; i < fitting.size(); ++i) {
            if (!left[i]) placed.push_back(fitting[i]);
        }
        plan.bound = plan.proven_optimal ? plan.cost : std::min(plan.cost, bound_of(placed, stock, kerf));
    } else {
        plan.proven_optimal = true;
    }
    std::sort(plan.unplaced.begin(), plan.unplaced.end());
    return plan;
}

}  // namespace patchwright::cutting
