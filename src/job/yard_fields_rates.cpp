// Limits, durations, rates and risks.
#include "yard_fields.hpp"

namespace patchwright::job {
namespace {

constexpr Rule most_bore_share = share();
constexpr Rule crew = number(1.0, "1", 100.0, "100");
constexpr Rule factor = number(0.0, "", 100.0, "100", true);
constexpr Rule chance{1e-4, 0.5, false, "0.01 %", "50 %", Form::share};
constexpr Rule whole_share{0.0, 1.0, false, "", "100 %", Form::plain};
constexpr Rule productive_share{0.0, 1.0, true, "", "100 %", Form::plain};

bool read_version(Reader& reader, const Node& node, Yard&, const Rule&) {
    if (node.kind == NodeKind::number && node.number == 1.0) return true;
    reader.error(node, "this program reads version 1 of the yard file: \"patchwright_yard\": 1");
    return false;
}

/// Taken care of before the rest is read.
bool read_extends(Reader& reader, const Node& node, Yard&, const Rule&) {
    if (node.kind == NodeKind::string && node.text == "builtin") return true;
    reader.error(node, "only the built-in yard can be extended: \"extends\": \"builtin\"");
    return false;
}

}  // namespace

/// {"low": .., "likely": .., "high": .., "persons": ..}, the last as before when it is not given.
bool read_value(Reader& reader, const Node& node, TaskTime& out, const Rule& rule) {
    bool good = read_spread(reader, node, static_cast<Spread<Duration>&>(out), rule, "persons");
    if (const Node* persons = node.kind == NodeKind::object ? node.find("persons") : nullptr; persons != nullptr)
        good = read_value(reader, *persons, out.persons, crew) && good;
    return good;
}

std::span<const Field<Limits>> Described<Limits>::fields() {
    using L = Limits;
    static constexpr Field<Limits> list[] = {
        field<&L::step_share>("step_share", Need::defaulted, most_bore_share),
        field<&L::step_most>("step_most"),
        field<&L::open_joint_most>("open_joint_most"),
        field<&L::hole_share>("hole_share", Need::defaulted, most_bore_share),
        field<&L::missing_circumference_share>("missing_circumference_share", Need::defaulted, most_bore_share),
        field<&L::ovality_most>("ovality_most", Need::defaulted, percent(50.0, "50 %")),
        field<&L::deposit_clean_most>("deposit_clean_most", Need::defaulted, percent(100.0, "100 %")),
        field<&L::root_clean_most>("root_clean_most", Need::defaulted, percent(100.0, "100 %")),
        field<&L::protrusion_clean>("protrusion_clean"),
        field<&L::scope_bore_min>("scope_bore_min"),
        field<&L::crowd_count>("crowd_count", Need::defaulted, number(0.0, "", 1000.0, "1000")),
        field<&L::crowd_within>("crowd_within"),
        field<&L::crowd_lined_share>("crowd_lined_share", Need::defaulted, share()),
        field<&L::overlap>("overlap", Need::defaulted, up_to(5.0 * unit::m, "5 m")),
        field<&L::tolerance>("tolerance", Need::defaulted, up_to(5.0 * unit::m, "5 m")),
        field<&L::live_keep_out>("live_keep_out"),
        field<&L::joint_keep_out>("joint_keep_out"),
        field<&L::defect_keep_out>("defect_keep_out"),
        field<&L::gap>("gap"),
        field<&L::lap>("lap"),
        field<&L::chamber_keep_out>("chamber_keep_out"),
        field<&L::restraint_sleeve>("restraint_sleeve"),
        field<&L::longest_sleeve>("longest_sleeve", Need::defaulted, positive(100.0 * unit::m, "100 m")),
        field<&L::least_thickness>("least_thickness"),
        field<&L::most_wall_share>("most_wall_share", Need::defaulted, share(0.5, "50 %")),
        field<&L::soil_modulus>("soil_modulus"),
        field<&L::soil_unit_weight>("soil_unit_weight"),
        field<&L::enhancement>("enhancement", Need::defaulted, number(1.0, "1", 20.0, "20")),
        field<&L::safety>("safety", Need::defaulted, number(1.0, "1", 20.0, "20")),
        field<&L::poisson>("poisson", Need::defaulted, number(0.0, "", 0.499, "0.499")),
        field<&L::seam_overlap_small>("seam_overlap_small"),
        field<&L::seam_overlap_large>("seam_overlap_large"),
        field<&L::end_trim>("end_trim"),
        field<&L::most_layers>("most_layers", Need::defaulted, number(1.0, "1", 20.0, "20")),
        field<&L::seating>("seating"),
        field<&L::host_most>("host_most", Need::defaulted, positive(20.0 * unit::bar, "20 bar")),
        field<&L::compressor_excess>("compressor_excess"),
        field<&L::bench_share_of_rated>("bench_share_of_rated", Need::defaulted, share()),
        field<&L::bench_hold>("bench_hold"),
        field<&L::bench_drop>("bench_drop"),
        field<&L::relief_warming>("relief_warming"),
        field<&L::air>("air"),
        field<&L::relief_above_set>("relief_above_set"),
        field<&L::limit_above_relief>("limit_above_relief"),
        field<&L::strap_rating>("strap_rating"),
        field<&L::strap_friction>("strap_friction", Need::defaulted, number(0.0, "", 2.0, "2")),
        field<&L::travel_share>("travel_share", Need::defaulted, share()),
        field<&L::push_reach>("push_reach"),
        field<&L::strap_length>("strap_length"),
        field<&L::reach_slack>("reach_slack", Need::defaulted, up_to(50.0 * unit::m, "50 m")),
        field<&L::push_bends_most>("push_bends_most", Need::defaulted, number(0.0, "", 20.0, "20")),
        field<&L::strap_drag>("strap_drag"),
        field<&L::crossing_angle_most>("crossing_angle_most", Need::defaulted, up_to(180.0 * unit::deg, "180 deg")),
        field<&L::crossing_radius_share>("crossing_radius_share", Need::defaulted, number(0.0, "", 100.0, "100")),
        field<&L::bladder_projection>("bladder_projection"),
        field<&L::bladder_fold_over>("bladder_fold_over"),
        field<&L::air_hose_length>("air_hose_length"),
        field<&L::air_hose_bore>("air_hose_bore"),
        field<&L::resin_excess>("resin_excess", Need::defaulted, share(2.0, "200 %")),
        field<&L::fixed_loss>("fixed_loss"),
        field<&L::pot_share>("pot_share", Need::defaulted, share()),
        field<&L::roller_factor>("roller_factor", Need::defaulted, number(0.5, "0.5", 10.0, "10")),
        field<&L::resin_temperature>("resin_temperature"),
        field<&L::working_conversion>("working_conversion", Need::defaulted, number(0.0, "", 0.99, "0.99", true)),
        field<&L::crease_share_of_gel>("crease_share_of_gel", Need::defaulted, share()),
        field<&L::crease_step>("crease_step"),
        field<&L::release_share>("release_share", Need::defaulted, share()),
        field<&L::release_glass_margin>("release_glass_margin"),
        field<&L::let_down_margin>("let_down_margin", Need::defaulted, share(5.0, "500 %")),
        field<&L::temperature_doubt>("temperature_doubt"),
        field<&L::measured_doubt>("measured_doubt"),
        field<&L::late_at_most>("late_at_most", Need::defaulted, chance),
        field<&L::soft_at_most>("soft_at_most", Need::defaulted, chance),
        field<&L::hands_shared>("hands_shared", Need::defaulted, share()),
        field<&L::overtime>("overtime", Need::defaulted, up_to(12.0 * unit::h, "12 h")),
        field<&L::helpers>("helpers", Need::defaulted, number(0.0, "0", 3.0, "3")),
        field<&L::overnight_cure>("overnight_cure"),
        field<&L::alarm_gauge>("alarm_gauge"),
        field<&L::crews>("crews", Need::defaulted, crew),
        field<&L::air_lines>("air_lines", Need::defaulted, crew),
        field<&L::prepare_in_yard>("prepare_in_yard"),
        field<&L::watcher_may_work>("watcher_may_work"),
        field<&L::sight>("sight", Need::defaulted, up_to(1000.0 * unit::m, "1000 m")),
    };
    return list;
}

std::span<const Field<Durations>> Described<Durations>::fields() {
    using D = Durations;
    static constexpr Field<Durations> list[] = {
        field<&D::travel>("travel"),
        field<&D::set_up>("set_up"),
        field<&D::open_access>("open_access"),
        field<&D::clean_per_10_m>("clean_per_10_m"),
        field<&D::clean_roots_per_10_m>("clean_roots_per_10_m"),
        field<&D::flush>("flush"),
        field<&D::survey>("survey"),
        field<&D::flow_control>("flow_control"),
        field<&D::cut>("cut"),
        field<&D::build>("build"),
        field<&D::bench_test>("bench_test"),
        field<&D::wet_out>("wet_out"),
        field<&D::wet_out_per_m>("wet_out_per_m"),
        field<&D::load>("load"),
        field<&D::position>("position"),
        field<&D::inflate>("inflate"),
        field<&D::crease>("crease"),
        field<&D::let_down>("let_down"),
        field<&D::re_survey>("re_survey"),
        field<&D::reopen>("reopen"),
        field<&D::pack_up>("pack_up"),
        field<&D::dry>("dry"),
    };
    return list;
}

std::span<const Field<Rates>> Described<Rates>::fields() {
    using R = Rates;
    // A price has no default: what is not known is never invented.
    static constexpr Field<Rates> list[] = {
        field<&R::currency>("currency", Need::always),
        field<&R::crew_size>("crew_size", Need::defaulted, crew),
        field<&R::wage>("wage", Need::always),
        field<&R::on_costs>("on_costs"),
        field<&R::productive>("productive", Need::defaulted, productive_share),
        field<&R::vehicle_per_day>("vehicle_per_day", Need::always),
        field<&R::jetter_per_day>("jetter_per_day", Need::always),
        field<&R::camera_per_day>("camera_per_day", Need::always),
        field<&R::compressor_per_day>("compressor_per_day", Need::always),
        field<&R::cutter_per_day>("cutter_per_day", Need::always),
        field<&R::travel_cost>("travel_cost", Need::always),
        field<&R::travel_distance>("travel_distance"),
        field<&R::film>("film", Need::always),
        field<&R::consumables_per_patch>("consumables_per_patch", Need::always),
        field<&R::consumables_per_visit>("consumables_per_visit", Need::always),
        field<&R::felt_waste>("felt_waste"),
        field<&R::overhead>("overhead"),
        field<&R::overhead_per_crew_day>("overhead_per_crew_day", Need::never),
        field<&R::profit>("profit", Need::defaulted, Rule{0.0, 10.0, false, "", "1000 %", Form::plain}),
        field<&R::profit_is_margin>("profit_is_margin"),
        field<&R::minimum_charge>("minimum_charge", Need::always),
        field<&R::round_to>("round_to", Need::always),
        field<&R::discount>("discount", Need::defaulted, whole_share),
        field<&R::tax>("tax"),
        field<&R::tax_materials>("tax_materials", Need::never),
        field<&R::tax_registered>("tax_registered"),
        field<&R::suggested_share>("suggested_share", Need::defaulted, whole_share),
        field<&R::survey_price>("survey_price", Need::always),
        field<&R::labour_spread>("labour_spread", Need::defaulted, factor),
        field<&R::material_spread>("material_spread", Need::defaulted, factor),
        field<&R::plant_spread>("plant_spread", Need::defaulted, factor),
        field<&R::shared_causes>("shared_causes", Need::defaulted, whole_share),
        field<&R::validity_days>("validity_days", Need::defaulted, number(1.0, "1", 3650.0, "3650")),
        field<&R::premium_overnight>("premium_overnight", Need::always),
        field<&R::overtime_premium>("overtime_premium"),
        field<&R::helper_per_day>("helper_per_day", Need::never),
    };
    return list;
}

std::span<const Field<SurfaceRate>> Described<SurfaceRate>::fields() {
    static constexpr Field<SurfaceRate> list[] = {
        field<&SurfaceRate::surface>("surface", Need::always),
        field<&SurfaceRate::thickness>("thickness", Need::always, up_to(2.0 * unit::m, "2 m")),
        field<&SurfaceRate::cut_back>("cut_back", Need::always, up_to(5.0 * unit::m, "5 m")),
        field<&SurfaceRate::break_out>("break_out", Need::always),
        field<&SurfaceRate::reinstate>("reinstate", Need::always),
        field<&SurfaceRate::density>("density", Need::always),
        field<&SurfaceRate::disposal>("disposal", Need::never),
    };
    return list;
}

std::span<const Field<SoilRate>> Described<SoilRate>::fields() {
    static constexpr Field<SoilRate> list[] = {
        field<&SoilRate::soil>("soil", Need::always),
        field<&SoilRate::loose_factor>("loose_factor", Need::always, number(1.0, "1", 3.0, "3")),
        field<&SoilRate::compacted_factor>("compacted_factor", Need::always, number(0.5, "0.5", 2.0, "2")),
        field<&SoilRate::bank_density>("bank_density", Need::always),
        field<&SoilRate::slope_h_per_v>("slope_h_per_v", Need::always, number(0.0, "", 5.0, "5")),
        field<&SoilRate::dig_factor>("dig_factor", Need::always, factor),
    };
    return list;
}

std::span<const Field<DigRates::Output>> Described<DigRates::Output>::fields() {
    using O = DigRates::Output;
    static constexpr Field<O> list[] = {
        field<&O::depth_to>("depth_to", Need::always, positive(50.0 * unit::m, "50 m")),
        field<&O::days_hard>("days_hard", Need::always, factor),
        field<&O::days_soft>("days_soft", Need::always, factor),
        field<&O::metres_hard>("metres_hard", Need::never, number(0.0, "", 1000.0, "1000")),
        field<&O::metres_soft>("metres_soft", Need::never, number(0.0, "", 1000.0, "1000")),
    };
    return list;
}

std::span<const Field<DigRates>> Described<DigRates>::fields() {
    using R = DigRates;
    constexpr Rule waste = share(5.0, "500 %");
    static constexpr Field<DigRates> list[] = {
        field<&R::width_by_d2321>("width_by_d2321"),
        field<&R::buckets>("buckets", Need::defaulted, positive(10.0 * unit::m, "10 m")),
        field<&R::surfaces>("surfaces", Need::always),
        field<&R::soils>("soils", Need::always),
        field<&R::excavate>("excavate", Need::always),
        field<&R::hand_excavate>("hand_excavate", Need::always),
        field<&R::backfill>("backfill", Need::always),
        field<&R::granular>("granular", Need::always),
        field<&R::shoring>("shoring", Need::always),
        field<&R::box_per_day>("box_per_day", Need::always),
        field<&R::digger_per_day>("digger_per_day", Need::always),
        field<&R::digger_minimum>("digger_minimum", Need::always),
        field<&R::dewatering_per_day>("dewatering_per_day", Need::always),
        field<&R::permit>("permit", Need::always),
        field<&R::services_trace>("services_trace", Need::always),
        field<&R::disposal>("disposal", Need::always),
        field<&R::pipe_joint>("pipe_joint", Need::always),
        field<&R::pipe>("pipe", Need::always),
        field<&R::asbestos_surcharge>("asbestos_surcharge", Need::always),
        field<&R::deep_surcharge>("deep_surcharge"),
        field<&R::deep_from>("deep_from"),
        field<&R::sound_pipe_each_side>("sound_pipe_each_side"),
        field<&R::shortest_pit>("shortest_pit", Need::defaulted, positive(20.0 * unit::m, "20 m")),
        field<&R::protect_from>("protect_from"),
        field<&R::engineer_from>("engineer_from"),
        field<&R::bed>("bed"),
        field<&R::surround>("surround"),
        field<&R::over_break>("over_break", Need::defaulted, waste),
        field<&R::granular_waste>("granular_waste", Need::defaulted, waste),
        field<&R::crew_size>("crew_size", Need::defaulted, crew),
        field<&R::outputs>("outputs", Need::defaulted, Rule{}),
        field<&R::single_repair>("single_repair", Need::defaulted, positive(100.0 * unit::m, "100 m")),
        field<&R::bulk_per_day>("bulk_per_day", Need::defaulted, positive(1e4 * unit::m3, "10000 m3")),
        field<&R::working_day>("working_day", Need::defaulted, positive(24.0 * unit::h, "24 h")),
        field<&R::hand_factor>("hand_factor", Need::defaulted, factor),
        field<&R::services_factor>("services_factor", Need::defaulted, factor),
        field<&R::surface_crew_days>("surface_crew_days", Need::defaulted, number(0.0, "", 100.0, "100")),
        field<&R::surface_crew_size>("surface_crew_size", Need::defaulted, crew),
        field<&R::sheet_thickness>("sheet_thickness"),
        field<&R::engineer_design>("engineer_design", Need::always),
        field<&R::reuse_under_hard>("reuse_under_hard"),
        field<&R::traffic_management_per_day>("traffic_management_per_day", Need::always),
        field<&R::ground_spread>("ground_spread", Need::defaulted, factor),
        field<&R::access_spread>("access_spread", Need::defaulted, factor),
    };
    return list;
}

std::span<const Field<Risk>> Described<Risk>::fields() {
    static constexpr Field<Risk> list[] = {
        field<&Risk::id>("id", Need::always),
        field<&Risk::words>("words", Need::always),
        field<&Risk::of_dig>("of_dig", Need::never),
        field<&Risk::probability>("probability", Need::always, whole_share),
        field<&Risk::cost>("cost", Need::always, DefaultRule<Money>::rule),
        field<&Risk::consequence>("consequence", Need::always),
        field<&Risk::then_dig>("then_dig", Need::never, whole_share),
        field<&Risk::cause>("cause", Need::never),
    };
    return list;
}

std::span<const Field<Yard>> Described<Yard>::fields() {
    static constexpr Field<Yard> list[] = {
        {"patchwright_yard", Need::always, {}, read_version},
        {"extends", Need::never, {}, read_extends},
        field<&Yard::name>("name", Need::always),
        field<&Yard::demonstration>("demonstration", Need::never),
        field<&Yard::packers>("packers", Need::always),
        field<&Yard::chassis>("chassis", Need::never),
        field<&Yard::bladders>("bladders", Need::never),
        field<&Yard::felts>("felts", Need::always),
        field<&Yard::resins>("resins", Need::always),
        field<&Yard::heaters>("heaters", Need::never),
        field<&Yard::conditioning>("conditioning", Need::never),
        field<&Yard::limits>("limits"),
        field<&Yard::durations>("durations"),
        field<&Yard::rates>("rates", Need::always),
        field<&Yard::dig_rates>("dig_rates", Need::always),
        field<&Yard::risks>("risks"),
        field<&Yard::dig_market>("dig_market"),
        field<&Yard::price_list>("price_list", Need::never),
        field<&Yard::firm>("firm", Need::never),
    };
    return list;
}

}  // namespace patchwright::job
