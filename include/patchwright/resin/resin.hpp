#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "patchwright/job/yard.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// How much resin, of which part, in which kits, in which mixes.
namespace patchwright::resin {

struct Need {
    Mass total{}, part_a{}, part_b{};  ///< to weigh; a + b = total to the gram
    Volume volume_a{}, volume_b{}, volume{};
    Mass void_mass{}, excess{}, shrinkage{}, fixed{};
    Length roller_gap{};
    Volume container{};  ///< least volume of the mixing pot
};
/// Void volume of the felt * (1 + excess) / (1 - shrinkage) * mixed density + fixed loss. 1/rho = sum w_i / rho_i.
Need need(const job::Resin& resin, const job::Felt& felt, int layers, Area felt_area, const job::Limits& limits,
          Working& working);

/// One sleeve that wants resin, with the times that bind its mix (from mixing).
struct Portion {
    int patch = 0;                      ///< the caller's number
    Mass mass{};                        ///< without the fixed loss of the mix
    Duration wet_out{}, to_inflated{};  ///< hands-on times: own wet-out; from own pour to inflated and creased
    Duration inflate_by{};              ///< of this sleeve, from mixing
    int group = 0;                      ///< only portions of one group (day, resin) may share
};
struct Batch {
    std::vector<int> patches;
    Mass total{}, part_a{}, part_b{};
    Duration pour_by{};
    std::vector<std::pair<Mass, int>> kits;  ///< opened, with their count
    Mass leftover{};
};
struct BatchPlan {
    std::vector<Batch> batches;
    std::vector<std::pair<Mass, int>> kits_to_buy;
    Money purchase{};
    Mass leftover{};
    std::vector<std::string> warnings;
};
/// Whole kits that give at least `mass`, least money, then least mass. Exact (dynamic programme on a 1 g grid).
std::vector<std::pair<Mass, int>> kits_for(const std::vector<job::Kit>& kits, Mass mass);

}  // namespace patchwright::resin
