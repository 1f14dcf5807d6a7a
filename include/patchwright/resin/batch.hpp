#pragma once
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "patchwright/resin/resin.hpp"

/// Which sleeves share a mix. Method: docs/methods/resin.md.
namespace patchwright::resin {

/// One sleeve that wants resin, with the times that bind its mix (from mixing).
struct Portion {
    int patch = 0;           ///< the caller's number
    Mass mass{};             ///< without the fixed loss of the mix: `Need::in_sleeve()`
    Duration wet_out{};      ///< hands-on, the whole of its own wet-out, mixing included when it is the first
    Duration pour{};         ///< from the start of its own wet-out until its resin has left the bucket
    Duration to_inflated{};  ///< hands-on after the wet-outs: load, position, inflate
    Duration crease{};       ///< hands-on after inflating, before the next sleeve's turn
    Duration inflate_by{};   ///< of this sleeve, from mixing
    Duration crease_by{};    ///< of this sleeve, from mixing; zero: not checked
    int group = 0;           ///< only portions of one group (day, resin, access) may share
    int packer = -1;         ///< kind of packer; -1: does not matter
    int packer_count = 1;    ///< packers of that kind: sleeves of one mix need one each at the same time
};
struct Batch {
    std::vector<int> patches;  ///< in the order in which they are wet out
    Mass total{}, part_a{}, part_b{};
    Duration pour_by{};          ///< of one bucket of this mix
    int buckets = 1;             ///< above 1 only for one sleeve whose resin is too much for one bucket: equal shares
    std::vector<KitCount> kits;  ///< opened for this mix alone; empty when kits are split by weight
    Mass leftover{};             ///< of those kits
    bool holds = true;           ///< false: even on its own the sleeve breaks a limit; the warning says which
};
/// One pot of a mix: its equal share in whole grams, the same by volume, and the least pot that stirring does not
/// spill.
struct Pot {
    Mass total{}, part_a{}, part_b{};
    Volume volume_a{}, volume_b{}, container{};
};
struct BatchPlan {
    std::vector<Batch> batches;         ///< in the order of their first portion
    std::vector<KitCount> kits;         ///< all kits that are opened
    std::vector<KitCount> kits_to_buy;  ///< those of them that do not stand in the yard
    Money purchase{};                   ///< price of `kits`: what stands in the yard was paid for too
    Mass leftover{};                    ///< unmixed, in opened kits
    bool proven_optimal = true;
    std::vector<std::string> warnings;
};

/// Latest end of pouring for a mixed mass in one bucket, from mixing, by the group: its resin may be cooled.
using PourBy = std::function<Duration(Mass, int group)>;
/// Chance that a sleeve is not shaped in time, where the sleeves (the caller's numbers) of a mix go in in that order:
/// of the one at `which`.
using Late = std::function<double(const std::vector<int>& order, std::size_t which)>;

/// Groups portions into mixes. Cheapest purchase, then fewest mixes, then the order given.
///
/// A mix holds its portions one after the other in the order given: all wet-outs first, then each sleeve's load,
/// position, inflate and crease. Bucket: no more than the resin's safe pot mass, and portion k has left it by
/// `pour_by(total, group)`: wet_out_1 + ... + wet_out_(k-1) + pour_k <= pour_by. Sleeves: each inflated by its own
/// `inflate_by` and creased by its own `crease_by`, and, where `late` is given, too late with no more than the yard's
/// chance. A kit that may not be split by weight is mixed whole.
/// Exact up to 10 portions of one group (dynamic programme over subsets); beyond that neighbours in the order given
/// are joined while they fit, and `warnings` says so.
/// Throws RangeError on masses or times that are not finite or negative.
BatchPlan plan_batches(const job::Resin& resin, const std::vector<Portion>& portions, const PourBy& pour_by,
                       const job::Limits& limits, Working& working, const Late& late = {});

/// A pot of that mix, so many of which are the mix to the gram. `working` gets the mix as well: its total from the
/// resin in its sleeves, and its two parts. Throws RangeError as `weigh` does, or without pots.
Pot pot_of(const job::Resin& resin, const Batch& batch, Mass in_sleeves, const job::Limits& limits, Working& working);

/// Whether those portions (in that order) may share one bucket; the reason when not, empty when they may.
std::string why_not_together(const job::Resin& resin, const std::vector<Portion>& portions, const PourBy& pour_by,
                             const job::Limits& limits, const Late& late = {});

}  // namespace patchwright::resin
