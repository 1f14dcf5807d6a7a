#include "search.hpp"

#include <algorithm>
#include <deque>
#include <limits>
#include <optional>

#include "trail.hpp"

namespace patchwright::layout {
namespace {

/// What the answer is judged by, in this order; ties are settled by Trails::earlier.
struct Key {
    int skipped = 0;
    Cost cost = 0;
    int patches = 0;
    std::int64_t lined = 0;
    auto operator<=>(const Key&) const = default;
};

/// A chain that covers up to essential target `last`; only its last sleeve, which ends at `end`, covers from `own` on.
struct Label {
    Key key;
    int trail = Trails::root;
    Centimetre end = std::numeric_limits<Centimetre>::min() / 2;
    Centimetre end_before = std::numeric_limits<Centimetre>::min() / 2;  ///< of the sleeve before the last
    int own = -1;
    int last = -1;
    std::size_t above = 0;  ///< kinds at the same place that dominate it
};

/// Labels that end at one place.
struct Bucket {
    Centimetre end = 0;
    std::vector<Label> labels;
};

/// All chains that cover the essential targets up to some one. `open`: their end may still forbid or allow a
/// neighbour; `clear`: every later start keeps the gap, so only the key counts.
struct Front {
    std::vector<Bucket> open;
    std::vector<Label> clear;
};

class Search {
public:
    Search(const Problem& problem, const Needs& needs, Generator& generator, Part part, const Effort& effort)
        : problem_{problem},
          needs_{needs},
          generator_{generator},
          part_{part},
          effort_{effort},
          k_{static_cast<std::size_t>(std::max(1, effort.k_best))},
          lowest_{part.begin - 1} {}

    /// Nothing when k others of each kind would take more than `max_checks` comparisons.
    std::optional<Found> run(std::int64_t max_checks);

private:
    // More labels than this at one place are cut off; what is cut off lowers the bound.
    static constexpr std::size_t max_labels = 160;

    bool better(const Label& a, const Label& b) const {
        return a.key != b.key ? a.key < b.key : trails_.earlier(a.trail, b.trail);
    }
    bool within(int trail, int other, Centimetre after, Centimetre up_to) const;
    bool allows(int trail, Centimetre start) const;
    struct Future;
    Future future_of(const Label& b, bool at_one_end) const;
    bool dominates(const Label& a, const Label& b, const Future& future) const;
    bool offer(std::vector<Label>& labels, Label label, bool at_one_end);
    void offer_clear(std::vector<Label>& labels, const Label& label);
    Front& front(int last);
    void move_to(int first);
    void settle(Front& front);
    void start_at(Centimetre start, int first);
    const std::vector<Label>& before(int last);
    void add(const Placed& placed);
    void lower_bound(const Label& label);
    Found finish();

    const Problem& problem_;
    const Needs& needs_;
    Generator& generator_;
    Part part_;
    Effort effort_;
    std::size_t k_;
    Trails trails_;
    std::deque<Front> fronts_;  ///< fronts_[i]: covered up to lowest_ + i
    int lowest_;
    Centimetre now_ = 0;  ///< every later sleeve starts here or after
    int first_ = 0;
    std::vector<std::vector<Label>> before_;  ///< chains that a sleeve from now_ may follow, by last covered
    bool cut_ = false;
    Key cut_bound_;
    std::int64_t checks_ = 0;  ///< labels held against others
};

/// Wherever a start after `after` and up to `up_to` is too near an end of `trail`, it is too near an end of `other`.
bool Search::within(int trail, int other, Centimetre after, Centimetre up_to) const {
    for (; trail != Trails::root; trail = trails_.before(trail)) {
        const Centimetre end = trails_.sleeve(trail).end;
        if (end + problem_.gap <= after + 1) return true;  // ends fall towards the beginning of a chain
        if (end - problem_.lap >= up_to) continue;
        bool found = false;
        for (int o = other; o != Trails::root && !found; o = trails_.before(o)) {
            const Centimetre its = trails_.sleeve(o).end;
            if (its < end && its + problem_.gap <= up_to) break;
            found = its <= std::max(end, after + problem_.lap);
        }
        if (!found) return false;
    }
    return true;
}

/// A sleeve from `start` leaves the gap to or laps each sleeve of the chain.
bool Search::allows(int trail, Centimetre start) const {
    for (; trail != Trails::root; trail = trails_.before(trail)) {
        const Centimetre end = trails_.sleeve(trail).end;
        if (end + problem_.gap <= start) return true;  // ends fall towards the beginning of a chain
        if (end - start < problem_.lap) return false;
    }
    return true;
}

/// Where what follows a label may start.
struct Search::Future {
    bool at_one_end = false;
    bool over = false;  ///< nothing is left to follow
    Centimetre after = 0, up_to = 0;
};

Search::Future Search::future_of(const Label& b, bool at_one_end) const {
    const auto own = static_cast<std::size_t>(at_one_end ? b.own : b.last + 1);
    if (own >= needs_.essential.size()) return {at_one_end, true, 0, 0};
    return {at_one_end, false, std::max(now_ - 1, needs_.essential[own].start),
            at_one_end ? b.end - problem_.lap : std::numeric_limits<Centimetre>::max() / 2};
}

/// For a better than b: all that may follow b may follow a. `at_one_end`: both end with a sleeve to the same place and
/// cover the same; what laps on them must cover more than what b's last sleeve alone covers, or that would be
/// superfluous. Otherwise they are about to be followed by one sleeve, and what follows that must leave it a target of
/// its own.
bool Search::dominates(const Label& a, const Label& b, const Future& future) const {
    if (future.at_one_end ? a.own > b.own : a.last > b.last) return false;
    // What most labels are decided by: ends fall towards the beginning of a chain, and the last one is common to both.
    if (future.over || (future.at_one_end ? a.end_before : a.end) + problem_.gap <= future.after + 1) return true;
    return within(a.trail, b.trail, future.after, future.up_to);
}

/// Adds the label unless k others of other kinds, or one of its own, do all it can do at a better key. `labels` stand
/// in order of their keys, each with the number of kinds that dominate it.
bool Search::offer(std::vector<Label>& labels, Label label, bool at_one_end) {
    checks_ += static_cast<std::int64_t>(labels.size());
    const auto place = std::lower_bound(labels.begin(), labels.end(), label,
                                        [this](const Label& a, const Label& b) { return better(a, b); });
    label.above = 0;
    const Future future = future_of(label, at_one_end);
    for (auto other = labels.begin(); other != place; ++other) {
        if (!dominates(*other, label, future)) continue;
        if (++label.above >= k_ || trails_.same_kind(other->trail, label.trail)) return false;
    }
    auto kept = labels.insert(place, label) + 1;
    trails_.hold(label.trail);
    std::optional<Label> own_kind;  // the dearer one of its kind, which has been counted against those after it
    for (auto other = kept; other != labels.end(); ++other) {
        bool drop = false;
        const Future its = future_of(*other, at_one_end);
        if (dominates(label, *other, its)) {
            if (trails_.same_kind(label.trail, other->trail)) {
                if (!own_kind) own_kind = *other;
                drop = true;
            } else if (!own_kind || !dominates(*own_kind, *other, its)) {
                drop = ++other->above >= k_;
            }
        }
        if (!drop) {
            *kept++ = *other;
        } else if (!own_kind || own_kind->trail != other->trail) {
            trails_.release(other->trail);
        }
    }
    labels.erase(kept, labels.end());
    if (own_kind) trails_.release(own_kind->trail);
    if (labels.size() > max_labels) {
        lower_bound(labels.back());
        trails_.release(labels.back().trail);
        labels.pop_back();
    }
    return true;
}

void Search::lower_bound(const Label& label) {
    if (!cut_ || label.key < cut_bound_) cut_bound_ = label.key;
    cut_ = true;
}

/// Keeps the k best of different kinds, in order.
void Search::offer_clear(std::vector<Label>& labels, const Label& label) {
    if (labels.size() >= k_ && !better(label, labels.back())) return;
    for (auto& other : labels) {
        if (!trails_.same_kind(other.trail, label.trail)) continue;
        if (!better(label, other)) return;
        trails_.release(other.trail);
        labels.erase(labels.begin() + (&other - labels.data()));
        break;
    }
    const auto place = std::upper_bound(labels.begin(), labels.end(), label,
                                        [this](const Label& a, const Label& b) { return better(a, b); });
    labels.insert(place, label);
    trails_.hold(label.trail);
    if (labels.size() > k_) {
        trails_.release(labels.back().trail);
        labels.pop_back();
    }
}

Front& Search::front(int last) {
    while (lowest_ + static_cast<int>(fronts_.size()) <= last) fronts_.emplace_back();
    return fronts_[static_cast<std::size_t>(last - lowest_)];
}

/// Sleeves to come start after essential target first - 1: chains that have not covered it are lost, or skip it.
void Search::move_to(int first) {
    for (; lowest_ < first - 1; ++lowest_) {
        Front old = std::move(front(lowest_));
        if (effort_.may_skip) {
            front(lowest_ + 1);
            auto& next = fronts_[1];
            for (auto& label : old.clear) {
                ++label.key.skipped;
                ++label.last;
                offer_clear(next.clear, label);
            }
            for (auto& bucket : old.open) {
                auto place = std::lower_bound(next.open.begin(), next.open.end(), bucket.end,
                                              [](const Bucket& b, Centimetre end) { return b.end < end; });
                if (place == next.open.end() || place->end != bucket.end) {
                    place = next.open.insert(place, Bucket{bucket.end, {}});
                }
                for (auto& label : bucket.labels) {
                    ++label.key.skipped;
                    ++label.last;
                    offer(place->labels, label, true);
                }
            }
        }
        for (const auto& label : old.clear) trails_.release(label.trail);
        for (const auto& bucket : old.open) {
            for (const auto& label : bucket.labels) trails_.release(label.trail);
        }
        fronts_.pop_front();
    }
}

void Search::settle(Front& front) {
    std::size_t done = 0;
    for (; done < front.open.size() && front.open[done].end + problem_.gap <= now_; ++done) {
        for (const auto& label : front.open[done].labels) {
            offer_clear(front.clear, label);
            trails_.release(label.trail);
        }
    }
    front.open.erase(front.open.begin(), front.open.begin() + static_cast<std::ptrdiff_t>(done));
}

void Search::start_at(Centimetre start, int first) {
    now_ = start;
    first_ = first;
    move_to(first);
    for (const auto& labels : before_) {
        for (const auto& label : labels) trails_.release(label.trail);
    }
    before_.clear();
}

/// The chains that cover up to some target from first_ - 1 to `last` and that a sleeve from now_ may follow.
const std::vector<Label>& Search::before(int last) {
    while (first_ - 1 + static_cast<int>(before_.size()) <= last) {
        const int at = first_ - 1 + static_cast<int>(before_.size());
        std::vector<Label> labels;
        if (!before_.empty()) {
            labels = before_.back();
            for (const auto& label : labels) trails_.hold(label.trail);
        }
        auto& source = front(at);
        settle(source);
        for (const auto& label : source.clear) offer(labels, label, false);
        for (const auto& bucket : source.open) {
            if (bucket.end - now_ < problem_.lap) continue;
            for (const auto& label : bucket.labels) {
                if (label.own < first_ && allows(label.trail, now_)) offer(labels, label, false);
            }
        }
        before_.push_back(std::move(labels));
    }
    return before_[static_cast<std::size_t>(last) + 1 - static_cast<std::size_t>(first_)];
}

void Search::add(const Placed& placed) {
    const auto& c = placed.candidate;
    const auto& chains = before(placed.last - 1);
    if (chains.empty()) return;
    auto& target = front(placed.last);
    auto bucket = std::lower_bound(target.open.begin(), target.open.end(), c.end,
                                   [](const Bucket& b, Centimetre end) { return b.end < end; });
    if (bucket == target.open.end() || bucket->end != c.end) bucket = target.open.insert(bucket, Bucket{c.end, {}});
    for (const auto& chain : chains) {
        Label label;
        label.key = {chain.key.skipped, chain.key.cost + c.cost, chain.key.patches + 1,
                     chain.key.lined + (c.end - c.start)};
        label.end = c.end;
        label.end_before = chain.end;
        label.own = chain.last + 1;
        label.last = placed.last;
        label.trail = trails_.extend(chain.trail, c);
        offer(bucket->labels, label, true);
        trails_.release(label.trail);
    }
}

Found Search::finish() {
    now_ = std::numeric_limits<Centimetre>::max() / 2;
    move_to(part_.end);
    auto& last = front(part_.end - 1);
    settle(last);
    Found found;
    for (const auto& label : last.clear) {
        if (label.key.skipped > last.clear.front().key.skipped) break;
        found.best.push_back(
            {trails_.sleeves(label.trail), label.key.cost, label.key.patches, label.key.lined, label.key.skipped});
    }
    if (!found.best.empty()) {
        found.bound = found.best.front().cost;
        if (cut_ && cut_bound_.skipped <= found.best.front().skipped)
            found.bound = std::min(found.bound, cut_bound_.cost);
    }
    return found;
}

std::optional<Found> Search::run(std::int64_t max_checks) {
    Label source;
    source.last = part_.begin - 1;
    front(part_.begin - 1).clear.push_back(source);
    std::vector<Placed> group;
    std::vector<bool> reachable(static_cast<std::size_t>(part_.end - part_.begin), false);
    int reached = part_.begin;
    for (int first = part_.begin; first < part_.end; ++first) {
        generator_.group(first, effort_.detail, group);
        for (std::size_t i = 0; i < group.size(); ++i) {
            const auto& placed = group[i];
            if (i == 0 || placed.candidate.start != now_) start_at(placed.candidate.start, first);
            add(placed);
            if (checks_ > max_checks) return std::nullopt;
            for (reached = std::max(reached, first); reached <= placed.last; ++reached) {
                reachable[static_cast<std::size_t>(reached - part_.begin)] = true;
            }
        }
    }
    Found found = finish();
    found.reachable = std::move(reachable);
    return found;
}

}  // namespace

/// Where places stand close, sleeves differ in countless ways that come to the same, and k of them take k times k as
/// long: fewer must do, in the end the best alone. The cheapest is found either way.
Found search(const Problem& problem, const Needs& needs, Generator& generator, Part part, const Effort& effort) {
    constexpr std::int64_t max_checks = 3'000'000;
    constexpr int fewer = 4;
    for (int k_best = effort.k_best; k_best > 1; k_best = k_best > fewer ? fewer : 1) {
        Effort less = effort;
        less.k_best = k_best;
        if (auto found = Search{problem, needs, generator, part, less}.run(max_checks)) return std::move(*found);
    }
    Effort best_alone = effort;
    best_alone.k_best = 1;
    return std::move(
        *Search{problem, needs, generator, part, best_alone}.run(std::numeric_limits<std::int64_t>::max()));
}

}  // namespace patchwright::layout
