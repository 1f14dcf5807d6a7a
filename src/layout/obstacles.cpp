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
            // Every length of an anchored sleeve is looked at: up to what anybody would pull over a junction.
            carrier.length_max = std::min(problem.run_length, carrier.anchors.empty() ? 10'000 : 600);
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
    const Part whole{0, static_cast<int>(needs.essential.size())};
    auto found = search(problem, needs, generator, whole, {1, false, Detail::all});
    if (found.best.empty()) return std::nullopt;
    return found.best.front();
}

/// The rules in order of place, to cut out what can bear on a sleeve near a target: a long run is not searched, nor
/// even read, once for every target left out.
class Neighbourhood {
public:
    explicit Neighbourhood(const Problem& problem) : sorted_{problem} {
        sorted_.targets.clear();
        sort(sorted_.end_keep_outs);
        std::sort(sorted_.connections.begin(), sorted_.connections.end(),
                  [](const Connection& a, const Connection& b) { return a.opening.from < b.opening.from; });
        for (const auto& c : sorted_.connections) widest_ = std::max(widest_, c.opening.to - c.opening.from);
        constexpr Centimetre room = 3000;
        aside_ = problem.overlap + problem.tolerance + room;
        for (auto& carrier : sorted_.carriers) {
            sort(carrier.may_not_cross);
            std::sort(carrier.anchors.begin(), carrier.anchors.end());
            aside_ = std::max(aside_, std::min(carrier.length_max, problem.run_length) + carrier.tail + room);
        }
    }

    Problem around(Span target) const {
        const Span window{target.from - aside_, target.to + aside_};
        Problem part;
        part.run_length = sorted_.run_length;
        part.overlap = sorted_.overlap;
        part.tolerance = sorted_.tolerance;
        part.gap = sorted_.gap;
        part.lap = sorted_.lap;
        const auto place = [](Span span) { return span.from; };
        cut(sorted_.end_keep_outs, window, place, part.end_keep_outs);
        cut(
            sorted_.connections, window, [](const Connection& c) { return c.opening.from; }, part.connections);
        for (const auto& carrier : sorted_.carriers) {
            Carrier local{carrier.packer,
                          carrier.length_min,
                          carrier.length_max,
                          carrier.tail,
                          carrier.restraint_at_mouths,
                          carrier.reach,
                          {},
                          {}};
            cut(carrier.may_not_cross, window, place, local.may_not_cross);
            cut(
                carrier.anchors, window, [](Centimetre at) { return at; }, local.anchors);
            // A piece without a place here must not become an ordinary carrier.
            if (!carrier.anchors.empty() && local.anchors.empty()) local.anchors = {carrier.anchors.front()};
            part.carriers.push_back(std::move(local));
        }
        return part;
    }

private:
    void sort(std::vector<Span>& spans) {
        std::sort(spans.begin(), spans.end(), [](Span a, Span b) { return a.from < b.from; });
        for (const Span span : spans) widest_ = std::max(widest_, span.to - span.from);
    }
    template <class T, class Place>
    void cut(const std::vector<T>& all, Span window, Place&& place, std::vector<T>& out) const {
        auto it = std::lower_bound(all.begin(), all.end(), window.from - widest_,
                                   [&](const T& item, Centimetre at) { return place(item) < at; });
        for (; it != all.end() && place(*it) <= window.to; ++it) out.push_back(*it);
    }

    Problem sorted_;
    Centimetre widest_ = 0;
    Centimetre aside_ = 0;
};

/// The target with those near enough to want the same wall, none of which is `left_out`; their places in the problem.
std::vector<int> neighbours(const Problem& problem, int target, const std::vector<int>& left_out) {
    constexpr int near = 6;
    std::vector<int> places;
    const int count = static_cast<int>(problem.targets.size());
    for (int i = std::max(0, target - near); i < std::min(count, target + near + 1); ++i) {
        if (i == target || !std::binary_search(left_out.begin(), left_out.end(), i)) places.push_back(i);
    }
    return places;
}

Obstacle find_obstacle(const Problem& problem, const Neighbourhood& neighbourhood, const Pricer& price, int target,
                       bool alone, const std::vector<int>& left_out) {
    Obstacle obstacle;
    obstacle.target = target;
    const auto places = alone ? std::vector<int>{target} : neighbours(problem, target, left_out);
    const auto target_at = [&](int i) { return problem.targets[static_cast<std::size_t>(i)]; };
    Problem part = neighbourhood.around({target_at(places.front()).from, target_at(places.back()).to});
    for (const int i : places) part.targets.push_back(target_at(i));
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
    if (uncovered.empty()) return obstacles;
    const Neighbourhood neighbourhood{problem};
    for (const int target : uncovered) {
        const bool is_alone = std::binary_search(alone.begin(), alone.end(), target);
        obstacles.push_back(
            find_obstacle(problem, neighbourhood, price, target, is_alone, is_alone ? alone : uncovered));
    }
    return obstacles;
}

}  // namespace patchwright::layout
