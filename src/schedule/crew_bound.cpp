// Lower bounds of a partly ordered day: the team as one machine with heads and tails, packers, lines and pipes as
// machines of their own, and watched cures that no two-person work can overlap.
#include <algorithm>
#include <bit>
#include <limits>

#include "crew.hpp"

namespace patchwright::schedule::crew {
namespace {

constexpr Minute far_off = std::numeric_limits<Minute>::max() / 4;

struct Job {
    Minute head, length, tail;
};

/// Jobs of the day that are still to be done, for the one-machine bound.
struct Jobs {
    std::array<Job, 8 * most> list;  // only the first `count` are ever read
    std::size_t count = 0;
    void add(Minute head, Minute length, Minute tail) {
        if (length > 0 || tail > 0) list[count++] = {head, length, tail};
    }
};

/// Earliest end of all jobs and their tails when the one machine may interrupt (Jackson's preemptive schedule).
Minute preemptive(Jobs& jobs) {
    const auto begin = jobs.list.begin();
    const auto end = begin + static_cast<std::ptrdiff_t>(jobs.count);
    std::sort(begin, end, [](const Job& a, const Job& b) { return a.head < b.head; });
    std::array<Job, 8 * most> heap;  // only the first `size` are ever read
    std::size_t size = 0;
    const auto lower = [](const Job& a, const Job& b) { return a.tail < b.tail; };
    Minute t = 0, last = 0;
    std::size_t next = 0;
    while (next < jobs.count || size > 0) {
        if (size == 0) t = std::max(t, jobs.list[next].head);
        while (next < jobs.count && jobs.list[next].head <= t) {
            heap[size++] = jobs.list[next++];
            std::push_heap(heap.begin(), heap.begin() + static_cast<std::ptrdiff_t>(size), lower);
        }
        std::pop_heap(heap.begin(), heap.begin() + static_cast<std::ptrdiff_t>(size), lower);
        Job& job = heap[size - 1];
        const Minute until = next < jobs.count ? std::min(t + job.length, jobs.list[next].head) : t + job.length;
        job.length -= until - t;
        t = until;
        if (job.length == 0) {
            last = std::max(last, t + job.tail);
            --size;
        } else {
            std::push_heap(heap.begin(), heap.begin() + static_cast<std::ptrdiff_t>(size), lower);
        }
    }
    return last;
}

Minute least_tail(const Shape& shape, const Node& node, Bits members) {
    Minute least = far_off;
    for (Bits rest = members; rest != 0; rest &= rest - 1) {
        const Member& m = shape.members[static_cast<std::size_t>(std::countr_zero(rest))];
        if (m.mix < 0 || (node.started & bit(m.mix))) continue;
        least = std::min(least, shape.batches[static_cast<std::size_t>(m.mix)].tail);
    }
    return least == far_off ? 0 : least;
}

Bits waiting_members(const Shape& shape, const Node& node) {
    Bits members = 0;
    for (std::size_t b = 0; b < shape.batches.size(); ++b)
        if (!(node.started & bit(static_cast<int>(b)))) members |= shape.batches[b].members;
    return members;
}

Minute dry_ready(const Shape& shape, const Node& node, const Batch& batch) {
    Minute ready = node.t;
    for (Bits rest = batch.members; rest != 0; rest &= rest - 1) {
        const Member& m = shape.members[static_cast<std::size_t>(std::countr_zero(rest))];
        if (shape.places[static_cast<std::size_t>(m.run)].dry > 0 && (node.prepared & bit(m.run)))
            ready = std::max(ready, node.dry_at[static_cast<std::size_t>(m.run)] - m.position_at);
    }
    return ready;
}

/// Least from a run's being clean to all done: it must dry before the first packer comes in.
Minute dry_tail(const Shape& shape, Bits members, Minute dry) {
    Minute least = far_off;
    for (Bits rest = members; rest != 0; rest &= rest - 1) {
        const Member& m = shape.members[static_cast<std::size_t>(std::countr_zero(rest))];
        least = std::min(least, dry - m.position_at + shape.batches[static_cast<std::size_t>(m.mix)].tail);
    }
    return least;
}

Minute team_bound(const Shape& shape, const Node& node, Bits waiting) {
    Jobs jobs;
    const Minute t = node.t;
    for (Bits rest = node.active & ~shape.overnight; rest != 0; rest &= rest - 1) {
        const auto i = static_cast<std::size_t>(std::countr_zero(rest));
        const Member& m = shape.members[i];
        const Minute at = std::max(t, node.release[i]);
        jobs.add(at, m.let_down, m.inspect);
        jobs.add(at + m.let_down, m.inspect, 0);
    }
    for (std::size_t b = 0; b < shape.batches.size(); ++b) {
        if (node.started & bit(static_cast<int>(b))) continue;
        const Batch& batch = shape.batches[b];
        const Minute at = dry_ready(shape, node, batch);
        jobs.add(at, batch.length, batch.tail - batch.length);
        if (batch.overnight) continue;
        for (Bits rest = batch.members; rest != 0; rest &= rest - 1) {
            const Member& m = shape.members[static_cast<std::size_t>(std::countr_zero(rest))];
            jobs.add(at + m.lag, m.let_down, m.inspect);
            jobs.add(at + m.lag + m.let_down, m.inspect, 0);
        }
    }
    const auto add_class = [&](const Shape::Classes& classes, const std::array<std::uint8_t, most>& ahead) {
        for (std::size_t c = 0; c < classes.size(); ++c) {
            const int left = std::popcount(classes[c].members & waiting) - ahead[c];
            if (left > 0 && classes[c].length > 0)
                jobs.add(t, left * classes[c].length, least_tail(shape, node, classes[c].members));
        }
    };
    add_class(shape.cuts, node.cut);
    add_class(shape.benches, node.bench);
    for (std::size_t r = 0; r < shape.places.size(); ++r) {
        const Place& place = shape.places[r];
        if ((place.members & waiting) == 0) continue;
        const Minute tail = least_tail(shape, node, place.members);
        if (!(node.prepared & bit(static_cast<int>(r))))
            jobs.add(t, place.prepare,
                     std::max(place.look + tail, dry_tail(shape, place.members & waiting, place.dry)));
        if (!(node.looked & bit(static_cast<int>(r)))) jobs.add(t, place.look, tail);
    }
    for (std::size_t c = 0; c < shape.looks.size(); ++c) {
        const int left = std::popcount(shape.looks[c].members & node.out) - node.look[c];
        if (left > 0 && shape.looks[c].length > 0) jobs.add(t, left * shape.looks[c].length, 0);
    }
    return std::max(t, preemptive(jobs));
}

/// Packers of one kind, air lines, or one way into a run: as many servers as there are. Each holder of the chain binds
/// a server from its first use to the end of its let-down. The team starts and ends the holders one after the other, so
/// servers that are free now start apart by a block at least, and the last let-downs end apart.
Minute chain_bound(const Shape& shape, const Node& node, Bits waiting, const Chain& chain) {
    using Hold = Chain::Hold;
    Minute sum = 0, least_after = far_off, least_before = far_off, least_length = far_off, least_down = far_off;
    Minute tests = 0, least_test = far_off, most_test = 0, least_cut = far_off, least_prepared = far_off;
    int busy = 0, holders = 0;
    for (Bits rest = chain.members & node.active & ~shape.overnight; rest != 0; rest &= rest - 1) {
        const auto i = static_cast<std::size_t>(std::countr_zero(rest));
        const Member& m = shape.members[i];
        sum += std::max(node.t, node.release[i]) + m.let_down - node.t;
        least_after = std::min(least_after, m.inspect);
        least_down = std::min(least_down, m.let_down);
        ++busy;
    }
    std::array<std::uint8_t, most> ahead = node.bench;
    for (Bits rest = chain.members & waiting & ~shape.overnight; rest != 0; rest &= rest - 1) {
        const Member& m = shape.members[static_cast<std::size_t>(std::countr_zero(rest))];
        // Counted from mixing, or from first use when that is later and no test binds the server before.
        Minute before = 0, test = 0;
        if (chain.hold == Hold::packer && m.bench == 0) before = m.load_at;
        if (chain.hold == Hold::line) before = m.inflate_at;
        if (chain.hold == Hold::pipe) before = m.position_at;
        if (m.bench > 0 && chain.hold == Hold::packer) {
            std::uint8_t& done = ahead[static_cast<std::size_t>(m.bench_class)];
            if (done > 0)
                --done;
            else
                test = m.bench;
        }
        sum += m.lag + m.let_down - before;
        tests += test;
        least_test = std::min(least_test, test);
        most_test = std::max(most_test, test);
        least_before = std::min(least_before, before);
        const Minute cut = node.cut[static_cast<std::size_t>(m.cut_class)] == 0 ? m.cut : 0;
        const Place& place = shape.places[static_cast<std::size_t>(m.run)];
        least_cut = std::min(least_cut, cut);
        least_prepared = std::min(least_prepared, cut + ((node.prepared & bit(m.run)) != 0 ? 0 : place.prepare) +
                                                      ((node.looked & bit(m.run)) != 0 ? 0 : place.look));
        least_length = std::min(least_length, shape.batches[static_cast<std::size_t>(m.mix)].length);
        least_after = std::min(least_after, m.inspect);
        least_down = std::min(least_down, m.let_down);
        ++holders;
    }
    // Sleeves of one mix start together: no distance between their starts can be claimed.
    for (const Batch& batch : shape.batches)
        if ((batch.members & (batch.members - 1)) != 0 && (batch.members & chain.members & waiting) != 0)
            least_length = 0;
    if (busy + holders == 0) return node.t;
    Minute best = far_off;
    const int servers = std::min(chain.servers, busy + holders);
    for (int n = std::max(1, busy); n <= std::max(servers, busy); ++n) {
        Minute total = sum + tests;
        for (int k = 0; k < n - busy; ++k)
            total += least_before + least_prepared + k * (least_length + least_cut) + (k + 1) * least_test - most_test;
        for (int k = 1; k < n; ++k) total += k * least_down;
        best = std::min(best, (total + n - 1) / n);
    }
    return node.t + best + least_after;
}

/// While a cure is watched a small team can do no two-person work: blocks, cures and cleaning stand in a row.
Minute watch_bound(const Shape& shape, const Node& node, Bits waiting) {
    Minute sum = 0, least_after = far_off, least_before = far_off;
    Bits places = 0;
    const Bits watched = node.active & ~shape.overnight & ~shape.carried;
    for (Bits rest = watched; rest != 0; rest &= rest - 1) {
        const auto i = static_cast<std::size_t>(std::countr_zero(rest));
        sum = std::max(sum, std::max(node.t, node.release[i]) + shape.members[i].let_down - node.t);
        least_after = std::min(least_after, shape.members[i].inspect);
        least_before = 0;
    }
    for (std::size_t b = 0; b < shape.batches.size(); ++b) {
        if (node.started & bit(static_cast<int>(b))) continue;
        const Batch& batch = shape.batches[b];
        places |= batch.runs;
        Minute lag = batch.length, before = 0;
        for (Bits rest = batch.members; rest != 0; rest &= rest - 1) {
            const Member& m = shape.members[static_cast<std::size_t>(std::countr_zero(rest))];
            if (!batch.overnight) lag = std::max(lag, m.lag + m.let_down);
            if (!batch.overnight) least_after = std::min(least_after, m.inspect);
            if (batch.overnight) least_after = 0;
            if (node.cut[static_cast<std::size_t>(m.cut_class)] == 0) before += m.cut;
            if (node.bench[static_cast<std::size_t>(m.bench_class)] == 0) before += m.bench;
        }
        for (Bits rest = batch.runs & ~node.looked; rest != 0; rest &= rest - 1)
            before += shape.places[static_cast<std::size_t>(std::countr_zero(rest))].look;
        sum += lag;
        least_before = std::min(least_before, before);
    }
    if (waiting == 0 && watched == 0) return node.t;
    for (Bits rest = places & ~node.prepared; rest != 0; rest &= rest - 1)
        sum += shape.places[static_cast<std::size_t>(std::countr_zero(rest))].prepare;
    return node.t + sum + (least_after == far_off ? 0 : least_after) + (least_before == far_off ? 0 : least_before);
}

}  // namespace

Minute bound(const Shape& shape, const Node& node, Minute enough) {
    Minute best = node.t + node.work;
    if (best > enough) return best;
    const Bits waiting = waiting_members(shape, node);
    if (shape.watch && shape.pair + 1 > shape.team) best = std::max(best, watch_bound(shape, node, waiting));
    for (const Chain& chain : shape.chains) {
        if (best > enough) return best;
        best = std::max(best, chain_bound(shape, node, waiting, chain));
    }
    if (best > enough) return best;
    return std::max(best, team_bound(shape, node, waiting));
}

}  // namespace patchwright::schedule::crew
