#pragma once
#include <vector>

#include "generate.hpp"

namespace patchwright::layout {

/// One covering set of sleeves, in order of start.
struct Chain {
    std::vector<Candidate> sleeves;
    Cost cost = 0;
    int patches = 0;
    std::int64_t lined = 0;
    int skipped = 0;  ///< essential targets left out
};

struct Found {
    std::vector<Chain> best;
    Cost bound = 0;               ///< no chain with as few left out costs less
    std::vector<bool> reachable;  ///< per essential target of the part: some candidate covers it
};

/// Essential targets begin..end-1.
struct Part {
    int begin = 0, end = 0;
};

struct Effort {
    int k_best = 1;
    bool may_skip = false;  ///< essential targets may be left out, as few as possible
    Detail detail = Detail::all;
};

/// Shortest-path search over chains of sleeves, a window of candidates at a time; docs/methods/layout.md, "The search".
Found search(const Problem& problem, const Needs& needs, Generator& generator, Part part, const Effort& effort);

}  // namespace patchwright::layout
