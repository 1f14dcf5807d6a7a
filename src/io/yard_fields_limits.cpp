// Limits and durations.
#include "yard_fields.hpp"

namespace patchwright::io {
namespace {

constexpr std::string_view keep_off = "0 m to 5 m";  ///< overlaps and what sleeve ends keep off

}  // namespace

/// {"low": .., "likely": .., "high": .., "persons": ..}, the last as before when it is not given.
bool read_value(Reader& reader, const Node& node, TaskTime& out, const Rule& rule) {
    static const Rule crew{range<int>("1 to 100"), range<int>("1 to 6"), Form::plain};
    bool good = read_spread(reader, node, static_cast<Spread<Duration>&>(out), rule, "persons");
    if (const Node* persons = node.kind == NodeKind::object ? node.find("persons") : nullptr; persons != nullptr)
        good = read_value(reader, *persons, out.persons, crew) && good;
    return good;
}

std::span<const Field<Limits>> Described<Limits>::fields() {
    using L = Limits;
    static const Field<Limits> list[] = {
        // verdicts
        share<&L::step_share>("step_share", dflt, any_share, "2 % to 30 %", "largest step at a joint, of the bore"),
        field<&L::step_most>("step_most", dflt, "0 mm to 1 m", "2 mm to 50 mm",
                             "largest step at a joint; the smaller of both rules"),
        field<&L::open_joint_most>("open_joint_most", dflt, "0 mm to 5 m", "5 mm to 150 mm", "widest open joint"),
        share<&L::hole_share>("hole_share", dflt, any_share, "5 % to 60 %", "largest hole, of the bore"),
        share<&L::missing_circumference_share>("missing_circumference_share", dflt, any_share, "5 % to 60 %",
                                               "largest hole, of the circumference"),
        percent<&L::ovality_most>("ovality_most", dflt, "0 % to 50 %", "2 % to 15 %", "of a flexible or broken pipe"),
        percent<&L::deposit_clean_most>("deposit_clean_most", dflt, any_share, "0 % to 30 %",
                                        "deposits that routine cleaning takes care of"),
        percent<&L::root_clean_most>("root_clean_most", dflt, any_share, "0 % to 30 %",
                                     "roots that routine cleaning takes care of"),
        field<&L::protrusion_clean>("protrusion_clean", dflt, "0 mm to 1 m", "0 mm to 30 mm",
                                    "intruding connection that needs no dressing"),
        field<&L::scope_bore_min>("scope_bore_min", dflt, "0 mm to 3 m", "40 mm to 200 mm",
                                  "below: outside the scope of ASTM F3541"),
        field<&L::crowd_count>("crowd_count", dflt, "0 to 1000", "0 to 20",
                               "so many defects within \"crowd_within\" are better lined as a whole; 0: no remark"),
        field<&L::crowd_within>("crowd_within", dflt, "0 m to 1 km", "0 m to 30 m", "window along the run"),
        share<&L::crowd_lined_share>("crowd_lined_share", dflt, any_share, "10 % to 100 %",
                                     "of the run under patches, above which it is better lined as a whole"),
        // layout
        field<&L::overlap>("overlap", dflt, keep_off, "50 mm to 500 mm", "onto sound wall at each end"),
        field<&L::tolerance>("tolerance", dflt, keep_off, "0 mm to 200 mm", "of positioning"),
        field<&L::live_keep_out>("live_keep_out", dflt, keep_off, "0 mm to 500 mm",
                                 "sleeve ends off the edge of a live connection"),
        field<&L::joint_keep_out>("joint_keep_out", dflt, keep_off, "0 mm to 500 mm", "sleeve ends off pipe joints"),
        field<&L::defect_keep_out>("defect_keep_out", dflt, keep_off, "0 mm to 500 mm",
                                   "sleeve ends off other defects"),
        field<&L::gap>("gap", dflt, keep_off, "0 mm to 1 m", "clear between neighbours that do not lap"),
        field<&L::lap>("lap", dflt, keep_off, "0 mm to 500 mm", "between neighbours that do"),
        field<&L::chamber_keep_out>("chamber_keep_out", dflt, keep_off, "0 mm to 1 m",
                                    "bladder of the packer off the pipe's mouth"),
        field<&L::restraint_sleeve>("restraint_sleeve", dflt, "the yard has one, for packers that end at a mouth"),
        field<&L::longest_sleeve>("longest_sleeve", dflt, "above 0 m to 100 m", "0.5 m to 10 m", "in one piece"),
        // liner
        field<&L::least_thickness>("least_thickness", dflt, "0 mm to 100 mm", "2 mm to 8 mm",
                                   "of the sleeve; 3 mm as ISO 11296-4 (from memory)"),
        share<&L::most_wall_share>("most_wall_share", dflt, "1 % to 50 %", "3 % to 15 %",
                                   "thickest sleeve, of the bore"),
        field<&L::soil_modulus>("soil_modulus", dflt, "above 0 MPa to 1 GPa", "0.5 MPa to 50 MPa",
                                "of fully deteriorated pipe (ASCE MOP 37's classic figure)"),
        field<&L::soil_unit_weight>("soil_unit_weight", dflt, "1 kN/m3 to 100 kN/m3", "12 kN/m3 to 25 kN/m3",
                                    "over the pipe"),
        field<&L::enhancement>("enhancement", dflt, "1 to 20", "1 to 10", "K of ASTM F1216, X1"),
        field<&L::safety>("safety", dflt, "1 to 20", "1.5 to 4", "N of ASTM F1216, X1"),
        field<&L::poisson>("poisson", dflt, "0 to 0.499", "0.2 to 0.45", "v of ASTM F1216, X1"),
        field<&L::seam_overlap_small>("seam_overlap_small", dflt, keep_off, "20 mm to 200 mm",
                                      "of wrapped sheet, nominal sizes to 100 mm"),
        field<&L::seam_overlap_large>("seam_overlap_large", dflt, keep_off, "20 mm to 300 mm",
                                      "of wrapped sheet, larger sizes"),
        field<&L::end_trim>("end_trim", dflt, keep_off, "0 mm to 100 mm", "felt beyond each end of the sleeve"),
        field<&L::most_layers>("most_layers", dflt, "1 to 20", "1 to 4", "of felt, one over the other"),
        // pressure
        field<&L::seating>("seating", dflt, "0 bar to 10 bar", "0.05 bar to 1 bar", "to press the felt on the wall"),
        field<&L::host_most>("host_most", dflt, "above 0 bar to 20 bar", "0.3 bar to 3 bar", "on a cracked host"),
        field<&L::compressor_excess>("compressor_excess", dflt, "0 K to 200 K", "0 K to 60 K",
                                     "air at the valve over the pipe"),
        share<&L::bench_share_of_rated>("bench_share_of_rated", dflt, any_share, any_share,
                                        "bench pressure over rated pressure; 0 % tests at the set pressure"),
        field<&L::bench_hold>("bench_hold", dflt, "0 min to 24 h", "1 min to 30 min", "of the bench test"),
        field<&L::bench_drop>("bench_drop", dflt, "0 bar to 10 bar", "0 mbar to 100 mbar", "allowed over the hold"),
        field<&L::relief_warming>("relief_warming", dflt, "0 K to 200 K", "0 K to 60 K", "of the air in the bladder"),
        field<&L::air>("air", dflt, "while the sleeve cures: kept up by a regulator, or shut in"),
        field<&L::relief_above_set>("relief_above_set", dflt, "0 bar to 10 bar", "0.05 bar to 0.5 bar",
                                    "least margin between set pressure and relief valve"),
        field<&L::limit_above_relief>("limit_above_relief", dflt, "0 bar to 10 bar", "0.05 bar to 0.5 bar",
                                      "least margin between relief valve and limit"),
        field<&L::strap_rating>("strap_rating", dflt, "0 N to 10000 kN", "200 N to 20 kN", "pull that it bears"),
        field<&L::strap_friction>("strap_friction", dflt, "0 to 2", "0.1 to 0.8", "round bends"),
        // carrying the packer to its place
        share<&L::travel_share>("travel_share", dflt, "1 % to 100 %", "60 % to 95 %",
                                "packer with its wet sleeve, of the smallest bore on the way"),
        field<&L::push_reach>("push_reach", dflt, "0 m to 1 km", "3 m to 100 m", "push rods, put together"),
        field<&L::strap_length>("strap_length", dflt, "0 m to 1 km", "5 m to 200 m", "each strap"),
        field<&L::reach_slack>("reach_slack", dflt, "0 m to 50 m", "0 m to 10 m",
                               "of hose, rods and straps above ground"),
        field<&L::push_bends_most>("push_bends_most", dflt, "0 to 20", "0 to 5", "bends that a push rod goes through"),
        field<&L::strap_drag>("strap_drag", dflt, "0 N to 10000 kN", "5 N to 500 N",
                              "to draw one metre of packer with its wet sleeve along straight pipe"),
        field<&L::crossing_angle_most>("crossing_angle_most", dflt, "0 deg to 180 deg", "0 deg to 90 deg",
                                       "a soft bladder is blown up across bends up to here"),
        field<&L::crossing_radius_share>("crossing_radius_share", dflt, "0 to 100", "0.5 to 5",
                                         "or up to 90 deg, from so many bores of centre-line radius"),
        // packers built from parts
        field<&L::bladder_projection>("bladder_projection", dflt, keep_off, "20 mm to 500 mm",
                                      "bladder beyond the sleeve at each end"),
        field<&L::bladder_fold_over>("bladder_fold_over", dflt, keep_off, "20 mm to 200 mm",
                                     "bladder over each end fitting"),
        field<&L::air_hose_length>("air_hose_length", dflt, "0 m to 500 m", "3 m to 100 m", "of the air line"),
        field<&L::air_hose_bore>("air_hose_bore", dflt, "1 mm to 100 mm", "3 mm to 25 mm", "of the air line"),
        // resin
        share<&L::resin_excess>("resin_excess", dflt, "0 % to 100 %", "0 % to 40 %", "over what the voids take"),
        field<&L::fixed_loss>("fixed_loss", dflt, "0 g to 1000 t", "0 g to 1 kg", "pot and film, each mix"),
        share<&L::pot_share>("pot_share", dflt, "1 % to 100 %", "30 % to 90 %",
                             "of the pot life, by which the pot is poured"),
        field<&L::roller_factor>("roller_factor", dflt, "0.5 to 10", "1 to 4", "roller gap over felt thickness"),
        // cure
        field<&L::resin_temperature>("resin_temperature", dflt, "-20 C to 60 C", "5 C to 35 C",
                                     "at mixing, unless the job says otherwise"),
        field<&L::working_conversion>("working_conversion", dflt, "above 0 to 0.99", "0.05 to 0.5",
                                      "share of the reaction done at the end of shaping"),
        share<&L::crease_share_of_gel>(
            "crease_share_of_gel", dflt, any_share, "10 % to 60 %",
            "of a film's time to gel: end of shaping where the data sheet gives no working time, if sooner"),
        field<&L::crease_step>("crease_step", dflt, "0 min to 24 h", "0 min to 10 min",
                               "wrinkle check: deflated a little, then full again"),
        share<&L::release_share>("release_share", dflt, "1 % to 100 %", "70 % to 99 %",
                                 "of the conversion attainable at the wall's temperature"),
        field<&L::release_glass_margin>("release_glass_margin", dflt, "0 K to 200 K", "0 K to 40 K",
                                        "glass temperature over the wall's"),
        share<&L::let_down_margin>("let_down_margin", dflt, "0 % to 500 %", "0 % to 50 %",
                                   "the firm's own addition to the calculated time"),
        field<&L::temperature_doubt>(
            "temperature_doubt", dflt, "0 K to 200 K", "0.5 K to 10 K",
            "of temperatures calculated before the day: in one case of ten warmer by more, in one colder"),
        field<&L::measured_doubt>("measured_doubt", dflt, "0 K to 200 K", "0.2 K to 5 K",
                                  "the same, of temperatures measured on site"),
        share<&L::late_at_most>("late_at_most", dflt, "0.01 % to 50 %", "0.1 % to 20 %",
                                "chance that a sleeve is not in place and shaped in time"),
        share<&L::soft_at_most>("soft_at_most", dflt, "0.01 % to 50 %", "0.1 % to 10 %",
                                "chance that a sleeve is not hard when it is deflated"),
        share<&L::hands_shared>("hands_shared", dflt, any_share, any_share,
                                "share of the variance of hands-on times that one cause has in common"),
        // schedule
        field<&L::overtime>("overtime", dflt, "0 min to 12 h", "0 min to 3 h",
                            "past the finish, at the rates' premium"),
        field<&L::helpers>("helpers", dflt, "0 to 3", "0 to 2", "that may be hired for a day, at the rates' price"),
        field<&L::overnight_cure>("overnight_cure", dflt, "packers may stay over night"),
        field<&L::alarm_gauge>("alarm_gauge", dflt, "a gauge with alarm frees the person who watches a cure"),
        field<&L::crews>("crews", dflt, "1 to 100", "1 to 5", "working side by side"),
        field<&L::air_lines>("air_lines", dflt, "1 to 100", "1 to 10", "packers under air at one time"),
        field<&L::jetters>("jetters", dflt, "1 to 20", "1 to 3", "that a crew has: runs cleaned at one time"),
        field<&L::cameras>("cameras", dflt, "1 to 20", "1 to 3", "that a crew has: runs surveyed at one time"),
        field<&L::cutters>("cutters", dflt, "1 to 20", "1 to 3", "that a crew has: junctions reopened at one time"),
        field<&L::prepare_in_yard>("prepare_in_yard", dflt,
                                   "felt is cut and packers are built and tested before leaving"),
        field<&L::watcher_may_work>(
            "watcher_may_work", dflt,
            "who watches a cure may do one-person jobs at that access that can be dropped at once"),
        field<&L::sight>("sight", dflt, "0 m to 1 km", "0 m to 60 m",
                         "the mouths of a run up to so long are watched by one person"),
    };
    return list;
}

std::span<const Field<Durations>> Described<Durations>::fields() {
    using D = Durations;
    static constexpr std::string_view any = "0 min to 30 d", short_task = "0.5 min to 1 h", task = "1 min to 3 h";
    static const Field<Durations> list[] = {
        field<&D::travel>("travel", dflt, any, "0 min to 4 h", "one way"),
        field<&D::set_up>("set_up", dflt, any, task, "of the place of work"),
        field<&D::open_access>("open_access", dflt, any, task, "one more access opened and made safe"),
        field<&D::clean_per_10_m>("clean_per_10_m", dflt, any, task, "with the jetter"),
        field<&D::clean_roots_per_10_m>("clean_roots_per_10_m", dflt, any, "5 min to 6 h", "with a root cutter"),
        field<&D::flush>("flush", dflt, any, task, "of a run cleaned on an earlier day, with a look"),
        field<&D::survey>("survey", dflt, any, task, "with the camera, before the patches"),
        field<&D::flow_control>("flow_control", dflt, any, task, "plugs or pumps set"),
        field<&D::cut>("cut", dflt, any, task, "felt of one sleeve"),
        field<&D::build>("build", dflt, any, task, "a packer from its parts"),
        field<&D::bench_test>("bench_test", dflt, any, task, "of one packer"),
        field<&D::wet_out>("wet_out", dflt, any, short_task, "of one sleeve, whatever its length"),
        field<&D::wet_out_per_m>("wet_out_per_m", dflt, any, short_task, "more for each metre of sleeve"),
        field<&D::load>("load", dflt, any, short_task, "sleeve onto packer"),
        field<&D::position>("position", dflt, any, short_task, "packer to its mark"),
        field<&D::inflate>("inflate", dflt, any, short_task, "to the set pressure"),
        field<&D::crease>("crease", dflt, any, short_task, "wrinkle check"),
        field<&D::let_down>("let_down", dflt, any, task, "deflate and withdraw the packer"),
        field<&D::re_survey>("re_survey", dflt, any, task, "with the camera, after the patches"),
        field<&D::reopen>("reopen", dflt, any, task, "a covered connection"),
        field<&D::pack_up>("pack_up", dflt, any, task, "at the end of the day"),
        field<&D::dry>("dry", dflt, any, task, "the wall, from cleaning to the first sleeve"),
    };
    return list;
}

}  // namespace patchwright::io
