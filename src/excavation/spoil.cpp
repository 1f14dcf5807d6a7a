#include "patchwright/excavation/spoil.hpp"

#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::excavation {
namespace {

constexpr std::array backfill_symbols{
    Symbol{"V_s", "soil dug, bank", Show::big_volume},
    Symbol{"V_z", "pipe zone", Show::big_volume},
};
constexpr Formula backfill_volume{.id = "spoil.backfill",
                                  .result = {"V_b", "backfill, compacted", Show::big_volume},
                                  .text = "V_b = V_s - V_z",
                                  .inputs = backfill_symbols,
                                  .source = "derived here, docs/methods/excavation.md",
                                  .page = "excavation"};
constexpr std::array carted_symbols{
    Symbol{"V_s", "soil dug, bank", Show::big_volume},
    Symbol{"V_r", "soil that goes back, bank", Show::big_volume},
    Symbol{"rho", "bank density", Show::density},
};
constexpr Formula carted_mass{.id = "spoil.carted",
                              .result = {"m", "soil carted away", Show::spoil_mass},
                              .text = "m = rho (V_s - V_r)",
                              .inputs = carted_symbols,
                              .source = "mass is conserved; densities common practice, no source",
                              .page = "excavation"};

}  // namespace

SpoilBalance balance(const SpoilInput& in, Working& working) {
    if (!(in.loose_factor > 0.0 && in.compacted_factor > 0.0 && in.bank_density.si() > 0.0)) {
        throw RangeError(
            fmt::format("spoil: loose and compacted factors and the density must be above zero, got {}, {} "
                        "and {} kg/m3",
                        in.loose_factor, in.compacted_factor, in.bank_density.si()));
    }
    if (!(in.soil.si() >= 0.0 && in.pipe_zone.si() >= 0.0 && in.pipe_zone <= in.soil)) {
        throw RangeError(fmt::format("spoil: the pipe zone ({} m3) must lie within the hole ({} m3)", in.pipe_zone.si(),
                                     in.soil.si()));
    }
    SpoilBalance b;
    b.loose = in.loose_factor * in.soil;
    b.backfill = in.soil - in.pipe_zone;
    working.add(backfill_volume, {in.soil, in.pipe_zone}, b.backfill);
    if (in.reuse) b.reused_bank = std::min(in.soil, b.backfill / in.compacted_factor);
    b.imported = std::max(Volume{}, b.backfill - in.compacted_factor * b.reused_bank);
    b.surplus_bank = in.soil - b.reused_bank;
    b.surplus_loose = in.loose_factor * b.surplus_bank;
    b.dug = in.bank_density * in.soil;
    b.reused = in.bank_density * b.reused_bank;
    b.carted = in.bank_density * b.surplus_bank;
    working.add(carted_mass, {in.soil, b.reused_bank, {in.bank_density, Origin::yard}}, b.carted);
    return b;
}

}  // namespace patchwright::excavation
