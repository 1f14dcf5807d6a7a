#include <catch2/catch.hpp>

#include <algorithm>
#include <set>
#include <string>

#include "patchwright/safety/safety.hpp"

using namespace patchwright;
using namespace patchwright::safety;
using Catch::Contains;
using job::Material;
using job::ResinKind;

namespace {

using Ids = std::set<std::string_view>;

Ids ids(const Situation& situation) {
    Ids out;
    for (const Caution* caution : cautions(situation)) out.insert(caution->id);
    return out;
}

/// Nothing at all: not even air.
Situation nothing() {
    Situation s;
    s.compressed_air = false;
    return s;
}

const Caution& caution(std::string_view id) {
    for (const Caution* c : all_cautions())
        if (c->id == id) return *c;
    FAIL("no caution " << id);
    throw std::logic_error("unreachable");
}

}  // namespace

TEST_CASE("each trigger brings its own cautions and no others", "[safety]") {
    struct Row {
        const char* what;
        void (*set)(Situation&);
        Ids added;
    };
    const std::vector<Row> rows{
        {"nothing", [](Situation&) {}, {}},
        {"epoxy", [](Situation& s) { s.resins = {ResinKind::epoxy}; }, {"epoxy-skin", "resin-heat"}},
        {"polyester", [](Situation& s) { s.resins = {ResinKind::polyester}; }, {"styrene", "peroxide", "resin-heat"}},
        {"vinyl ester",
         [](Situation& s) { s.resins = {ResinKind::vinyl_ester}; },
         {"styrene", "peroxide", "resin-heat"}},
        {"silicate", [](Situation& s) { s.resins = {ResinKind::silicate_isocyanate}; }, {"isocyanate", "resin-heat"}},
        {"air", [](Situation& s) { s.compressed_air = true; }, {"compressed-air"}},
        {"energy", [](Situation& s) { s.greatest_energy = 1.0 * unit::kJ; }, {"stored-energy"}},
        {"little energy", [](Situation& s) { s.greatest_energy = 0.99 * unit::kJ; }, {}},
        {"plug", [](Situation& s) { s.plug_or_stopper = true; }, {"plug"}},
        {"chamber", [](Situation& s) { s.confined_entry_possible = true; }, {"confined-space", "sewer-gas"}},
        {"dig", [](Situation& s) { s.dig = true; }, {"trench", "services", "silica"}},
        {"deep dig",
         [](Situation& s) { s.dig = true, s.deepest = 6.2 * unit::m; },
         {"trench", "deep-trench", "services", "silica"}},
        {"deep, no dig", [](Situation& s) { s.deepest = 6.2 * unit::m; }, {}},
        {"services", [](Situation& s) { s.services_near = true; }, {"services"}},
        {"asbestos cement",
         [](Situation& s) {
             s.hosts = {Material::clay, Material::asbestos_cement};
         },
         {"asbestos"}},
        {"cutting clay",
         [](Situation& s) { s.cutting_or_grinding = true, s.hosts = {Material::clay}; },
         {"cutter", "silica"}},
        {"cutting PVC-U", [](Situation& s) { s.cutting_or_grinding = true, s.hosts = {Material::pvc_u}; }, {"cutter"}},
        {"jetting", [](Situation& s) { s.jetting = true; }, {"jetting"}},
        {"heated cure", [](Situation& s) { s.heated_cure = true; }, {"heated-cure"}},
        {"traffic", [](Situation& s) { s.traffic = true; }, {"traffic"}},
        {"water", [](Situation& s) { s.water_running = true; }, {"running-water"}},
        {"overnight", [](Situation& s) { s.overnight = true; }, {"overnight"}}};
    const Ids base{"general", "sewage", "lifting"};
    Ids triggered = base;
    for (const Row& row : rows) {
        CAPTURE(row.what);
        Situation s = nothing();
        row.set(s);
        Ids expected = base;
        expected.insert(row.added.begin(), row.added.end());
        CHECK(ids(s) == expected);
        triggered.insert(row.added.begin(), row.added.end());
    }
    CHECK(triggered.size() == all_cautions().size());  // none that nothing can trigger
}

TEST_CASE("the general caution comes first and always", "[safety]") {
    const auto list = cautions(nothing());
    REQUIRE_FALSE(list.empty());
    CHECK(list.front()->id == "general");
    CHECK_THAT(std::string{list.front()->text},
               Contains("local codes") && Contains("data sheet") && Contains("licensed practice"));
    for (const Caution* c : list) CHECK(c->always);
}

TEST_CASE("every caution is named, sourced and can be printed anywhere", "[safety]") {
    Ids seen;
    for (const Caution* c : all_cautions()) {
        CAPTURE(c->id);
        CHECK(seen.insert(c->id).second);
        CHECK_FALSE(c->title.empty());
        CHECK_FALSE(c->source.empty());
        CHECK(c->text.size() > 60);
        CHECK(c->text.back() == '.');
        const auto plain = [](char ch) { return ch >= ' ' && ch <= '~'; };
        CHECK(std::all_of(c->text.begin(), c->text.end(), plain));
        CHECK(std::all_of(c->source.begin(), c->source.end(), plain));
    }
}

TEST_CASE("limits quoted in the cautions", "[safety][reference]") {
    // Styrene: OSHA PEL 100 ppm TWA, NIOSH REL 50 ppm, LEL 0.9 %, flash point 88 F = 31 C: NIOSH Pocket Guide 2005-151.
    const std::string styrene{caution("styrene").text};
    CHECK_THAT(styrene, Contains("100 ppm") && Contains("NIOSH 50 ppm") && Contains("0.9 %") && Contains("31 C"));
    CHECK(Temperature::fahrenheit(88.0).in_celsius() == Approx(31.0).margin(0.5));
    // Hydrogen sulphide: 10 ppm in US construction (29 CFR 1926.55, App. A); UK 5 ppm 8 h (EH40, from memory).
    CHECK_THAT(std::string{caution("sewer-gas").text}, Contains("10 ppm") && Contains("5 ppm over 8 h"));
    // Silica: 50 ug/m3 (29 CFR 1926.1153); UK 0.1 mg/m3 (EH40).
    CHECK_THAT(std::string{caution("silica").text}, Contains("0.05 mg/m3") && Contains("0.1 mg/m3"));
    // Excavations: spoil 2 ft back (1926.651(j)), ladder from 4 ft (1926.651(c)), engineer from 20 ft (1926.652(b)).
    CHECK_THAT(std::string{caution("trench").text}, Contains("0.6 m (2 ft)") && Contains("1.2 m (4 ft)"));
    CHECK(engineer_depth.in(unit::m) == Approx(6.1).margin(0.01));
}

TEST_CASE("texts for US sheets say the same in US units, first and alone", "[safety]") {
    Situation situation = nothing();
    situation.dig = situation.cutting_or_grinding = situation.jetting = situation.traffic = true;
    situation.hosts = {Material::clay};
    situation.deepest = 7.0 * unit::m;
    situation.units = UnitSystem::us;
    const auto us = cautions(situation);
    situation.units = UnitSystem::metric;
    const auto metric = cautions(situation);
    REQUIRE(us.size() == metric.size());
    for (std::size_t i = 0; i < us.size(); ++i) {
        CAPTURE(us[i]->text);
        CHECK(us[i]->id == metric[i]->id);
        CHECK(us[i]->title == metric[i]->title);
        for (const char* word : {" kg", " m (", " t ", "metre", "mg/m3", " mm"})
            CHECK(us[i]->text.find(word) == std::string_view::npos);
    }
}
