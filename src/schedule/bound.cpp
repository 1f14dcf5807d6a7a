// How early the rest of a day can be done at best.
#include <numeric>
#include <span>

#include "search.hpp"

namespace patchwright::schedule {
namespace {

/// Jackson's preemptive schedule: the longest tail first. Its end is a bound for the same without breaks.
Minute one_machine(std::vector<Partial::Load>& loads) {
    Minute end = 0, now = never;
    for (const auto& load : loads) now = std::min(now, load.head);
    while (true) {
        Partial::Load* next = nullptr;
        Minute arrival = never;
        for (auto& load : loads) {
            if (load.length == 0) continue;
            if (load.head > now)
                arrival = std::min(arrival, load.head);
            else if (next == nullptr || load.tail > next->tail)
                next = &load;
        }
        if (next == nullptr && arrival >= never) return end;
        if (next == nullptr) {
            now = arrival;
            continue;
        }
        const Minute step = std::min(next->length, arrival - now);
        now += step;
        next->length -= step;
        if (next->length == 0) end = std::max(end, now + next->tail);
    }
}

/// What the busiest of m equal servers has to do at least; the turns by length, the longest first. An even share, or,
/// since of the first k m + 1 turns k + 1 fall to the same server, the shortest k + 1 of those.
Minute longest_share(std::span<const Minute> turns, std::size_t servers) {
    const Minute sum = std::accumulate(turns.begin(), turns.end(), Minute{0});
    Minute share = (sum + static_cast<Minute>(servers) - 1) / static_cast<Minute>(servers);
    for (std::size_t last = servers, together = 2; last < turns.size(); last += servers, ++together) {
        const auto end = turns.begin() + static_cast<std::ptrdiff_t>(last) + 1;
        share = std::max(share, std::accumulate(end - static_cast<std::ptrdiff_t>(together), end, Minute{0}));
    }
    return share;
}

}  // namespace

void Partial::find_heads() const {
    const Minute now = moments_.back().now;
    for (const int j : model_.sorted) {
        if (has_started(j)) continue;
        const Job& job = model_.jobs[at(j)];
        Minute head = std::max(now, job.release);
        for (const Link& link : job.before) {
            const auto first = at(link.job);
            head = std::max(head, (start_[first] >= 0 ? start_[first] + opened_[first]
                                                      : heads_[first] + model_.jobs[first].min_opening) +
                                      link.lag);
        }
        heads_[at(j)] = head;
    }
}

/// All person-minutes that are left, shared by all.
Minute Partial::hands_bound() const {
    const Moment& now = moments_.back();
    Minute sum = now.work + model_.persons * now.now;
    for (std::size_t k = 0; k < now.busy_count; ++k) sum += std::max(0, now.busy[k].until - now.now);
    return (sum + model_.persons - 1) / model_.persons;
}

/// Of the jobs that need more than half of the crew no two run side by side. Where everybody else is needed, a cure
/// that is watched keeps them out as well.
Minute Partial::pair_bound() const {
    const auto half = at(model_.persons / 2);
    const bool watched = model_.watch_places > 0;
    const bool cure_excludes = watched && model_.persons <= 2;
    Minute free = free_persons_from(static_cast<int>(half) + 1);
    if (free >= never) free = cure_excludes ? watched_until() : 0;
    loads_.clear();
    for (std::size_t j = 0; j < model_.jobs.size(); ++j) {
        const Job& job = model_.jobs[j];
        if (start_[j] >= 0 || (watched && model_.can_be_dropped(job))) continue;
        const bool opens = job.min_opening > 0 && at(job.opening_persons) > half;
        Minute length = job.bound[half] + (job.bound[half] > 0 || opens ? job.min_opening : 0);
        if (length == 0) continue;
        if (cure_excludes && job.piece == Piece::mix) length = std::max(length, watched_after(job));
        loads_.push_back({std::max(heads_[j], free), length, std::max(0, job.tail - length)});
    }
    return loads_.empty() ? 0 : one_machine(loads_);
}

/// Longest time from mixing until a sleeve of that mix need not be watched any more.
Minute Partial::watched_after(const Job& mix) const {
    Minute longest = 0;
    for (const auto& sleeve : model_.orders[at(mix.index)].sleeves)
        if (const PatchJobs& patch = model_.patches[at(sleeve.patch)]; patch.watch >= 0)
            longest = std::max(longest, patch.out_after_mixing);
    return longest;
}

/// When the last of the cures that go on can be let down, at the earliest.
Minute Partial::watched_until() const {
    Minute until = 0;
    for (std::size_t i = 0; i < model_.patches.size(); ++i) {
        const PatchJobs& patch = model_.patches[i];
        const bool cures = model_.cures_at_start(i) || (patch.mix >= 0 && has_started(patch.mix));
        if (patch.watch >= 0 && cures && !has_started(patch.let_down))
            until = std::max(until, heads_[at(patch.let_down)]);
    }
    return until;
}

/// Sleeves that take turns at packers, heaters, air lines or a way into a run.
Minute Partial::chain_bound() const {
    Minute best = 0;
    for (const auto& chain : model_.chains) {
        Minute head = never, tail = never;
        std::array<Minute, max_patches> turns{}, ends{};
        std::size_t waiting = 0, held = 0;
        for (const int i : chain.patches) {
            const PatchJobs& patch = model_.patches[at(i)];
            const Job& let_down = model_.jobs[at(patch.let_down)];
            if (has_started(patch.let_down)) {
                ends[held++] = start_[at(patch.let_down)] + let_down.minutes;
                continue;
            }
            tail = std::min(tail, let_down.tail - let_down.minutes);
            if (has_started(patch.mix)) {
                ends[held++] = heads_[at(patch.let_down)] + let_down.minutes;
                continue;
            }
            head = std::min(head, heads_[at(patch.mix)]);
            turns[waiting++] = patch.out_after_mixing + let_down.minutes;
        }
        if (waiting == 0) continue;
        // What one is still held for after the first that waits could begin is a turn like the others.
        for (std::size_t k = 0; k < held; ++k) turns[waiting + k] = std::max(0, ends[k] - head);
        const std::span all{turns.data(), waiting + held};
        std::sort(all.begin(), all.end(), std::greater<>{});
        best = std::max(best, head + longest_share(all, at(chain.servers)) + tail);
    }
    return best;
}

/// Jobs that take turns at the only machine of a kind.
Minute Partial::machine_bound() const {
    Minute best = 0;
    for (const auto& turns : model_.turns) {
        if (turns.count > 1) continue;
        const Minute free = machine_free(turns, 1, moments_.back().now);
        loads_.clear();
        for (const int j : turns.jobs) {
            if (has_started(j)) continue;
            const Job& job = model_.jobs[at(j)];
            const Minute length = job.min_opening + job.machine[static_cast<std::size_t>(turns.kind)];
            loads_.push_back({std::max(heads_[at(j)], free), length, std::max(0, job.tail - length)});
        }
        if (loads_.size() > 1) best = std::max(best, one_machine(loads_));
    }
    return best;
}

Minute Partial::bound(Minute enough) const {
    Minute best = std::max(moments_.back().end, hands_bound());
    if (best > enough) return best;
    find_heads();
    for (std::size_t j = 0; j < model_.jobs.size(); ++j)
        if (start_[j] < 0) best = std::max(best, heads_[j] + model_.jobs[j].tail);
    if (best > enough) return best;
    best = std::max(best, chain_bound());
    if (best > enough) return best;
    best = std::max(best, machine_bound());
    return best > enough ? best : std::max(best, pair_bound());
}

}  // namespace patchwright::schedule
