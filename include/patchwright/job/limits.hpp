#pragma once
#include <cstdint>
#include <string_view>

#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

namespace patchwright::job {

/// Where the packer's air comes from while the sleeve cures.
enum class AirSupply : std::uint8_t {
    regulated,  ///< a regulator on compressor or bottle keeps the pressure up
    shut_in,    ///< the valve is shut; the air cools to the pipe's temperature and loses pressure
};
std::string_view word(AirSupply v);

/// Triage limits, overlaps and working allowances. Their usual figures stand in one place: the built-in yard
/// (data/yard.json), from which every yard that does not give them takes them.
struct Limits {
    // verdicts
    double step_share{};  ///< of the bore, with `step_most` the smaller rules
    Length step_most{};
    Length open_joint_most{};
    double hole_share{};  ///< of the bore
    double missing_circumference_share{};
    double ovality_most{};        ///< percent, flexible or broken pipe
    double deposit_clean_most{};  ///< percent of bore that routine cleaning takes care of
    double root_clean_most{};
    Length protrusion_clean{};   ///< intruding connection up to here needs no dressing
    Length scope_bore_min{};     ///< below: outside the published standards' scope
    int crowd_count{};           ///< so many defects within `crowd_within` are better lined as a whole; 0: no remark
    Length crowd_within{};       ///< window along the run
    double crowd_lined_share{};  ///< of the run's length under patches, above which the same is said
    // layout
    Length overlap{};          ///< each end, onto sound wall
    Length tolerance{};        ///< of positioning
    Length live_keep_out{};    ///< from the edge of a live connection
    Length joint_keep_out{};   ///< ends off pipe joints
    Length defect_keep_out{};  ///< ends off other defects
    Length gap{}, lap{};
    Length chamber_keep_out{};  ///< from the pipe's mouth, without a restraint sleeve
    bool restraint_sleeve{};    ///< the yard has one
    Length longest_sleeve{};
    // liner
    Length least_thickness{};
    double most_wall_share{};  ///< thickest sleeve, as a share of the bore
    Pressure soil_modulus{};   ///< E's where a pipe is fully deteriorated and nothing better is known
    UnitWeight soil_unit_weight{};
    double enhancement{};  ///< F1216 K
    double safety{};       ///< F1216 N
    double poisson{};
    Length seam_overlap_small{}, seam_overlap_large{};  ///< nominal sizes to 100 mm; above
    Length end_trim{};                                  ///< felt beyond the sleeve's nominal ends, each
    int most_layers{};
    // pressure
    Pressure seating{};                         ///< to press the felt on the wall
    Pressure host_most{};                       ///< on a cracked host
    TemperatureDifference compressor_excess{};  ///< air warmer than the pipe when the valve is shut
    double bench_share_of_rated{};              ///< bench pressure / rated pressure; zero: the set pressure
    Duration bench_hold{};
    Pressure bench_drop{};  ///< allowed over the hold, at constant temperature
    TemperatureDifference relief_warming{};
    AirSupply air{};
    Pressure relief_above_set{};    ///< least margin between set pressure and relief valve
    Pressure limit_above_relief{};  ///< least margin between relief valve and limit
    Force strap_rating{};
    double strap_friction{};
    // carrying the packer to its place
    double travel_share{};           ///< of the smallest bore on the way: packer with its wet sleeve is no thicker
    Length push_reach{};             ///< push rods in the van, put together
    Length strap_length{};           ///< of each strap
    Length reach_slack{};            ///< of hose, rods and straps above ground
    int push_bends_most{};           ///< bends that a push rod goes through
    Force strap_drag{};              ///< to draw one metre of packer with its wet sleeve along straight pipe
    Angle crossing_angle_most{};     ///< a soft bladder is blown up across bends up to here ...
    double crossing_radius_share{};  ///< ... and up to 90 deg when the centre-line radius is this many bores
    // packers built from parts
    Length bladder_projection{};  ///< bladder beyond the sleeve at each end
    Length bladder_fold_over{};   ///< bladder over each end fitting, under tape and clamps
    Length air_hose_length{}, air_hose_bore{};
    // resin
    double resin_excess{};
    Mass fixed_loss{};       ///< pot and film, each mix
    double pot_share{};      ///< of the pot life by which the pot is poured
    double roller_factor{};  ///< roller gap / felt thickness, flat double tube
    // cure
    Temperature resin_temperature{};  ///< at mixing, unless the job says otherwise
    double working_conversion{};      ///< end of shaping
    double crease_share_of_gel{};     ///< of the film's gel: end of shaping, if sooner
    Duration crease_step{};           ///< air out and in again
    double release_share{};           ///< of the conversion attainable at the wall's temperature
    TemperatureDifference release_glass_margin{};
    double let_down_margin{};  ///< a firm's own addition to the computed time
    /// Temperatures as calculated before the day, and as measured on site: in one case of ten warmer by more, in one of
    /// ten colder by more.
    TemperatureDifference temperature_doubt{}, measured_doubt{};
    double late_at_most{};  ///< chance that a sleeve is not in place and shaped in time
    double soft_at_most{};  ///< chance that a sleeve is not hard when it is let down
    double hands_shared{};  ///< share of the variance of hands-on times that one cause has in common
    // schedule
    Duration overtime{};  ///< past the finish, at the rates' premium
    int helpers{};        ///< that may be hired for a day, at the rates' price
    bool overnight_cure{};
    bool alarm_gauge{};  ///< a gauge with alarm frees the person who watches a cure
    int crews{}, air_lines{};
    int jetters{}, cameras{}, cutters{};  ///< that a crew has; cutters reopen junctions
    bool prepare_in_yard{};               ///< felt is cut and packers are built and tested before leaving
    bool watcher_may_work{};  ///< who watches may do one-person jobs at that access that can be dropped at once
    Length sight{};           ///< the mouths of a run up to so long are watched by one person
};

}  // namespace patchwright::job
