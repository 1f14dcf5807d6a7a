#pragma once
#include <span>
#include <utility>
#include <vector>

#include "patchwright/layout/layout.hpp"

namespace patchwright::layout {

inline constexpr Centimetre nowhere = -1;

/// Where ends may stand: the run less the open interiors of the keep-outs.
class SoundWall {
public:
    SoundWall(Centimetre run_length, std::vector<Span> keep_outs);
    bool allows(Centimetre at) const;
    Centimetre at_or_before(Centimetre at) const;  ///< `nowhere` if there is none
    Centimetre at_or_after(Centimetre at) const;   ///< `nowhere` if there is none
    Centimetre run_length() const { return run_length_; }

private:
    const Span* around(Centimetre at) const;
    Centimetre run_length_;
    std::vector<Span> spans_;  ///< disjoint interiors, in order
};

/// "A sleeve that starts before `threshold` must not end beyond `limit`": bends, closed connections and targets that
/// need a piece all have this form, and so answer in the time of one look-up.
class Barriers {
public:
    void add(Centimetre threshold, Centimetre limit) { rules_.emplace_back(threshold, limit); }
    void close();
    Centimetre limit(Centimetre start) const;  ///< largest permitted end

private:
    std::vector<std::pair<Centimetre, Centimetre>> rules_;
};

/// The targets as the search sees them. A target whose whole need lies within another's is covered with it and leaves
/// the search; the others rise strictly in both ends.
struct Needs {
    std::vector<int> listed;             ///< places in Problem::targets of all that take part, in order
    std::vector<Centimetre> start, end;  ///< of the listed: the sleeve starts at or before, ends at or after
    struct Essential {
        Centimetre start = 0, end = 0;  ///< need
        Centimetre last_start = 0;      ///< last permitted place at or before `start`
        Centimetre first_end = 0;       ///< first permitted place at or after `end`
        int listed = 0;
    };
    std::vector<Essential> essential;
    std::vector<int> without_ends;  ///< places in Problem::targets: no permitted end on one side
};

Centimetre need_start(const Problem& problem, const Target& target);
Centimetre need_end(const Problem& problem, const Target& target);
/// `left_out` is sorted, in places of Problem::targets.
Needs make_needs(const Problem& problem, const SoundWall& wall, std::span<const int> left_out);

/// Whether an anchor at `at` stands at this target's connection.
bool anchor_at_target(const Problem& problem, Centimetre at, const Target& target);

/// Throws std::invalid_argument if the problem contradicts itself.
void check(const Problem& problem);

}  // namespace patchwright::layout
