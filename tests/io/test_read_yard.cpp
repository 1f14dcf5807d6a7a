#include <algorithm>
#include <cmath>

#include "files.hpp"

using namespace patchwright;
using namespace patchwright::io;
using namespace patchwright::job;

namespace {

Yard yard_of(const std::string& text) { return test::value_of(read_yard(text, "yard.json")); }

template <class T>
const T* named(const std::vector<T>& list, std::string_view id) {
    const auto found = std::find_if(list.begin(), list.end(), [&](const T& item) { return item.id == id; });
    return found == list.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("the built-in yard is the file in data, whole and without a doubt", "[job][yard]") {
    const Yard& yard = builtin_yard();
    CHECK(yard.demonstration);
    CHECK(yard.name.find("invented") != std::string::npos);
    const auto again = read_yard(test::project_file("data/yard.json"), "data/yard.json");
    REQUIRE(again);
    CHECK(again.diagnostics.empty());
    CHECK(again.value->packers.size() == yard.packers.size());
    CHECK(again.value->assumptions.empty());
    CHECK(yard.rates.currency.code() == "EUR");
    for (const Felt& felt : yard.felts) CHECK(felt.areal_mass.in(unit::g_m2) > 0.0);
}

TEST_CASE("the built-in yard keeps what the design page promises of it", "[job][yard]") {
    const Yard& yard = builtin_yard();
    for (const auto& id : {"fast", "standard", "slow"}) {
        const Resin* resin = yard.find_resin(id);
        REQUIRE(resin != nullptr);
        CHECK(resin->kind == ResinKind::epoxy);
        CHECK(resin->application_min <= Temperature::celsius(5.0));
        CHECK(resin->application_max >= Temperature::celsius(20.0));
        CHECK(resin->data.size() >= 4);
        CHECK_FALSE(resin->kits.empty());
    }
    CHECK(yard.find_resin("none") == nullptr);
    const auto has = [&](ResinKind kind) {
        return std::any_of(yard.resins.begin(), yard.resins.end(), [&](const Resin& r) { return r.kind == kind; });
    };
    CHECK(has(ResinKind::polyester));
    CHECK(has(ResinKind::vinyl_ester));
    CHECK(has(ResinKind::silicate_isocyanate));
    const auto shape = [&](PackerShape s) {
        return std::any_of(yard.packers.begin(), yard.packers.end(), [&](const Packer& p) { return p.shape == s; });
    };
    CHECK(shape(PackerShape::straight));
    CHECK(shape(PackerShape::t_piece));
    CHECK(shape(PackerShape::y_piece));
    CHECK(std::any_of(yard.packers.begin(), yard.packers.end(), [](const Packer& p) { return p.flow_through; }));
    for (const auto material : {BladderMaterial::silicone, BladderMaterial::rubber, BladderMaterial::pvc_hose})
        CHECK(std::any_of(yard.bladders.begin(), yard.bladders.end(),
                          [&](const Bladder& b) { return b.material == material; }));
    CHECK(std::any_of(yard.felts.begin(), yard.felts.end(), [](const Felt& f) { return f.fibre == Fibre::glass_mat; }));
    CHECK(yard.limits.overlap.in(unit::mm) == Approx(200.0));   // common practice, no source
    CHECK(yard.limits.tolerance.in(unit::mm) == Approx(50.0));  // common practice, no source
    CHECK(yard.limits.enhancement == Approx(7.0));              // ASTM F1216, X1: K = 7
    CHECK(yard.limits.safety == Approx(2.0));
    CHECK(yard.limits.soil_modulus.in(unit::psi) == Approx(700.0));
}

TEST_CASE("felts of the built-in yard weigh what their fibres weigh", "[job][yard][reference]") {
    // Polyester fibre 1380 kg/m3; E-glass 2540 to 2600 kg/m3 (from memory of fibre handbooks).
    for (const Felt& felt : builtin_yard().felts) {
        CAPTURE(felt.id);
        const double fibre = felt.fibre == Fibre::glass_mat ? 2550.0 : 1380.0;
        const double solid = felt.areal_mass.si() / (fibre * felt.thickness.si());
        CHECK(1.0 - solid == Approx(felt.void_fraction).margin(0.005));
    }
}

TEST_CASE("gel times of the built-in epoxies follow one activation energy, hardening comes after",
          "[job][yard][reference]") {
    // Arrhenius with E = 57 +/- 6 kJ/mol for epoxy and amine (literature range, from memory); R of CODATA 2018.
    const auto ratio = [](double kj, double cold, double warm) {
        return std::exp(kj * 1e3 / 8.314462618 * (1.0 / (cold + 273.15) - 1.0 / (warm + 273.15)));
    };
    const auto time = [](const Resin& resin, DataPointKind kind, double celsius) {
        for (const DataPoint& p : resin.data)
            if (p.kind == kind && p.temperature == Temperature::celsius(celsius)) return p.time;
        FAIL("no such data point");
        return Duration{};
    };
    for (const auto& id : {"fast", "standard", "slow"}) {
        CAPTURE(id);
        const Resin& resin = *builtin_yard().find_resin(id);
        const double gel = time(resin, DataPointKind::gel, 10.0) / time(resin, DataPointKind::gel, 20.0);
        CHECK(gel >= ratio(51.0, 10.0, 20.0));
        CHECK(gel <= ratio(63.0, 10.0, 20.0));
        for (const double celsius : {10.0, 20.0})
            CHECK(time(resin, DataPointKind::strip, celsius) > time(resin, DataPointKind::gel, celsius));
    }
}

TEST_CASE("a yard that extends the built-in one gives only what differs", "[job][yard]") {
    const Yard yard = yard_of(R"({
  "patchwright_yard": 1, "extends": "builtin", "name": "Ours",
  "packers": [ { "id": "S100-07", "count": 5 }, { "id": "T100", "remove": true },
    { "id": "own", "shape": "straight", "material": "rubber", "usable_min": "0.3 m", "usable_max": "0.9 m", "bore_min": "90 mm",
      "bore_max": "120 mm", "travelling_diameter": "70 mm", "rigid_length": "90 mm", "rigid_diameter": "38 mm", "projection": "100 mm",
      "overall_length": "1.3 m", "fill_pressure": "0.5 bar", "rated_pressure": "1.5 bar", "hose_length": "20 m", "hose_bore": "8 mm",
      "price": "500.00 EUR", "expected_uses": 100 } ],
  "resins": [ { "id": "fast", "kits": [ { "mass": "1 kg", "price": "30.00 EUR" } ] } ],
  "limits": { "overlap": "300 mm" },
  "durations": { "cut": { "low": "1 min", "likely": "2 min", "high": "3 min" } },
  "rates": { "wage": "30.00 EUR/h" },
  "dig_rates": { "surfaces": [ { "surface": "concrete", "reinstate": "99.00 EUR/m2" } ], "buckets": [ "12 in" ] }
})");
    const Yard& base = builtin_yard();
    CHECK(yard.name == "Ours");
    CHECK(yard.demonstration);  // stays until the file says otherwise
    CHECK(yard.packers.size() == base.packers.size());
    CHECK(named(yard.packers, "S100-07")->count == 5);
    CHECK(named(yard.packers, "S100-07")->price == named(base.packers, "S100-07")->price);
    CHECK(named(yard.packers, "T100") == nullptr);
    REQUIRE(named(yard.packers, "own") != nullptr);
    CHECK(named(yard.packers, "own")->rated_pressure.in(unit::bar) == Approx(1.5));
    CHECK(yard.find_resin("fast")->kits.size() == 1);  // a list without names is replaced
    CHECK(yard.find_resin("fast")->data.size() == base.find_resin("fast")->data.size());
    CHECK(yard.limits.overlap.in(unit::mm) == Approx(300.0));
    CHECK(yard.limits.tolerance == base.limits.tolerance);
    CHECK(yard.durations.cut.likely.in(unit::minute) == Approx(2.0));
    CHECK(yard.durations.load.likely == base.durations.load.likely);
    CHECK(yard.rates.wage.amount.in_cents() == 3000);
    CHECK(yard.rates.overhead == base.rates.overhead);
    CHECK(yard.dig_rates.surfaces.size() == base.dig_rates.surfaces.size());
    CHECK(yard.dig_rates.buckets.size() == 1);
    REQUIRE(yard.assumptions.size() == 2);
    CHECK(yard.assumptions[0].what == "chassis, bladders, felts, heaters, conditioning, dig_market, risks");
    CHECK(yard.assumptions[1].what == "what is not given of packers, resins, limits, durations, rates, dig_rates");
}

TEST_CASE("a task takes the persons that the yard says, or as many as before", "[job][yard]") {
    const auto with = [](const std::string& task) {
        return R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours", "durations": {"wet_out":
                   {"low": "1 min", "likely": "2 min", "high": "3 min")" +
               task + "}}}";
    };
    CHECK(builtin_yard().durations.wet_out.persons == 2);
    CHECK(builtin_yard().durations.survey.persons == 1);
    CHECK(yard_of(with("")).durations.wet_out.persons == 2);  // files from before persons were counted
    CHECK(yard_of(with(R"(, "persons": 3)")).durations.wet_out.persons == 3);
    for (const char* bad : {R"(, "persons": 0)", R"(, "persons": "2")", R"(, "people": 2)"}) {
        CAPTURE(bad);
        CHECK_FALSE(read_yard(with(bad), "y"));
    }
}

TEST_CASE("a yard of its own needs its prices, and takes limits by default", "[job][yard]") {
    std::string text = test::project_file("data/yard.json");
    const auto cut = [&](const std::string& from, const std::string& to) {
        const std::size_t begin = text.find(from);
        const std::size_t end = text.find(to, begin);
        REQUIRE(end != std::string::npos);
        text.erase(begin, end - begin);
    };
    cut("\"limits\": {", "\"durations\": {");
    cut("\"durations\": {", "\"rates\": {");
    const Yard yard = yard_of(text);
    CHECK(yard.limits.overlap == builtin_yard().limits.overlap);
    CHECK(yard.durations.cut.high == builtin_yard().durations.cut.high);
    REQUIRE(yard.assumptions.size() == 2);
    CHECK(yard.assumptions[0].what == "limits");
    CHECK(yard.assumptions[0].value.find("overlap") != std::string::npos);
    CHECK(yard.assumptions[1].what == "durations");

    cut("\"wage\": ", "\"on_costs\"");
    const auto refused = read_yard(text, "y");
    REQUIRE_FALSE(refused);
    const auto& all = refused.diagnostics;
    REQUIRE(std::count_if(all.begin(), all.end(), [](const auto& d) { return d.severity == Severity::error; }) == 1);
    const auto wage = std::find_if(all.begin(), all.end(), [](const auto& d) { return d.severity == Severity::error; });
    CHECK(wage->message == "the rates need \"wage\"");
    CHECK(wage->pointer == "/rates");
}

TEST_CASE("a yard may be priced in another currency, all of it", "[job][yard]") {
    std::string text = test::project_file("data/yard.json");
    for (std::size_t at = text.find("EUR"); at != std::string::npos; at = text.find("EUR", at))
        text.replace(at, 3, "USD");
    const Yard yard = yard_of(text);
    CHECK(yard.rates.currency.code() == "USD");
    CHECK(yard.rates.overhead_per_crew_day.is_zero());
    CHECK(yard.rates.overhead_per_crew_day.currency().code() == "USD");
    CHECK(yard.packers[0].price.currency().code() == "USD");
    CHECK(yard.risks[0].cost.high.currency().code() == "USD");
}

TEST_CASE("doubts about a yard are warnings", "[job][yard]") {
    const auto warns = [](const std::string& members) {
        const auto result = read_yard(R"({"patchwright_yard": 1, "extends": "builtin", )" + members + "}", "y");
        CAPTURE(members, test::errors_of(result.diagnostics));
        REQUIRE(result);
        const auto warnings = test::warnings_of(result.diagnostics);
        return warnings.size() == 1 ? warnings[0] : std::to_string(warnings.size()) + " warnings";
    };
    CHECK(warns(R"("felts": [{"id": "sheet-3", "void_fraction": "60 %"}])").find("85 % of voids, not 60 %") !=
          std::string::npos);
    CHECK(
        warns(
            R"("resins": [{"id": "fast", "data": [{"kind": "pot life", "temperature": "23 C", "time": "15 min", "mass": "100 g"}]}])")
            .find("a pot life alone") != std::string::npos);
}

TEST_CASE("values of a yard that cannot stand together are refused where they stand", "[job][yard][error]") {
    struct Row {
        std::string list, item, place, part;
    };
    const Row rows[] = {
        // 621 g/m2 of polyester at 1380 kg/m3 fill 0.45 mm: of 0.6 mm no 85 % are voids.
        {"felts", R"({"id": "sheet-3", "thickness": "0.6 mm"})", "/felts/0/thickness", "leave 25 % of voids, not 85 %"},
        {"felts", R"({"id": "sheet-3", "areal_mass": "9000 g/m2"})", "/felts/0/areal_mass",
         "are more than the layer holds"},
        {"resins",
         R"({"id": "fast", "data": [{"kind": "pot life", "temperature": "20 C", "time": "20 min", "mass": "100 g"},
            {"kind": "strip", "temperature": "20 C", "time": "4 h", "thickness": "3 mm"},
            {"kind": "working", "temperature": "20 C", "time": "9 h", "thickness": "3 mm"}]})",
         "/resins/0/data/2", "resin \"fast\": a layer cannot be shaped once it is hard"},
        {"resins", R"({"id": "fast", "parts_a": 1000, "parts_b": 1})", "/resins/0/parts_b", "would weigh 0 g"},
        {"resins", R"({"id": "fast", "highest_safe": "24 C"})", "/resins/0/highest_safe", "above \"application_max\""},
        {"resins", R"({"id": "fast", "application_max": "4 C"})", "/resins/0/application_max", "must lie above"},
        {"resins", R"({"id": "fast", "parts_a": 0.001})", "/resins/0/parts_a", "at least 0.01"},
        {"resins", R"({"id": "fast", "density_a": "1 kg/m3"})", "/resins/0/density_a", "at least 500 kg/m3"},
        {"resins", R"({"id": "fast", "flexural_strength": "90 GPa"})", "/resins/0/flexural_strength", "at most 1 GPa"},
        {"resins", R"({"id": "fast", "heat_of_reaction": "0 J/g"})", "/resins/0/heat_of_reaction", "above zero"},
        {"packers", R"({"id": "S100-07", "fill_pressure": "0 bar"})", "/packers/0/fill_pressure", "above zero"},
        {"packers", R"({"id": "S100-07", "travelling_diameter": "1 mm"})", "/packers/0/travelling_diameter",
         "at least 5 mm"},
        // Deflated, 62 mm; its stiff part 38 mm.
        {"packers", R"({"id": "S100-07", "travelling_diameter": "30 mm"})", "/packers/0/travelling_diameter",
         "30 mm across the whole packer cannot be less than 38 mm across its stiff part"},
        {"packers", R"({"id": "S100-07", "rigid_diameter": "70 mm"})", "/packers/0/rigid_diameter",
         "62 mm across the whole packer"},
        // Half of pi x 108 mm is 170 mm, half of pi x 95 mm 149 mm.
        {"felts", R"({"id": "tube-100", "flat_width": "60 mm"})", "/felts/0/flat_width",
         "too narrow for a bore of 108 mm: half its circumference is 170 mm"},
        {"felts", R"({"id": "tube-100", "flat_width": "150 mm"})", "/felts/0/flat_width",
         "too wide for a bore of 95 mm: half its circumference is 149 mm"},
        {"felts", R"({"id": "tube-100", "tube_bore_max": "150 mm"})", "/felts/0/tube_bore_max", "too narrow"},
        {"felts", R"({"id": "tube-100", "tube_bore_min": "80 mm"})", "/felts/0/tube_bore_min", "too wide"},
    };
    for (const Row& row : rows) {
        const auto result =
            read_yard(R"({"patchwright_yard": 1, "extends": "builtin", ")" + row.list + "\": [" + row.item + "]}", "y");
        const auto errors = test::errors_of(result.diagnostics);
        CAPTURE(row.item, errors);
        REQUIRE(errors.size() == 1);
        CHECK(errors[0].find(row.part) != std::string::npos);
        CHECK(std::any_of(result.diagnostics.begin(), result.diagnostics.end(), [&](const Diagnostic& d) {
            return d.severity == Severity::error && d.pointer == row.place;
        }));
    }
    const auto soil =
        read_yard(R"({"patchwright_yard": 1, "extends": "builtin", "limits": {"soil_modulus": "0 MPa"}})", "y");
    CHECK(test::errors_of(soil.diagnostics) == std::vector<std::string>{"1:74 \"soil_modulus\" must be above zero"});
    const auto hose = read_yard(
        R"({"patchwright_yard": 1, "extends": "builtin", "packers": [{"id": "S100-07", "hose_length": "0.5 m"}]})",
        "y");
    REQUIRE(hose);
    CHECK(test::warnings_of(hose.diagnostics).size() == 1);
}

TEST_CASE("a fault of resin data names the resin and stands at the time at fault", "[job][yard][error]") {
    const std::string pot = R"({"kind": "pot life", "temperature": "20 C", "time": "20 min", "mass": "100 g"})";
    const std::string gel = R"({"kind": "gel", "temperature": "20 C", "time": "2 h"})";
    struct Row {
        std::string data, place, part;
    };
    const Row rows[] = {
        {pot + "," + gel + R"(,{"kind": "strip", "temperature": "20 C", "time": "1 h"})", "/resins/0/data/2",
         "the time to strip must be longer"},
        {R"({"kind": "strip", "temperature": "20 C", "time": "1 h"},)" + pot + "," + gel, "/resins/0/data/0",
         "the time to strip must be longer"},
        {pot + R"(,{"kind": "pot life", "temperature": "10 C", "time": "40 min"})", "/resins/0/data/1",
         "needs \"mass\""},
        {gel, "/resins/0/data", "needs a pot life"},
        // One fault each: nothing is said of what hangs on a value that could not be read.
        {pot + R"(,{"kind": "gel", "temperature": "20 C", "time": "0 min"})", "/resins/0/data/1/time", "above zero"},
        {R"({"kind": "pot life", "temperature": "20 C", "time": "20 min", "mass": "100 s"})", "/resins/0/data/0/mass",
         "mass"},
        {pot + "," + gel + R"(,{"kind": "strip", "temperature": "20 C", "time": "1 hour ago"})",
         "/resins/0/data/2/time", ""},
    };
    for (const Row& row : rows) {
        const auto result = read_yard(
            R"({"patchwright_yard": 1, "extends": "builtin", "resins": [{"id": "fast", "data": [)" + row.data + "]}]}",
            "y");
        std::vector<Diagnostic> errors;
        for (const auto& d : result.diagnostics)
            if (d.severity == Severity::error) errors.push_back(d);
        CAPTURE(row.data, test::errors_of(result.diagnostics));
        REQUIRE(errors.size() == 1);
        CHECK(errors[0].message.starts_with("resin \"fast\": "));
        CHECK(errors[0].message.find(row.part) != std::string::npos);
        CHECK(errors[0].pointer == row.place);
    }
}

TEST_CASE("a fault of one resin hides no fault that the fit finds in another", "[job][yard][error]") {
    const std::string text = R"({"patchwright_yard": 1, "extends": "builtin", "limits": {"soil_modulus": "0 MPa"},
 "resins": [
  {"id": "fast", "density_a": "1 kg/m3"},
  {"id": "standard", "tolerates_damp": true, "kits": [{"mass": "1 kg", "price": "-3.00 EUR"}]},
  {"id": "slow", "tolerates_damp": true}]})";
    std::vector<std::string> asked;
    const auto result = read_yard(text, "y", [&](const Resin& resin) {
        asked.push_back(resin.id);
        return std::vector<ResinFault>{{"no fit", "tolerates_damp", -1}};
    });
    // A price says nothing about a fit; a density may.
    CHECK(asked == std::vector<std::string>{"standard", "slow"});
    const auto errors = test::errors_of(result.diagnostics);
    REQUIRE(errors.size() == 5);
    CHECK(errors[1].starts_with("3:31 resin \"fast\": \"density_a\" is too little"));
    CHECK(errors[2] == "4:40 resin \"standard\": no fit");
    CHECK(errors[3].find("resin \"standard\": \"price\" cannot be negative") != std::string::npos);
    CHECK(errors[4] == "5:36 resin \"slow\": no fit");
}

TEST_CASE("a piece of felt below the millimetres that it is cut in is refused", "[job][yard][error]") {
    const std::string felt = R"({"patchwright_yard": 1, "extends": "builtin", "felts": [{"id": "sheet-3", )";
    for (const auto* words : {R"("stock": [{"length": "12 m", "width": "0.1 mm", "count": 1}])",
                              R"("stock": [{"length": "0.4 mm", "width": "1 m", "count": 1}])",
                              R"("roll_width": "0.1 mm")", R"("roll_length": "0.4 mm")"}) {
        const auto errors = test::errors_of(read_yard(felt + words + "}]}", "y").diagnostics);
        CAPTURE(words, errors);
        REQUIRE(errors.size() == 1);
        CHECK(errors[0].find("is too little: at least 1 mm") != std::string::npos);
    }
}
