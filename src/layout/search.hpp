#pragma once
#include <vector>

#include "generate.hpp"

namespace patchwright::layout {

/// One covering set of sleeves, in order of start.
struct Chain {
    std::vector<Candidate> sleeves;
    Cost cost = 0;
    int skipped = 0;  ///< essential targets left out
};

struct Found {
    std::vector<Chain> best;
    Cost bound = 0;               ///< no chain with as few left out costs less
    std::vector<bool> reachable;  ///< per essential target: some candidate covers it
};

/// Shortest-path search over chains of sleeves, a window of candidates at a time; docs/methods/layout.md, "The search".
/// `may_skip`: essential targets may be left out, as few as possible. `kept`, if given, receives every candidate.
Found search(const Problem& problem, const Needs& needs, Generator& generator, int k_best, bool may_skip,
             std::vector<Candidate>* kept);

}  // namespace patchwright::layout
