#include "generate.hpp"

#include <algorithm>

namespace patchwright::layout {
namespace {

bool covers(Span opening, Centimetre start, Centimetre end) { return start < opening.to && end > opening.from; }

bool stands_on(Centimetre anchor, Centimetre start, Centimetre end) { return std::abs(start + end - 2 * anchor) <= 1; }

}  // namespace

Generator::Generator(const Problem& problem, const SoundWall& wall, const Needs& needs, const Pricer& price,
                     bool exhaustive)
    : problem_{problem}, wall_{wall}, needs_{needs}, price_{price}, exhaustive_{exhaustive} {
    for (const auto& connection : problem.connections) {
        opens_.emplace_back(connection.opening.from, connection.reopening.value_or(0));
        shuts_.emplace_back(connection.opening.to, connection.reopening.value_or(0));
    }
    for (auto* edges : {&opens_, &shuts_}) {
        std::sort(edges->begin(), edges->end());
        Cost sum = 0;
        for (auto& edge : *edges) edge.second = sum += edge.second;
    }
    for (int c = 0; c < static_cast<int>(problem.carriers.size()); ++c) {
        const auto& carrier = problem.carriers[static_cast<std::size_t>(c)];
        rules_.push_back(rules_for(carrier));
        if (!carrier.anchors.empty()) {
            place_anchored(c);
            continue;
        }
        longest_minimum_ = std::max(longest_minimum_, carrier.length_min);
        longest_ = std::max(longest_, carrier.length_max);
    }
    std::sort(anchored_.begin(), anchored_.end(), [](const Anchored& a, const Anchored& b) {
        if (a.start != b.start) return a.start < b.start;
        return a.end != b.end ? a.end < b.end : a.carrier < b.carrier;
    });
    find_joints();
}

Generator::CarrierRules Generator::rules_for(const Carrier& carrier) const {
    CarrierRules rules;
    if (!carrier.restraint_at_mouths) rules.first_start = carrier.tail;
    rules.last_end = problem_.run_length - rules.first_start;
    for (const Span span : carrier.reach) {
        const bool at_mouth = carrier.restraint_at_mouths && span.from <= 0;
        const bool to_mouth = carrier.restraint_at_mouths && span.to >= problem_.run_length;
        rules.reach.emplace_back(at_mouth ? 0 : span.from + carrier.tail,
                                 to_mouth ? problem_.run_length : span.to - carrier.tail);
    }
    std::sort(rules.reach.begin(), rules.reach.end());
    Centimetre furthest = nowhere;
    for (auto& [from, to] : rules.reach) to = furthest = std::max(furthest, to);
    add_barriers(rules, carrier);
    rules.barriers.close();
    return rules;
}

void Generator::add_barriers(CarrierRules& rules, const Carrier& carrier) const {
    for (const Span span : carrier.may_not_cross) rules.barriers.add(span.to, span.from);
    if (!carrier.anchors.empty()) return;  // what an anchored sleeve may cover depends on its anchor
    for (const auto& connection : problem_.connections) {
        if (!connection.reopening) rules.barriers.add(connection.opening.to, connection.opening.from);
    }
    for (const auto& target : problem_.targets) {
        if (!target.needs_piece) continue;
        rules.barriers.add(target.to, target.from);
        rules.barriers.add(need_start(problem_, target) + 1, need_end(problem_, target) - 1);
    }
}

Centimetre Generator::reach_limit(const CarrierRules& rules, const Carrier&, Centimetre start) const {
    const auto it = std::upper_bound(rules.reach.begin(), rules.reach.end(), start,
                                     [](Centimetre s, const auto& reach) { return s < reach.first; });
    return it == rules.reach.begin() ? nowhere : std::prev(it)->second;
}

Centimetre Generator::largest_end(int carrier_index, Centimetre start) const {
    const auto& carrier = problem_.carriers[static_cast<std::size_t>(carrier_index)];
    const auto& rules = rules_[static_cast<std::size_t>(carrier_index)];
    if (start < rules.first_start) return nowhere;
    const Centimetre longest = std::min(carrier.length_max, problem_.run_length);
    return std::min({rules.last_end, rules.barriers.limit(start), reach_limit(rules, carrier, start), start + longest});
}

bool Generator::anchored_may_lie(const Carrier& carrier, Centimetre at, Centimetre start, Centimetre end) const {
    for (const auto& connection : problem_.connections) {
        const bool on_it = connection.opening.from <= at && at <= connection.opening.to;
        if (!on_it && !connection.reopening && covers(connection.opening, start, end)) return false;
    }
    for (const auto& target : problem_.targets) {
        if (!target.needs_piece || anchor_at_target(problem_, at, target)) continue;
        if (covers({target.from, target.to}, start, end)) return false;
        if (start <= need_start(problem_, target) && end >= need_end(problem_, target)) return false;
    }
    (void)carrier;
    return true;
}

void Generator::place_anchored(int index) {
    const auto& carrier = problem_.carriers[static_cast<std::size_t>(index)];
    for (const Centimetre at : carrier.anchors) {
        for (Centimetre length = std::max(1, carrier.length_min); length <= carrier.length_max; ++length) {
            if (at - (length + 1) / 2 < 0 && at - length / 2 < 0) break;
            for (const Centimetre start : {at - (length + 1) / 2, at - length / 2}) {
                const Centimetre end = start + length;
                const bool second = length % 2 == 0 && start != at - (length + 1) / 2;
                if (second || !wall_.allows(start) || !wall_.allows(end) || end > largest_end(index, start)) continue;
                if (anchored_may_lie(carrier, at, start, end)) anchored_.push_back({start, end, index});
                if (length % 2 == 0) break;
            }
        }
    }
}

void Generator::find_joints() {
    const auto& needs = needs_.essential;
    const auto count = needs.size();
    if (exhaustive_) {
        for (const auto& need : needs) {
            first_joint_.push_back(0);
            last_joint_.push_back(problem_.run_length);
            (void)need;
        }
        return;
    }
    const Centimetre run = problem_.run_length;
    const auto down = [&](Centimetre at) { return std::max(0, wall_.at_or_before(at)); };
    const auto up = [&](Centimetre at) {
        const Centimetre place = wall_.at_or_after(at);
        return place == nowhere ? run : place;
    };
    // How far a neighbour's end can reach forwards, its start backwards, with that target as its last or first.
    std::vector<Centimetre> furthest_end(count), nearest_start(count);
    // To where the least length lets an end be drawn in, a start be drawn up, whatever the other end.
    std::vector<Centimetre> drawn_in(count), drawn_up(count);
    for (std::size_t i = 0; i < count; ++i) {
        furthest_end[i] = drawn_in[i] = std::max(needs[i].first_end, up(needs[i].last_start + longest_minimum_));
        nearest_start[i] = drawn_up[i] = std::min(needs[i].last_start, down(needs[i].first_end - longest_minimum_));
        first_joint_.push_back(needs[i].last_start);
        last_joint_.push_back(needs[i].first_end);
    }
    for (const auto& sleeve : anchored_) {
        auto last = std::upper_bound(needs.begin(), needs.end(), sleeve.end,
                                     [](Centimetre e, const auto& need) { return e < need.end; });
        auto first = std::lower_bound(needs.begin(), needs.end(), sleeve.start,
                                      [](const auto& need, Centimetre s) { return need.start < s; });
        if (last != needs.begin()) {
            auto& end = furthest_end[static_cast<std::size_t>(last - needs.begin()) - 1];
            end = std::max(end, sleeve.end);
        }
        if (first != needs.end()) {
            auto& start = nearest_start[static_cast<std::size_t>(first - needs.begin())];
            start = std::min(start, sleeve.start);
        }
    }
    for (bool changed = true; changed;) {
        changed = false;
        for (std::size_t i = 1; i < count; ++i) furthest_end[i] = std::max(furthest_end[i], furthest_end[i - 1]);
        for (std::size_t i = count; i-- > 1;) nearest_start[i - 1] = std::min(nearest_start[i - 1], nearest_start[i]);
        for (std::size_t m = 0; m < count; ++m) {
            Centimetre low = needs[m].last_start;
            Centimetre clear = drawn_up[m] - problem_.gap;  // an end up to here leaves the gap
            for (std::size_t l = m; l-- > 0 && furthest_end[l] > clear;) {
                low = std::min(low, down(std::max(needs[l].first_end, clear + 1) - problem_.lap));
                clear = std::min(clear, low - problem_.gap);
            }
            changed |= low < first_joint_[m];
            first_joint_[m] = std::min(first_joint_[m], low);
            nearest_start[m] = std::min(nearest_start[m], first_joint_[m]);
        }
        for (std::size_t l = 0; l < count; ++l) {
            Centimetre high = needs[l].first_end;
            Centimetre clear = drawn_in[l] + problem_.gap;
            for (std::size_t m = l + 1; m < count && nearest_start[m] < clear; ++m) {
                high = std::max(high, up(std::min(needs[m].last_start, clear - 1) + problem_.lap));
                clear = std::max(clear, high + problem_.gap);
            }
            changed |= high > last_joint_[l];
            last_joint_[l] = std::max(last_joint_[l], high);
            furthest_end[l] = std::max(furthest_end[l], last_joint_[l]);
        }
        for (std::size_t i = count; i-- > 1;) first_joint_[i - 1] = std::min(first_joint_[i - 1], first_joint_[i]);
        for (std::size_t i = 1; i < count; ++i) last_joint_[i] = std::max(last_joint_[i], last_joint_[i - 1]);
    }
}

Cost Generator::reopening(Centimetre start, Centimetre end, const Carrier& carrier) const {
    if (opens_.empty()) return 0;
    if (!carrier.anchors.empty()) {
        Cost sum = 0;
        for (const auto& connection : problem_.connections) {
            if (!connection.reopening || !covers(connection.opening, start, end)) continue;
            const bool on_it = std::any_of(carrier.anchors.begin(), carrier.anchors.end(), [&](Centimetre at) {
                return stands_on(at, start, end) && connection.opening.from <= at && at <= connection.opening.to;
            });
            if (!on_it) sum += *connection.reopening;
        }
        return sum;
    }
    // Those that open before the end, less those that shut at or before the start.
    const auto opened = std::lower_bound(opens_.begin(), opens_.end(), end,
                                         [](const auto& edge, Centimetre at) { return edge.first < at; });
    const auto shut = std::upper_bound(shuts_.begin(), shuts_.end(), start,
                                       [](Centimetre at, const auto& edge) { return at < edge.first; });
    const Cost before_end = opened == opens_.begin() ? 0 : std::prev(opened)->second;
    const Cost before_start = shut == shuts_.begin() ? 0 : std::prev(shut)->second;
    return before_end - before_start;
}

void Generator::group(int first, std::vector<Placed>& out) {
    out.clear();
    const auto f = static_cast<std::size_t>(first);
    const auto& need = needs_.essential[f];
    const Centimetre after = first == 0 ? 0 : needs_.essential[f - 1].start + 1;
    // Ordinary carriers: joints and last starts; and every place for sleeves of the least length.
    const Centimetre reach_back = exhaustive_ ? longest_ : longest_minimum_;
    Centimetre earliest = std::max(0, wall_.at_or_before(need.first_end - reach_back));
    if (!exhaustive_) earliest = std::min(earliest, first_joint_[f]);
    for (Centimetre start = wall_.at_or_after(std::max(after, earliest)); start != nowhere && start <= need.last_start;
         start = wall_.at_or_after(start + 1)) {
        for (int c = 0; c < static_cast<int>(problem_.carriers.size()); ++c) {
            if (problem_.carriers[static_cast<std::size_t>(c)].anchors.empty()) {
                sleeves_from(first, start, start >= first_joint_[f], c, out);
            }
        }
    }
    for (; next_anchored_ < anchored_.size() && anchored_[next_anchored_].start <= need.start; ++next_anchored_) {
        const auto& sleeve = anchored_[next_anchored_];
        if (sleeve.end >= need.end) try_add(first, sleeve.start, sleeve.end, sleeve.carrier, out);
    }
    std::sort(out.begin(), out.end(), [](const Placed& a, const Placed& b) {
        const auto& x = a.candidate;
        const auto& y = b.candidate;
        if (x.start != y.start) return x.start < y.start;
        return x.end != y.end ? x.end < y.end : x.carrier < y.carrier;
    });
    out.erase(std::unique(out.begin(), out.end(),
                          [](const Placed& a, const Placed& b) { return a.candidate == b.candidate; }),
              out.end());
}

/// Permitted joints and first ends from `low` to `high`, in order.
void Generator::ends_from(int first, Centimetre, Centimetre low, Centimetre high, std::vector<Centimetre>& ends) const {
    const auto& needs = needs_.essential;
    low = std::max(low, needs[static_cast<std::size_t>(first)].first_end);
    auto it = std::upper_bound(needs.begin() + first, needs.end(), low,
                               [](Centimetre at, const auto& need) { return at < need.first_end; });
    for (auto l = static_cast<std::size_t>(it - needs.begin()) - 1; l < needs.size() && needs[l].first_end <= high;
         ++l) {
        const Centimetre from = std::max(low, needs[l].first_end);
        Centimetre to = std::min(high, last_joint_[l]);
        if (l + 1 < needs.size()) to = std::min(to, needs[l + 1].first_end - 1);
        for (Centimetre end = wall_.at_or_after(from); end != nowhere && end <= to; end = wall_.at_or_after(end + 1)) {
            ends.push_back(end);
        }
    }
}

void Generator::sleeves_from(int first, Centimetre start, bool joint, int carrier_index, std::vector<Placed>& out) {
    const auto& carrier = problem_.carriers[static_cast<std::size_t>(carrier_index)];
    const Centimetre low = start + std::max(1, carrier.length_min);
    const Centimetre high = largest_end(carrier_index, start);
    const Centimetre needed = needs_.essential[static_cast<std::size_t>(first)].first_end;
    if (high < low || high < needed) return;
    ends_.clear();
    // The least length, and ends that would fall below it were the start one permitted place later.
    const Centimetre shortest = wall_.at_or_after(low);
    if (shortest != nowhere && shortest <= high && shortest >= needed) ends_.push_back(shortest);
    const Centimetre next = wall_.at_or_after(start + 1);
    const Centimetre slack = next == nowhere ? high : std::min(high, low + (next - start) - 1);
    ends_from(first, start, low, joint ? high : slack, ends_);
    std::sort(ends_.begin(), ends_.end());
    ends_.erase(std::unique(ends_.begin(), ends_.end()), ends_.end());
    Cost dearest = 0;
    bool failed = false;
    for (const Centimetre end : ends_) {
        if (!try_add(first, start, end, carrier_index, out)) {
            failed = true;
            continue;
        }
        const Cost cost = out.back().candidate.cost - reopening(start, end, carrier);
        if (!exhaustive_ && (failed || cost < dearest)) law_broken_ = true;
        dearest = std::max(dearest, cost);
    }
}

bool Generator::try_add(int first, Centimetre start, Centimetre end, int carrier, std::vector<Placed>& out) {
    const auto& needs = needs_.essential;
    Placed placed;
    placed.first = placed.last = first;
    while (placed.last + 1 < static_cast<int>(needs.size()) &&
           needs[static_cast<std::size_t>(placed.last) + 1].end <= end) {
        ++placed.last;
    }
    const auto listed = std::lower_bound(needs_.start.begin(), needs_.start.end(), start) - needs_.start.begin();
    auto beyond = static_cast<std::size_t>(listed);
    while (beyond < needs_.end.size() && needs_.end[beyond] <= end) ++beyond;
    placed.candidate = {start, end, carrier, needs_.listed[static_cast<std::size_t>(listed)], needs_.listed[beyond - 1],
                        0};
    const auto& c = placed.candidate;
    const auto cost = price_(start, end, carrier, c.first_target, c.last_target);
    if (!cost) return false;
    if (*cost < 0) throw std::invalid_argument("layout: a patch cannot cost less than nothing");
    placed.candidate.cost = *cost + reopening(start, end, problem_.carriers[static_cast<std::size_t>(carrier)]);
    out.push_back(placed);
    return true;
}

}  // namespace patchwright::layout
