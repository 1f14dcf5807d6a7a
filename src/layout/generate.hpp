#pragma once
#include <cstdint>
#include <stdexcept>
#include <vector>

#include "ground.hpp"

namespace patchwright::layout {

/// A candidate with its place in the search: first and last essential target.
struct Placed {
    Candidate candidate;
    int first = 0, last = 0;
};

enum class Detail : std::uint8_t {
    few,  ///< each in its most likely places: enough for a good answer, not for a proof
    all,  ///< all that an optimum may need
};

/// What a candidate may cost: no less than `before` it, itself and `after` it, and together no more than `most`.
struct Limit {
    static constexpr Cost none = INT64_MAX / 4;
    int begin = 0;             ///< first essential target of the part
    std::vector<Cost> before;  ///< at least that much covers begin..i-1 of the part; one more than its targets
    std::vector<Cost> after;   ///< at least that much covers i..end-1 of the part
    std::vector<Cost>
        least;  ///< of a sleeve over targets f..l: rows of carriers, from `row[f - begin]` on for l = f, ...
    std::vector<std::size_t> row;
    Cost most = none;
};

/// Makes the candidates in order of their start, one group per first essential target, so that the search needs only
/// a window of them. What is made and why it is enough: docs/methods/layout.md, "The candidates".
class Generator {
public:
    /// `exhaustive`: every sleeve that covers a target; otherwise those that PriceMonotonicity::rising leaves.
    Generator(const Problem& problem, const SoundWall& wall, const Needs& needs, const Pricer& price, bool exhaustive);

    /// All candidates whose first essential target is `first` and that keep the limit, by start, end, carrier.
    void group(int first, Detail detail, std::vector<Placed>& out);
    /// Lower bounds for the part begin..end-1; false if it has anchored sleeves, to which they do not apply.
    bool make_limit(int begin, int end, Limit& limit) const;
    void keep_to(const Limit* limit) { limit_ = limit; }
    /// Nothing covers `last` together with the target after it, and no sleeve on one side can be too near one on the
    /// other.
    bool parts_after(int last) const { return parts_[static_cast<std::size_t>(last)]; }
    bool exhaustive() const { return exhaustive_; }
    /// The pricer contradicted PriceMonotonicity::rising.
    bool not_rising() const { return not_rising_; }

    /// Largest permitted end of a sleeve of an ordinary carrier from `start`; less than `start` if there is none.
    Centimetre largest_end(int carrier, Centimetre start) const;

private:
    struct CarrierRules {
        Barriers barriers;
        std::vector<std::pair<Centimetre, Centimetre>> reach;  ///< from what start on, up to what end (prefix maxima)
        Centimetre first_start = 0, last_end = 0;
    };
    struct Anchored {
        Centimetre start = 0, end = 0;
        int carrier = 0;
    };
    CarrierRules rules_for(const Carrier& carrier) const;
    void add_barriers(CarrierRules& rules, const Carrier& carrier) const;
    Centimetre reach_limit(const CarrierRules& rules, const Carrier& carrier, Centimetre start) const;
    void place_anchored(int carrier);
    bool anchored_may_lie(const Carrier& carrier, Centimetre at, Centimetre start, Centimetre end) const;

    struct Extent {
        Centimetre nearest_start = 0, furthest_end = 0;  ///< of sleeves with that target as their first, their last
        Centimetre drawn_up = 0, drawn_in = 0;           ///< to where the least length lets a start, an end be trimmed
    };
    void find_parts();
    std::vector<Extent> extents() const;
    void find_joints(std::vector<Extent>& extents);
    bool widen_joints(std::vector<Extent>& extents);
    void find_carriers(int first);
    void starts_for(int first, Detail detail);
    void ends_from(int first, Centimetre low, Centimetre high, std::vector<Centimetre>& ends) const;
    void likely_ends(int first, Centimetre low, Centimetre high, std::vector<Centimetre>& ends) const;
    struct Start {
        Centimetre at = 0;
        Centimetre next = 0;  ///< permitted place; `nowhere` if there is none
    };
    void sleeves_from(int first, Start from, Detail detail, int carrier, std::vector<Placed>& out);
    bool promising(int carrier, int first, int last) const;
    int last_covered(int first, Centimetre end) const;
    Span listed(Centimetre start, Centimetre end) const;
    enum class Added : std::uint8_t { yes, beyond_limit, no_design };
    Added try_add(int first, Centimetre start, Centimetre end, int carrier, std::vector<Placed>& out);
    Cost reopening(Centimetre start, Centimetre end, const Carrier& carrier) const;

    const Problem& problem_;
    const SoundWall& wall_;
    const Needs& needs_;
    const Pricer& price_;
    bool exhaustive_;
    bool not_rising_ = false;
    std::vector<CarrierRules> rules_;
    std::vector<Anchored> anchored_;  ///< in order of start
    const Limit* limit_ = nullptr;
    std::vector<bool> parts_;
    Centimetre longest_minimum_ = 0;       ///< of ordinary carriers
    Centimetre longest_ = 0;               ///< of ordinary carriers
    std::vector<Centimetre> first_joint_;  ///< per essential target: starts from here to last_start may be joints
    std::vector<Centimetre> last_joint_;   ///< per essential target: ends from first_end to here may be joints
    std::vector<std::pair<Centimetre, Cost>> opens_, shuts_;  ///< openings by from and by to, reopening prices summed
    std::vector<Centimetre> ends_, starts_;
    std::vector<int> carriers_;  ///< ordinary ones that are worth trying for the group
};

}  // namespace patchwright::layout
