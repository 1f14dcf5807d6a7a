#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/terms.hpp"
#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

/// The yard file as typed data: what stands in the firm's yard, its limits and its rates.
namespace patchwright::job {

enum class PackerShape : std::uint8_t { straight, t_piece, y_piece };
enum class BladderMaterial : std::uint8_t { silicone, rubber, pvc_hose };
enum class FeltForm : std::uint8_t { sheet, sewn_tube };
enum class Fibre : std::uint8_t { polyester_felt, glass_mat };
enum class ResinKind : std::uint8_t { epoxy, polyester, vinyl_ester, silicate_isocyanate };
std::string_view word(PackerShape v);
std::string_view word(BladderMaterial v);
std::string_view word(FeltForm v);
std::string_view word(Fibre v);
std::string_view word(ResinKind v);

/// Least, most likely and greatest value of something that is not known exactly.
template <class T>
struct Spread {
    T low{}, likely{}, high{};
};

/// A packer that stands built in the yard.
struct Packer {
    std::string id;
    PackerShape shape = PackerShape::straight;
    BladderMaterial material = BladderMaterial::silicone;
    Length usable_min{}, usable_max{};  ///< sleeve lengths that it carries
    Length bore_min{}, bore_max{};
    Length travelling_diameter{};       ///< deflated, without felt
    Length rigid_length{};              ///< longest stiff part (end fitting with tape and clamp, or core)
    Length rigid_diameter{};            ///< across that part, over the clamp
    Length projection{};                ///< bladder beyond the sleeve at each end, when inflated
    Length overall_length{};            ///< tip to tip, with end fittings
    Pressure fill_pressure{};           ///< gauge, to bring the bladder to the bore in open air
    Pressure rated_pressure{};          ///< gauge, marked on the bladder
    bool flow_through = false;          ///< has a bore that passes the drain's flow
    Length hose_length{}, hose_bore{};  ///< air line, counted in the stored energy
    int count = 1;
    Money price{};          ///< new
    int expected_uses = 1;  ///< wear of one use = price / expected uses
};

/// A set of end fittings from which packers are built, with its push rod.
struct Chassis {
    std::string id;
    Length diameter{};  ///< across tape and clamp: the rigid diameter
    Length fitting_length{};
    Length bore_min{}, bore_max{};
    Length rod_length{};  ///< flexible rod that joins the two fittings inside the bladder; longer packers are pulled
    int count = 1;
    Money price{};
    int expected_uses = 1;
};

/// Bladder material by the metre.
struct Bladder {
    std::string id;
    BladderMaterial material = BladderMaterial::silicone;
    Length diameter{};  ///< deflated, round
    Length wall{};
    Length roll_length{};
    double stretch = 1.0;      ///< greatest inflated / deflated diameter
    Pressure fill_pressure{};  ///< gauge, at the greatest stretch
    Pressure rated_pressure{};
    MoneyPer<Length> price{};
    int expected_uses = 1;
    bool doubled = false;  ///< used as two layers, one inside the other
};

struct FeltPiece {
    Length length{}, width{};
    int count = 1;
    bool offcut = false;  ///< owned already: used first, at `offcut_value` of its price
};

struct Felt {
    std::string id;
    FeltForm form = FeltForm::sheet;
    Fibre fibre = Fibre::polyester_felt;
    Length thickness{};  ///< of one layer, under packer pressure
    ArealMass areal_mass{};
    double void_fraction = 0.0;               ///< of the felt under packer pressure
    Length tube_bore_min{}, tube_bore_max{};  ///< sewn tube: bores that it fits
    Length flat_width{};                      ///< sewn tube: width laid flat
    double take_up = 0.0;                     ///< share of length lost when the tube widens to the bore
    Length roll_width{}, roll_length{};       ///< as bought
    MoneyPer<Area> price{};
    double offcut_value = 0.0;  ///< share of the price at which an owned offcut is charged
    std::vector<FeltPiece> stock;
};

/// A time from a resin's data sheet, with what it was measured on.
enum class DataPointKind : std::uint8_t { pot_life, gel, strip };
struct DataPoint {
    DataPointKind kind = DataPointKind::pot_life;
    Temperature temperature{};  ///< of resin and surroundings at the start
    Duration time{};
    std::optional<Mass> mass;         ///< pot life: mixed mass in the cup
    std::optional<Length> thickness;  ///< gel, strip: thickness of the layer; none: thin film
};

struct Kit {
    Mass mass{};  ///< A + B
    Money price{};
    bool splittable = true;  ///< may be split by weighing
    int stock = 0;
};

struct Resin {
    std::string id;
    ResinKind kind = ResinKind::epoxy;
    double parts_a = 1.0, parts_b = 1.0;  ///< mix ratio by mass
    Density density_a{}, density_b{};
    Temperature application_min{}, application_max{};  ///< of pipe and resin
    std::vector<DataPoint> data;
    SpecificEnergy heat_of_reaction{};  ///< of the mixed resin
    SpecificHeat specific_heat{};
    Conductivity conductivity{};
    double shrinkage = 0.0;        ///< share of volume
    Pressure modulus{};            ///< cured, short-term flexural
    double long_term_share = 0.5;  ///< EL / E
    Pressure flexural_strength{};  ///< cured, long-term sL is this times long_term_share
    double gel_conversion = 0.577;
    Temperature glass_start{}, glass_end{};  ///< Tg at conversion 0 and 1
    double glass_lambda = 0.45;
    Temperature highest_safe{};  ///< exotherm limit in the sleeve
    Mass safe_pot_mass{};        ///< most that may stand mixed in one container
    bool tolerates_damp = false;
    std::vector<Kit> kits;
    std::string source;  ///< "invented for the demonstration yard"
};

/// Triage limits, overlaps and working allowances. Defaults: docs of `practice.md` kind, "common practice, no source".
struct Limits {
    // verdicts
    double step_share = 0.10;  ///< of the bore, with `step_most` the smaller rules
    Length step_most{};
    Length open_joint_most{};
    double hole_share = 0.3;  ///< of the bore
    double missing_circumference_share = 0.25;
    double ovality_most = 10.0;       ///< percent, flexible or broken pipe
    double deposit_clean_most = 0.0;  ///< percent of bore that routine cleaning takes care of
    double root_clean_most = 0.0;
    Length protrusion_clean{};  ///< intruding connection up to here needs no dressing
    Length scope_bore_min{};    ///< below: outside the published standards' scope
    int crowd_count = 3;        ///< so many defects within `crowd_within` are better lined as a whole; 0: no remark
    Length crowd_within{};      ///< window along the run
    double crowd_lined_share = 0.4;  ///< of the run's length under patches, above which the same is said
    // layout
    Length overlap{};          ///< each end, onto sound wall
    Length tolerance{};        ///< of positioning
    Length live_keep_out{};    ///< from the edge of a live connection
    Length joint_keep_out{};   ///< ends off pipe joints
    Length defect_keep_out{};  ///< ends off other defects
    Length gap{}, lap{};
    Length chamber_keep_out{};      ///< from the pipe's mouth, without a restraint sleeve
    bool restraint_sleeve = false;  ///< the yard has one
    Length longest_sleeve{};
    // liner
    Length least_thickness{};
    double most_wall_share = 0.08;  ///< thickest sleeve, as a share of the bore
    Pressure soil_modulus{};        ///< E's where a pipe is fully deteriorated and nothing better is known
    UnitWeight soil_unit_weight{};
    double enhancement = 7.0;  ///< F1216 K
    double safety = 2.0;       ///< F1216 N
    double poisson = 0.3;
    Length seam_overlap_small{}, seam_overlap_large{};  ///< bores to 100 mm; above
    Length end_trim{};                                  ///< felt beyond the sleeve's nominal ends, each
    int most_layers = 3;
    // pressure
    Pressure seating{};                         ///< to press the felt on the wall
    Pressure host_most{};                       ///< on a cracked host
    TemperatureDifference compressor_excess{};  ///< air warmer than the pipe when the valve is shut
    double bench_share_of_rated = 0.0;          ///< bench pressure / rated pressure; zero: the set pressure
    Duration bench_hold{};
    Pressure bench_drop{};  ///< allowed over the hold, at constant temperature
    TemperatureDifference relief_warming{};
    Force strap_rating{};
    double strap_friction = 0.3;
    // carrying the packer to its place
    double travel_share = 0.8;           ///< of the smallest bore on the way: packer with its wet sleeve is no thicker
    Length push_reach = 30.0 * unit::m;  ///< push rods in the van, put together
    int push_bends_most = 2;             ///< bends that a push rod goes through
    Force strap_drag = 50.0 * unit::N;   ///< to draw one metre of packer with its wet sleeve along straight pipe
    Angle crossing_angle_most = 45.0 * unit::deg;  ///< a soft bladder is blown up across bends up to here ...
    double crossing_radius_share = 1.5;  ///< ... and up to 90 deg when the centre-line radius is this many bores
    // packers built from parts
    Length bladder_projection = 100.0 * unit::mm;  ///< bladder beyond the sleeve at each end
    Length bladder_fold_over = 60.0 * unit::mm;    ///< bladder over each end fitting, under tape and clamps
    Length air_hose_length = 20.0 * unit::m, air_hose_bore = 8.0 * unit::mm;
    // resin
    double resin_excess = 0.15;
    Mass fixed_loss{};           ///< pot and film, each mix
    double pot_share = 0.6;      ///< of the pot life by which the pot is poured
    double roller_factor = 2.0;  ///< roller gap / felt thickness, flat double tube
    // cure
    Temperature resin_temperature = Temperature::celsius(20.0);  ///< at mixing, unless the job says otherwise
    double working_conversion = 0.20;                            ///< end of shaping
    double crease_share_of_gel = 0.5;                            ///< of the film's gel: end of shaping, if sooner
    Duration crease_step{};                                      ///< air out and in again
    double release_share = 0.90;  ///< of the conversion attainable at the wall's temperature
    TemperatureDifference release_glass_margin{};
    double let_down_margin = 0.0;  ///< a firm's own addition to the computed time
    /// Temperatures as reckoned before the day, and as measured on site: in one case of ten warmer by more, in one of
    /// ten colder by more.
    TemperatureDifference temperature_doubt = 3.0 * unit::K, measured_doubt = 1.0 * unit::K;
    double late_at_most = 0.05;  ///< chance that a sleeve is not in place and shaped in time
    double soft_at_most = 0.02;  ///< chance that a sleeve is not hard when it is let down
    double hands_shared = 0.5;   ///< share of the variance of hands-on times that one cause has in common
    // schedule
    bool overnight_cure = false;
    bool alarm_gauge = false;  ///< a gauge with alarm frees the person who watches a cure
    int crews = 1, air_lines = 1;
};

/// Task durations of one team; `per_metre` kinds are multiplied by the length cleaned or wet out.
struct Durations {
    Spread<Duration> travel, set_up, clean_per_10_m, clean_roots_per_10_m, survey, flow_control, cut, build, bench_test,
        wet_out, wet_out_per_m, load, position, inflate, crease, let_down, re_survey, reopen, pack_up, dry;
};

struct Rates {
    Currency currency;
    int crew_size = 2;
    MoneyPer<Duration> wage{};   ///< paid, each person
    Share on_costs, productive;  ///< hour cost = wage * (1 + on_costs) / productive
    Money vehicle_per_day{}, jetter_per_day{}, camera_per_day{}, compressor_per_day{}, cutter_per_day{};
    MoneyPer<Length> travel_cost{};
    Length travel_distance{};
    MoneyPer<Length> film{};
    Money consumables_per_patch{}, consumables_per_visit{};
    Share felt_waste;
    Share overhead;                 ///< of direct + risk
    Money overhead_per_crew_day{};  ///< used instead when not zero
    Share profit;
    bool profit_is_margin = false;
    Money minimum_charge{};
    Money round_to{};
    Share discount;
    Share tax;
    std::optional<Share> tax_materials;  ///< on the material part of the price; none: as `tax`
    bool tax_registered = true;
    Share suggested_share;  ///< of the way from floor to ceiling
    Money survey_price{};
    Spread<double> labour_spread, material_spread, plant_spread;  ///< factors round 1
    Share shared_causes;  ///< rank correlation of tasks that share a cause (ground, access, water)
    int validity_days = 30;
    Money premium_overnight{};
};

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
    double over_break = 0.1, granular_waste = 0.1;
    int crew_size = 3;
    struct Output {
        Length depth_to{};  ///< drains down to here, ground to invert
        Spread<double> days_hard, days_soft;
        double metres_hard = 0.0, metres_soft = 0.0;  ///< a day, beyond `single_repair`; 0: in proportion
    };
    std::vector<Output> outputs;                       ///< days of a single repair by depth
    Length single_repair = 3.0 * unit::m;              ///< longest pit that `days_...` speak of
    Volume bulk_per_day = 20.0 * unit::m3;             ///< dug and put back beyond a pit with vertical sides
    Duration working_day = 8.0 * unit::h;              ///< paid hours of the digging team
    Spread<double> hand_factor{2.0, 2.5, 3.0};         ///< on the days where no machine gets in
    Spread<double> services_factor{1.0, 1.2, 1.6};     ///< on the days close to other services
    Spread<double> surface_crew_days{0.5, 0.75, 1.0};  ///< a pit, extra visit for a hard surface
    int surface_crew_size = 2;
    Length sheet_thickness = 100.0 * unit::mm;  ///< of sheeting or box wall, each side, added to the dug width
    Money engineer_design{};                    ///< below `engineer_from`
    bool reuse_under_hard = false;              ///< spoil goes back under a hard surface, not only under grass
    Money traffic_management_per_day{};
    Spread<double> ground_spread, access_spread;
};

/// A discrete risk of a method.
struct Risk {
    std::string id, words;
    bool of_dig = false;
    Share probability;     ///< per patch, or per dig place
    Spread<Money> cost{};  ///< when it happens, beside the redo or dig, which the program works out
    enum class Consequence : std::uint8_t { cost, redo, dig } consequence = Consequence::cost;
    Share then_dig;  ///< redo: share of the cases in which it ends in a dig all the same
    enum class Cause : std::uint8_t { own, ground, access, water } cause = Cause::own;  ///< shared with other tasks
};

struct Yard {
    std::string name;
    bool demonstration = false;  ///< prices are ours, not the firm's: every sheet with money says so
    std::vector<Packer> packers;
    std::vector<Chassis> chassis;
    std::vector<Bladder> bladders;
    std::vector<Felt> felts;
    std::vector<Resin> resins;
    Limits limits;
    Durations durations;
    Rates rates;
    DigRates dig_rates;
    std::vector<Risk> risks;
    DigMarket dig_market;
    PriceList price_list;
    Firm firm;
    std::vector<Assumption> assumptions;

    const Resin* find_resin(std::string_view id) const;
};

}  // namespace patchwright::job
