#include <algorithm>
#include <tuple>

#include "law.hpp"
#include "obstacles.hpp"
#include "search.hpp"

namespace patchwright::layout {
namespace {

/// Targets left out so far, both lists sorted.
struct LeftOut {
    std::vector<int> alone;  ///< no candidate covers it
    std::vector<int> all;

    void add(int target, bool no_candidate) {
        all.insert(std::upper_bound(all.begin(), all.end(), target), target);
        if (no_candidate) alone.insert(std::upper_bound(alone.begin(), alone.end(), target), target);
    }
};

/// One pass with what is left; false if more had to be left out.
bool attempt(const Problem& problem, const SoundWall& wall, const Pricer& price, const Options& options,
             bool exhaustive, bool& law_broken, LeftOut& left_out, Found& found, std::vector<Candidate>& kept) {
    const Needs needs = make_needs(problem, wall, left_out.all);
    if (!needs.without_ends.empty()) {
        for (const int target : needs.without_ends) left_out.add(target, true);
        return false;
    }
    found = {};
    kept.clear();
    if (needs.essential.empty()) return true;
    const auto target_of = [&](std::size_t i) {
        return needs.listed[static_cast<std::size_t>(needs.essential[i].listed)];
    };
    Generator generator{problem, wall, needs, price, exhaustive};
    found = search(problem, needs, generator, options.k_best, false, options.keep_candidates ? &kept : nullptr);
    law_broken = generator.law_broken();
    if (law_broken || !found.best.empty()) return true;
    bool all_reachable = true;
    for (std::size_t i = 0; i < needs.essential.size(); ++i) {
        if (found.reachable[i]) continue;
        all_reachable = false;
        left_out.add(target_of(i), true);
    }
    if (!all_reachable) return false;
    // Each can be covered, but not all together: leave out as few as possible.
    Generator again{problem, wall, needs, price, exhaustive};
    const auto partial = search(problem, needs, again, 1, true, nullptr);
    std::vector<bool> covered(needs.essential.size(), false);
    for (const auto& sleeve : partial.best.front().sleeves) {
        for (std::size_t i = 0; i < needs.essential.size(); ++i) {
            const auto& need = needs.essential[i];
            if (sleeve.start <= need.start && sleeve.end >= need.end) covered[i] = true;
        }
    }
    for (std::size_t i = 0; i < covered.size(); ++i) {
        if (!covered[i]) left_out.add(target_of(i), false);
    }
    return false;
}

void record(const Found& found, std::vector<Candidate> kept, const Options& options, Solution& solution) {
    const auto by_place = [](const Candidate& a, const Candidate& b) {
        return std::tie(a.start, a.end, a.carrier) < std::tie(b.start, b.end, b.carrier);
    };
    if (!options.keep_candidates) {
        for (const auto& chain : found.best) kept.insert(kept.end(), chain.sleeves.begin(), chain.sleeves.end());
        std::sort(kept.begin(), kept.end(), by_place);
        kept.erase(std::unique(kept.begin(), kept.end()), kept.end());
    }
    for (const auto& chain : found.best) {
        Layout layout;
        layout.cost = chain.cost;
        for (const auto& sleeve : chain.sleeves) {
            const auto place = std::lower_bound(kept.begin(), kept.end(), sleeve, by_place);
            layout.chosen.push_back(static_cast<int>(place - kept.begin()));
        }
        solution.best.push_back(std::move(layout));
    }
    solution.candidates = std::move(kept);
    solution.bound = found.bound;
    solution.proven_optimal = !solution.best.empty() && solution.best.front().cost <= solution.bound;
}

}  // namespace

Solution solve(const Problem& problem, const Pricer& price, const Options& options) {
    check(problem);
    const SoundWall wall{problem.run_length, problem.end_keep_outs};
    bool exhaustive = options.law == PriceLaw::any;
    if (options.law == PriceLaw::by_length) exhaustive = !prices_rise(problem, make_needs(problem, wall, {}), price);
    LeftOut left_out;
    Found found;
    std::vector<Candidate> kept;
    bool law_broken = false;
    while (!attempt(problem, wall, price, options, exhaustive, law_broken, left_out, found, kept) || law_broken) {
        if (!law_broken) continue;
        law_broken = false;
        exhaustive = true;
        left_out = {};
    }
    Solution solution;
    record(found, std::move(kept), options, solution);
    solution.uncovered = left_out.all;
    solution.obstacles = find_obstacles(problem, price, left_out.alone, left_out.all);
    return solution;
}

}  // namespace patchwright::layout
