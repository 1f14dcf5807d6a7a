// Resins with the times of their data sheets, and kits.
#include "yard_fields.hpp"

namespace patchwright::io {
namespace {

constexpr std::string_view part = "0.01 to 1000", usual_part = "0.5 to 1000";
constexpr std::string_view density = "500 kg/m3 to 3000 kg/m3", usual_density = "900 kg/m3 to 1800 kg/m3";
constexpr std::string_view application = "-20 C to 80 C", usual_application = "-5 C to 50 C";
constexpr std::string_view glass = "-150 C to 300 C";

}  // namespace

std::span<const Field<DataPoint>> Described<DataPoint>::fields() {
    static const Field<DataPoint> list[] = {
        field<&DataPoint::kind>("kind", Need::always, "what happens then"),
        field<&DataPoint::temperature>("temperature", Need::always, "-20 C to 80 C", "0 C to 45 C",
                                       "of resin and surroundings at the start"),
        field<&DataPoint::time>("time", Need::always, "above 0 min to 30 d", "2 min to 3 d", "from mixing"),
        field<&DataPoint::mass>("mass", Need::never, "1 g to 1 t", "10 g to 5 kg", "of a pot life: in the cup"),
        field<&DataPoint::thickness>("thickness", Need::never, "0.05 mm to 100 mm", "0.1 mm to 20 mm",
                                     "of the layer; none: a thin film"),
    };
    return list;
}

std::span<const Field<Kit>> Described<Kit>::fields() {
    static const Field<Kit> list[] = {
        // Less cannot be weighed, and would be bought by the million.
        field<&Kit::mass>("mass", Need::always, "1 g to 1 t", "100 g to 50 kg", "of A and B together"),
        money<&Kit::price>("price", Need::always, "2 EUR to 2000 EUR", "as bought"),
        field<&Kit::splittable>("splittable", Need::never, "may be split by weighing; true when left out"),
        field<&Kit::stock>("stock", Need::never, "0 to 10000", "0 to 100", "so many stand in the yard"),
    };
    return list;
}

std::span<const Field<Resin>> Described<Resin>::fields() {
    static const Field<Resin> list[] = {
        field<&Resin::id>("id", Need::always, "name"),
        field<&Resin::kind>("kind", Need::always, "its chemistry"),
        field<&Resin::parts_a>("parts_a", Need::always, part, usual_part, "by mass"),
        field<&Resin::parts_b>("parts_b", Need::always, part, usual_part, "by mass"),
        field<&Resin::density_a>("density_a", Need::always, density, usual_density, "of A"),
        field<&Resin::density_b>("density_b", Need::always, density, usual_density, "of B"),
        field<&Resin::application_min>("application_min", Need::always, application, usual_application,
                                       "lowest temperature of pipe and resin"),
        field<&Resin::application_max>("application_max", Need::always, application, usual_application,
                                       "highest temperature of pipe and resin"),
        field<&Resin::data>("data", Need::always, "times of the data sheet, one pot life at least"),
        field<&Resin::rate>("rate", Need::never, "0.2 to 5", "0.5 to 2",
                            "how fast it is in the firm's pipes, over the data sheet's; 1 when left out. From "
                            "patchwright learn"),
        share<&Resin::rate_spread>(
            "rate_spread", Need::never, "1 % to 200 %", "3 % to 60 %",
            "one sleeve in ten is quicker than that by more, one slower; the fit's own doubt when "
            "left out"),
        field<&Resin::heat_of_reaction>("heat_of_reaction", Need::always, "above 0 J/g to 2000 J/g",
                                        "100 J/g to 600 J/g", "of the mix"),
        field<&Resin::specific_heat>("specific_heat", Need::always, "500 J/(kg K) to 5000 J/(kg K)",
                                     "1000 J/(kg K) to 2800 J/(kg K)", "of the mix"),
        field<&Resin::conductivity>("conductivity", Need::always, "0.02 W/(m K) to 10 W/(m K)",
                                    "0.1 W/(m K) to 1 W/(m K)", "of the mix"),
        share<&Resin::shrinkage>("shrinkage", Need::always, "0 % to 20 %", "0 % to 10 %", "of the volume"),
        field<&Resin::modulus>("modulus", Need::always, "100 MPa to 100 GPa", "1 GPa to 10 GPa",
                               "cured, short-term, in bending"),
        share<&Resin::long_term_share>("long_term_share", Need::always, "1 % to 100 %", "20 % to 80 %",
                                       "long-term over short-term modulus"),
        field<&Resin::flexural_strength>("flexural_strength", Need::always, "1 MPa to 1 GPa", "20 MPa to 300 MPa",
                                         "cured, short-term"),
        field<&Resin::gel_conversion>("gel_conversion", Need::always, "above 0 to 0.99", "0.01 to 0.75",
                                      "share of the reaction done at the gel point"),
        field<&Resin::glass_start>("glass_start", Need::always, glass, "-100 C to 0 C",
                                   "glass temperature before the reaction"),
        field<&Resin::glass_end>("glass_end", Need::always, glass, "40 C to 200 C",
                                 "glass temperature after the whole reaction"),
        field<&Resin::glass_lambda>("glass_lambda", Need::always, "above 0 to 1", "0.2 to 0.8",
                                    "of DiBenedetto's equation between the two"),
        field<&Resin::highest_safe>("highest_safe", Need::always, "20 C to 300 C", "50 C to 200 C",
                                    "exotherm limit in the sleeve"),
        field<&Resin::safe_pot_mass>("safe_pot_mass", Need::always, "1 g to 1 t", "200 g to 20 kg",
                                     "most that may stand mixed in one container"),
        field<&Resin::tolerates_damp>("tolerates_damp", Need::never,
                                      "cures on a damp wall; the card asks to dry it for any other"),
        field<&Resin::kits>("kits", Need::always, "as bought"),
        note<&Resin::source>("source", Need::never, "where the figures come from"),
    };
    return list;
}

std::span<const Field<Heater>> Described<Heater>::fields() {
    static const Field<Heater> list[] = {
        field<&Heater::id>("id", Need::always, "name"),
        field<&Heater::medium>("medium", Need::always, "what it moves through the bladder"),
        field<&Heater::temperature>("temperature", Need::always, "15 C to 95 C", "30 C to 60 C", "in the bladder"),
        field<&Heater::warm_up>("warm_up", Need::always, "0 min to 24 h", "5 min to 1 h", "until it is reached"),
        field<&Heater::count>("count", Need::never, "0 to 10000", "0 to 5", "so many stand in the yard"),
        money<&Heater::hire_per_day>("hire_per_day", Need::always, "0 EUR to 500 EUR", "a day on which it is used"),
    };
    return list;
}

std::span<const Field<Conditioning>> Described<Conditioning>::fields() {
    static const Field<Conditioning> list[] = {
        field<&Conditioning::from>("from", Need::always, "0 C to 50 C", "5 C to 20 C", "coldest, cool box"),
        field<&Conditioning::to>("to", Need::always, "0 C to 50 C", "15 C to 30 C", "warmest, heated van"),
        money<&Conditioning::cost_per_patch>("cost_per_patch", Need::always, "0 EUR to 50 EUR", "ice, fuel, time"),
    };
    return list;
}

}  // namespace patchwright::io
