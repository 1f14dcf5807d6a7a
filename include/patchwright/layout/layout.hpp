#pragma once
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

/// Where patches go along one run. Knows plain rules in whole centimetres and a price callback; not pipes, felt or
/// money. The rules, the search and the proof that it misses nothing: docs/methods/layout.md.
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
    int defect = 0;  ///< the caller's number
    /// Only a carrier anchored at this target's connection covers it, and no other sleeve may lie over it. An anchor
    /// is at the target when it stands within [from, to] or within the opening of a connection that touches [from, to].
    bool needs_piece = false;
};

/// A live connection. A sleeve may not cover it unless the carrier is anchored on it or reopening is priced. A sleeve
/// covers it when start < opening.to and end > opening.from.
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
    std::vector<Span> reach;           ///< the sleeve with its tails (cut off at the mouths) lies inside one of these
    std::vector<Span> may_not_cross;   ///< bends, size changes: the sleeve's interior may not meet them
    /// Junction pieces: the sleeve's middle must stand on one of these, to half a centimetre (odd lengths). Empty: an
    /// ordinary carrier.
    std::vector<Centimetre> anchors;
};

struct Problem {
    Centimetre run_length = 0;
    std::vector<Target> targets;      ///< in order of `from`
    std::vector<Span> end_keep_outs;  ///< tolerance included; touching spans leave their common border free
    std::vector<Connection> connections;
    std::vector<Carrier> carriers;
    Centimetre overlap = 0, tolerance = 0, gap = 0, lap = 0;
};

/// A patch that may be placed: sleeve from start to end on a carrier.
struct Candidate {
    Centimetre start = 0, end = 0;
    int carrier = 0;  ///< place in Problem::carriers
    /// Covers targets first..last (places in Problem::targets), both included, less those in Solution::uncovered.
    int first_target = 0, last_target = 0;
    Cost cost = 0;  ///< marginal, with reopenings
    constexpr bool operator==(const Candidate&) const = default;
};

/// Marginal cost of a real design of that sleeve, not negative and without reopenings; nullopt: no design holds (too
/// thick, no felt, no pressure window). Must depend on nothing but its arguments. `first..last` are the targets that
/// the sleeve covers.
using Pricer = std::function<std::optional<Cost>(Centimetre start, Centimetre end, int carrier, int first, int last)>;

/// What may be taken for granted about a pricer. The answer is exact under each.
enum class PriceMonotonicity : std::uint8_t {
    none,  ///< nothing: every sleeve that covers a target is priced, a centimetre at a time
    /// Of two sleeves on one carrier, one within the other, the inner is never dearer, nor without a design when the
    /// outer has one. Checked on every two prices asked with the same start; the search falls back to `none` if broken.
    rising,
};

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
    int k_best = 20;              ///< fewer come back from where places stand close; docs/methods/layout.md
    bool keep_candidates = true;  ///< false: only the chosen ones are kept (memory)
    PriceMonotonicity monotonicity = PriceMonotonicity::none;
};

struct Solution {
    std::vector<Candidate> candidates;  ///< every undominated feasible one, by start, end, carrier
    /// Cheapest first, at most k; empty: nothing can be covered. Two layouts differ in the carrier or the targets of
    /// some patch, not merely by centimetres: each stands at its own best places.
    std::vector<Layout> best;
    bool proven_optimal = false;  ///< best[0].cost <= bound
    Cost bound = 0;  ///< no set of patches for the targets not left out costs less, by the search's own book
    std::vector<Obstacle> obstacles;  ///< one for each target left out
    std::vector<int> uncovered;       ///< targets left out so that the rest has an answer
};

/// The cheapest sets of candidates that cover every target, exactly as "Layout, stated exactly" in
/// docs/methods/layout.md. Among equal costs: fewest patches, then least lined length, then earliest (the first start
/// that differs is the smaller). Targets that no candidate can cover are left out, reported, and the rest is solved; if
/// all can be covered alone but not together, as few as possible are left out.
///
/// Time n log n at fixed density under PriceMonotonicity::rising. Throws std::invalid_argument if the problem
/// contradicts itself (targets out of order or outside the run, negative lengths, a negative price).
[[nodiscard]] Solution solve(const Problem& problem, const Pricer& price, const Options& options = {});

/// Independent check of one answer by the rules alone; empty means that it keeps them all.
[[nodiscard]] std::vector<std::string> violations(const Problem& problem, std::span<const Candidate> patches);

}  // namespace patchwright::layout
