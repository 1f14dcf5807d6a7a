#pragma once
#include <vector>

#include "search.hpp"

namespace patchwright::schedule {

/// Who does which job: the lanes of each start, the one that stays longest first.
struct Crew {
    std::vector<std::vector<int>> lanes;  ///< by place in the starts; persons counted from 0
    struct Handover {
        int first = 0, then = 0;  ///< jobs that share a person
        Minute lag = 0;           ///< from start to start, at least
    };
    std::vector<Handover> handovers;
};
Crew share_out(const Model& model, const std::vector<Partial::Start>& starts);

}  // namespace patchwright::schedule
