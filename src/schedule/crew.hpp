#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "model.hpp"

/// One crew's day in the small: places counted from 0 within the day, sets as bits.
namespace patchwright::schedule::crew {

inline constexpr int most = 24;  ///< patches, mixes and runs of one crew on one day
using Bits = std::uint32_t;
inline constexpr Bits bit(int i) { return Bits{1} << i; }

struct Member {
    int patch = 0;   ///< place in Problem::patches
    int run = 0;     ///< of this day
    int mix = -1;    ///< of this day; -1: carried over from the night
    int packer = 0;  ///< kind
    int cut_class = 0, bench_class = 0, look_class = 0;
    Minute cut = 0, bench = 0, let_down = 0, inspect = 0, lag = 0;
    Minute load_at = 0, position_at = 0, inflate_at = 0;  ///< least, from mixing
    bool overnight = false;
    Bits conflict = 0, after = 0;
};
struct Batch {
    int mix = 0;  ///< place in Problem::batches
    Bits members = 0;
    Minute length = 0, tail = 0;  ///< tail: least from mixing to all done
    bool overnight = false;
    Bits runs = 0;
    int variants = 1;  ///< that matter
    int twin = -1;     ///< an earlier batch that is the same in every respect
};
struct Place {
    int run = 0;
    Minute prepare = 0, look = 0, dry = 0;
    bool carried = false;  ///< opened this morning
    Bits members = 0;
};
/// Jobs of equal length that can stand in for each other.
struct Class {
    Minute length = 0;
    int key = 0;  ///< packer kind, or run
    Bits members = 0;
};

struct Shape {
    const Model* model = nullptr;
    std::vector<Member> members;
    std::vector<Batch> batches;
    std::vector<Place> places;
    std::vector<Class> cuts, benches, looks;
    std::vector<int> packers;  ///< of each kind
    int air_lines = 1, team = 2, pair = 2;
    bool watch = true;
    Minute start = 0;  ///< on site
    Minute home = 0;   ///< pack up and travel back
    Bits carried = 0, overnight = 0;
    std::array<Minute, most> carried_at{};
    Minute work = 0;  ///< all hands-on minutes of the day, without travel and pack up
    /// Patches that keep each other out: one packer of its kind, or the same way into one run.
    struct Chain {
        Bits members = 0;
        int servers = 1;
        enum class Hold : std::uint8_t { packer, line, pipe } hold = Hold::packer;
    };
    std::vector<Chain> chains;
};
Shape make_shape(const Model& model, const CrewDay& day);

struct Node {
    Minute t = 0, waiting = 0, work = 0;
    Bits started = 0;                                       ///< batches
    Bits active = 0, out = 0;                               ///< members
    Bits prepared = 0, looked = 0;                          ///< places
    std::array<std::uint8_t, most> cut{}, bench{}, look{};  ///< by class: done ahead (cut, bench), done (look)
    std::array<Minute, most> release{}, dry_at{};
};
Node first_node(const Shape& shape);

/// No completion of the node is back on site work earlier than this (without pack up and travel).
/// Once it is above `enough` it is not made better.
Minute bound(const Shape& shape, const Node& node, Minute enough);

}  // namespace patchwright::schedule::crew
