#include "patchwright/excavation/protection.hpp"

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::excavation {

std::string_view word(Protection p) {
    switch (p) {
        case Protection::none:
            return "none";
        case Protection::battered:
            return "battered sides";
        case Protection::sheeted:
            return "trench sheets";
        case Protection::box:
            return "trench box";
        case Protection::engineer:
            return "support to an engineer's design";
    }
    return "none";
}

std::vector<Protection> allowed_protections(Length depth, job::Soil soil, const job::DigRates& rates) {
    if (!is_finite(depth) || depth.si() <= 0.0) {
        throw RangeError(fmt::format("trench: the depth must be above zero, got {} m", depth.in(unit::m)));
    }
    if (depth > rates.engineer_from) return {Protection::engineer};
    if (depth < rates.protect_from || soil == job::Soil::rock) {
        return {Protection::none, Protection::battered, Protection::sheeted, Protection::box};
    }
    return {Protection::battered, Protection::sheeted, Protection::box};
}

const job::SoilRate& soil_rate(job::Soil soil, const job::DigRates& rates) {
    for (const job::SoilRate& row : rates.soils) {
        if (row.soil == soil) return row;
    }
    throw InputError(
        fmt::format("yard: dig_rates has no row for soil {}; add it or extend the built-in yard", job::word(soil)));
}

const job::SurfaceRate& surface_rate(job::Surface surface, const job::DigRates& rates) {
    for (const job::SurfaceRate& row : rates.surfaces) {
        if (row.surface == surface) return row;
    }
    throw InputError(fmt::format("yard: dig_rates has no row for the surface {}; add it or extend the built-in yard",
                                 job::word(surface)));
}

}  // namespace patchwright::excavation
