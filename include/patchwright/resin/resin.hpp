#pragma once
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "patchwright/job/felt.hpp"
#include "patchwright/job/limits.hpp"
#include "patchwright/job/resin.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// How much resin, of which part, in which kits. Which sleeves share a mix: `resin/batch.hpp`.
/// Method: docs/methods/resin.md.
namespace patchwright::resin {

/// A mass of mixed resin and its two parts, to weigh: whole grams, a + b = total exactly.
struct Weights {
    Mass total{}, part_a{}, part_b{};
};
/// Splits a mixed mass by the resin's ratio. The total is first rounded up to a whole gram, part A to the nearest
/// gram, and part B is what is left: at most half a gram off the ratio.
/// Throws RangeError unless mass is finite, not negative and at most 1000 kg, and both parts of the ratio are positive.
Weights weigh(const job::Resin& resin, Mass mixed);

/// Density of the mixed resin, ideal mixing: 1 / rho = w_a / rho_a + w_b / rho_b, w the shares by mass.
Density mixed_density(const job::Resin& resin);
/// Litres of part B to one litre of part A: (parts_b / rho_b) / (parts_a / rho_a).
double b_to_a_by_volume(const job::Resin& resin);

/// What one sleeve needs, mixed on its own.
struct Need {
    Mass total{}, part_a{}, part_b{};  ///< to weigh; a + b = total to the gram
    Volume volume_a{}, volume_b{}, volume{};
    Mass void_mass{}, excess{}, shrinkage{}, fixed{};  ///< the build-up; total is their sum rounded up to the gram
    Length roller_gap{};
    Volume container{};                                                ///< least volume of the mixing pot
    Mass in_sleeve() const { return void_mass + excess + shrinkage; }  ///< without the fixed loss: shared mixes add one
};
/// Void volume * (1 + excess) / (1 - shrinkage) * mixed density + fixed loss.
///
/// Void volume = felt thickness * felt area * void fraction; `felt_area` is the felt of ALL layers and plies
/// (`liner::CutSizes::felt_area`). Roller gap: a sewn tube goes through flat and whole, so roller factor * thickness *
/// layers; a sheet is rolled out one layer at a time, so half that factor on its one thickness.
/// The pot holds one and a half times the mixed volume, so that stirring does not spill.
/// Throws RangeError on a void fraction outside (0, 1), a shrinkage outside [0, 0.2], an excess outside [0, 1],
/// no layers, or a size, density or loss that is not a number, negative or (size, density) zero.
Need need(const job::Resin& resin, const job::Felt& felt, int layers, Area felt_area, const job::Limits& limits,
          Working& working);

/// The sleeve's wall as it cures: the fibre, and as much resin as its voids hold. What is mixed in excess, for
/// shrinkage or lost is not in the wall.
struct WetFelt {
    double resin_fraction = 0.0;  ///< of the mass
    Density density{};            ///< phi rho + m" / t: void fraction, mixed density, fibre's areal mass, thickness
};
/// Throws RangeError as `need` does.
WetFelt wet_felt(const job::Resin& resin, const job::Felt& felt);

/// Kits of one size.
struct KitCount {
    Mass kit{};  ///< each
    int count = 0;
};

/// Whole kits that give at least `mass`: least money, then least mass, then fewest kits, then the larger kits.
/// Exact up to 1000 kg: dynamic programme on a grid of the kits' greatest common divisor, at finest 1 g. Of what goes
/// beyond, kits of the least price per mass. Largest kit first.
/// Empty for no mass. Throws InputError when there is no kit with a mass or the prices are in different currencies,
/// RangeError for a mass or kit that is not finite or negative, a kit above 1000 kg, or more than 1e9 kits.
std::vector<KitCount> kits_for(const std::vector<job::Kit>& kits, Mass mass);
/// The price of kits picked by `kits_for`.
Money price_of(const std::vector<job::Kit>& kits, const std::vector<KitCount>& picked);

}  // namespace patchwright::resin
