#pragma once
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/spread.hpp"
#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"

/// What digging costs, and how long it takes.
namespace patchwright::job {

/// A surface to break and put back.
struct SurfaceRate {
    Surface surface = Surface::concrete;
    Length thickness{};  ///< of the build-up taken out
    Length cut_back{};
    MoneyPer<Area> break_out{}, reinstate{};
    Density density{};
    MoneyPer<Mass> disposal{};  ///< of the broken surface, its own waste class; zero: as soil
};
struct SoilRate {
    Soil soil = Soil::c;
    double loose_factor = 1.25, compacted_factor = 0.90;
    Density bank_density{};
    double slope_h_per_v = 1.5;
    double dig_factor = 1.0;  ///< on the excavation rate
};
struct DigRates {
    bool width_by_d2321 = false;  ///< else EN 1610
    std::vector<Length> buckets;
    std::vector<SurfaceRate> surfaces;
    std::vector<SoilRate> soils;
    MoneyPer<Volume> excavate{}, hand_excavate{}, backfill{};  ///< fuel, wear, tools; labour is in the team days
    MoneyPer<Volume> granular{};                               ///< bought and brought, of bedding and imported backfill
    MoneyPer<Area> shoring{};
    Money box_per_day{};
    Money digger_per_day{}, digger_minimum{}, dewatering_per_day{}, permit{}, services_trace{};
    MoneyPer<Mass> disposal{};
    Money pipe_joint{};
    MoneyPer<Length> pipe{};
    Money asbestos_surcharge{};
    Share deep_surcharge;  ///< on labour below `deep_from`
    Length deep_from{};
    Length sound_pipe_each_side{}, shortest_pit{}, protect_from{}, engineer_from{}, bed{}, surround{};
    double over_break{}, granular_waste{};
    int crew_size{};
    struct Output {
        Length depth_to{};  ///< drains down to here, ground to invert
        Spread<double> days_hard, days_soft;
        double metres_hard{}, metres_soft{};  ///< a day, beyond `single_repair`; 0: in proportion
    };
    std::vector<Output> outputs;       ///< days of a single repair by depth
    Length single_repair{};            ///< longest pit that `days_...` speak of
    Volume bulk_per_day{};             ///< dug and put back beyond a pit with vertical sides
    Duration working_day{};            ///< paid hours of the digging team
    Spread<double> hand_factor;        ///< on the days where no machine gets in
    Spread<double> services_factor;    ///< on the days close to other services
    Spread<double> surface_crew_days;  ///< a pit, extra visit for a hard surface
    int surface_crew_size{};
    Length sheet_thickness{};       ///< of sheeting or box wall, each side, added to the dug width
    Money engineer_design{};        ///< below `engineer_from`
    bool reuse_under_hard = false;  ///< spoil goes back under a hard surface, not only under grass
    Money traffic_management_per_day{};
    Spread<double> ground_spread, access_spread;
};

}  // namespace patchwright::job
