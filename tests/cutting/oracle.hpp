#pragma once
#include <optional>

#include "patchwright/cutting/cutting.hpp"

/// The cutting stated again as an assignment for integer programming: pieces to bands, bands to copies of the stock.
/// Shares no code with the library.
namespace cutting_test {

using namespace patchwright::cutting;

/// Least cost of placing every piece; nullopt: it cannot be done. Stock without limit counts as one copy a piece.
std::optional<Cost> by_cbc(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf);
std::optional<Cost> by_glpk(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf);

/// Least cost and then least cuts, by trying every division into bands and copies. For a handful of pieces.
struct Best {
    Cost cost = 0;
    int cuts = 0;
    auto operator<=>(const Best&) const = default;
};
std::optional<Best> by_brute_force(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf);

}  // namespace cutting_test
