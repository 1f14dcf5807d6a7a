#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

/// Cutting rectangular pieces from rolls and offcuts, in whole millimetres.
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
    int copy = 0;
    Millimetre along = 0, across = 0;
};
struct CutPlan {
    std::vector<Placement> placements;
    std::vector<int> used;  ///< how many of each stock
    Cost cost = 0;
    int cuts = 0;
    bool proven_optimal = false;
    Cost bound = 0;             ///< no plan costs less
    std::vector<int> unplaced;  ///< too large for any stock
};
/// Least cost, then least cuts. Pieces side by side across the width where they fit, `kerf` between neighbours.
/// Exact to 16 pieces; beyond that `bound` says how far off the answer can be.
CutPlan plan_cuts(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf);
std::vector<std::string> violations(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf,
                                    const CutPlan& plan);

}  // namespace patchwright::cutting
