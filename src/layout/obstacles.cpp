#include "obstacles.hpp"

#include <algorithm>
#include <array>

#include "search.hpp"

namespace patchwright::layout {
namespace {

/// In the order in which a crew can do something about it.
constexpr std::array rules{Rule::length,     Rule::reach,        Rule::mouth, Rule::bend,
                           Rule::connection, Rule::end_keep_out, Rule::gap,   Rule::price};

Problem lifted(Problem problem, Rule rule) {
    for (auto& carrier : problem.carriers) {
        if (rule == Rule::length) {
            carrier.length_min = 1;
            carrier.length_max = problem.run_length;
        }
        if (rule == Rule::reach) carrier.reach = {{-carrier.tail, problem.run_length + carrier.tail}};
        if (rule == Rule::bend) carrier.may_not_cross.clear();
        if (rule == Rule::mouth) {
            carrier.restraint_at_mouths = true;
            // A reach that was cut off at a mouth is so no longer.
            for (auto& span : carrier.reach) {
                if (span.from <= carrier.tail) span.from = std::min(span.from, 0);
                if (span.to >= problem.run_length - carrier.tail) span.to = std::max(span.to, problem.run_length);
            }
        }
        if (rule == Rule::connection) carrier.anchors.clear();
    }
    if (rule == Rule::end_keep_out) problem.end_keep_outs.clear();
    if (rule == Rule::gap) problem.gap = problem.lap = 0;
    if (rule == Rule::connection) {
        problem.connections.clear();
        for (auto& target : problem.targets) target.needs_piece = false;
    }
    return problem;
}

/// The cheapest chain if every target is covered.
std::optional<Chain> covered(const Problem& problem, const Pricer& price) {
    const SoundWall wall{problem.run_length, problem.end_keep_outs};
    const Needs needs = make_needs(problem, wall, {});
    if (!needs.without_ends.empty()) return std::nullopt;
    Generator generator{problem, wall, needs, price, false};
    auto found = search(problem, needs, generator, 1, false, nullptr);
    if (found.best.empty()) return std::nullopt;
    return found.best.front();
}

/// The target with those near enough to want the same wall, none of which is `left_out`.
Problem surroundings(const Problem& problem, int target, const std::vector<int>& left_out, std::vector<int>& places) {
    constexpr int near = 6;
    Problem part = problem;
    part.targets.clear();
    const int count = static_cast<int>(problem.targets.size());
    for (int i = std::max(0, target - near); i < std::min(count, target + near + 1); ++i) {
        if (i != target && std::binary_search(left_out.begin(), left_out.end(), i)) continue;
        part.targets.push_back(problem.targets[static_cast<std::size_t>(i)]);
        places.push_back(i);
    }
    return part;
}

Obstacle find_obstacle(const Problem& problem, const Pricer& price, int target, bool alone,
                       const std::vector<int>& left_out) {
    Obstacle obstacle;
    obstacle.target = target;
    std::vector<int> places{target};
    Problem part = problem;
    if (alone) {
        part.targets = {problem.targets[static_cast<std::size_t>(target)]};
    } else {
        places.clear();
        part = surroundings(problem, target, left_out, places);
    }
    const auto place = [&](int i) { return places[static_cast<std::size_t>(i)]; };
    const Pricer in_part = [&](Centimetre start, Centimetre end, int carrier, int first, int last) {
        return price(start, end, carrier, place(first), place(last));
    };
    const Pricer any_design = [&](Centimetre start, Centimetre end, int carrier, int first, int last) {
        return std::optional<Cost>{in_part(start, end, carrier, first, last).value_or(0)};
    };
    for (const Rule rule : rules) {
        if (alone && rule == Rule::gap) continue;
        const auto chain = covered(lifted(part, rule), rule == Rule::price ? any_design : in_part);
        if (!chain) continue;
        obstacle.rules.push_back(rule);
        for (auto sleeve : chain->sleeves) {
            sleeve.first_target = place(sleeve.first_target);
            sleeve.last_target = place(sleeve.last_target);
            const bool covers = sleeve.first_target <= target && target <= sleeve.last_target;
            if (covers && !obstacle.if_lifted) obstacle.if_lifted = sleeve;
        }
    }
    return obstacle;
}

}  // namespace

std::vector<Obstacle> find_obstacles(const Problem& problem, const Pricer& price, const std::vector<int>& alone,
                                     const std::vector<int>& uncovered) {
    std::vector<Obstacle> obstacles;
    for (const int target : uncovered) {
        const bool is_alone = std::binary_search(alone.begin(), alone.end(), target);
        obstacles.push_back(find_obstacle(problem, price, target, is_alone, is_alone ? alone : uncovered));
    }
    return obstacles;
}

}  // namespace patchwright::layout
