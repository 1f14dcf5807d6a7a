#include <catch2/catch.hpp>

#include <map>
#include <set>
#include <stdexcept>
#include <tuple>

#include "runs.hpp"

using namespace layout_test;

namespace {

/// 20 m of pipe, one packer for sleeves of 30 to 120 cm; overlap 20, tolerance 5, gap and lap 10.
Problem plain_run() {
    Problem problem;
    problem.run_length = 2000;
    problem.overlap = 20;
    problem.tolerance = 5;
    problem.gap = problem.lap = 10;
    problem.carriers = {{0, 30, 120, 10, false, {{0, 2000}}, {}, {}}};
    return problem;
}

std::optional<Cost> per_centimetre(Centimetre start, Centimetre end, int, int, int) {
    return 1000 + 10 * (end - start);
}

std::vector<Candidate> chosen(const Solution& solution, std::size_t which = 0) {
    std::vector<Candidate> patches;
    for (const int i : solution.best.at(which).chosen)
        patches.push_back(solution.candidates.at(static_cast<std::size_t>(i)));
    return patches;
}

std::vector<std::pair<Centimetre, Centimetre>> places(const Solution& solution) {
    std::vector<std::pair<Centimetre, Centimetre>> result;
    for (const auto& patch : chosen(solution)) result.emplace_back(patch.start, patch.end);
    return result;
}

using Places = std::vector<std::pair<Centimetre, Centimetre>>;

Problem mirrored(const Problem& problem) {
    Problem result = problem;
    const auto turn = [&](Span span) { return Span{problem.run_length - span.to, problem.run_length - span.from}; };
    for (auto& target : result.targets) {
        const Span span = turn({target.from, target.to});
        target.from = span.from;
        target.to = span.to;
    }
    std::stable_sort(result.targets.begin(), result.targets.end(),
                     [](const Target& a, const Target& b) { return a.from < b.from; });
    for (auto& span : result.end_keep_outs) span = turn(span);
    for (auto& connection : result.connections) connection.opening = turn(connection.opening);
    for (auto& carrier : result.carriers) {
        for (auto& span : carrier.reach) span = turn(span);
        for (auto& span : carrier.may_not_cross) span = turn(span);
        for (auto& anchor : carrier.anchors) anchor = problem.run_length - anchor;
    }
    return result;
}

Solution solved(const Case& made, int k_best = 20) {
    Options options;
    options.k_best = k_best;
    options.keep_candidates = k_best > 1;
    options.law = law_of(made.tariff);
    return solve(made.problem, made.tariff, options);
}

/// Random runs whose price does not look at the place or at how the targets are numbered.
Case priced_by_length(std::uint32_t seed) {
    Case made = random_case(seed, 7, 160);
    made.tariff.kind = Tariff::Kind::linear;
    return made;
}

}  // namespace

TEST_CASE("a sleeve covers its defect with overlap and tolerance, no more", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}};
    CHECK(places(solve(problem, per_centimetre)) == Places{{475, 555}});
}

TEST_CASE("the overlap is cut off at a mouth, the packer stays in pipe unless restrained", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{5, 30}};
    const auto without = solve(problem, per_centimetre);
    CHECK(without.uncovered == std::vector<int>{0});
    REQUIRE(without.obstacles.size() == 1);
    CHECK(without.obstacles[0].rules == std::vector<Rule>{Rule::mouth});
    problem.carriers[0].restraint_at_mouths = true;
    CHECK(places(solve(problem, per_centimetre)) == Places{{0, 55}});
}

TEST_CASE("ends keep off: the borders of a keep-out are allowed", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}};
    problem.end_keep_outs = {{470, 480}, {550, 560}};
    CHECK(places(solve(problem, per_centimetre)) == Places{{470, 560}});
    problem.end_keep_outs = {{470, 475}, {555, 560}};
    CHECK(places(solve(problem, per_centimetre)) == Places{{475, 555}});
}

TEST_CASE("neighbours keep the gap or lap", "[layout]") {
    Problem problem = plain_run();
    // Needs 475-555 and 560-640: five centimetres apart, too long for one sleeve together.
    problem.targets = {{500, 530}, {585, 615}};
    auto solution = solve(problem, per_centimetre);
    REQUIRE(solution.best.front().chosen.size() == 2);
    const auto patches = chosen(solution);
    CHECK(patches[0].end - patches[1].start == 10);
    CHECK(solution.best.front().cost == 2 * 1000 + 10 * (640 - 475 + 10));
    // Earliest of all equal ones: the second starts as early as it may.
    CHECK(places(solution) == Places{{475, 555}, {545, 640}});
    problem.targets[1] = {590, 620};  // needs 565: the gap is just there
    CHECK(places(solve(problem, per_centimetre)) == Places{{475, 555}, {565, 645}});
}

TEST_CASE("a live connection is covered only if reopening is priced", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 510}, {550, 560}};
    problem.connections = {{{525, 535}, std::nullopt}};
    CHECK(solve(problem, per_centimetre).uncovered.size() == 2);  // both needs reach over it
    problem.connections[0].reopening = 700;
    const auto solution = solve(problem, per_centimetre);
    CHECK(places(solution) == Places{{475, 585}});
    CHECK(solution.best.front().cost == 1000 + 10 * 110 + 700);
}

TEST_CASE("a target that needs a piece is covered by an anchored carrier alone", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 510, 0, true}};
    problem.connections = {{{500, 510}, 100}};
    const auto without = solve(problem, per_centimetre);
    CHECK(without.uncovered == std::vector<int>{0});
    CHECK(without.obstacles.at(0).rules == std::vector<Rule>{Rule::connection});
    problem.carriers.push_back({1, 40, 80, 10, false, {{0, 2000}}, {}, {505}});
    const auto solution = solve(problem, per_centimetre);
    CHECK(places(solution) == Places{{475, 535}});
    CHECK(chosen(solution)[0].carrier == 1);
    CHECK(solution.best.front().cost == 1000 + 600);  // nothing to reopen
}

TEST_CASE("what cannot be covered is left out with the rule that stands in the way", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}, {900, 1100}, {1500, 1510}};
    const auto long_one = solve(problem, per_centimetre);
    CHECK(long_one.uncovered == std::vector<int>{1});
    REQUIRE(long_one.obstacles.size() == 1);
    CHECK(long_one.obstacles[0].rules == std::vector<Rule>{Rule::length});
    REQUIRE(long_one.obstacles[0].if_lifted);
    CHECK(long_one.obstacles[0].if_lifted->start == 875);
    CHECK(long_one.obstacles[0].if_lifted->end == 1125);
    CHECK(long_one.best.front().chosen.size() == 2);
    CHECK(long_one.proven_optimal);

    problem.targets = {{500, 530}};
    problem.carriers[0].may_not_cross = {{515, 520}};
    CHECK(solve(problem, per_centimetre).obstacles.at(0).rules == std::vector<Rule>{Rule::bend});
    problem.carriers[0].may_not_cross = {};
    problem.carriers[0].reach = {{0, 400}};
    CHECK(solve(problem, per_centimetre).obstacles.at(0).rules == std::vector<Rule>{Rule::reach});
    problem.carriers[0].reach = {{0, 2000}};
    problem.end_keep_outs = {{400, 700}};
    CHECK(solve(problem, per_centimetre).obstacles.at(0).rules == std::vector<Rule>{Rule::length, Rule::end_keep_out});
    problem.end_keep_outs = {};
    const auto dear = solve(problem, [](int, int, int, int, int) -> std::optional<Cost> { return std::nullopt; });
    CHECK(dear.obstacles.at(0).rules == std::vector<Rule>{Rule::price});
    CHECK(dear.best.empty());
    CHECK(!dear.proven_optimal);
    problem.carriers[0].reach = {{0, 400}};
    problem.carriers[0].length_max = 40;
    CHECK(solve(problem, per_centimetre).obstacles.at(0).rules.empty());  // two rules at once
}

TEST_CASE("targets that cannot be had together: as few as possible are left out", "[layout]") {
    Problem problem = plain_run();
    // Sleeves of just one length, and no end allowed where they could lap.
    problem.carriers[0].length_min = problem.carriers[0].length_max = 60;
    problem.targets = {{500, 510}, {565, 575}, {900, 910}};
    problem.end_keep_outs = {{475, 535}, {540, 600}};
    const auto solution = solve(problem, per_centimetre);
    REQUIRE(solution.uncovered.size() == 1);
    CHECK(solution.best.front().chosen.size() == 2);
    REQUIRE(solution.obstacles.size() == 1);
    const auto& rules = solution.obstacles[0].rules;
    CHECK(std::find(rules.begin(), rules.end(), Rule::gap) != rules.end());
    CHECK(std::find(rules.begin(), rules.end(), Rule::length) != rules.end());
}

TEST_CASE("among equals the earliest", "[layout]") {
    Problem problem = plain_run();
    problem.carriers[0].length_min = 80;  // 30 cm to spare over a need of 50
    problem.targets = {{500, 500}};
    CHECK(places(solve(problem, per_centimetre)) == Places{{445, 525}});
}

TEST_CASE("the k best are the cheapest kinds of covering sets", "[layout]") {
    for (std::uint32_t seed = 1; seed <= 80; ++seed) {
        CAPTURE(seed);
        const Case made = random_case(seed, 5, 90);
        const auto solution = solved(made);
        if (!solution.uncovered.empty() || solution.candidates.size() > 600) continue;
        // Every set of candidates in which each sleeve covers a target that no other does, by kind.
        using Kind = std::vector<std::tuple<int, int, int>>;
        std::map<Kind, Cost> kinds;
        std::vector<const Candidate*> stack;
        const auto count = made.problem.targets.size();
        const auto covers = [&](const Candidate& c, std::size_t t) {
            const auto& target = made.problem.targets[t];
            const Centimetre margin = made.problem.overlap + made.problem.tolerance;
            return c.start <= std::max(0, target.from - margin) &&
                   c.end >= std::min(made.problem.run_length, target.to + margin);
        };
        const auto finish = [&] {
            std::vector<int> times(count, 0);
            for (std::size_t t = 0; t < count; ++t) {
                for (const auto* c : stack) times[t] += covers(*c, t) ? 1 : 0;
                if (times[t] == 0) return;
            }
            Kind kind;
            Cost cost = 0;
            for (const auto* c : stack) {
                bool own = false;
                for (std::size_t t = 0; t < count; ++t) own |= times[t] == 1 && covers(*c, t);
                if (!own) return;
                kind.emplace_back(c->carrier, c->first_target, c->last_target);
                cost += c->cost;
            }
            const auto [it, fresh] = kinds.try_emplace(kind, cost);
            if (!fresh) it->second = std::min(it->second, cost);
        };
        std::size_t steps = 0;
        const auto grow = [&](const auto& self, std::size_t from) -> void {
            if (++steps > 60000) return;
            finish();
            for (std::size_t i = from; i < solution.candidates.size(); ++i) {
                const auto& c = solution.candidates[i];
                bool fits = true;
                for (const auto* o : stack) {
                    const bool apart = c.start - o->end >= made.problem.gap || o->end - c.start >= made.problem.lap;
                    fits &= apart && c.start > o->start && c.end > o->end;
                }
                // A target before this start must be covered by now.
                for (std::size_t t = 0; t < count && fits; ++t) {
                    const Centimetre need =
                        std::max(0, made.problem.targets[t].from - made.problem.overlap - made.problem.tolerance);
                    fits = need >= c.start ||
                           std::any_of(stack.begin(), stack.end(), [&](const Candidate* o) { return covers(*o, t); });
                }
                if (!fits) continue;
                stack.push_back(&c);
                self(self, i + 1);
                stack.pop_back();
            }
        };
        grow(grow, 0);
        if (steps > 60000) continue;
        std::vector<Cost> costs;
        for (const auto& [kind, cost] : kinds) costs.push_back(cost);
        std::sort(costs.begin(), costs.end());
        if (costs.size() > 20) costs.resize(20);
        std::vector<Cost> found;
        std::set<Kind> seen;
        for (std::size_t k = 0; k < solution.best.size(); ++k) {
            Kind kind;
            for (const auto& c : chosen(solution, k)) kind.emplace_back(c.carrier, c.first_target, c.last_target);
            CHECK(seen.insert(kind).second);
            CHECK(violations(made.problem, chosen(solution, k)).empty());
            found.push_back(solution.best[k].cost);
        }
        CHECK(found == costs);
    }
}

TEST_CASE("one more carrier never costs more, one more defect never less, a mirrored run the same", "[layout]") {
    int carriers = 0, defects = 0, mirrors = 0;
    for (std::uint32_t seed = 5001; seed <= 5900; ++seed) {
        CAPTURE(seed);
        const Case made = priced_by_length(seed);
        const auto solution = solved(made, 1);
        if (!solution.uncovered.empty()) continue;
        const Cost cost = solution.best.front().cost;

        Case turned = made;
        turned.problem = mirrored(made.problem);
        const auto mirror = solved(turned, 1);
        REQUIRE(!mirror.best.empty());
        CHECK(mirror.best.front().cost == cost);
        ++mirrors;

        if (made.problem.carriers.size() > 1) {
            Case fewer = made;
            fewer.problem.carriers.pop_back();
            const auto other = solved(fewer, 1);
            if (other.uncovered.empty()) {
                CHECK(other.best.front().cost >= cost);
                ++carriers;
            }
        }
        if (made.problem.targets.size() > 1) {
            Case fewer = made;
            fewer.problem.targets.erase(fewer.problem.targets.begin() +
                                        static_cast<int>(seed % made.problem.targets.size()));
            const bool piece_left_open = made.problem.targets.size() != fewer.problem.targets.size() + 1;
            REQUIRE(!piece_left_open);
            const auto other = solved(fewer, 1);
            REQUIRE(other.uncovered.empty());
            CHECK(other.best.front().cost <= cost);
            ++defects;
        }
    }
    CHECK(mirrors >= 150);
    CHECK(carriers >= 30);
    CHECK(defects >= 100);
}

TEST_CASE("a price that falls with length is found out and answered exactly", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}};
    const auto odd = [](Centimetre start, Centimetre end, int, int, int) -> std::optional<Cost> {
        return end - start == 93 ? 100 : 1000 + (end - start);
    };
    const auto solution = solve(problem, odd);
    CHECK(solution.best.front().cost == 100);
    CHECK(places(solution) == Places{{462, 555}});
    // Stated as rising though it is not: seen, because a joint is priced beside the first end.
    problem.targets = {{500, 530}, {585, 615}};
    Options options;
    options.law = PriceLaw::rising;
    const auto falling = [](Centimetre start, Centimetre end, int, int, int) -> std::optional<Cost> {
        return 9000 - 10 * (end - start);
    };
    Options any;
    any.law = PriceLaw::any;
    CHECK(solve(problem, falling, options).best.front().cost == solve(problem, falling, any).best.front().cost);
}

TEST_CASE("what is kept does not change the answer", "[layout]") {
    for (std::uint32_t seed = 7001; seed <= 7200; ++seed) {
        const Case made = random_case(seed, 8, 300);
        Options options;
        options.law = law_of(made.tariff);
        const auto whole = solve(made.problem, made.tariff, options);
        options.keep_candidates = false;
        const auto slim = solve(made.problem, made.tariff, options);
        REQUIRE(whole.best.size() == slim.best.size());
        for (std::size_t k = 0; k < whole.best.size(); ++k) CHECK(chosen(whole, k) == chosen(slim, k));
        options.k_best = 1;
        const auto single = solve(made.problem, made.tariff, options);
        REQUIRE(single.best.empty() == whole.best.empty());
        if (!single.best.empty()) CHECK(chosen(single) == chosen(whole));
    }
}

TEST_CASE("the checker finds each broken rule", "[layout]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}, {800, 830}};
    problem.end_keep_outs = {{490, 540}};
    problem.connections = {{{900, 910}, std::nullopt}};
    const std::vector<Candidate> good{{475, 555, 0, 0, 0, 0}, {775, 855, 0, 1, 1, 0}};
    CHECK(violations(problem, good).empty());
    const auto wrong = [&](Candidate first, Candidate second) {
        return violations(problem, std::vector<Candidate>{first, second}).size();
    };
    CHECK(wrong({476, 555, 0, 0, 0, 0}, good[1]) >= 1);  // overlap
    CHECK(wrong({475, 535, 0, 0, 0, 0}, good[1]) >= 1);  // an end in the keep-out
    CHECK(wrong({475, 600, 0, 0, 0, 0}, good[1]) == 1);  // too long
    CHECK(wrong(good[0], {800, 905, 0, 1, 1, 0}) >= 1);  // closes the connection
    CHECK(wrong(good[0], {775, 855, 1, 1, 1, 0}) >= 1);  // no such carrier
    CHECK(wrong(good[0], {775, 855, 0, 0, 1, 0}) == 1);  // claims too much
    CHECK(wrong({475, 595, 0, 0, 0, 0}, {590, 700, 0, 1, 1, 0}) >= 1);
    problem.carriers[0].reach = {{0, 860}};
    CHECK(violations(problem, good).size() == 1);  // the tail is beyond the reach
    problem.carriers[0].reach = {{0, 2000}};
    problem.carriers[0].may_not_cross = {{520, 520}};
    CHECK(violations(problem, good).size() == 1);
}

TEST_CASE("a problem that contradicts itself is refused", "[layout][error]") {
    Problem problem = plain_run();
    problem.targets = {{500, 530}, {400, 410}};
    CHECK_THROWS_AS(solve(problem, per_centimetre), std::invalid_argument);
    problem.targets = {{500, 2001}};
    CHECK_THROWS_AS(solve(problem, per_centimetre), std::invalid_argument);
    problem.targets = {{500, 530}};
    CHECK_THROWS_AS(solve(problem, [](int, int, int, int, int) -> std::optional<Cost> { return -1; }),
                    std::invalid_argument);
    problem.carriers[0].length_min = 200;
    CHECK_THROWS_AS(solve(problem, per_centimetre), std::invalid_argument);
    problem = plain_run();
    problem.gap = -1;
    CHECK_THROWS_AS(solve(problem, per_centimetre), std::invalid_argument);
}
