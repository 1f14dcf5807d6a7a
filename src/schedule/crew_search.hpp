#pragma once
#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <deque>
#include <limits>
#include <span>
#include <unordered_map>
#include <vector>

#include "crew.hpp"

namespace patchwright::schedule::crew {

/// A move of the search: fillers done while waiting, what the next block still needs, and the main step.
struct Move {
    Piece main = Piece::block;
    int index = 0, variant = 0;                                ///< of the day: batch, member or place
    Bits prepare = 0, look = 0;                                ///< places done in the wait
    std::array<std::uint8_t, most> cut{}, bench{}, inspect{};  ///< by class, done in the wait
};

struct Child {
    Node node;
    Move move;
};

/// The children of one node, and in what order they are gone through.
struct Family {
    std::vector<Child> children;
    struct Rank {
        Minute bound = 0;
        int child = 0;
        auto operator<=>(const Rank&) const = default;
    };
    std::vector<Rank> order;
};

/// What a node's future depends on, and nothing else.
struct Key {
    std::array<std::uint64_t, 12> words{};
    bool operator==(const Key&) const = default;
};
struct KeyHash {
    std::size_t operator()(const Key& key) const {
        std::uint64_t h = 0x9e3779b97f4a7c15ULL;
        for (std::uint64_t w : key.words) {
            h ^= w + 0x9e3779b97f4a7c15ULL + (h << 6) + (h >> 2);
            h *= 0xff51afd7ed558ccdULL;
        }
        return static_cast<std::size_t>(h ^ (h >> 32));
    }
};

/// Depth first, best bound first, with bounds and with memory of dominated nodes.
class Search {
public:
    Search(const Shape& shape, Minute latest, bool any, std::int64_t& budget)
        : shape_{shape}, best_{latest - shape.home}, any_{any}, budget_{budget} {}
    void run();
    bool found() const { return found_; }
    bool complete() const { return complete_; }
    Minute best() const { return best_; }
    Minute waiting() const { return best_waiting_; }
    Minute root_bound() const { return root_bound_; }
    const std::vector<Move>& moves() const { return best_moves_; }

private:
    void visit(const Node& node, std::size_t depth);
    bool beaten(Minute bound, Minute waiting) const;
    bool dominated(const Node& node);
    bool finished(const Node& node) const;
    void take(const Node& node);

    void expand(const Node& node, std::vector<Child>& children) const;
    void try_let_down(const Node& node, int member, std::vector<Child>& children) const;
    void try_block(const Node& node, int batch, std::vector<Child>& children) const;
    struct Chance {
        bool look = false;  ///< else a bench test
        int index = 0;      ///< class
        Minute length = 0;
        int most = 0;
    };
    void last_chances(const Node& node, const Node& next, const Move& move, std::vector<Child>& children) const;
    void take_chances(std::span<const Chance> chances, const Node& next, const Move& move,
                      std::vector<Child>& children) const;
    void start_block(const Node& next, const Move& move, std::vector<Child>& children) const;
    void try_prepare(const Node& node, int place, std::vector<Child>& children) const;
    /// `after` has everything done but the main step; waits until `ready` with every sensible set of fillers.
    void with_fillers(const Node& after, Minute ready, const Move& move, std::vector<Child>& children) const;
    void finish_move(Node node, Minute ready, const Move& move, std::vector<Child>& children) const;

    int watchers(Bits active) const {
        return shape_.watch ? std::popcount(active & ~shape_.overnight & ~shape_.carried) : 0;
    }
    bool clear(const Node& node, int place) const {
        return (shape_.places[static_cast<std::size_t>(place)].members & node.active) == 0;
    }
    Bits not_started(const Node& node) const;
    int held(const Node& node, int kind) const;

    const Shape& shape_;
    Minute best_;  ///< to beat or equal: end of site work
    Minute best_waiting_ = std::numeric_limits<Minute>::max();
    bool any_;
    std::int64_t& budget_;
    bool found_ = false, complete_ = true, stop_ = false;
    Minute root_bound_ = 0;
    std::vector<Move> moves_, best_moves_;
    std::deque<Family> families_;  ///< by depth; their memory is used again
    /// Times of the nodes met, one after the other: nodes with one key have as many times each.
    std::unordered_map<Key, std::vector<Minute>, KeyHash> seen_;
};

}  // namespace patchwright::schedule::crew
