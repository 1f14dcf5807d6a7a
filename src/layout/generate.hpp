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

/// Makes the candidates in order of their start, one group per first essential target, so that the search needs only
/// a window of them. What is made and why it is enough: docs/methods/layout.md, "The candidates".
class Generator {
public:
    /// `exhaustive`: every sleeve that covers a target; otherwise those that PriceLaw::rising leaves.
    Generator(const Problem& problem, const SoundWall& wall, const Needs& needs, const Pricer& price, bool exhaustive);

    /// All candidates whose first essential target is `first`, by start, end, carrier. Call with first = 0, 1, 2, ...
    void group(int first, std::vector<Placed>& out);
    /// The pricer contradicted PriceLaw::rising.
    bool law_broken() const { return law_broken_; }

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

    void find_joints();
    void find_starts(int first, std::vector<Centimetre>& starts) const;
    void ends_from(int first, Centimetre start, Centimetre low, Centimetre high, std::vector<Centimetre>& ends) const;
    void sleeves_from(int first, Centimetre start, bool joint, int carrier, std::vector<Placed>& out);
    bool try_add(int first, Centimetre start, Centimetre end, int carrier, std::vector<Placed>& out);
    Cost reopening(Centimetre start, Centimetre end, const Carrier& carrier) const;

    const Problem& problem_;
    const SoundWall& wall_;
    const Needs& needs_;
    const Pricer& price_;
    bool exhaustive_;
    bool law_broken_ = false;
    std::vector<CarrierRules> rules_;
    std::vector<Anchored> anchored_;  ///< in order of start
    std::size_t next_anchored_ = 0;
    Centimetre longest_minimum_ = 0;       ///< of ordinary carriers
    Centimetre longest_ = 0;               ///< of ordinary carriers
    std::vector<Centimetre> first_joint_;  ///< per essential target: starts from here to last_start may be joints
    std::vector<Centimetre> last_joint_;   ///< per essential target: ends from first_end to here may be joints
    std::vector<std::pair<Centimetre, Cost>> opens_, shuts_;  ///< openings by from and by to, reopening prices summed
    std::vector<Centimetre> ends_, starts_;
};

}  // namespace patchwright::layout
