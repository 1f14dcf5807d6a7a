// Says the rules of cutting once more, from the placements alone.
#include "support/cutting_rules.hpp"

#include <algorithm>
#include <map>

namespace patchwright::test {
namespace {

using namespace cutting;

using Lines = std::vector<std::string>;

struct Rectangle {
    std::string name;
    Millimetre along = 0, across = 0, length = 0, width = 0;
};

void check_pair(const Rectangle& a, const Rectangle& b, Millimetre kerf, Lines& lines) {
    const bool apart_along = a.along + a.length + kerf <= b.along || b.along + b.length + kerf <= a.along;
    const bool apart_across = a.across + a.width + kerf <= b.across || b.across + b.width + kerf <= a.across;
    if (!apart_along && !apart_across)
        lines.push_back(a.name + " and " + b.name + ": no room for the cut between them");
    // Cuts go across the whole width: two pieces either start together or lie in bands one after the other.
    if (a.along != b.along && !apart_along) lines.push_back(a.name + " and " + b.name + ": not in bands");
}

void check_copy(const Stock& stock, const std::vector<Rectangle>& pieces, Millimetre kerf, Lines& lines) {
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const auto& p = pieces[i];
        const bool inside =
            p.along >= 0 && p.across >= 0 && p.along + p.length <= stock.length && p.across + p.width <= stock.width;
        if (!inside) lines.push_back(p.name + ": lies outside " + stock.name);
        for (std::size_t j = i + 1; j < pieces.size(); ++j) check_pair(p, pieces[j], kerf, lines);
    }
}

int count_cuts(const Stock& stock, const std::vector<Rectangle>& pieces, Millimetre kerf) {
    std::map<Millimetre, std::vector<const Rectangle*>> bands;
    for (const auto& p : pieces) bands[p.along].push_back(&p);
    int cuts = 0;
    for (const auto& [along, band] : bands) {
        Millimetre length = 0, width = -kerf;
        for (const auto* p : band) {
            length = std::max(length, p->length);
            width += p->width + kerf;
        }
        cuts += 1;                                              // across
        cuts += static_cast<int>(band.size()) - 1;              // between neighbours
        cuts += width < stock.width ? 1 : 0;                    // beside the last
        for (const auto* p : band) cuts += p->length < length;  // to length
    }
    return cuts;
}

}  // namespace

std::vector<std::string> broken_cutting_rules(const std::vector<Piece>& pieces, const std::vector<Stock>& stock,
                                              Millimetre kerf, const CutPlan& plan) {
    Lines lines;
    std::vector<int> seen(pieces.size(), 0);
    std::map<std::pair<int, int>, std::vector<Rectangle>> copies;
    for (const auto& at : plan.placements) {
        if (at.piece < 0 || at.piece >= static_cast<int>(pieces.size()) || at.stock < 0 ||
            at.stock >= static_cast<int>(stock.size()) || at.copy < 0) {
            lines.push_back("a placement names what does not exist");
            continue;
        }
        const auto& piece = pieces[static_cast<std::size_t>(at.piece)];
        ++seen[static_cast<std::size_t>(at.piece)];
        copies[{at.stock, at.copy}].push_back({piece.name, at.along, at.across, piece.length, piece.width});
    }
    for (const int p : plan.unplaced) ++seen[static_cast<std::size_t>(p)];
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (seen[i] != 1)
            lines.push_back(pieces[i].name + ": stands " + std::to_string(seen[i]) + " times in the plan");
    }
    std::vector<int> used(stock.size(), 0);
    Cost cost = 0;
    int cuts = 0;
    for (const auto& [where, rectangles] : copies) {
        const auto& s = stock[static_cast<std::size_t>(where.first)];
        check_copy(s, rectangles, kerf, lines);
        ++used[static_cast<std::size_t>(where.first)];
        cost += s.price;
        cuts += count_cuts(s, rectangles, kerf);
    }
    for (std::size_t s = 0; s < stock.size(); ++s) {
        if (stock[s].count >= 0 && used[s] > stock[s].count)
            lines.push_back(stock[s].name + ": more used than there is");
        if (s >= plan.used.size() || plan.used[s] != used[s])
            lines.push_back(stock[s].name + ": the count used is wrong");
    }
    if (cost != plan.cost) lines.push_back("the cost is not that of the stock used");
    if (cuts != plan.cuts) lines.push_back("the number of cuts is not that of the plan");
    if (plan.bound > plan.cost) lines.push_back("the bound lies above the cost");
    return lines;
}

}  // namespace patchwright::test
