#include <catch2/catch.hpp>

#include <algorithm>

#include "ground.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::excavation;

namespace {
bool allowed(double depth_m, job::Soil soil, Protection p, const job::DigRates& rates) {
    const auto all = allowed_protections(depth_m * unit::m, soil, rates);
    return std::find(all.begin(), all.end(), p) != all.end();
}
job::DigRates osha() {
    job::DigRates rates = ground::rates();
    rates.protect_from = 5.0 * unit::ft;
    rates.engineer_from = 20.0 * unit::ft;
    return rates;
}
}  // namespace

TEST_CASE("steepest slopes of the demonstration yard", "[excavation][reference]") {
    // Source: 29 CFR 1926 Subpart P, appendix B, table B-1, excavations under 20 ft: stable rock vertical, type A
    // 3/4:1, type B 1:1, type C 1 1/2:1, horizontal to vertical.
    CHECK(soil_rate(job::Soil::a, ground::rates()).slope_h_per_v == 0.75);
    CHECK(soil_rate(job::Soil::b, ground::rates()).slope_h_per_v == 1.0);
    CHECK(soil_rate(job::Soil::c, ground::rates()).slope_h_per_v == 1.5);
    CHECK(soil_rate(job::Soil::rock, ground::rates()).slope_h_per_v == 0.0);
}

TEST_CASE("protection by depth", "[excavation][reference]") {
    // Source: 29 CFR 1926.652(a)(1): none needed in stable rock, or under 5 ft where no sign of a cave-in is found;
    // (b), (c) and appendix F: deeper than 20 ft a registered engineer designs the system.
    const job::DigRates rates = osha();
    CHECK(allowed(1.52, job::Soil::b, Protection::none, rates));
    CHECK_FALSE(allowed(1.53, job::Soil::b, Protection::none, rates));
    CHECK(allowed(1.53, job::Soil::rock, Protection::none, rates));
    for (const Protection p : {Protection::battered, Protection::sheeted, Protection::box}) {
        CHECK(allowed(3.0, job::Soil::c, p, rates));
        CHECK_FALSE(allowed(6.2, job::Soil::c, p, rates));
    }
    CHECK_FALSE(allowed(6.09, job::Soil::c, Protection::engineer, rates));
    CHECK(allowed_protections(6.2 * unit::m, job::Soil::rock, rates) == std::vector{Protection::engineer});
}

TEST_CASE("what is allowed only shrinks with depth, but for the engineer", "[excavation][property]") {
    const job::DigRates rates = osha();
    for (const job::Soil soil : {job::Soil::a, job::Soil::b, job::Soil::c, job::Soil::rock}) {
        for (int cm = 20; cm < 609; cm += 3) {
            for (const Protection p : allowed_protections(1e-2 * (cm + 3) * unit::m, soil, rates)) {
                if (p != Protection::engineer) CHECK(allowed(1e-2 * cm, soil, p, rates));
            }
        }
    }
}

TEST_CASE("a yard without the row asked for says which", "[excavation][error]") {
    job::DigRates rates = ground::rates();
    rates.soils.clear();
    CHECK_THROWS_AS(soil_rate(job::Soil::b, rates), InputError);
    CHECK_THROWS_WITH(soil_rate(job::Soil::b, rates), Catch::Contains("soil B"));
    rates.surfaces.clear();
    CHECK_THROWS_WITH(surface_rate(job::Surface::grass, rates), Catch::Contains("grass"));
    CHECK_THROWS_AS(allowed_protections({}, job::Soil::b, rates), RangeError);
}
