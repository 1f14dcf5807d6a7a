// What the team does while it waits for a cure or for a run to dry.
#include "crew_search.hpp"

namespace patchwright::schedule::crew {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

enum class Filler : std::uint8_t { cut, bench, inspect, prepare, look };
struct Item {
    Filler filler;
    int index;  ///< class or place
    Minute length;
    int most;
};

void add(std::uint8_t& done, std::uint8_t& moved, std::uint8_t count) {
    done = static_cast<std::uint8_t>(done + count);
    moved = static_cast<std::uint8_t>(moved + count);
}

/// All sets of fillers worth trying in one wait.
class Fillers {
public:
    Fillers(const Shape& shape, const Node& node, Minute wait) : shape_{shape}, node_{node}, wait_{wait} {}

    void add(Filler filler, int index, Minute length, int count) {
        if (length > 0 && count > 0 && size_ < items_.size()) items_[size_++] = {filler, index, length, count};
    }
    void limit_packers(std::vector<int> free) { free_packers_ = std::move(free); }

    template <class Emit>
    void each(const Emit& emit) {
        const auto end = items_.begin() + static_cast<std::ptrdiff_t>(size_);
        std::stable_sort(items_.begin(), end, [](const Item& a, const Item& b) {
            const bool first = a.filler == Filler::prepare, second = b.filler == Filler::prepare;
            return first != second ? first : a.length > b.length;
        });
        descend(0, 0, emit);
    }

private:
    /// Longest first, and none once the wait is over: a set from which a member could leave without opening the wait
    /// again is no better than the set without it, done later. Cleaning cannot leave when its survey stays.
    template <class Emit>
    void descend(std::size_t k, Minute sum, const Emit& emit) {
        if (k == size_) {
            if (!may_grow(wait_ - sum) && looks_follow() && prepares_belong(sum)) emit(items_, count_, size_);
            return;
        }
        const Item& item = items_[k];
        int& count = count_[k];
        for (count = 0;; ++count, sum += item.length) {
            descend(k + 1, sum, emit);
            if (count == item.most || (sum >= wait_ && item.filler != Filler::prepare)) break;
            if (item.filler == Filler::bench && --free_packers_[at(shape_.benches[at(item.index)].key)] < 0) {
                ++free_packers_[at(shape_.benches[at(item.index)].key)];
                break;
            }
        }
        if (item.filler == Filler::bench) free_packers_[at(shape_.benches[at(item.index)].key)] += count;
        count = 0;
    }

    bool chosen(Filler filler, int index) const {
        for (std::size_t k = 0; k < size_; ++k)
            if (items_[k].filler == filler && items_[k].index == index) return count_[k] > 0;
        return false;
    }
    bool look_possible(int place) const { return (node_.prepared & bit(place)) != 0 || chosen(Filler::prepare, place); }
    bool looks_follow() const {
        for (std::size_t k = 0; k < size_; ++k)
            if (items_[k].filler == Filler::look && count_[k] > 0 && !look_possible(items_[k].index)) return false;
        return true;
    }
    bool prepares_belong(Minute sum) const {
        for (std::size_t k = 0; k < size_ && items_[k].filler == Filler::prepare; ++k)
            if (count_[k] > 0 && !chosen(Filler::look, items_[k].index) && sum - items_[k].length >= wait_)
                return false;
        return true;
    }
    /// Work that costs nothing now and binds nothing is always worth doing. A bench test binds a packer.
    bool may_grow(Minute left) const {
        for (std::size_t k = 0; k < size_; ++k) {
            if (items_[k].filler == Filler::bench || count_[k] == items_[k].most || items_[k].length > left) continue;
            if (items_[k].filler == Filler::look && !look_possible(items_[k].index)) continue;
            return true;
        }
        return false;
    }

    const Shape& shape_;
    const Node& node_;
    Minute wait_;
    std::array<Item, 5 * most> items_;  // only the first `size_` are ever read
    std::array<int, 5 * most> count_{};
    std::size_t size_ = 0;
    std::vector<int> free_packers_;
};

}  // namespace

void Search::with_fillers(const Node& after, Minute ready, const Move& move, std::vector<Child>& children) const {
    const Minute wait = ready - after.t;
    const int busy = watchers(after.active);
    if (wait <= 0 || std::min(1, shape_.team) + busy > shape_.team) {
        finish_move(after, ready, move, children);
        return;
    }
    const Bits own = move.main == Piece::block ? shape_.batches[at(move.index)].members : 0;
    const Bits waiting = not_started(after) & ~own;
    Fillers fillers{shape_, after, wait};
    for (std::size_t c = 0; c < shape_.cuts.size(); ++c)
        fillers.add(Filler::cut, static_cast<int>(c), shape_.cuts[c].length,
                    std::popcount(shape_.cuts[c].members & waiting) - after.cut[c]);
    if (std::popcount(after.active) + 1 <= shape_.air_lines) {
        std::vector<int> free(shape_.packers.size());
        for (std::size_t kind = 0; kind < free.size(); ++kind) {
            free[kind] = shape_.packers[kind] - held(after, static_cast<int>(kind));
            for (Bits rest = own; rest != 0; rest &= rest - 1)
                if (shape_.members[at(std::countr_zero(rest))].packer == static_cast<int>(kind)) --free[kind];
        }
        fillers.limit_packers(std::move(free));
        for (std::size_t c = 0; c < shape_.benches.size(); ++c)
            fillers.add(Filler::bench, static_cast<int>(c), shape_.benches[c].length,
                        std::popcount(shape_.benches[c].members & waiting) - after.bench[c]);
    }
    for (std::size_t c = 0; c < shape_.looks.size(); ++c)
        if (clear(after, shape_.looks[c].key))
            fillers.add(Filler::inspect, static_cast<int>(c), shape_.looks[c].length,
                        std::popcount(shape_.looks[c].members & after.out) - after.look[c]);
    for (std::size_t r = 0; r < shape_.places.size(); ++r) {
        const int place = static_cast<int>(r);
        if ((shape_.places[r].members & waiting) == 0 || !clear(after, place)) continue;
        if (!(after.prepared & bit(place)) && shape_.pair + busy <= shape_.team)
            fillers.add(Filler::prepare, place, shape_.places[r].prepare, 1);
        if (!(after.looked & bit(place))) fillers.add(Filler::look, place, shape_.places[r].look, 1);
    }
    fillers.each([&](const auto& items, const auto& counts, std::size_t size) {
        Node node = after;
        Move filled = move;
        const auto spend = [&](Minute length) {
            node.t += length;
            node.work -= length;
        };
        for (std::size_t k = 0; k < size; ++k) {
            if (items[k].filler != Filler::prepare || counts[k] == 0) continue;
            spend(items[k].length);
            node.prepared |= bit(items[k].index);
            node.dry_at[at(items[k].index)] = node.t + shape_.places[at(items[k].index)].dry;
            filled.prepare |= bit(items[k].index);
        }
        for (std::size_t k = 0; k < size; ++k) {
            const auto count = static_cast<std::uint8_t>(counts[k]);
            if (count == 0 || items[k].filler == Filler::prepare) continue;
            spend(count * items[k].length);
            const std::size_t c = at(items[k].index);
            switch (items[k].filler) {
                case Filler::cut:
                    add(node.cut[c], filled.cut[c], count);
                    break;
                case Filler::bench:
                    add(node.bench[c], filled.bench[c], count);
                    break;
                case Filler::inspect:
                    add(node.look[c], filled.inspect[c], count);
                    break;
                default:
                    node.looked |= bit(items[k].index);
                    filled.look |= bit(items[k].index);
            }
        }
        finish_move(node, ready, filled, children);
    });
}

}  // namespace patchwright::schedule::crew
