#pragma once
#include <vector>

#include "search.hpp"

namespace patchwright::layout {

/// Another way for one part of the run, and what it costs more than the part's best.
struct Detour {
    Cost cost = 0;
    int patches = 0;
    std::int64_t lined = 0;
    int part = 0;
    std::vector<Candidate> sleeves;
};

/// The k best layouts: the best of each part, and which detours each layout takes.
struct Assembly {
    std::vector<Candidate> sleeves;   ///< of the best, in order
    std::vector<std::size_t> begins;  ///< where the sleeves of each part begin; one more than the parts
    std::vector<Detour> detours;
    std::vector<std::vector<int>> taken;  ///< per layout: places in `detours`, in order of parts; the best takes none
    Cost cost = 0, bound = 0;
    std::vector<int> unreachable;  ///< essential targets that no candidate covers
    std::vector<Part> closed;      ///< parts that have no answer although each target has candidates
};

/// Splits the run where nothing on one side can touch the other, and solves each part.
Assembly assemble(const Problem& problem, const Needs& needs, Generator& generator, int k_best);

}  // namespace patchwright::layout
