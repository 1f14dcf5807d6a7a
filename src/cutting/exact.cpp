#include "exact.hpp"

#include <algorithm>
#include <bit>
#include <limits>
#include <map>
#include <span>
#include <stdexcept>

namespace patchwright::cutting {
namespace {

constexpr Price impossible{std::numeric_limits<int>::max() / 4, 0, 0};

/// Pieces of one size.
struct Size {
    Millimetre length = 0, width = 0;
    std::vector<int> pieces;
};

std::vector<Size> sizes_of(const std::vector<Piece>& pieces) {
    std::map<std::pair<Millimetre, Millimetre>, Size> sizes;
    for (int i = 0; i < static_cast<int>(pieces.size()); ++i) {
        const auto& piece = pieces[static_cast<std::size_t>(i)];
        auto& size = sizes[{-piece.length, -piece.width}];  // longest first
        size.length = piece.length;
        size.width = piece.width;
        size.pieces.push_back(i);
    }
    std::vector<Size> result;
    for (auto& [key, size] : sizes) result.push_back(std::move(size));
    return result;
}

using Bundle = std::uint32_t;  ///< how many of each size, as a number of mixed base

/// All bundles of the pieces. In the packed form each count has bits of its own and a guard bit, so that "is part of"
/// is one subtraction.
class Bundles {
public:
    explicit Bundles(const std::vector<Size>& sizes) {
        int bit = 0;
        Bundle stride = 1;
        for (const auto& size : sizes) {
            const auto count = static_cast<std::uint32_t>(size.pieces.size());
            counts_.push_back(count);
            strides_.push_back(stride);
            shifts_.push_back(bit);
            bit += static_cast<int>(std::bit_width(count)) + 1;
            guards_ |= std::uint64_t{1} << (bit - 1);
            stride *= count + 1;
        }
        packed_.resize(stride);
        for (Bundle b = 0; b < stride; ++b) {
            for (std::size_t i = 0; i < counts_.size(); ++i) {
                packed_[b] |= static_cast<std::uint64_t>(count(b, i)) << shifts_[i];
            }
        }
    }
    Bundle number() const { return static_cast<Bundle>(packed_.size()); }
    Bundle all() const { return number() - 1; }
    std::size_t sizes() const { return counts_.size(); }
    Bundle one(std::size_t size) const { return strides_[size]; }
    std::uint32_t count(Bundle b, std::size_t size) const { return b / strides_[size] % (counts_[size] + 1); }
    bool part_of(Bundle part, Bundle whole) const {
        return (((packed_[whole] | guards_) - packed_[part]) & guards_) == guards_;
    }
    std::size_t first_size(Bundle b) const {
        std::size_t i = 0;
        while (count(b, i) == 0) ++i;
        return i;
    }
    /// Calls f(part) for every bundle within `whole`, in rising order.
    template <class F>
    void each_part(Bundle whole, F&& f) const {
        std::uint32_t limits[33], at[33] = {};
        const std::size_t n = counts_.size();
        for (std::size_t i = 0; i < n; ++i) limits[i] = count(whole, i);
        for (Bundle part = 0;;) {
            f(part);
            std::size_t i = 0;
            for (; i < n; ++i) {
                if (at[i] < limits[i]) {
                    ++at[i];
                    part += strides_[i];
                    break;
                }
                part -= at[i] * strides_[i];
                at[i] = 0;
            }
            if (i == n) return;
        }
    }

private:
    std::vector<std::uint32_t> counts_;
    std::vector<Bundle> strides_;
    std::vector<int> shifts_;
    std::uint64_t guards_ = 0;
    std::vector<std::uint64_t> packed_;
};

/// A bundle that fits side by side, with the length of its longest.
struct SideBySide {
    Bundle bundle = 0;
    Millimetre length = 0;
    int cuts = 0;
};

/// A way to cut a bundle as bands one after the other: none other is both shorter and has fewer cuts.
struct Way {
    std::int64_t length = 0;  ///< with a kerf after every band
    int cuts = 0;
    std::uint32_t band = 0;    ///< the first band
    std::uint32_t before = 0;  ///< which way of the rest
};

/// All ways to cut each bundle from stock of one width.
class Width {
public:
    Width(const std::vector<Size>& sizes, const Bundles& bundles, Millimetre width, Millimetre longest, Millimetre kerf)
        : sizes_{sizes}, bundles_{bundles}, width_{width}, kerf_{kerf} {
        first_band_.push_back(0);
        for (std::size_t i = 0; i < sizes.size(); ++i) {
            if (sizes[i].width <= width) add_bands(i, i, bundles.one(i), sizes[i].width, 1, 0);
            first_band_.push_back(bands_.size());
        }
        ways_.push_back({});
        first_way_ = {0, 1};
        for (Bundle b = 1; b < bundles.number(); ++b) find_ways(b, static_cast<std::int64_t>(longest) + kerf);
    }

    /// Fewest cuts from a length; nullptr: does not fit.
    const Way* best(Bundle b, Millimetre length) const {
        const Way* found = nullptr;
        for (const auto& way : ways_of(b)) {
            if (way.length <= static_cast<std::int64_t>(length) + kerf_ && (!found || way.cuts < found->cuts))
                found = &way;
        }
        return found;
    }
    std::vector<Bundle> bands_of(Bundle b, const Way& way) const {
        std::vector<Bundle> result;
        const Way* at = &way;
        while (b != 0) {
            const Bundle band = bands_[at->band].bundle;
            result.push_back(band);
            b -= band;
            at = &ways_of(b)[at->before];
        }
        return result;
    }

private:
    // The band's longest piece is of size `head`; others follow in order of size.
    void add_bands(std::size_t head, std::size_t from, Bundle bundle, std::int64_t used, int pieces, int shortened) {
        const int edge = used < width_ ? 1 : 0;
        bands_.push_back({bundle, sizes_[head].length, 1 + (pieces - 1) + edge + shortened});
        for (std::size_t i = from; i < sizes_.size(); ++i) {
            if (used + kerf_ + sizes_[i].width > width_ || bundles_.count(bundle, i) >= sizes_[i].pieces.size())
                continue;
            const int shorter = sizes_[i].length < sizes_[head].length ? 1 : 0;
            add_bands(head, i, bundle + bundles_.one(i), used + kerf_ + sizes_[i].width, pieces + 1,
                      shortened + shorter);
        }
    }

    std::span<const Way> ways_of(Bundle b) const {
        return std::span{ways_}.subspan(first_way_[b], first_way_[b + 1] - first_way_[b]);
    }
    void find_ways(Bundle b, std::int64_t longest) {
        // The longest piece of the bundle heads some band: take that one first.
        const std::size_t head = bundles_.first_size(b);
        found_.clear();
        for (std::size_t i = first_band_[head]; i < first_band_[head + 1]; ++i) {
            const auto& band = bands_[i];
            if (!bundles_.part_of(band.bundle, b)) continue;
            const auto rest = ways_of(b - band.bundle);
            for (std::size_t j = 0; j < rest.size(); ++j) {
                const Way way{rest[j].length + band.length + kerf_, rest[j].cuts + band.cuts,
                              static_cast<std::uint32_t>(i), static_cast<std::uint32_t>(j)};
                if (way.length <= longest) keep(found_, way);
            }
        }
        ways_.insert(ways_.end(), found_.begin(), found_.end());
        first_way_.push_back(ways_.size());
    }
    static void keep(std::vector<Way>& ways, const Way& way) {
        for (const auto& other : ways) {
            if (other.length <= way.length && other.cuts <= way.cuts) return;
        }
        std::erase_if(ways, [&](const Way& o) { return way.length <= o.length && way.cuts <= o.cuts; });
        ways.push_back(way);
    }

    const std::vector<Size>& sizes_;
    const Bundles& bundles_;
    Millimetre width_, kerf_;
    std::vector<SideBySide> bands_;
    std::vector<std::size_t> first_band_;
    std::vector<Way> ways_;  ///< of all bundles, one after the other
    std::vector<std::size_t> first_way_;
    std::vector<Way> found_;  ///< of the bundle in hand
};

class Exact {
public:
    Exact(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf)
        : pieces_{pieces}, stock_{stock}, sizes_{sizes_of(pieces)}, bundles_{sizes_} {
        std::map<Millimetre, Millimetre> longest;
        for (const auto& s : stock) longest[s.width] = std::max(longest[s.width], s.length);
        for (const auto& [width, length] : longest) widths_.try_emplace(width, sizes_, bundles_, width, length, kerf);
    }
    Pattern solve();

private:
    struct Pass {
        int stock = 0;
        std::vector<Bundle> taken;
    };
    Price price(int stock, Bundle b) const {
        const auto& s = stock_[static_cast<std::size_t>(stock)];
        const Way* way = widths_.at(s.width).best(b, s.length);
        return way ? Price{0, s.price, way->cuts} : impossible;
    }
    bool unlimited(const Stock& s) const { return s.count < 0 || s.count >= static_cast<int>(pieces_.size()); }
    void price_endless();
    void add_copy(int stock, const std::vector<std::pair<Bundle, Price>>& fits);
    void take(int stock, Bundle b, Pattern& pattern, std::vector<std::size_t>& next) const;

    const std::vector<Piece>& pieces_;
    const std::vector<Stock>& stock_;
    std::vector<Size> sizes_;
    Bundles bundles_;
    std::map<Millimetre, Width> widths_;
    std::vector<Price> limited_;  ///< best price of each bundle from the limited stock taken up so far
    std::vector<Pass> passes_;
    std::vector<Price> endless_;  ///< best price of each bundle from unlimited stock, or left unplaced
    std::vector<std::pair<Bundle, int>> endless_choice_;  ///< part and stock (-1: one piece unplaced)
};

void Exact::price_endless() {
    std::vector<Price> copy(bundles_.number(), impossible);
    std::vector<int> from(bundles_.number(), -1);
    for (int s = 0; s < static_cast<int>(stock_.size()); ++s) {
        if (!unlimited(stock_[static_cast<std::size_t>(s)])) continue;
        for (Bundle b = 1; b < bundles_.number(); ++b) {
            const Price p = price(s, b);
            if (p < copy[b]) {
                copy[b] = p;
                from[b] = s;
            }
        }
    }
    for (std::size_t i = 0; i < bundles_.sizes(); ++i) {
        if (copy[bundles_.one(i)].unplaced > 0) copy[bundles_.one(i)] = {1, 0, 0};
    }
    endless_.assign(bundles_.number(), impossible);
    endless_choice_.resize(bundles_.number());
    endless_[0] = {};
    for (Bundle b = 1; b < bundles_.number(); ++b) {
        const std::size_t head = bundles_.first_size(b);
        bundles_.each_part(b - bundles_.one(head), [&](Bundle rest) {
            const Bundle part = b - rest;
            if (copy[part].unplaced > 1) return;
            const Price p = endless_[rest] + copy[part];
            if (p < endless_[b]) {
                endless_[b] = p;
                endless_choice_[b] = {part, from[part]};
            }
        });
        // One piece left unplaced even where it would fit by itself: never better, so not looked at.
    }
}

void Exact::add_copy(int stock, const std::vector<std::pair<Bundle, Price>>& fits) {
    std::vector<Price> next = limited_;
    Pass pass{stock, std::vector<Bundle>(bundles_.number(), 0)};
    for (const auto& [part, p] : fits) {
        bundles_.each_part(bundles_.all() - part, [&, part = part, p = p](Bundle rest) {
            const Price sum = limited_[rest] + p;
            if (sum < next[rest + part]) {
                next[rest + part] = sum;
                pass.taken[rest + part] = part;
            }
        });
    }
    limited_ = std::move(next);
    passes_.push_back(std::move(pass));
}

void Exact::take(int stock, Bundle b, Pattern& pattern, std::vector<std::size_t>& next) const {
    const auto& s = stock_[static_cast<std::size_t>(stock)];
    const auto& width = widths_.at(s.width);
    Cut cut{stock, {}};
    for (const Bundle bundle : width.bands_of(b, *width.best(b, s.length))) {
        Band band;
        for (std::size_t i = 0; i < sizes_.size(); ++i) {
            for (std::uint32_t n = bundles_.count(bundle, i); n > 0; --n)
                band.pieces.push_back(sizes_[i].pieces[next[i]++]);
        }
        cut.bands.push_back(std::move(band));
    }
    pattern.cuts.push_back(std::move(cut));
}

Pattern Exact::solve() {
    price_endless();
    limited_.assign(bundles_.number(), impossible);
    limited_[0] = {};
    for (int s = 0; s < static_cast<int>(stock_.size()); ++s) {
        const auto& stock = stock_[static_cast<std::size_t>(s)];
        if (unlimited(stock)) continue;
        std::vector<std::pair<Bundle, Price>> fits;
        for (Bundle b = 1; b < bundles_.number(); ++b) {
            const Price p = price(s, b);
            if (p.unplaced == 0) fits.emplace_back(b, p);
        }
        for (int copy = 0; copy < stock.count && !fits.empty(); ++copy) add_copy(s, fits);
    }
    Pattern pattern;
    pattern.price = impossible;
    Bundle from_limited = 0;
    for (Bundle b = 0; b < bundles_.number(); ++b) {
        const Price p = limited_[b] + endless_[bundles_.all() - b];
        if (p < pattern.price) {
            pattern.price = p;
            from_limited = b;
        }
    }
    std::vector<std::size_t> next(sizes_.size(), 0);
    Bundle rest = bundles_.all() - from_limited;
    for (auto pass = passes_.rbegin(); pass != passes_.rend(); ++pass) {
        const Bundle part = pass->taken[from_limited];
        if (part != 0) take(pass->stock, part, pattern, next);
        from_limited -= part;
    }
    while (rest != 0) {
        const auto [part, stock] = endless_choice_[rest];
        if (stock >= 0) {
            take(stock, part, pattern, next);
        } else {
            const std::size_t size = bundles_.first_size(part);
            pattern.unplaced.push_back(sizes_[size].pieces[next[size]++]);
        }
        rest -= part;
    }
    return pattern;
}

}  // namespace

double exact_effort(const std::vector<Piece>& pieces) {
    double effort = 1.0, bundles = 1.0;
    for (const auto& size : sizes_of(pieces)) {
        const auto n = static_cast<double>(size.pieces.size());
        effort *= (n + 1.0) * (n + 2.0) / 2.0;
        bundles *= n + 1.0;
    }
    return bundles > 65536.0 ? std::numeric_limits<double>::infinity() : effort;
}

Pattern solve_exactly(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf) {
    return Exact{pieces, stock, kerf}.solve();
}

int cuts_of(const std::vector<Piece>& pieces, const Band& band, Millimetre width, Millimetre kerf) {
    Millimetre length = 0, used = -kerf;
    for (const int p : band.pieces) {
        length = std::max(length, pieces[static_cast<std::size_t>(p)].length);
        used += kerf + pieces[static_cast<std::size_t>(p)].width;
    }
    int cuts = static_cast<int>(band.pieces.size()) + (used < width ? 1 : 0);
    for (const int p : band.pieces) cuts += pieces[static_cast<std::size_t>(p)].length < length ? 1 : 0;
    return cuts;
}

}  // namespace patchwright::cutting
