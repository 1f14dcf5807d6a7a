#pragma once
#include <array>
#include <cstdint>
#include <span>

#include "few.hpp"
#include "model.hpp"

/// One crew's day in the small: places counted from 0 within the day, sets as bits.
namespace patchwright::schedule::crew {

inline constexpr int most = 24;  ///< patches, mixes and runs of one crew on one day
using Bits = std::uint32_t;
inline constexpr Bits bit(int i) { return Bits{1} << i; }

// These four stand in lists of fixed size: they are set where they are made, not all of them beforehand.
struct Member {
    int patch;   ///< place in Problem::patches
    int run;     ///< of this day
    int mix;     ///< of this day; -1: carried over from the night
    int packer;  ///< kind
    int cut_class, bench_class, look_class;
    Minute cut, bench, let_down, inspect, lag;
    Minute load_at, position_at, inflate_at;  ///< least, from mixing
    bool overnight;
    Bits conflict, after;
};
struct Batch {
    int mix;  ///< place in Problem::batches
    Bits members;
    Minute length, tail;  ///< tail: least from mixing to all done
    bool overnight;
    Bits runs;
    int variants;  ///< that matter
    int twin;      ///< an earlier batch that is the same in every respect; -1: none
};
struct Place {
    int run;
    Minute prepare, look, dry;
    bool carried;  ///< opened this morning
    Bits members;
};
/// Jobs of equal length that can stand in for each other.
struct Class {
    Minute length;
    int key;  ///< packer kind, or run
    Bits members;
};
/// Patches that keep each other out: one packer of its kind, or the same way into one run.
struct Chain {
    Bits members;
    int servers;
    enum class Hold : std::uint8_t { packer, line, pipe } hold;
};

struct Shape {
    const Model* model = nullptr;
    Few<Member, most> members;
    Few<Batch, most> batches;
    Few<Place, most> places;
    using Classes = Few<Class, most>;
    Classes cuts, benches, looks;
    std::span<const int> packers;  ///< of each kind
    int air_lines = 1, team = 2, pair = 2;
    bool watch = true;
    Minute start = 0;  ///< on site
    Minute home = 0;   ///< pack up and travel back
    Bits carried = 0, overnight = 0;
    std::array<Minute, most> carried_at{};
    Minute work = 0;                               ///< all hands-on minutes of the day, without travel and pack up
    Few<Chain, 1 + 3 * std::size_t{most}> chains;  ///< by kind of packer, by line, by each way into each run
};
/// `day` must outlive the shape.
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
