#pragma once
#include <cstdint>
#include <vector>

#include "patchwright/layout/layout.hpp"

namespace patchwright::layout {

/// The chains of sleeves that are still of use, sharing their beginnings. A sleeve that no chain needs any more is
/// dropped, so that the memory is that of the chains alive.
class Trails {
public:
    static constexpr int root = 0;
    Trails() { nodes_.push_back({}); }

    int extend(int before, const Candidate& sleeve);  ///< the new trail is held once
    void hold(int trail) { ++nodes_[static_cast<std::size_t>(trail)].holders; }
    void release(int trail);

    int before(int trail) const { return nodes_[static_cast<std::size_t>(trail)].before; }
    const Candidate& sleeve(int trail) const { return nodes_[static_cast<std::size_t>(trail)].sleeve; }

    /// Same carriers on the same targets all the way.
    bool same_kind(int a, int b) const {
        // The hash only saves work: equality is decided by the sleeves.
        return nodes_[static_cast<std::size_t>(a)].kind == nodes_[static_cast<std::size_t>(b)].kind &&
               same_carriers_and_targets(a, b);
    }
    /// The first sleeve that differs starts earlier (then: ends earlier, has the smaller carrier). Same length only.
    bool earlier(int a, int b) const;
    std::vector<Candidate> sleeves(int trail) const;

private:
    bool same_carriers_and_targets(int a, int b) const;
    struct Node {
        Candidate sleeve;
        int before = -1;
        int holders = 0;
        std::uint64_t kind = 0;  ///< hash of the carriers and targets up to here
    };
    std::vector<Node> nodes_;
    std::vector<int> free_;
};

}  // namespace patchwright::layout
