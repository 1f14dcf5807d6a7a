#include "ground.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>

namespace patchwright::layout {

SoundWall::SoundWall(Centimetre run_length, std::vector<Span> keep_outs) : run_length_{run_length} {
    std::sort(keep_outs.begin(), keep_outs.end(), [](Span a, Span b) { return a.from < b.from; });
    for (const Span span : keep_outs) {
        if (span.to - span.from < 2) continue;  // no whole centimetre in its interior
        if (!spans_.empty() && span.from < spans_.back().to) {
            spans_.back().to = std::max(spans_.back().to, span.to);
        } else {
            spans_.push_back(span);
        }
    }
}

const Span* SoundWall::around(Centimetre at) const {
    auto it = std::lower_bound(spans_.begin(), spans_.end(), at, [](Span s, Centimetre x) { return s.to <= x; });
    return it != spans_.end() && it->from < at ? &*it : nullptr;
}

bool SoundWall::allows(Centimetre at) const { return at >= 0 && at <= run_length_ && around(at) == nullptr; }

Centimetre SoundWall::at_or_before(Centimetre at) const {
    at = std::min(at, run_length_);
    if (const Span* span = around(at)) at = span->from;
    return at >= 0 ? at : nowhere;
}

Centimetre SoundWall::at_or_after(Centimetre at) const {
    at = std::max(at, 0);
    if (const Span* span = around(at)) at = span->to;
    return at <= run_length_ ? at : nowhere;
}

void Barriers::close() {
    std::sort(rules_.begin(), rules_.end());
    Centimetre least = std::numeric_limits<Centimetre>::max();
    for (auto it = rules_.rbegin(); it != rules_.rend(); ++it) it->second = least = std::min(least, it->second);
}

Centimetre Barriers::limit(Centimetre start) const {
    const auto it = std::upper_bound(rules_.begin(), rules_.end(), start,
                                     [](Centimetre s, const auto& rule) { return s < rule.first; });
    return it == rules_.end() ? std::numeric_limits<Centimetre>::max() : it->second;
}

Centimetre need_start(const Problem& problem, const Target& target) {
    return std::max(0, target.from - problem.overlap - problem.tolerance);
}
Centimetre need_end(const Problem& problem, const Target& target) {
    return std::min(problem.run_length, target.to + problem.overlap + problem.tolerance);
}

Needs make_needs(const Problem& problem, const SoundWall& wall, std::span<const int> left_out) {
    Needs needs;
    auto out = left_out.begin();
    for (int i = 0; i < static_cast<int>(problem.targets.size()); ++i) {
        if (out != left_out.end() && *out == i) {
            ++out;
            continue;
        }
        const auto& target = problem.targets[static_cast<std::size_t>(i)];
        Needs::Essential need{need_start(problem, target), need_end(problem, target), 0, 0, 0};
        need.last_start = wall.at_or_before(need.start);
        need.first_end = wall.at_or_after(need.end);
        if (need.last_start == nowhere || need.first_end == nowhere) {
            needs.without_ends.push_back(i);
            continue;
        }
        need.listed = static_cast<int>(needs.listed.size());
        needs.listed.push_back(i);
        needs.start.push_back(need.start);
        needs.end.push_back(need.end);
        auto& essential = needs.essential;
        while (!essential.empty() && essential.back().start == need.start && essential.back().end < need.end) {
            essential.pop_back();
        }
        if (essential.empty() || essential.back().end < need.end) essential.push_back(need);
    }
    return needs;
}

bool anchor_at_target(const Problem& problem, Centimetre at, const Target& target) {
    if (target.from <= at && at <= target.to) return true;
    return std::any_of(problem.connections.begin(), problem.connections.end(), [&](const Connection& c) {
        const bool touches = c.opening.from <= target.to && target.from <= c.opening.to;
        return touches && c.opening.from <= at && at <= c.opening.to;
    });
}

namespace {

void require(bool holds, const char* what) {
    if (!holds) throw std::invalid_argument(what);
}

}  // namespace

void check(const Problem& problem) {
    // Far from the ends of the integer range, so that sums of positions cannot overflow.
    constexpr Centimetre largest = 1'000'000'000;
    require(problem.run_length >= 1 && problem.run_length <= largest, "layout: the run needs a length");
    for (const Centimetre length : {problem.overlap, problem.tolerance, problem.gap, problem.lap}) {
        require(length >= 0 && length <= problem.run_length + 100'000,
                "layout: overlap, tolerance, gap and lap out of range");
    }
    Centimetre before = 0;
    for (const auto& target : problem.targets) {
        require(target.from >= before, "layout: targets must be in order and inside the run");
        require(target.from <= target.to && target.to <= problem.run_length, "layout: a target must lie in the run");
        before = target.from;
    }
    for (const auto& span : problem.end_keep_outs)
        require(span.from <= span.to, "layout: a keep-out ends before it starts");
    for (const auto& connection : problem.connections) {
        require(connection.opening.from <= connection.opening.to, "layout: an opening ends before it starts");
        require(connection.reopening.value_or(0) >= 0, "layout: reopening cannot cost less than nothing");
    }
    for (const auto& carrier : problem.carriers) {
        require(carrier.length_min >= 0 && carrier.length_min <= carrier.length_max && carrier.length_max <= largest,
                "layout: a carrier needs 0 <= length_min <= length_max");
        require(carrier.tail >= 0 && carrier.tail <= largest, "layout: a tail cannot be negative");
        for (const auto& span : carrier.may_not_cross)
            require(span.from <= span.to, "layout: a span ends before it starts");
    }
}

}  // namespace patchwright::layout
