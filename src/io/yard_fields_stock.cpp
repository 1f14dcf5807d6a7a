// Packers, the parts to build them from, and felts.
#include "yard_fields.hpp"

namespace patchwright::io {
namespace {

constexpr std::string_view bore = "10 mm to 3 m", usual_bore = "30 mm to 400 mm";
constexpr std::string_view across = "5 mm to 3 m", size = "above 0 m to 20 m", roll = "above 0 m to 1 km",
                           piece = "1 mm to 1 km", piece_width = "1 mm to 20 m";  // felt is cut in whole millimetres
constexpr std::string_view air = "above 0 bar to 10 bar";
constexpr std::string_view count = "0 to 10000", usual_count = "0 to 50";
constexpr std::string_view uses = "1 to 100000", usual_uses = "1 to 2000";

}  // namespace

std::span<const Field<Packer>> Described<Packer>::fields() {
    static const Field<Packer> list[] = {
        field<&Packer::id>("id", Need::always, "name"),
        field<&Packer::shape>("shape", Need::always, "of its body"),
        field<&Packer::material>("material", Need::always, "of the bladder"),
        field<&Packer::usable_min>("usable_min", Need::always, "0 m to 20 m", "0.1 m to 3 m",
                                   "shortest sleeve that it carries"),
        field<&Packer::usable_max>("usable_max", Need::always, size, "0.2 m to 6 m", "longest sleeve that it carries"),
        field<&Packer::bore_min>("bore_min", Need::always, bore, usual_bore, "smallest bore that it serves"),
        field<&Packer::bore_max>("bore_max", Need::always, bore, usual_bore, "largest bore that it serves"),
        field<&Packer::travelling_diameter>("travelling_diameter", Need::always, across, "15 mm to 250 mm",
                                            "deflated, without felt"),
        field<&Packer::rigid_length>("rigid_length", Need::always, "0 m to 20 m", "20 mm to 2 m",
                                     "of its longest stiff part"),
        field<&Packer::rigid_diameter>("rigid_diameter", Need::always, across, "10 mm to 200 mm",
                                       "across that part, over tape and clamp"),
        field<&Packer::projection>("projection", Need::always, "0 m to 5 m", "20 mm to 500 mm",
                                   "bladder beyond the sleeve at each end, when inflated"),
        field<&Packer::overall_length>("overall_length", Need::always, size, "0.3 m to 8 m", "tip to tip"),
        field<&Packer::fill_pressure>("fill_pressure", Need::always, air, "0.03 bar to 2 bar",
                                      "gauge, brings the bladder to the bore in open air"),
        field<&Packer::rated_pressure>("rated_pressure", Need::always, air, "0.3 bar to 6 bar", "gauge, as marked"),
        field<&Packer::flow_through>("flow_through", Need::never, "has a bore that passes the drain's flow"),
        field<&Packer::hose_length>("hose_length", Need::always, "0 m to 500 m", "3 m to 100 m",
                                    "of the air line; counts in the stored energy"),
        field<&Packer::hose_bore>("hose_bore", Need::always, "1 mm to 100 mm", "3 mm to 25 mm", "of the air line"),
        field<&Packer::count>("count", Need::never, count, usual_count, "so many stand in the yard; 1 when left out"),
        money<&Packer::price>("price", Need::always, "20 EUR to 10000 EUR", "new"),
        field<&Packer::expected_uses>("expected_uses", Need::always, uses, usual_uses,
                                      "a use wears price / expected uses"),
    };
    return list;
}

std::span<const Field<Chassis>> Described<Chassis>::fields() {
    static const Field<Chassis> list[] = {
        field<&Chassis::id>("id", Need::always, "name"),
        field<&Chassis::diameter>("diameter", Need::always, across, "10 mm to 150 mm", "across tape and clamp"),
        field<&Chassis::fitting_length>("fitting_length", Need::always, size, "20 mm to 300 mm", "of one end fitting"),
        field<&Chassis::bore_min>("bore_min", Need::always, bore, usual_bore, "smallest bore that it serves"),
        field<&Chassis::bore_max>("bore_max", Need::always, bore, usual_bore, "largest bore that it serves"),
        field<&Chassis::rod_length>("rod_length", Need::always, "0 m to 100 m", "0.2 m to 10 m",
                                    "flexible rod between the two end fittings"),
        field<&Chassis::count>("count", Need::never, count, usual_count, "so many stand in the yard; 1 when left out"),
        money<&Chassis::price>("price", Need::always, "10 EUR to 3000 EUR", "new"),
        field<&Chassis::expected_uses>("expected_uses", Need::always, uses, usual_uses,
                                       "a use wears price / expected uses"),
    };
    return list;
}

std::span<const Field<Bladder>> Described<Bladder>::fields() {
    static const Field<Bladder> list[] = {
        field<&Bladder::id>("id", Need::always, "name"),
        field<&Bladder::material>("material", Need::always, "of the hose"),
        field<&Bladder::diameter>("diameter", Need::always, across, "15 mm to 300 mm", "deflated, round"),
        field<&Bladder::wall>("wall", Need::always, "0.05 mm to 100 mm", "0.3 mm to 8 mm", "thickness"),
        field<&Bladder::roll_length>("roll_length", Need::always, roll, "1 m to 200 m", "as bought"),
        field<&Bladder::stretch>("stretch", Need::always, "1 to 10", "1.02 to 4",
                                 "greatest inflated over deflated diameter"),
        field<&Bladder::fill_pressure>("fill_pressure", Need::always, air, "0.03 bar to 2 bar",
                                       "gauge, at the greatest stretch"),
        field<&Bladder::rated_pressure>("rated_pressure", Need::always, air, "0.2 bar to 6 bar", "gauge, as marked"),
        money<&Bladder::price>("price", Need::always, "0.5 EUR/m to 300 EUR/m", "new"),
        field<&Bladder::expected_uses>("expected_uses", Need::always, uses, usual_uses,
                                       "a use wears price / expected uses"),
        field<&Bladder::doubled>("doubled", Need::never, "used as two layers, one inside the other"),
    };
    return list;
}

std::span<const Field<FeltPiece>> Described<FeltPiece>::fields() {
    static const Field<FeltPiece> list[] = {
        field<&FeltPiece::length>("length", Need::always, piece, "0.1 m to 200 m", "along the roll"),
        field<&FeltPiece::width>("width", Need::always, piece_width, "50 mm to 3 m", "across the roll"),
        field<&FeltPiece::count>("count", Need::never, count, usual_count, "so many of them; 1 when left out"),
        field<&FeltPiece::offcut>("offcut", Need::never, "left over from another job"),
    };
    return list;
}

std::span<const Field<Felt>> Described<Felt>::fields() {
    static const Field<Felt> list[] = {
        field<&Felt::id>("id", Need::always, "name"),
        field<&Felt::form>("form", Need::always, "as bought"),
        field<&Felt::fibre>("fibre", Need::always, "what it is made of"),
        field<&Felt::thickness>("thickness", Need::always, "0.1 mm to 100 mm", "0.5 mm to 8 mm",
                                "of one layer, under packer pressure"),
        field<&Felt::areal_mass>("areal_mass", Need::always, "1 g/m2 to 100000 g/m2", "100 g/m2 to 3000 g/m2", "dry"),
        share<&Felt::void_fraction>("void_fraction", Need::always, "10 % to 99 %", "60 % to 95 %",
                                    "under packer pressure"),
        field<&Felt::tube_bore_min>("tube_bore_min", Need::never, bore, usual_bore, "smallest bore that a tube fits"),
        field<&Felt::tube_bore_max>("tube_bore_max", Need::never, bore, usual_bore, "largest bore that a tube fits"),
        field<&Felt::flat_width>("flat_width", Need::never, size, "50 mm to 700 mm", "of a tube laid flat"),
        share<&Felt::take_up>("take_up", Need::never, "0 % to 50 %", "0 % to 15 %",
                              "length lost when a tube widens to the bore"),
        field<&Felt::roll_width>("roll_width", Need::always, piece_width, "50 mm to 3 m", "as bought"),
        field<&Felt::roll_length>("roll_length", Need::always, piece, "1 m to 200 m", "as bought"),
        money<&Felt::price>("price", Need::always, "1 EUR/m2 to 200 EUR/m2", "as bought"),
        share<&Felt::offcut_value>("offcut_value", Need::never, "0 % to 100 %", "0 % to 100 %",
                                   "share of the price at which an owned offcut is charged"),
        field<&Felt::stock>("stock", Need::never, "pieces in the yard"),
    };
    return list;
}

}  // namespace patchwright::io
