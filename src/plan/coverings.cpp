#include "coverings.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <optional>
#include <utility>

namespace patchwright::plan {
namespace {

/// Places of a sleeve's first and last target among the covered ones.
using Group = std::pair<int, int>;

/// The candidates of each group of covered targets, in the order of the solution.
std::map<Group, std::vector<layout::Candidate>> by_group(const layout::Problem& problem,
                                                         const layout::Solution& solution) {
    std::vector<int> before(problem.targets.size() + 1, 0);  // covered targets before that one
    for (std::size_t t = 0; t < problem.targets.size(); ++t) {
        const bool left_out = std::find(solution.uncovered.begin(), solution.uncovered.end(), static_cast<int>(t)) !=
                              solution.uncovered.end();
        before[t + 1] = before[t] + (left_out ? 0 : 1);
    }
    std::map<Group, std::vector<layout::Candidate>> groups;
    for (const auto& c : solution.candidates) {
        const Group group{before[static_cast<std::size_t>(c.first_target)],
                          before[static_cast<std::size_t>(c.last_target) + 1] - 1};
        if (group.first <= group.second) groups[group].push_back(c);
    }
    return groups;
}

/// A chain of sleeves that ends with one candidate of its last group.
struct Chain {
    Covering covering;
    bool better_than(const Chain& other) const {
        const auto rank = [](const Chain& chain) {
            layout::Centimetre lined = 0;
            for (const auto& c : chain.covering.sleeves) lined += c.end - c.start;
            return std::pair{chain.covering.cost, lined};
        };
        return rank(*this) < rank(other);
    }
};

using Span = std::pair<layout::Centimetre, layout::Centimetre>;
Span span_of(const layout::Candidate& c) { return {c.start, c.end}; }

/// The best chain of each span of its last sleeve, in the order given: what may follow hangs on nothing else, and there
/// are many packers to a span.
std::vector<Chain> best_by_span(std::vector<Chain> chains) {
    std::map<Span, std::size_t> best;
    for (std::size_t i = 0; i < chains.size(); ++i) {
        const auto [place, fresh] = best.emplace(span_of(chains[i].covering.sleeves.back()), i);
        if (!fresh && chains[i].better_than(chains[place->second])) place->second = i;
    }
    std::vector<std::size_t> places;
    for (const auto& [span, place] : best) places.push_back(place);
    std::sort(places.begin(), places.end());
    std::vector<Chain> list;
    for (const auto place : places) list.push_back(std::move(chains[place]));
    return list;
}

/// Chains by where their last sleeve ends, and the best of those that end within a range: a segment tree.
class ByEnd {
public:
    explicit ByEnd(const std::vector<Chain>& chains) {
        for (const auto& chain : chains) ends_.push_back(chain.covering.sleeves.back().end);
        std::sort(ends_.begin(), ends_.end());
        ends_.erase(std::unique(ends_.begin(), ends_.end()), ends_.end());
        best_.resize(2 * ends_.size(), nullptr);
    }
    void add(const Chain& chain) {
        auto node = ends_.size() + place_of(chain.covering.sleeves.back().end);
        for (; node > 0; node /= 2) best_[node] = better(best_[node], &chain);
    }
    /// Of those that end from there to there, both included; nullptr: none.
    const Chain* best(layout::Centimetre from, layout::Centimetre to) const {
        const Chain* found = nullptr;
        if (from > to) return found;
        auto left = ends_.size() + place_of(from), right = ends_.size() + place_of(to + 1);
        for (; left < right; left /= 2, right /= 2) {
            if (left % 2 == 1) found = better(found, best_[left++]);
            if (right % 2 == 1) found = better(found, best_[--right]);
        }
        return found;
    }

private:
    std::size_t place_of(layout::Centimetre end) const {
        return static_cast<std::size_t>(std::lower_bound(ends_.begin(), ends_.end(), end) - ends_.begin());
    }
    /// Of two alike the one that stands first in the list.
    static const Chain* better(const Chain* a, const Chain* b) {
        if (a == nullptr || b == nullptr) return a == nullptr ? b : a;
        if (a->better_than(*b)) return a;
        return b->better_than(*a) || b < a ? b : a;
    }
    std::vector<layout::Centimetre> ends_;
    std::vector<const Chain*> best_;
};

/// For each span the best chain that a sleeve there may follow: one that ends a gap before it, or begins before it,
/// ends before its end and laps it. Spans whose neighbours are none of these are left out.
std::map<Span, const Chain*> best_before(const layout::Problem& problem, const std::vector<Chain>& chains,
                                         const std::vector<layout::Candidate>& candidates) {
    std::map<Span, const Chain*> best;
    for (const auto& candidate : candidates) best.emplace(span_of(candidate), nullptr);
    if (chains.front().covering.sleeves.empty()) {
        for (auto& [span, chain] : best) chain = &chains.front();
        return best;
    }
    std::vector<const Chain*> by_start;
    for (const auto& chain : chains) by_start.push_back(&chain);
    const auto start = [](const Chain* chain) { return chain->covering.sleeves.back().start; };
    std::stable_sort(by_start.begin(), by_start.end(),
                     [&](const Chain* a, const Chain* b) { return start(a) < start(b); });
    ByEnd ends{chains};
    auto next = by_start.begin();
    for (auto& [span, chain] : best) {
        for (; next != by_start.end() && start(*next) < span.first; ++next) ends.add(**next);
        const Chain* apart = ends.best(std::numeric_limits<layout::Centimetre>::min(), span.first - problem.gap);
        const Chain* lapped = ends.best(span.first + problem.lap, span.second - 1);
        chain = apart == nullptr || (lapped != nullptr &&
                                     (lapped->better_than(*apart) || (!apart->better_than(*lapped) && lapped < apart)))
                    ? lapped
                    : apart;
    }
    return best;
}

/// The cheapest chain for each candidate of the last group, given the chains of the groups before.
std::vector<Chain> extended(const layout::Problem& problem, const std::vector<Chain>& chains,
                            const std::vector<layout::Candidate>& candidates) {
    const auto before = best_before(problem, chains, candidates);
    std::vector<Chain> next;
    for (const auto& candidate : candidates) {
        const Chain* best = before.at(span_of(candidate));
        if (best == nullptr) continue;
        next.push_back(*best);
        next.back().covering.sleeves.push_back(candidate);
        next.back().covering.cost += candidate.cost;
    }
    return next;
}

class Enumeration {
public:
    Enumeration(const layout::Problem& problem, const layout::Solution& solution)
        : problem_{problem},
          groups_{by_group(problem, solution)},
          targets_{static_cast<int>(problem.targets.size() - solution.uncovered.size())},
          left_out_{solution.uncovered.size()} {}

    std::vector<Covering> all() {
        from(0, {Chain{}});
        return std::move(found_);
    }

private:
    void from(int target, const std::vector<Chain>& chains) {
        if (target == targets_) {
            keep_cheapest(chains);
            return;
        }
        for (int last = target; last < targets_; ++last) {
            // Where every sleeve over this target lies over the one before as well, that one is covered twice.
            auto group = groups_.find({target, last});
            for (int first = target - 1; group == groups_.end() && first >= 0; --first)
                group = groups_.find({first, last});
            if (group == groups_.end()) continue;
            auto longer = extended(problem_, chains, group->second);
            if (last + 1 < targets_) longer = best_by_span(std::move(longer));
            if (!longer.empty()) from(last + 1, longer);
        }
    }
    void keep_cheapest(const std::vector<Chain>& chains) {
        const Chain* best = nullptr;
        for (const auto& chain : chains) {
            if (best != nullptr && !chain.better_than(*best)) continue;
            // Neighbours were compared; the rules among more than two are the layout's own.
            if (layout::violations(problem_, chain.covering.sleeves).size() <= left_out_) best = &chain;
        }
        if (best != nullptr) found_.push_back(best->covering);
    }

    const layout::Problem& problem_;
    std::map<Group, std::vector<layout::Candidate>> groups_;
    int targets_;
    std::size_t left_out_;
    std::vector<Covering> found_;
};

Covering covering_of(const layout::Solution& solution, const layout::Layout& chosen) {
    Covering covering;
    for (const int k : chosen.chosen) covering.sleeves.push_back(solution.candidates[static_cast<std::size_t>(k)]);
    covering.cost = chosen.cost;
    return covering;
}

/// Too many targets to divide them in every way: the cheapest layout of each number of sleeves among the k best.
std::vector<Covering> best_by_count(const layout::Solution& solution) {
    std::map<std::size_t, Covering> by_count;
    for (const auto& layout : solution.best) by_count.emplace(layout.chosen.size(), covering_of(solution, layout));
    std::vector<Covering> list;
    for (auto& [count, covering] : by_count) list.push_back(std::move(covering));
    return list;
}

}  // namespace

std::vector<Covering> coverings(const layout::Problem& problem, const layout::Solution& solution) {
    if (solution.best.empty()) return {};
    const bool few = problem.targets.size() - solution.uncovered.size() <= max_targets;
    auto list = few ? Enumeration{problem, solution}.all() : best_by_count(solution);
    if (list.empty()) list.push_back(covering_of(solution, solution.best.front()));
    std::stable_sort(list.begin(), list.end(), [](const Covering& a, const Covering& b) { return a.cost < b.cost; });
    return list;
}

}  // namespace patchwright::plan
