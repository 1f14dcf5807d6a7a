#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/job/resin.hpp"
#include "patchwright/packer/options.hpp"
#include "patchwright/working/working.hpp"

namespace patchwright::packer {

/// A part to lay out: "2 x end fitting", "1 x bladder, silicone, 1320 mm".
struct Part {
    int count = 1;
    std::string what;
    Length length{};  ///< of each; zero: not cut to length
};
/// A packer built from parts: what to lay out and the steps.
struct BuildCard {
    std::vector<Part> parts;
    std::vector<std::string> steps;  ///< whole sentences without figures, the bench test last
    Length bladder_cut{};            ///< sleeve + projections + fold-over on both fittings
    int layers = 1;                  ///< of bladder, one inside the other
    bool film = false;               ///< separating film over the bladder
};
/// Empty for a packer that stands built. Source of the steps: common practice, no source.
std::optional<BuildCard> build_card(const job::Yard& yard, const Option& option, Length sleeve, job::ResinKind resin,
                                    Working& working);

}  // namespace patchwright::packer
