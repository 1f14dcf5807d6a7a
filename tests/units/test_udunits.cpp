// Oracle: UDUNITS-2 (Unidata), used only where it reads a unit as an engineer means it. Known misreadings, each tried
// with 2.2.28: "oz" is a fluid ounce, "gal" a galileo, "C" a coulomb, "F" a farad, "lb" in "lb/ft2" a mass, "4 1/2 in"
// two inches, "10 degC" ten kelvin. Those units are given to it by their full names, and number and unit apart.
#include <catch2/catch.hpp>

#include <udunits2.h>

#include <map>
#include <memory>
#include <string>

#include <fmt/core.h>

#include "patchwright/units/parse.hpp"
#include "scan.hpp"

using namespace patchwright;

namespace {

struct Udunits {
    Udunits() {
        ut_set_error_message_handler(ut_ignore);
        system = ut_read_xml(nullptr);
    }
    ~Udunits() { ut_free_system(system); }
    Udunits(const Udunits&) = delete;
    Udunits& operator=(const Udunits&) = delete;

    double convert(double value, const std::string& from, const std::string& to) const {
        const std::unique_ptr<ut_unit, void (*)(ut_unit*)> a{ut_parse(system, from.c_str(), UT_UTF8), ut_free};
        const std::unique_ptr<ut_unit, void (*)(ut_unit*)> b{ut_parse(system, to.c_str(), UT_UTF8), ut_free};
        INFO("udunits2 cannot convert " << from << " to " << to);
        REQUIRE(a);
        REQUIRE(b);
        const std::unique_ptr<cv_converter, void (*)(cv_converter*)> converter{ut_get_converter(a.get(), b.get()),
                                                                               cv_free};
        REQUIRE(converter);
        return cv_convert_double(converter.get(), value);
    }
    ut_system* system = nullptr;
};

/// Our spelling to theirs, where they differ. The dimension's noun decides what "lb/ft2" means.
std::string their_name(std::string_view noun, std::string_view ours) {
    static const std::map<std::string, std::string, std::less<>> differing{
        {"oz", "avoirdupois_ounce"},
        {"lb", "avoirdupois_pound"},
        {"lbs", "avoirdupois_pound"},
        {"US ton", "short_ton"},
        {"US tons", "short_ton"},
        {"t", "tonne"},
        {"\"", "inch"},
        {"'", "foot"},
        {"in", "inch"},
        {"ft", "foot"},
        {"yd", "yard"},
        {"inches", "inch"},
        {"feet", "foot"},
        {"gal", "US_liquid_gallon"},
        {"gallon", "US_liquid_gallon"},
        {"gallons", "US_liquid_gallon"},
        {"fl oz", "US_fluid_ounce"},
        {"miles", "mile"},
        {"psf", "lbf/foot^2"},
        {"ksi", "kilopound_force/inch^2"},
        {"N/mm2", "N/mm^2"},
        {"pcf", "lbf/foot^3"},
        {"lbf/ft3", "lbf/foot^3"},
        {"gpm", "US_liquid_gallon/minute"},
        {"gal/min", "US_liquid_gallon/minute"},
        {"gal/h", "US_liquid_gallon/hour"},
        {"lb/gal", "avoirdupois_pound/US_liquid_gallon"},
        {"oz/yd2", "avoirdupois_ounce/yard^2"},
        {"oz/ft2", "avoirdupois_ounce/foot^2"},
        {"J/(kg K)", "J.kg-1.K-1"},
        {"kJ/(kg K)", "kJ.kg-1.K-1"},
        {"J/(g K)", "J.g-1.K-1"},
        {"J/kgK", "J.kg-1.K-1"},
        {"W/(m K)", "W.m-1.K-1"},
        {"W/mK", "W.m-1.K-1"},
        {"deg", "degree"},
        {"°", "degree"},
        {"rad", "radian"},
        {"d", "day"},
        {"days", "day"},
        {"C", "K"},
        {"°C", "K"},
        {"degC", "K"},
        {"F", "degR"},
        {"°F", "degR"},
        {"degF", "degR"}};
    if (ours == "lb/ft2") return noun == "pressure" ? "lbf/foot^2" : "avoirdupois_pound/foot^2";
    if (ours == "lb/ft3") return noun == "unit weight" ? "lbf/foot^3" : "avoirdupois_pound/foot^3";
    if (noun == "flow" && ours.front() == 'L') return fmt::format("l{}", ours.substr(1));
    const auto it = differing.find(ours);
    return it != differing.end() ? it->second : std::string{ours};
}

std::string si_unit(std::string_view noun) {
    static const std::map<std::string, std::string, std::less<>> names{{"length", "m"},
                                                                       {"area", "m2"},
                                                                       {"volume", "m3"},
                                                                       {"mass", "kg"},
                                                                       {"time", "s"},
                                                                       {"pressure", "Pa"},
                                                                       {"temperature", "K"},
                                                                       {"temperature difference", "K"},
                                                                       {"angle", "radian"},
                                                                       {"flow", "m3/s"},
                                                                       {"density", "kg/m3"},
                                                                       {"mass per area", "kg/m2"},
                                                                       {"unit weight", "N/m3"},
                                                                       {"force", "N"},
                                                                       {"heat per mass", "J/kg"},
                                                                       {"specific heat", "J.kg-1.K-1"},
                                                                       {"conductivity", "W.m-1.K-1"},
                                                                       {"energy per mole", "J/mol"}};
    return names.at(std::string{noun});
}

}  // namespace

TEST_CASE("every unit agrees with UDUNITS-2", "[units][parse][reference]") {
    const Udunits udunits;
    REQUIRE(udunits.system != nullptr);
    int compared = 0;
    for (const detail::Dimension* dimension : detail::all_dimensions()) {
        for (const detail::UnitName& name : dimension->units) {
            for (const double value : {1.0, 0.37, 12.5, 1234.0}) {
                const std::string text = fmt::format("{} {}", value, name.name);
                const std::string theirs = their_name(dimension->noun, name.name);
                CAPTURE(dimension->noun, text, theirs);
                const auto ours = detail::parse_si(text, *dimension);
                REQUIRE(ours);
                // UDUNITS-2 keeps gallons and ounces to seven digits.
                const bool seven = theirs.find("US_") != std::string::npos || theirs.find("ounce") != std::string::npos;
                CHECK(*ours ==
                      Approx(udunits.convert(value, theirs, si_unit(dimension->noun))).epsilon(seven ? 2e-7 : 1e-9));
                ++compared;
            }
        }
    }
    CHECK(compared >= 4 * 100);  // no table was skipped
}

TEST_CASE("temperature points agree with UDUNITS-2", "[units][parse][reference]") {
    const Udunits udunits;
    for (const double value : {-40.0, -17.5, 0.0, 9.0, 48.0, 212.0}) {
        CAPTURE(value);
        CHECK(parse_temperature(fmt::format("{} C", value))->in_kelvin() ==
              Approx(udunits.convert(value, "degC", "K")).epsilon(1e-12));
        CHECK(parse_temperature(fmt::format("{} F", value))->in_kelvin() ==
              Approx(udunits.convert(value, "degF", "K")).epsilon(1e-12));
    }
}
