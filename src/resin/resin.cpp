#include "patchwright/resin/resin.hpp"

#include <cmath>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"
#include "pot.hpp"

namespace patchwright::resin {
namespace {

constexpr double pot_filling = 1.5;  // pot volume / mixed volume, common practice
constexpr Mass max_mass = 1000.0 * unit::kg;

constexpr Symbol void_inputs[] = {{"t", "thickness of one layer under pressure", Show::thickness},
                                  {"A", "felt area of all layers", Show::area},
                                  {"phi", "void fraction of the felt", Show::ratio}};
constexpr Formula void_volume_formula{
    "resin.void-volume", {"Vv", "voids in the felt", Show::millilitres},  "Vv = t * A * phi",
    void_inputs,         "geometry; derived here, docs/methods/resin.md", "resin"};
constexpr Symbol density_inputs[] = {{"a", "parts of A by mass", Show::ratio},
                                     {"b", "parts of B by mass", Show::ratio},
                                     {"rho_a", "density of part A", Show::density},
                                     {"rho_b", "density of part B", Show::density}};
constexpr Formula density_formula{"resin.mixed-density",
                                  {"rho", "density of the mixed resin", Show::density},
                                  "rho = (a + b) / (a / rho_a + b / rho_b)",
                                  density_inputs,
                                  "ideal mixing, volumes add; derived here, docs/methods/resin.md",
                                  "resin"};
constexpr Symbol sleeve_inputs[] = {{"Vv", "voids in the felt", Show::millilitres},
                                    {"rho", "density of the mixed resin", Show::density},
                                    {"e", "excess that is squeezed into cracks and seams", Show::percent},
                                    {"s", "shrinkage by volume", Show::percent}};
constexpr Formula sleeve_formula{"resin.in-sleeve",
                                 {"ms", "resin in the sleeve", Show::scale_mass},
                                 "ms = Vv * rho * (1 + e) / (1 - s)",
                                 sleeve_inputs,
                                 "resin = voids + shrinkage + loss into cracks: city lining specification, "
                                 "docs/methods/resin.md; shares are common practice, no source",
                                 "resin"};
constexpr Symbol total_inputs[] = {{"ms", "resin in the sleeve", Show::scale_mass},
                                   {"mf", "loss in pot and film", Show::scale_mass}};
constexpr Formula total_formula{"resin.total",
                                {"m", "resin to mix", Show::scale_mass},
                                "m = ms + mf, up to the whole gram",
                                total_inputs,
                                "common practice, no source",
                                "resin"};
constexpr Symbol part_inputs[] = {{"m", "resin to mix", Show::scale_mass},
                                  {"a", "parts of A by mass", Show::ratio},
                                  {"b", "parts of B by mass", Show::ratio}};
constexpr Formula part_a_formula{
    "resin.part-a", {"ma", "part A to weigh", Show::scale_mass}, "ma = m * a / (a + b), to the gram",
    part_inputs,    "mix ratio of the resin's data sheet",       "resin"};
constexpr Symbol rest_inputs[] = {{"m", "resin to mix", Show::scale_mass}, {"ma", "part A", Show::scale_mass}};
constexpr Formula part_b_formula{"resin.part-b", {"mb", "part B to weigh", Show::scale_mass}, "mb = m - ma",
                                 rest_inputs,    "mix ratio of the resin's data sheet",       "resin"};
constexpr Symbol gap_inputs[] = {{"f", "roller factor of one pass", Show::ratio},
                                 {"t", "felt thickness in the pass", Show::thickness}};
constexpr Formula gap_formula{"resin.roller-gap", {"g", "roller gap", Show::thin}, "g = f * t",
                              gap_inputs,         "common practice, no source",    "resin"};
constexpr Symbol pot_inputs[] = {{"k", "pot volume to mixed volume", Show::ratio},
                                 {"m", "resin to mix", Show::scale_mass},
                                 {"rho", "density of the mixed resin", Show::density}};
constexpr Formula pot_formula{"resin.container",
                              {"Vp", "least volume of the mixing pot", Show::litres},
                              "Vp = k * m / rho",
                              pot_inputs,
                              "common practice, no source",
                              "resin"};

constexpr Symbol volume_inputs[] = {{"m", "part to weigh", Show::scale_mass}, {"rho", "its density", Show::density}};
constexpr Formula volume_a_formula{"resin.volume-a", {"Va", "part A by volume", Show::millilitres}, "Va = m / rho",
                                   volume_inputs,    "density of the resin's data sheet",           "resin"};
constexpr Formula volume_b_formula{"resin.volume-b", {"Vb", "part B by volume", Show::millilitres}, "Vb = m / rho",
                                   volume_inputs,    "density of the resin's data sheet",           "resin"};

template <Dim D>
void require_positive(Quantity<D> value, const char* what) {
    if (!(is_finite(value) && value.si() > 0.0)) throw RangeError(fmt::format("resin: {} must be above zero", what));
}
void require_between(double value, double low, double high, const char* what) {
    if (!(value >= low && value <= high))
        throw RangeError(fmt::format("resin: {} must lie between {} and {}", what, low, high));
}

void require_resin(const job::Resin& resin) {
    if (!(std::isfinite(resin.parts_a) && std::isfinite(resin.parts_b) && resin.parts_a > 0.0 && resin.parts_b > 0.0))
        throw RangeError("resin: both parts of the mix ratio must be above zero");
    require_positive(resin.density_a, "density of part A");
    require_positive(resin.density_b, "density of part B");
}

/// The factor for one pass: a flat tube brings two plies, a sheet one.
double pass_factor(const job::Felt& felt, const job::Limits& limits) {
    return felt.form == job::FeltForm::sewn_tube ? limits.roller_factor : limits.roller_factor / 2.0;
}

}  // namespace

Weights weigh(const job::Resin& resin, Mass mixed) {
    if (!(std::isfinite(resin.parts_a) && std::isfinite(resin.parts_b) && resin.parts_a > 0.0 && resin.parts_b > 0.0))
        throw RangeError("resin: both parts of the mix ratio must be above zero");
    if (!(is_finite(mixed) && mixed >= Mass{} && mixed <= max_mass))
        throw RangeError("resin: a mix must weigh between 0 and 1000 kg");
    // A hair below the whole gram counts as the gram: 1.2 kg is 1200 g, not 1201.
    const double grams = std::ceil(mixed.in(unit::g)-1e-6);
    const double a = std::round(grams * resin.parts_a / (resin.parts_a + resin.parts_b));
    if (grams > 0.0 && (a <= 0.0 || a >= grams))
        throw RangeError(fmt::format("resin: in a mix of {:.0f} g one part would weigh 0 g", grams));
    return {grams * unit::g, a * unit::g, (grams - a) * unit::g};
}

Density mixed_density(const job::Resin& resin) {
    require_resin(resin);
    const double parts = resin.parts_a + resin.parts_b;
    return parts / (resin.parts_a / resin.density_a + resin.parts_b / resin.density_b);
}

double b_to_a_by_volume(const job::Resin& resin) {
    require_resin(resin);
    return (resin.parts_b / resin.density_b) / (resin.parts_a / resin.density_a);
}

WetFelt wet_felt(const job::Resin& resin, const job::Felt& felt) {
    require_resin(resin);
    require_positive(felt.thickness, "felt thickness");
    if (!(felt.void_fraction > 0.0 && felt.void_fraction < 1.0))
        throw RangeError("resin: the void fraction of the felt must lie between 0 and 1");
    const Density held = felt.void_fraction * mixed_density(resin);
    const Density density = held + felt.areal_mass / felt.thickness;
    return {held / density, density};
}

void record_parts(const job::Resin& resin, const Weights& weights, Working& working) {
    working.add(part_a_formula, {weights.total, {resin.parts_a, Origin::yard}, {resin.parts_b, Origin::yard}},
                weights.part_a);
    working.add(part_b_formula, {weights.total, weights.part_a}, weights.part_b);
}

void record_pot(const job::Resin& resin, Pot& pot, Working& working) {
    pot.volume_a = pot.part_a / resin.density_a;
    pot.volume_b = pot.part_b / resin.density_b;
    working.add(volume_a_formula, {pot.part_a, {resin.density_a, Origin::yard}}, pot.volume_a);
    working.add(volume_b_formula, {pot.part_b, {resin.density_b, Origin::yard}}, pot.volume_b);
    const Density rho = mixed_density(resin);
    pot.container = pot_filling * (pot.total / rho);
    working.add(pot_formula, {{pot_filling, Origin::assumed}, pot.total, rho}, pot.container);
}

Need need(const job::Resin& resin, const job::Felt& felt, int layers, Area felt_area, const job::Limits& limits,
          Working& working) {
    require_resin(resin);
    require_positive(felt.thickness, "felt thickness");
    require_positive(felt_area, "felt area");
    if (!(felt.void_fraction > 0.0 && felt.void_fraction < 1.0))
        throw RangeError("resin: the void fraction of the felt must lie between 0 and 1");
    require_between(resin.shrinkage, 0.0, 0.2, "shrinkage");
    require_between(limits.resin_excess, 0.0, 1.0, "resin excess");
    require_between(limits.roller_factor, 0.1, 10.0, "roller factor");
    if (layers < 1) throw RangeError("resin: a sleeve has at least one layer of felt");
    if (!(is_finite(limits.fixed_loss) && limits.fixed_loss >= Mass{}))
        throw RangeError("resin: the fixed loss of a mix must not be negative");

    Need out;
    const Volume voids = felt.thickness * felt_area * felt.void_fraction;
    working.add(void_volume_formula, {{felt.thickness, Origin::yard}, felt_area, {felt.void_fraction, Origin::yard}},
                voids);
    const Density rho = mixed_density(resin);
    working.add(density_formula,
                {{resin.parts_a, Origin::yard},
                 {resin.parts_b, Origin::yard},
                 {resin.density_a, Origin::yard},
                 {resin.density_b, Origin::yard}},
                rho);
    out.void_mass = voids * rho;
    out.excess = out.void_mass * limits.resin_excess;
    const Mass in_sleeve = (out.void_mass + out.excess) / (1.0 - resin.shrinkage);
    out.shrinkage = in_sleeve - out.void_mass - out.excess;
    working.add(sleeve_formula, {voids, rho, {limits.resin_excess, Origin::yard}, {resin.shrinkage, Origin::yard}},
                in_sleeve);
    out.fixed = limits.fixed_loss;
    const Weights weights = weigh(resin, in_sleeve + out.fixed);
    out.total = weights.total;
    out.part_a = weights.part_a;
    out.part_b = weights.part_b;
    working.add(total_formula, {in_sleeve, {out.fixed, Origin::yard}}, out.total);
    record_parts(resin, weights, working);
    Pot pot{.total = out.total, .part_a = out.part_a, .part_b = out.part_b};
    record_pot(resin, pot, working);
    out.volume_a = pot.volume_a;
    out.volume_b = pot.volume_b;
    out.volume = out.volume_a + out.volume_b;
    out.container = pot.container;

    const bool tube = felt.form == job::FeltForm::sewn_tube;
    const Length in_pass = (tube ? static_cast<double>(layers) : 1.0) * felt.thickness;
    out.roller_gap = pass_factor(felt, limits) * in_pass;
    working.add(gap_formula, {{pass_factor(felt, limits), Origin::yard}, in_pass}, out.roller_gap);
    return out;
}

}  // namespace patchwright::resin
