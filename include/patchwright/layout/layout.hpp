#pragma once
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

/// Where patches go along one run. Knows plain rules in whole centimetres and a price callback; not pipes, felt or
/// money.
namespace patchwright::layout {

using Centimetre = std::int32_t;
using Cost = std::int64_t;  ///< cents

/// Closed span from..to of the run. For keep-outs the open interior is forbidden, the two borders are allowed.
struct Span {
    Centimetre from = 0, to = 0;
    constexpr bool operator==(const Span&) const = default;
};

/// A defect that a patch must cover: [from, to], rounded outwards.
struct Target {
    Centimetre from = 0, to = 0;
    int defect = 0;            ///< the caller's number
    bool needs_piece = false;  ///< only a carrier anchored at this target's connection covers it
};

/// A live connection. A sleeve may not cover it unless the carrier is anchored on it or reopening is priced.
struct Connection {
    Span opening;                   ///< the hole itself
    std::optional<Cost> reopening;  ///< price of covering it and cutting it open again; nullopt: not allowed
};

/// A packer as the layout sees it.
struct Carrier {
    int packer = 0;  ///< the caller's number
    Centimetre length_min = 0, length_max = 0;
    Centimetre tail = 0;               ///< packer beyond the sleeve at each end; must lie in pipe
    bool restraint_at_mouths = false;  ///< the tail may stick out of a mouth (restraint sleeve)
    std::vector<Span> reach;           ///< the sleeve with its tails must lie inside one of these
    std::vector<Span> may_not_cross;   ///< bends, size changes: the sleeve's interior may not meet them
    std::vector<Centimetre> anchors;   ///< junction pieces: the sleeve's middle must stand on one of these
};

struct Problem {
    Centimetre run_length = 0;
    std::vector<Target> targets;      ///< in order of `from`
    std::vector<Span> end_keep_outs;  ///< merged and in order; tolerance included
    std::vector<Connection> connections;
    std::vector<Carrier> carriers;
    Centimetre overlap = 0, tolerance = 0, gap = 0, lap = 0;
};

/// A patch that may be placed: sleeve from start to end on a carrier.
struct Candidate {
    Centimetre start = 0, end = 0;
    int carrier = 0;                        ///< place in Problem::carriers
    int first_target = 0, last_target = 0;  ///< covers targets first..last (places in Problem::targets), both included
    Cost cost = 0;                          ///< marginal, with reopenings
};

/// Marginal cost of a real design of that sleeve; nullopt: no design holds (too thick, no felt, no pressure window).
/// Must depend on nothing but its arguments. `first..last` are the targets inside the sleeve.
using Pricer = std::function<std::optional<Cost>(Centimetre start, Centimetre end, int carrier, int first, int last)>;

struct Layout {
    std::vector<int> chosen;  ///< places in Solution::candidates, by start
    Cost cost = 0;
};

/// Why a target stays uncovered and what would lift it, found by solving again with the rule lifted.
enum class Rule : std::uint8_t { none, length, reach, bend, end_keep_out, connection, mouth, gap, price };
struct Obstacle {
    int target = 0;
    std::vector<Rule> rules;             ///< each alone would make it coverable; empty: several at once
    std::optional<Candidate> if_lifted;  ///< the cheapest patch with the first rule lifted
};

struct Options {
    int k_best = 20;
    bool keep_candidates = true;  ///< false: only the chosen ones are kept (memory)
};

struct Solution {
    std::vector<Candidate> candidates;  ///< every undominated feasible one, by start, end, carrier
    std::vector<Layout> best;           ///< cheapest first, at most k; empty: no set covers every target
    bool proven_optimal = false;        ///< from the search's own bound
    std::vector<Obstacle> obstacles;    ///< when `best` is empty or a target had to be left out
    std::vector<int> uncovered;         ///< targets left out so that the rest has an answer
};

/// The cheapest sets of candidates that cover every target, exactly as "Layout, stated exactly" in
/// docs/methods/layout.md. Among equal costs: fewest patches, then least lined length, then earliest. Targets that no
/// candidate can cover are left out, reported, and the rest is solved.
Solution solve(const Problem& problem, const Pricer& price, const Options& options = {});

/// Independent check of one answer by the rules alone; empty means that it keeps them all.
std::vector<std::string> violations(const Problem& problem, std::span<const Candidate> patches);

}  // namespace patchwright::layout
