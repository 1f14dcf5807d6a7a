#include "crew_search.hpp"

#include "few.hpp"

namespace patchwright::schedule::crew {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

Key key_of(const Node& node) {
    using Counts = std::array<std::uint64_t, 3>;
    Key key;
    key.words[0] = std::uint64_t{node.started} << 32 | node.out;
    key.words[1] = std::uint64_t{node.prepared} << 32 | node.looked;
    key.words[2] = node.active;
    auto place = key.words.begin() + 3;
    for (const auto* done : {&node.cut, &node.bench, &node.look})
        place = std::ranges::copy(std::bit_cast<Counts>(*done), place).out;
    return key;
}

/// No later in any respect.
bool no_later(std::span<const Minute> a, std::span<const Minute> b) {
    for (std::size_t k = 0; k < a.size(); ++k)
        if (a[k] > b[k]) return false;
    return true;
}

}  // namespace

void Search::run() {
    const Node root = first_node(shape_);
    root_bound_ = bound(shape_, root, best_);
    if (root_bound_ > best_) return;
    visit(root, 0);
}

bool Search::beaten(Minute lower, Minute waiting) const {
    if (lower > best_) return true;
    return found_ && lower == best_ && waiting >= best_waiting_;
}

/// Everything is done but the last looks, which follow without a wait.
bool Search::finished(const Node& node) const {
    return std::popcount(node.started) == static_cast<int>(shape_.batches.size()) &&
           (node.active & ~shape_.overnight) == 0;
}

void Search::take(const Node& node) {
    found_ = true;
    best_ = node.t + node.work;
    best_waiting_ = node.waiting;
    best_moves_ = moves_;
    if (any_ || (best_ == root_bound_ && best_waiting_ == 0)) stop_ = true;
}

/// True when a node with the same things done was met that is no later in any respect; else remembers this one.
bool Search::dominated(const Node& node) {
    Few<Minute, 2 + 2 * std::size_t{most}> times;
    times.append({node.t, node.waiting});
    for (Bits rest = node.active & ~shape_.overnight; rest != 0; rest &= rest - 1)
        times.push_back(std::max(node.t, node.release[at(std::countr_zero(rest))]));
    const Bits waiting = not_started(node);
    for (std::size_t r = 0; r < shape_.places.size(); ++r)
        if (shape_.places[r].dry > 0 && (node.prepared & bit(static_cast<int>(r))) &&
            (shape_.places[r].members & waiting))
            times.push_back(std::max(node.t, node.dry_at[r]));
    std::vector<Minute>& met = seen_[key_of(node)];
    const std::size_t count = times.size();
    const auto other = [&](std::size_t from) { return std::span<const Minute>{met}.subspan(from, count); };
    for (std::size_t from = 0; from < met.size(); from += count)
        if (no_later(other(from), times)) return true;
    std::size_t kept = 0;
    for (std::size_t from = 0; from < met.size(); from += count) {
        if (no_later(times, other(from))) continue;
        std::ranges::copy(other(from), met.begin() + static_cast<std::ptrdiff_t>(kept));
        kept += count;
    }
    met.resize(kept);
    met.insert(met.end(), times.begin(), times.end());
    return false;
}

void Search::visit(const Node& node, std::size_t depth) {
    if (finished(node)) {
        if (!beaten(node.t + node.work, node.waiting)) take(node);
        return;
    }
    if (--budget_ < 0) {
        complete_ = false;
        stop_ = true;
        return;
    }
    if (families_.size() <= depth) families_.emplace_back();
    auto& [children, order] = families_[depth];
    children.clear();
    expand(node, children);
    order.clear();
    for (const Child& child : children)
        order.push_back({bound(shape_, child.node, best_), static_cast<int>(order.size())});
    std::sort(order.begin(), order.end());
    for (const auto& [lower, place] : order) {
        const Child& child = children[at(place)];
        if (beaten(lower, child.node.waiting)) continue;
        if (dominated(child.node)) continue;
        moves_.push_back(child.move);
        visit(child.node, depth + 1);
        moves_.pop_back();
        if (stop_) break;
    }
}

Bits Search::not_started(const Node& node) const {
    Bits members = 0;
    for (std::size_t b = 0; b < shape_.batches.size(); ++b)
        if (!(node.started & bit(static_cast<int>(b)))) members |= shape_.batches[b].members;
    return members;
}

/// Packers of a kind that are in use: in a pipe, or tested for a sleeve to come.
int Search::held(const Node& node, int kind) const {
    int count = 0;
    for (Bits rest = node.active; rest != 0; rest &= rest - 1)
        if (shape_.members[at(std::countr_zero(rest))].packer == kind) ++count;
    for (std::size_t c = 0; c < shape_.benches.size(); ++c)
        if (shape_.benches[c].key == kind && shape_.benches[c].length > 0) count += node.bench[c];
    return count;
}

void Search::expand(const Node& node, std::vector<Child>& children) const {
    for (std::size_t b = 0; b < shape_.batches.size(); ++b)
        if (!(node.started & bit(static_cast<int>(b)))) try_block(node, static_cast<int>(b), children);
    for (Bits rest = node.active & ~shape_.overnight; rest != 0; rest &= rest - 1)
        try_let_down(node, std::countr_zero(rest), children);
    // Cleaning ahead matters when the run must dry, or when two-person work is shut out of the cures that the survey
    // could fill; else it can wait until it is needed.
    for (std::size_t r = 0; r < shape_.places.size(); ++r)
        if (shape_.places[r].dry > 0 || (shape_.watch && shape_.places[r].look > 0))
            try_prepare(node, static_cast<int>(r), children);
}

void Search::try_let_down(const Node& node, int member, std::vector<Child>& children) const {
    const Minute ready = std::max(node.t, node.release[at(member)]);
    // Another packer that could come out within the wait comes out first.
    for (Bits rest = node.active & ~shape_.overnight & ~bit(member); rest != 0; rest &= rest - 1) {
        const int other = std::countr_zero(rest);
        const Minute out = std::max(node.t, node.release[at(other)]) + shape_.members[at(other)].let_down;
        if (node.release[at(member)] > node.t && out <= ready) return;
    }
    if (std::min(1, shape_.team) + watchers(node.active & ~bit(member)) > shape_.team) return;
    Move move;
    move.main = Piece::let_down;
    move.index = member;
    with_fillers(node, ready, move, children);
}

void Search::try_prepare(const Node& node, int place, std::vector<Child>& children) const {
    const Place& p = shape_.places[at(place)];
    if ((node.prepared & bit(place)) || (p.members & not_started(node)) == 0 || !clear(node, place)) return;
    if (shape_.pair + watchers(node.active) > shape_.team) return;
    Move move;
    move.main = Piece::prepare;
    move.index = place;
    finish_move(node, node.t, move, children);
}

void Search::try_block(const Node& node, int b, std::vector<Child>& children) const {
    const Batch& batch = shape_.batches[at(b)];
    if (batch.twin >= 0 && !(node.started & bit(batch.twin))) return;
    const int count = std::popcount(batch.members);
    const int later_watched = shape_.watch && !batch.overnight ? count - 1 : 0;
    if (shape_.pair + watchers(node.active) + later_watched > shape_.team) return;
    if (std::popcount(node.active) + count > shape_.air_lines) return;

    Node next = node;
    Minute t = node.t;
    const auto spend = [&](Minute length) {
        t += length;
        next.work -= length;
    };
    for (Bits rest = batch.runs; rest != 0; rest &= rest - 1) {
        const int r = std::countr_zero(rest);
        const Place& place = shape_.places[at(r)];
        // What stays overnight shuts the run for the last look at its neighbours: it comes last, and alone.
        if (batch.overnight ? !clear(node, r) : (place.members & node.active & shape_.overnight) != 0) return;
        const bool unvisited = !(next.prepared & bit(r)) || !(next.looked & bit(r));
        if (unvisited && !clear(node, r)) return;
        if (!(next.prepared & bit(r))) {
            spend(place.prepare);
            next.dry_at[at(r)] = t + place.dry;
        }
        if (!(next.looked & bit(r))) spend(place.look);
        next.prepared |= bit(r);
        next.looked |= bit(r);
        // A packer that stays overnight shuts the run: what was done there before is looked at now.
        if (!batch.overnight) continue;
        for (std::size_t c = 0; c < shape_.looks.size(); ++c) {
            if (shape_.looks[c].key != r) continue;
            const int left = std::popcount(shape_.looks[c].members & node.out) - next.look[c];
            spend(left * shape_.looks[c].length);
            next.look[c] = static_cast<std::uint8_t>(next.look[c] + left);
        }
    }
    for (Bits rest = batch.members; rest != 0; rest &= rest - 1) {
        const Member& m = shape_.members[at(std::countr_zero(rest))];
        if ((m.conflict & node.active) != 0 || (m.after & ~node.out) != 0) return;
        if (next.cut[at(m.cut_class)] > 0)
            --next.cut[at(m.cut_class)];
        else
            spend(m.cut);
        if (next.bench[at(m.bench_class)] > 0)
            --next.bench[at(m.bench_class)];
        else
            spend(m.bench);
    }
    for (Bits rest = batch.members; rest != 0; rest &= rest - 1) {
        const int kind = shape_.members[at(std::countr_zero(rest))].packer;
        int wanted = 0;
        for (Bits all = batch.members; all != 0; all &= all - 1)
            if (shape_.members[at(std::countr_zero(all))].packer == kind) ++wanted;
        if (held(next, kind) + wanted > shape_.packers[at(kind)]) return;
    }
    next.t = t;
    Move move;
    move.main = Piece::block;
    move.index = b;
    last_chances(node, next, move, children);
}

/// The block shuts its run and takes an air line and packers: what it shuts out for the length of its cure may be worth
/// doing before, when the time of some other cure would else be spent waiting.
void Search::last_chances(const Node& node, const Node& next, const Move& move, std::vector<Child>& children) const {
    const Batch& batch = shape_.batches[at(move.index)];
    std::array<Chance, 2 * most> chances{};
    std::size_t size = 0;
    bool pressed = (node.active & ~shape_.overnight) != 0;
    for (std::size_t r = 0; r < shape_.places.size(); ++r)
        pressed = pressed || ((next.prepared & bit(static_cast<int>(r))) && next.dry_at[r] > node.t);
    if (pressed) {
        for (std::size_t c = 0; c < shape_.looks.size(); ++c) {
            const int left = std::popcount(shape_.looks[c].members & next.out) - next.look[c];
            const int place = shape_.looks[c].key;
            if (left > 0 && shape_.looks[c].length > 0 && (batch.runs & bit(place)) && clear(node, place))
                chances[size++] = {true, static_cast<int>(c), shape_.looks[c].length, left};
        }
        const int lying = std::popcount(node.active), count = std::popcount(batch.members);
        const Bits waiting = not_started(next) & ~batch.members;
        for (std::size_t c = 0; c < shape_.benches.size(); ++c) {
            const int kind = shape_.benches[c].key;
            int wanted = 0;
            for (Bits all = batch.members; all != 0; all &= all - 1)
                if (shape_.members[at(std::countr_zero(all))].packer == kind) ++wanted;
            const int free = shape_.packers[at(kind)] - held(next, kind) - wanted;
            const int left = std::min(free, std::popcount(shape_.benches[c].members & waiting) - next.bench[c]);
            if (left > 0 && shape_.benches[c].length > 0 && lying + 1 <= shape_.air_lines &&
                lying + count + 1 > shape_.air_lines)
                chances[size++] = {false, static_cast<int>(c), shape_.benches[c].length, left};
        }
    }
    take_chances({chances.data(), size}, next, move, children);
}

void Search::take_chances(std::span<const Chance> chances, const Node& next, const Move& move,
                          std::vector<Child>& children) const {
    if (chances.empty()) {
        start_block(next, move, children);
        return;
    }
    const Chance& chance = chances.front();
    Node node = next;
    Move with = move;
    const std::size_t c = at(chance.index);
    const int kind = chance.look ? -1 : shape_.benches[c].key;
    int wanted = 0;
    for (Bits all = shape_.batches[at(move.index)].members; all != 0; all &= all - 1)
        if (shape_.members[at(std::countr_zero(all))].packer == kind) ++wanted;
    for (int k = 0;; ++k) {
        take_chances(chances.subspan(1), node, with, children);
        if (k == chance.most || (kind >= 0 && held(node, kind) + wanted >= shape_.packers[at(kind)])) return;
        node.t += chance.length;
        node.work -= chance.length;
        ++(chance.look ? node.look : node.bench)[c];
        ++(chance.look ? with.inspect : with.bench)[c];
    }
}

void Search::start_block(const Node& next, const Move& move, std::vector<Child>& children) const {
    const Batch& batch = shape_.batches[at(move.index)];
    const auto& variants = shape_.model->mixes[at(batch.mix)].variants;
    for (int v = 0; v < batch.variants; ++v) {
        const BlockVariant& variant = variants[at(v)];
        Minute ready = next.t;
        for (std::size_t k = 0; k < variant.order.size(); ++k)
            for (Bits rest = batch.members; rest != 0; rest &= rest - 1) {
                const Member& m = shape_.members[at(std::countr_zero(rest))];
                if (m.patch == variant.order[k] && shape_.places[at(m.run)].dry > 0)
                    ready = std::max(ready, next.dry_at[at(m.run)] - variant.sleeves[k].position);
            }
        Move with = move;
        with.variant = v;
        with_fillers(next, ready, with, children);
    }
}

void Search::finish_move(Node node, Minute ready, const Move& move, std::vector<Child>& children) const {
    const Minute start = std::max(node.t, ready);
    if (move.main == Piece::let_down) {
        const Member& m = shape_.members[at(move.index)];
        node.active &= ~bit(move.index);
        node.out |= bit(move.index);
        node.t = start + m.let_down;
        node.work -= m.let_down;
    } else if (move.main == Piece::prepare) {
        const Place& place = shape_.places[at(move.index)];
        node.prepared |= bit(move.index);
        node.t = start + place.prepare;
        node.dry_at[at(move.index)] = node.t + place.dry;
        node.work -= place.prepare;
    } else {
        const Batch& batch = shape_.batches[at(move.index)];
        const BlockVariant& v = shape_.model->mixes[at(batch.mix)].variants[at(move.variant)];
        node.started |= bit(move.index);
        node.active |= batch.members;
        node.waiting += v.waiting;
        for (Bits rest = batch.members; rest != 0; rest &= rest - 1) {
            const int i = std::countr_zero(rest);
            const Member& m = shape_.members[at(i)];
            const auto k = at(static_cast<int>(std::find(v.order.begin(), v.order.end(), m.patch) - v.order.begin()));
            const Minute lag = shape_.model->patch(m.patch).mix_to_let_down;
            node.release[at(i)] = start + std::max(lag, v.sleeves[k].creased);
        }
        node.t = start + batch.length;
        node.work -= batch.length;
    }
    children.push_back({node, move});
}

}  // namespace patchwright::schedule::crew
