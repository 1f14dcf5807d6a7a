#include "generate.hpp"

#include <algorithm>

namespace patchwright::layout {
namespace {

bool covers(Span opening, Centimetre start, Centimetre end) { return start < opening.to && end > opening.from; }

Centimetre min_length(const Carrier& carrier) { return std::max(1, carrier.length_min); }

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
    find_parts();
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

int Generator::last_covered(int first, Centimetre end) const {
    const auto& needs = needs_.essential;
    int last = first;
    while (last + 1 < static_cast<int>(needs.size()) && needs[static_cast<std::size_t>(last) + 1].end <= end) ++last;
    return last;
}

/// Places in Problem::targets of what the sleeve covers.
Span Generator::listed(Centimetre start, Centimetre end) const {
    const auto first = std::lower_bound(needs_.start.begin(), needs_.start.end(), start) - needs_.start.begin();
    auto beyond = static_cast<std::size_t>(first);
    while (beyond < needs_.end.size() && needs_.end[beyond] <= end) ++beyond;
    return {needs_.listed[static_cast<std::size_t>(first)], needs_.listed[beyond - 1]};
}

/// The ordinary carriers that may carry a sleeve from target `first` on within the limit.
void Generator::find_carriers(int first) {
    carriers_.clear();
    for (int c = 0; c < static_cast<int>(problem_.carriers.size()); ++c) {
        if (!problem_.carriers[static_cast<std::size_t>(c)].anchors.empty()) continue;
        bool any = !limit_;
        if (limit_) {
            const auto f = static_cast<std::size_t>(first - limit_->begin);
            const auto targets = static_cast<int>((limit_->row[f + 1] - limit_->row[f]) / problem_.carriers.size());
            for (int l = first; l < first + targets && !any; ++l) any = promising(c, first, l);
        }
        if (any) carriers_.push_back(c);
    }
}

void Generator::starts_for(int first, Detail detail) {
    const auto f = static_cast<std::size_t>(first);
    const auto& need = needs_.essential[f];
    const Centimetre after = first == 0 ? 0 : needs_.essential[f - 1].start + 1;
    const auto back = [&](Centimetre length) { return std::max(0, wall_.at_or_before(need.first_end - length)); };
    starts_.clear();
    if (detail == Detail::few) {
        starts_.push_back(need.last_start);
        if (first_joint_[f] < need.last_start && first > 0) {
            starts_.push_back(wall_.at_or_before(needs_.essential[f - 1].first_end - problem_.lap));
        }
        for (const int c : carriers_)
            starts_.push_back(back(problem_.carriers[static_cast<std::size_t>(c)].length_min));
        std::erase_if(starts_, [&](Centimetre s) { return s < after || s > need.last_start; });
        std::sort(starts_.begin(), starts_.end());
        starts_.erase(std::unique(starts_.begin(), starts_.end()), starts_.end());
        return;
    }
    // Joints and last starts; and every place for sleeves of the least length.
    Centimetre earliest = exhaustive_ ? need.last_start : first_joint_[f];
    for (const int c : carriers_) {
        const auto& carrier = problem_.carriers[static_cast<std::size_t>(c)];
        earliest = std::min(earliest, back(exhaustive_ ? carrier.length_max : carrier.length_min));
    }
    for (Centimetre start = wall_.at_or_after(std::max(after, earliest)); start != nowhere && start <= need.last_start;
         start = wall_.at_or_after(start + 1)) {
        starts_.push_back(start);
    }
}

void Generator::group(int first, Detail detail, std::vector<Placed>& out) {
    out.clear();
    find_carriers(first);
    const auto f = static_cast<std::size_t>(first);
    const auto& need = needs_.essential[f];
    if (!carriers_.empty()) {
        starts_for(first, detail);
        const Centimetre short_of_need = wall_.at_or_before(need.first_end - 1);
        for (const Centimetre start : starts_) {
            const Centimetre next = wall_.at_or_after(start + 1);
            // Where no neighbour may have to be met, only sleeves of the least length are of use, and these end at the
            // first permitted place or before the next start's would.
            const bool least_only = detail == Detail::all && next != nowhere && start < first_joint_[f];
            for (const int c : carriers_) {
                const Centimetre least = start + min_length(problem_.carriers[static_cast<std::size_t>(c)]);
                if (least_only && least + (next - start) <= need.first_end && least <= short_of_need) continue;
                sleeves_from(first, {start, next}, detail, c, out);
            }
        }
    }
    const Centimetre after = first == 0 ? 0 : needs_.essential[static_cast<std::size_t>(first) - 1].start + 1;
    auto sleeve = std::lower_bound(anchored_.begin(), anchored_.end(), after,
                                   [](const Anchored& a, Centimetre s) { return a.start < s; });
    for (; sleeve != anchored_.end() && sleeve->start <= need.start; ++sleeve) {
        if (sleeve->end >= need.end) try_add(first, sleeve->start, sleeve->end, sleeve->carrier, out);
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
void Generator::ends_from(int first, Centimetre low, Centimetre high, std::vector<Centimetre>& ends) const {
    const auto& needs = needs_.essential;
    low = std::max(low, needs[static_cast<std::size_t>(first)].first_end);
    const auto it = std::upper_bound(needs.begin() + first, needs.end(), low,
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

/// The first ends, and the nearest that lap onto the next target's last start.
void Generator::likely_ends(int first, Centimetre low, Centimetre high, std::vector<Centimetre>& ends) const {
    const auto& needs = needs_.essential;
    for (auto l = static_cast<std::size_t>(first); l < needs.size() && needs[l].first_end <= high; ++l) {
        ends.push_back(needs[l].first_end);
        if (l + 1 < needs.size() && last_joint_[l] > needs[l].first_end) {
            ends.push_back(wall_.at_or_after(needs[l + 1].last_start + problem_.lap));
        }
    }
    std::erase_if(ends, [&](Centimetre end) {
        return end < low || end > high || end < needs[static_cast<std::size_t>(first)].first_end;
    });
}

void Generator::sleeves_from(int first, Start from, Detail detail, int carrier_index, std::vector<Placed>& out) {
    const auto [start, next] = from;
    const auto& carrier = problem_.carriers[static_cast<std::size_t>(carrier_index)];
    const Centimetre low = start + min_length(carrier);
    const Centimetre high = largest_end(carrier_index, start);
    const Centimetre needed = needs_.essential[static_cast<std::size_t>(first)].first_end;
    if (high < low || high < needed) return;
    ends_.clear();
    if (detail == Detail::few) {
        likely_ends(first, low, high, ends_);
    } else {
        // Ends that would fall below the least length were the start one permitted place later.
        const Centimetre slack = next == nowhere ? high : std::min(high, low + (next - start) - 1);
        ends_from(first, low, start >= first_joint_[static_cast<std::size_t>(first)] ? high : slack, ends_);
    }
    const Centimetre shortest = wall_.at_or_after(low);
    if (shortest != nowhere && shortest <= high && shortest >= needed) ends_.push_back(shortest);
    std::sort(ends_.begin(), ends_.end());
    ends_.erase(std::unique(ends_.begin(), ends_.end()), ends_.end());
    Cost dearest = 0;
    bool failed = false;
    for (const Centimetre end : ends_) {
        const Added added = try_add(first, start, end, carrier_index, out);
        failed |= added == Added::no_design;
        if (added != Added::yes) continue;
        const Cost cost = out.back().candidate.cost - reopening(start, end, carrier);
        if (!exhaustive_ && (failed || cost < dearest)) not_rising_ = true;
        dearest = std::max(dearest, cost);
    }
}

Generator::Added Generator::try_add(int first, Centimetre start, Centimetre end, int carrier,
                                    std::vector<Placed>& out) {
    const int last = last_covered(first, end);
    if (!promising(carrier, first, last)) return Added::beyond_limit;
    const Span covered = listed(start, end);
    Placed placed;
    placed.first = first;
    placed.last = last;
    placed.candidate = {start, end, carrier, covered.from, covered.to, 0};
    const auto& c = placed.candidate;
    const auto cost = price_(start, end, carrier, c.first_target, c.last_target);
    if (!cost) return Added::no_design;
    if (*cost < 0) throw std::invalid_argument("layout: a patch cannot cost less than nothing");
    placed.candidate.cost = *cost + reopening(start, end, problem_.carriers[static_cast<std::size_t>(carrier)]);
    if (limit_) {
        const Cost others = limit_->before[static_cast<std::size_t>(first - limit_->begin)] +
                            limit_->after[static_cast<std::size_t>(last - limit_->begin) + 1];
        if (others + c.cost > limit_->most) return Added::beyond_limit;
    }
    out.push_back(placed);
    return Added::yes;
}

}  // namespace patchwright::layout
