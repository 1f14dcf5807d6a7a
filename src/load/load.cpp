#include "patchwright/load/load.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::load {
namespace {

constexpr std::string_view f1216_source = "ASTM F1216, Appendix X1, symbols of eq. X1.3";

constexpr std::array buoyancy_symbols{Symbol{"Hw", "water over the crown", Show::run_distance},
                                      Symbol{"Hs", "cover over the crown", Show::run_distance}};
constexpr Formula buoyancy_formula{
    "f1216.rw",
    {"Rw", "buoyancy factor", Show::ratio},
    "Rw = max(0.67, 1 - 0.33 Hw/Hs)",
    buoyancy_symbols,
    f1216_source,
    "load",
};
constexpr std::array support_symbols{Symbol{"Hs", "cover over the crown", Show::run_distance}};
constexpr Formula support_formula{
    "f1216.b",
    {"B'", "elastic support", Show::ratio},
    "B' = 1 / (1 + 4 exp(-0.065 Hs)), Hs in feet",
    support_symbols,
    f1216_source,
    "load",
};
constexpr std::array water_symbols{Symbol{"gw", "unit weight of water", Show::unit_weight},
                                   Symbol{"Hw", "water over the crown", Show::run_distance}};
constexpr Formula water_formula{
    "load.water", {"pw", "water load", Show::soil_pressure}, "pw = gw Hw", water_symbols, f1216_source, "load",
};
constexpr std::array soil_symbols{Symbol{"w", "unit weight of soil", Show::unit_weight},
                                  Symbol{"Hs", "cover over the crown", Show::run_distance},
                                  Symbol{"Rw", "buoyancy factor", Show::ratio}};
constexpr Formula soil_formula{
    "load.soil", {"ps", "soil load, prism", Show::soil_pressure}, "ps = w Hs Rw", soil_symbols, f1216_source, "load",
};
constexpr std::array total_symbols{Symbol{"pw", "water load", Show::soil_pressure},
                                   Symbol{"ps", "soil load, prism", Show::soil_pressure},
                                   Symbol{"Ws", "traffic load", Show::soil_pressure}};
constexpr Formula total_formula{
    "load.total", {"qt", "total load", Show::soil_pressure}, "qt = pw + ps + Ws", total_symbols, f1216_source, "load",
};

void require_length(Length value, const char* what) {
    if (!(value.si() >= 0.0) || !is_finite(value))
        throw RangeError(fmt::format("load: {} must be zero or more, got {} m", what, value.in(unit::m)));
}

void require_valid(const SoilLoadInput& input) {
    if (!is_finite(*input.cover)) throw RangeError("load: the cover must be a length");
    if (input.cover->si() >= 0.0) require_length(*input.water_over_crown, "the water over the crown");
    if (!(input.soil_unit_weight->si() >= 0.0) || !is_finite(*input.soil_unit_weight))
        throw RangeError(fmt::format("load: the soil's unit weight must be zero or more, got {} kN/m3",
                                     input.soil_unit_weight->in(unit::kN_m3)));
    if (!(input.outside_diameter->si() > 0.0) || !is_finite(*input.outside_diameter))
        throw RangeError(
            fmt::format("load: the diameter must be above zero, got {} mm", input.outside_diameter->in(unit::mm)));
}

std::optional<std::string> outside_method(const SoilLoadInput& input) {
    if (input.cover->si() < 0.0)
        return fmt::format(
            "the crown stands {:.2f} m out of the ground: no soil holds the sleeve; check the depth, or have an "
            "engineer design it as a pipe in the open",
            -input.cover->in(unit::m));
    const job::Traffic traffic = *input.traffic;
    if (traffic == job::Traffic::railway || traffic == job::Traffic::aircraft)
        return fmt::format("{} load over the pipe: this method knows road wheels only; have an engineer give the load",
                           job::word(traffic));
    if (traffic == job::Traffic::highway && *input.cover < min_cover_under_wheels)
        return fmt::format(
            "cover of {:.2f} m under traffic: below 0.6 m soil does not spread a wheel's load as the method takes it; "
            "have an engineer design it, or keep wheels off",
            input.cover->in(unit::m));
    // A millimetre: crown and invert come from depths read to the centimetre.
    if (*input.water_over_crown > *input.cover + 1.0 * unit::mm)
        return fmt::format(
            "water {:.2f} m over the crown but only {:.2f} m of cover: the method has no water standing over the "
            "ground; check depth and water table, or have an engineer give the load",
            input.water_over_crown->in(unit::m), input.cover->in(unit::m));
    return std::nullopt;
}

}  // namespace

double buoyancy_factor(Length water_over_crown, Length cover) {
    require_length(cover, "the cover");
    require_length(water_over_crown, "the water over the crown");
    if (water_over_crown.si() == 0.0) return 1.0;
    if (water_over_crown >= cover) return 0.67;
    return std::max(0.67, 1.0 - 0.33 * (water_over_crown / cover));
}

double elastic_support(Length cover) {
    require_length(cover, "the cover");
    return 1.0 / (1.0 + 4.0 * std::exp(-0.065 * cover.in(unit::ft)));
}

SoilLoad soil_load(const SoilLoadInput& input, Working& working) {
    require_valid(input);
    SoilLoad load;
    load.outside_method = outside_method(input);
    if (input.cover->si() < 0.0) return load;
    load.buoyancy = buoyancy_factor(*input.water_over_crown, *input.cover);
    working.add(buoyancy_formula, {input.water_over_crown, input.cover}, load.buoyancy);
    load.elastic_support = elastic_support(*input.cover);
    working.add(support_formula, {input.cover}, load.elastic_support);
    load.water = water_pressure(*input.water_over_crown);
    working.add(water_formula, {{f1216_water, Origin::looked_up}, input.water_over_crown}, load.water);
    load.soil = load.buoyancy * prism_load(*input.soil_unit_weight, *input.cover);
    working.add(soil_formula, {input.soil_unit_weight, input.cover, load.buoyancy}, load.soil);
    if (*input.traffic == job::Traffic::highway && *input.cover >= min_cover_under_wheels)
        load.traffic = wheel_load(input.cover, input.outside_diameter, working);
    load.total = load.water + load.soil + load.traffic;
    working.add(total_formula, {load.water, load.soil, load.traffic}, load.total);
    return load;
}

}  // namespace patchwright::load
