#pragma once
#include <cstdint>
#include <vector>

#include "patchwright/cutting/cutting.hpp"

namespace patchwright::cutting {

/// What a plan is judged by, in this order.
struct Price {
    int unplaced = 0;
    Cost cost = 0;
    int cuts = 0;
    constexpr auto operator<=>(const Price&) const = default;
    friend constexpr Price operator+(Price a, Price b) {
        return {a.unplaced + b.unplaced, a.cost + b.cost, a.cuts + b.cuts};
    }
};

/// Pieces of one band, side by side in this order; places in the list of pieces given.
struct Band {
    std::vector<int> pieces;
};
/// One piece of stock, cut up.
struct Cut {
    int stock = 0;
    std::vector<Band> bands;
};
struct Pattern {
    std::vector<Cut> cuts;
    std::vector<int> unplaced;
    Price price;
};

/// Steps that `solve_exactly` would take, to judge beforehand whether it may.
double exact_effort(const std::vector<Piece>& pieces);
inline constexpr double max_effort = 4.4e7;  // 3^16: sixteen pieces, all different

/// The best pattern. The effort must be at most `max_effort`.
Pattern solve_exactly(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf);

/// A good pattern for any number of pieces: the exact search on a few pieces at a time, again and again.
Pattern solve_in_parts(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf);

int cuts_of(const std::vector<Piece>& pieces, const Band& band, Millimetre width, Millimetre kerf);

}  // namespace patchwright::cutting
