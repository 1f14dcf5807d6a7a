// What digging costs, and how long it takes.
#include "yard_fields.hpp"

namespace patchwright::io {
namespace {

constexpr std::string_view bulk_density = "500 kg/m3 to 5000 kg/m3", usual_bulk_density = "1000 kg/m3 to 3000 kg/m3";
constexpr std::string_view days = "above 0 to 100", usual_days = "0.1 to 20";

}  // namespace

std::span<const Field<SurfaceRate>> Described<SurfaceRate>::fields() {
    static const Field<SurfaceRate> list[] = {
        field<&SurfaceRate::surface>("surface", Need::always, "which"),
        field<&SurfaceRate::thickness>("thickness", Need::always, "0 m to 2 m", "30 mm to 0.6 m", "taken out"),
        field<&SurfaceRate::cut_back>("cut_back", Need::always, "0 m to 5 m", "0 mm to 0.5 m",
                                      "beyond the trench, each side"),
        money<&SurfaceRate::break_out>("break_out", Need::always, "0 EUR/m2 to 200 EUR/m2", "breaking"),
        money<&SurfaceRate::reinstate>("reinstate", Need::always, "0 EUR/m2 to 500 EUR/m2", "putting back"),
        field<&SurfaceRate::density>("density", Need::always, bulk_density, usual_bulk_density, "as it lies"),
        money<&SurfaceRate::disposal>("disposal", Need::never, "0 EUR/t to 300 EUR/t",
                                      "of the broken surface; as soil when left out"),
    };
    return list;
}

std::span<const Field<SoilRate>> Described<SoilRate>::fields() {
    static const Field<SoilRate> list[] = {
        field<&SoilRate::soil>("soil", Need::always, "class"),
        field<&SoilRate::loose_factor>("loose_factor", Need::always, "1 to 3", "1.05 to 2", "dug over bank volume"),
        field<&SoilRate::compacted_factor>("compacted_factor", Need::always, "0.5 to 2", "0.7 to 1.5",
                                           "put back over bank volume"),
        field<&SoilRate::bank_density>("bank_density", Need::always, bulk_density, usual_bulk_density, "as it lies"),
        field<&SoilRate::slope_h_per_v>("slope_h_per_v", Need::always, "0 to 5", "0 to 2",
                                        "steepest side without support, horizontal to vertical"),
        field<&SoilRate::dig_factor>("dig_factor", Need::always, any_factor, "0.5 to 10", "on the rate of excavation"),
    };
    return list;
}

std::span<const Field<DigRates::Output>> Described<DigRates::Output>::fields() {
    using O = DigRates::Output;
    static const Field<O> list[] = {
        field<&O::depth_to>("depth_to", Need::always, "above 0 m to 50 m", "0.5 m to 8 m",
                            "drains down to here, ground to invert"),
        field<&O::days_hard>("days_hard", Need::always, days, usual_days, "of a single repair under a hard surface"),
        field<&O::days_soft>("days_soft", Need::always, days, usual_days, "of a single repair under grass"),
        field<&O::metres_hard>("metres_hard", Need::never, "0 to 1000", "0 to 50",
                               "a day of a long trench under a hard surface; 0: in proportion"),
        field<&O::metres_soft>("metres_soft", Need::never, "0 to 1000", "0 to 50",
                               "a day of a long trench under grass; 0: in proportion"),
    };
    return list;
}

std::span<const Field<DigRates>> Described<DigRates>::fields() {
    using R = DigRates;
    static constexpr std::string_view day = "0 EUR to 2000 EUR", once = "0 EUR to 3000 EUR";
    static constexpr std::string_view per_volume = "0 EUR/m3 to 500 EUR/m3";
    static const Field<DigRates> list[] = {
        field<&R::width_by_d2321>("width_by_d2321", dflt, "trench width by ASTM D2321, else EN 1610"),
        field<&R::buckets>("buckets", dflt, "above 0 m to 10 m", "150 mm to 2 m", "widths of the digger's"),
        field<&R::surfaces>("surfaces", Need::always, "to break and put back"),
        field<&R::soils>("soils", Need::always, "to dig in"),
        money<&R::excavate>("excavate", Need::always, per_volume, "fuel and wear; labour is in the team's days"),
        money<&R::hand_excavate>("hand_excavate", Need::always, per_volume, "tools"),
        money<&R::backfill>("backfill", Need::always, per_volume, "fuel and wear"),
        money<&R::granular>("granular", Need::always, per_volume, "bought and brought"),
        money<&R::shoring>("shoring", Need::always, "0 EUR/m2 to 200 EUR/m2", "of the sides"),
        money<&R::box_per_day>("box_per_day", Need::always, day, "trench box"),
        money<&R::digger_per_day>("digger_per_day", Need::always, day, "hire"),
        money<&R::digger_minimum>("digger_minimum", Need::always, day, "least hire"),
        money<&R::dewatering_per_day>("dewatering_per_day", Need::always, day, "pump"),
        money<&R::permit>("permit", Need::always, once, "each job"),
        money<&R::services_trace>("services_trace", Need::always, once, "each job"),
        money<&R::disposal>("disposal", Need::always, "0 EUR/t to 300 EUR/t", "of soil"),
        money<&R::pipe_joint>("pipe_joint", Need::always, "0 EUR to 300 EUR", "coupling"),
        money<&R::pipe>("pipe", Need::always, "1 EUR/m to 300 EUR/m", "new"),
        money<&R::asbestos_surcharge>("asbestos_surcharge", Need::always, "0 EUR to 10000 EUR", "a place"),
        field<&R::deep_surcharge>("deep_surcharge", dflt, "0 % to 1000 %", "0 % to 100 %",
                                  "on labour below \"deep_from\""),
        field<&R::deep_from>("deep_from", dflt, "0 m to 50 m", "1 m to 6 m", "ground to invert"),
        field<&R::sound_pipe_each_side>("sound_pipe_each_side", dflt, "0 m to 10 m", "0.1 m to 1.5 m",
                                        "laid bare beside the defect"),
        field<&R::shortest_pit>("shortest_pit", dflt, "above 0 m to 20 m", "0.6 m to 4 m", "along the pipe"),
        field<&R::protect_from>("protect_from", dflt, "0 m to 50 m", "1 m to 2 m",
                                "depth from which sides are protected: 1.25 m by DIN 4124"),
        field<&R::engineer_from>("engineer_from", dflt, "0 m to 50 m", "3 m to 7 m",
                                 "depth from which an engineer designs: 20 ft by 29 CFR 1926.652"),
        field<&R::bed>("bed", dflt, "0 m to 5 m", "0 mm to 300 mm", "granular, under the pipe"),
        field<&R::surround>("surround", dflt, "0 m to 5 m", "0 mm to 500 mm", "granular, over the crown"),
        share<&R::over_break>("over_break", dflt, "0 % to 500 %", "0 % to 50 %", "dug beyond the lines"),
        share<&R::granular_waste>("granular_waste", dflt, "0 % to 500 %", "0 % to 50 %", "on what is bought"),
        field<&R::crew_size>("crew_size", dflt, "1 to 100", "1 to 8", "people in the digging team"),
        field<&R::outputs>("outputs", dflt, "the team's days by depth"),
        field<&R::single_repair>("single_repair", dflt, "above 0 m to 100 m", "1 m to 10 m",
                                 "longest pit that the days of \"outputs\" speak of"),
        field<&R::bulk_per_day>("bulk_per_day", dflt, "above 0 m3 to 10000 m3", "2 m3 to 200 m3",
                                "dug and put back beyond a pit with vertical sides"),
        field<&R::working_day>("working_day", dflt, "above 0 h to 24 h", "4 h to 12 h",
                               "paid hours of the digging team"),
        field<&R::hand_factor>("hand_factor", dflt, any_factor, "1 to 6", "on the days where no machine gets in"),
        field<&R::services_factor>("services_factor", dflt, any_factor, "1 to 4",
                                   "on the days close to other services"),
        field<&R::surface_crew_days>("surface_crew_days", dflt, "0 to 100", "0 to 5",
                                     "a pit, extra visit for a hard surface"),
        field<&R::surface_crew_size>("surface_crew_size", dflt, "1 to 100", "1 to 6", "people on that visit"),
        field<&R::sheet_thickness>("sheet_thickness", dflt, "0 m to 2 m", "0 mm to 300 mm",
                                   "of sheeting or box wall, each side"),
        money<&R::engineer_design>("engineer_design", Need::always, "0 EUR to 20000 EUR", "below \"engineer_from\""),
        field<&R::reuse_under_hard>("reuse_under_hard", dflt, "spoil goes back under a hard surface too"),
        money<&R::traffic_management_per_day>("traffic_management_per_day", Need::always, day, "on a road"),
        field<&R::ground_spread>("ground_spread", dflt, any_factor, "0.5 to 3", "factor round one"),
        field<&R::access_spread>("access_spread", dflt, any_factor, "0.5 to 3", "factor round one"),
    };
    return list;
}

}  // namespace patchwright::io
