// Rates, risks and the yard as a whole.
#include "yard_fields.hpp"

namespace patchwright::io {
namespace {

constexpr std::string_view usual_factor = "0.5 to 3";

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

std::span<const Field<Rates>> Described<Rates>::fields() {
    using R = Rates;
    static constexpr std::string_view day = "0 EUR to 1000 EUR";
    // A price has no default: what is not known is never invented.
    static const Field<Rates> list[] = {
        field<&R::currency>("currency", Need::always, "of every price in the yard"),
        field<&R::crew_size>("crew_size", dflt, "1 to 100", "1 to 6", "people in one crew"),
        money<&R::wage>("wage", Need::always, "5 EUR/h to 100 EUR/h", "paid to each person"),
        field<&R::on_costs>("on_costs", dflt, "0 % to 1000 %", "5 % to 120 %",
                            "on the wage: an hour costs wage x (1 + on_costs) / productive"),
        field<&R::productive>("productive", dflt, "above 0 % to 100 %", "50 % to 100 %", "share of paid hours"),
        money<&R::vehicle_per_day>("vehicle_per_day", Need::always, day, "van"),
        money<&R::jetter_per_day>("jetter_per_day", Need::always, day, "jetter"),
        money<&R::camera_per_day>("camera_per_day", Need::always, day, "camera"),
        money<&R::compressor_per_day>("compressor_per_day", Need::always, day, "compressor"),
        money<&R::cutter_per_day>("cutter_per_day", Need::always, day, "cutter"),
        money<&R::travel_cost>("travel_cost", Need::always, "0 EUR/km to 5 EUR/km", "over \"travel_distance\""),
        field<&R::travel_distance>("travel_distance", dflt, "0 m to 10000 km", "0 km to 300 km", "one way"),
        money<&R::film>("film", Need::always, "0.05 EUR/m to 30 EUR/m", "separating film"),
        money<&R::consumables_per_patch>("consumables_per_patch", Need::always, "0 EUR to 200 EUR",
                                         "gloves, tape, pots"),
        money<&R::consumables_per_visit>("consumables_per_visit", Need::always, "0 EUR to 300 EUR", "fuel, cones"),
        field<&R::felt_waste>("felt_waste", dflt, "0 % to 1000 %", "0 % to 50 %", "on the felt cut"),
        field<&R::overhead>("overhead", dflt, "0 % to 1000 %", "0 % to 80 %", "on direct cost and risk"),
        money<&R::overhead_per_crew_day>("overhead_per_crew_day", Need::never, "0 EUR to 2000 EUR",
                                         "in place of \"overhead\" when not zero"),
        field<&R::profit>("profit", dflt, "0 % to 1000 %", "0 % to 60 %", "a markup unless \"profit_is_margin\""),
        field<&R::profit_is_margin>("profit_is_margin", dflt, "profit is a share of the price"),
        money<&R::minimum_charge>("minimum_charge", Need::always, "0 EUR to 3000 EUR", "least price of a job"),
        money<&R::round_to>("round_to", Need::always, "0 EUR to 100 EUR", "step of the price"),
        field<&R::discount>("discount", dflt, any_share, "0 % to 30 %", "off the price"),
        field<&R::tax>("tax", dflt, "0 % to 1000 %", "0 % to 30 %", "on the price"),
        field<&R::tax_materials>("tax_materials", Need::never, "0 % to 1000 %", "0 % to 30 %",
                                 "on the material part of the price, where it differs"),
        field<&R::tax_registered>("tax_registered", dflt, "the firm charges tax"),
        field<&R::suggested_share>("suggested_share", dflt, any_share, any_share, "of the way from floor to ceiling"),
        money<&R::survey_price>("survey_price", Need::always, "0 EUR to 2000 EUR", "of a survey alone"),
        field<&R::labour_spread>("labour_spread", dflt, any_factor, usual_factor, "factor round one"),
        field<&R::material_spread>("material_spread", dflt, any_factor, usual_factor, "factor round one"),
        field<&R::plant_spread>("plant_spread", dflt, any_factor, usual_factor, "factor round one"),
        field<&R::shared_causes>("shared_causes", dflt, any_share, any_share,
                                 "rank correlation of tasks that share a cause"),
        field<&R::validity_days>("validity_days", dflt, "1 to 3650", "7 to 180", "of a quote"),
        money<&R::premium_overnight>("premium_overnight", Need::always, "0 EUR to 2000 EUR", "for a cure over night"),
        field<&R::overtime_premium>("overtime_premium", dflt, "0 % to 1000 %", "0 % to 150 %",
                                    "on the wage, for work past the finish"),
        money<&R::helper_per_day>("helper_per_day", Need::never, day, "one more person; not given: nobody is hired"),
    };
    return list;
}

std::span<const Field<Risk>> Described<Risk>::fields() {
    static const Field<Risk> list[] = {
        field<&Risk::id>("id", Need::always, "name"),
        field<&Risk::words>("words", Need::always, "as the estimator reads it"),
        field<&Risk::of_dig>("of_dig", Need::never, "of digging, not of patching"),
        field<&Risk::probability>("probability", Need::always, any_share, "0 % to 50 %", "a patch, or a dig place"),
        money<&Risk::cost>("cost", Need::always, "0 EUR to 50000 EUR",
                           "when it happens, beside the redo or dig that the program works out"),
        field<&Risk::consequence>("consequence", Need::always, "what follows"),
        field<&Risk::then_dig>("then_dig", Need::never, any_share, "0 % to 60 %", "share of redos that end in a dig"),
        field<&Risk::cause>("cause", Need::never, "shared with other tasks"),
    };
    return list;
}

std::span<const Field<Drive>> Described<Drive>::fields() {
    static const Field<Drive> list[] = {
        field<&Drive::from>("from", Need::never, "coordinates of the yard"),
        field<&Drive::in_an_hour>("in_an_hour", dflt, "1 km to 200 km", "15 km to 80 km",
                                  "of road, with traffic and parking"),
        field<&Drive::detour>("detour", dflt, "1 to 10", "1 to 2", "road over the straight line"),
    };
    return list;
}

std::span<const Field<Yard>> Described<Yard>::fields() {
    static const Field<Yard> list[] = {
        {"patchwright_yard", Need::always, "version of the file's form", {"1"}, {}, read_version},
        {"extends",
         Need::never,
         "\"builtin\": what is not given is the built-in yard's",
         {"\"builtin\""},
         {},
         read_extends},
        field<&Yard::name>("name", Need::always, "of the firm or its yard"),
        field<&Yard::demonstration>("demonstration", Need::never,
                                    "the prices are invented: every sheet with money says so"),
        field<&Yard::packers>("packers", Need::always, "built ones"),
        field<&Yard::chassis>("chassis", Need::never, "end fittings to build packers from"),
        field<&Yard::bladders>("bladders", Need::never, "hoses to build packers from"),
        field<&Yard::felts>("felts", Need::always, "what sleeves are made of"),
        field<&Yard::resins>("resins", Need::always, "what they are wet with"),
        field<&Yard::heaters>("heaters", Need::never, "for a cure with warm air or water"),
        field<&Yard::conditioning>("conditioning", Need::never, "resin cooled or warmed before mixing"),
        field<&Yard::limits>("limits", dflt, "what is allowed, and working allowances"),
        field<&Yard::durations>("durations", dflt, "of each task, and the persons that it takes"),
        field<&Yard::rates>("rates", Need::always, "what the work costs"),
        field<&Yard::dig_rates>("dig_rates", Need::always, "what digging costs"),
        field<&Yard::risks>("risks", dflt, "what may go wrong, and its cost"),
        field<&Yard::dig_market>("dig_market", dflt, "what others ask for digging: the ceiling of the price"),
        field<&Yard::price_list>("price_list", Need::never, "the firm's list prices, beside the calculated price"),
        field<&Yard::firm>("firm", Need::never, "what its letters say of it"),
        field<&Yard::drive>("drive", dflt, "how the crews get from place to place, for the week"),
    };
    return list;
}

}  // namespace patchwright::io
