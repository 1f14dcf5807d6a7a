#include <algorithm>

#include "exact.hpp"

namespace patchwright::cutting {
namespace {

constexpr std::size_t at_once = 10;  // pieces that one exact search takes

/// A pattern under construction: what stands open can take more.
class Bench {
public:
    Bench(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf)
        : pieces_{pieces}, stock_{stock}, kerf_{kerf} {}

    /// Places the pieces as well as can be into what is open and what is left.
    void place(const std::vector<int>& which);
    /// Takes the last bands of the cut off again, at most `most` pieces.
    std::vector<int> take_off(std::size_t cut, std::size_t most);
    std::vector<int> take_unplaced(std::size_t most);
    void drop_empty() {
        std::erase_if(pattern_.cuts, [](const Cut& cut) { return cut.bands.empty(); });
    }
    Price price() const;
    Pattern& pattern() { return pattern_; }

private:
    Millimetre left(const Cut& cut) const;
    const Piece& piece(int p) const { return pieces_[static_cast<std::size_t>(p)]; }

    const std::vector<Piece>& pieces_;
    const std::vector<Stock>& stock_;
    Millimetre kerf_;
    Pattern pattern_;
};

Millimetre Bench::left(const Cut& cut) const {
    std::int64_t left = stock_[static_cast<std::size_t>(cut.stock)].length;
    for (const auto& band : cut.bands) {
        Millimetre length = 0;
        for (const int p : band.pieces) length = std::max(length, piece(p).length);
        left -= length + kerf_;
    }
    return static_cast<Millimetre>(std::max<std::int64_t>(left, 0));
}

Price Bench::price() const {
    Price price;
    price.unplaced = static_cast<int>(pattern_.unplaced.size());
    for (const auto& cut : pattern_.cuts) {
        if (cut.bands.empty()) continue;
        const auto& stock = stock_[static_cast<std::size_t>(cut.stock)];
        price.cost += stock.price;
        for (const auto& band : cut.bands) price.cuts += cuts_of(pieces_, band, stock.width, kerf_);
    }
    return price;
}

void Bench::place(const std::vector<int>& which) {
    std::vector<Piece> part;
    Millimetre shortest = piece(which.front()).length;
    for (const int p : which) {
        part.push_back({{}, piece(p).length, piece(p).width});
        shortest = std::min(shortest, piece(p).length);
    }
    std::vector<Stock> offered;
    std::vector<int> origin;  // a cut already open, or -1 - stock
    std::vector<int> used(stock_.size(), 0);
    for (std::size_t i = 0; i < pattern_.cuts.size(); ++i) {
        const auto& cut = pattern_.cuts[i];
        if (cut.bands.empty()) continue;
        ++used[static_cast<std::size_t>(cut.stock)];
        if (left(cut) < shortest) continue;
        offered.push_back({{}, left(cut), stock_[static_cast<std::size_t>(cut.stock)].width, 0, 1, false});
        origin.push_back(static_cast<int>(i));
    }
    for (std::size_t s = 0; s < stock_.size(); ++s) {
        auto stock = stock_[s];
        if (stock.count >= 0) stock.count -= used[s];
        if (stock.count == 0 || stock.length < shortest) continue;
        offered.push_back(std::move(stock));
        origin.push_back(-1 - static_cast<int>(s));
    }
    const auto found = solve_exactly(part, offered, kerf_);
    for (const auto& cut : found.cuts) {
        const int from = origin[static_cast<std::size_t>(cut.stock)];
        if (from < 0) pattern_.cuts.push_back({-1 - from, {}});
        auto& target = from < 0 ? pattern_.cuts.back() : pattern_.cuts[static_cast<std::size_t>(from)];
        for (auto band : cut.bands) {
            for (int& p : band.pieces) p = which[static_cast<std::size_t>(p)];
            target.bands.push_back(std::move(band));
        }
    }
    for (const int p : found.unplaced) pattern_.unplaced.push_back(which[static_cast<std::size_t>(p)]);
}

std::vector<int> Bench::take_off(std::size_t index, std::size_t most) {
    auto& bands = pattern_.cuts[index].bands;
    std::vector<int> taken;
    while (!bands.empty() && taken.size() + bands.back().pieces.size() <= most) {
        taken.insert(taken.end(), bands.back().pieces.begin(), bands.back().pieces.end());
        bands.pop_back();
    }
    return taken;
}

std::vector<int> Bench::take_unplaced(std::size_t most) {
    std::vector<int> taken;
    while (!pattern_.unplaced.empty() && taken.size() < most) {
        taken.push_back(pattern_.unplaced.back());
        pattern_.unplaced.pop_back();
    }
    return taken;
}

/// Takes the last bands of two cuts apart and places them anew; keeps what is better.
bool improve(Bench& bench, std::size_t one, std::size_t other) {
    Bench trial = bench;
    auto pieces = trial.take_off(one, at_once);
    if (other != one) {
        const auto more = trial.take_off(other, at_once - pieces.size());
        pieces.insert(pieces.end(), more.begin(), more.end());
    }
    const auto loose = trial.take_unplaced(at_once - pieces.size());
    pieces.insert(pieces.end(), loose.begin(), loose.end());
    if (pieces.empty()) return false;
    std::sort(pieces.begin(), pieces.end());
    trial.place(pieces);
    if (!(trial.price() < bench.price())) return false;
    trial.drop_empty();
    bench.pattern() = std::move(trial.pattern());
    return true;
}

}  // namespace

Pattern solve_in_parts(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf) {
    std::vector<int> order(pieces.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<int>(i);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
        return pieces[static_cast<std::size_t>(a)].length > pieces[static_cast<std::size_t>(b)].length;
    });
    Bench bench{pieces, stock, kerf};
    for (std::size_t i = 0; i < order.size(); i += at_once) {
        const auto end = order.begin() + static_cast<std::ptrdiff_t>(std::min(order.size(), i + at_once));
        bench.place({order.begin() + static_cast<std::ptrdiff_t>(i), end});
    }
    constexpr int max_trials = 400;
    int trials = 0;
    for (bool better = true; better && trials < max_trials;) {
        better = false;
        for (std::size_t i = 0; i < bench.pattern().cuts.size(); ++i) {
            for (std::size_t j = i; j < bench.pattern().cuts.size() && trials < max_trials; ++j, ++trials) {
                better |= i < bench.pattern().cuts.size() && improve(bench, i, j);
            }
        }
    }
    bench.pattern().price = bench.price();
    return std::move(bench.pattern());
}

}  // namespace patchwright::cutting
