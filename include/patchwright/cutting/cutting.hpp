#pragma once
#include <cstdint>
#include <string>
#include <vector>

/// Cutting rectangular pieces from rolls and offcuts, in whole millimetres. The model and the search:
/// docs/methods/cutting.md.
namespace patchwright::cutting {

using Millimetre = std::int32_t;
using Cost = std::int64_t;  ///< cents

struct Piece {
    std::string name;                  ///< "A-P1/1"
    Millimetre length = 0, width = 0;  ///< lengthways along the roll; never turned
};
struct Stock {
    std::string name;
    Millimetre length = 0, width = 0;
    Cost price = 0;  ///< of the whole piece when used (an owned offcut: its stated value)
    int count = 1;   ///< -1: as many as wanted (bought)
    bool owned = false;
};
struct Placement {
    int piece = 0;
    int stock = 0;
    int copy = 0;                      ///< of that stock, from 0
    Millimetre along = 0, across = 0;  ///< from the stock's end and edge to the piece's
    constexpr bool operator==(const Placement&) const = default;
};
struct CutPlan {
    std::vector<Placement> placements;  ///< by stock, copy, along, across
    std::vector<int> used;              ///< how many of each stock
    Cost cost = 0;
    /// One across for each band; in a band one beside each piece, the last one's only where width is left over; one to
    /// shorten each piece that is shorter than its band.
    int cuts = 0;
    bool proven_optimal = false;  ///< least cost, then least cuts, of all plans that leave as few pieces unplaced
    Cost bound = 0;               ///< no plan that places the same pieces costs less
    std::vector<int> unplaced;    ///< too large for any stock, or the stock does not suffice
};

/// Places as many pieces as can be at the least cost, then with the least cuts. Each used piece of stock is cut across
/// its whole width into bands, a band into pieces side by side; `kerf` is lost between neighbours in both directions.
/// Owned stock is used before bought only as far as its price says so.
///
/// Exact to 16 pieces, and beyond as long as enough of them are of one size; else `bound` says how far off it can be.
/// Throws std::invalid_argument for lengths, widths, prices or kerf below zero, or pieces of no size.
[[nodiscard]] CutPlan plan_cuts(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf);

}  // namespace patchwright::cutting
