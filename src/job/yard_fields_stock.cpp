// Packers, parts, felts and resins.
#include "yard_fields.hpp"

namespace patchwright::job {
namespace {

constexpr Rule bore = positive(3.0 * unit::m, "3 m");
constexpr Rule size = positive(20.0 * unit::m, "20 m");
constexpr Rule roll = positive(1.0 * unit::km, "1 km");
constexpr Rule thin = positive(100.0 * unit::mm, "100 mm");
constexpr Rule air = up_to(10.0 * unit::bar, "10 bar");
constexpr Rule rated_air = positive(10.0 * unit::bar, "10 bar");
constexpr Rule count = number(0.0, "", 10000.0, "10000");
constexpr Rule uses = number(1.0, "1", 100000.0, "100000");
constexpr Rule part = number(0.0, "", 1000.0, "1000", true);
constexpr Rule strength = positive(1e5 * unit::MPa, "100000 MPa");
constexpr Rule work_temperature = between(Temperature::celsius(-20.0), "-20 C", Temperature::celsius(80.0), "80 C");
constexpr Rule glass_temperature =
    between(Temperature::celsius(-150.0), "-150 C", Temperature::celsius(300.0), "300 C");
constexpr Rule heated = between(Temperature::celsius(15.0), "15 C", Temperature::celsius(95.0), "95 C");
constexpr Rule conditioned = between(Temperature::celsius(0.0), "0 C", Temperature::celsius(50.0), "50 C");
constexpr Rule data_time = positive(30.0 * unit::day, "30 d");

}  // namespace

std::span<const Field<Packer>> Described<Packer>::fields() {
    static constexpr Field<Packer> list[] = {
        field<&Packer::id>("id", Need::always),
        field<&Packer::shape>("shape", Need::always),
        field<&Packer::material>("material", Need::always),
        field<&Packer::usable_min>("usable_min", Need::always, up_to(20.0 * unit::m, "20 m")),
        field<&Packer::usable_max>("usable_max", Need::always, size),
        field<&Packer::bore_min>("bore_min", Need::always, bore),
        field<&Packer::bore_max>("bore_max", Need::always, bore),
        field<&Packer::travelling_diameter>("travelling_diameter", Need::always, bore),
        field<&Packer::rigid_length>("rigid_length", Need::always, up_to(20.0 * unit::m, "20 m")),
        field<&Packer::rigid_diameter>("rigid_diameter", Need::always, bore),
        field<&Packer::projection>("projection", Need::always, up_to(5.0 * unit::m, "5 m")),
        field<&Packer::overall_length>("overall_length", Need::always, size),
        field<&Packer::fill_pressure>("fill_pressure", Need::always, air),
        field<&Packer::rated_pressure>("rated_pressure", Need::always, rated_air),
        field<&Packer::flow_through>("flow_through", Need::never),
        field<&Packer::hose_length>("hose_length", Need::always, up_to(500.0 * unit::m, "500 m")),
        field<&Packer::hose_bore>("hose_bore", Need::always, up_to(100.0 * unit::mm, "100 mm")),
        field<&Packer::count>("count", Need::never, count),
        field<&Packer::price>("price", Need::always),
        field<&Packer::expected_uses>("expected_uses", Need::always, uses),
    };
    return list;
}

std::span<const Field<Chassis>> Described<Chassis>::fields() {
    static constexpr Field<Chassis> list[] = {
        field<&Chassis::id>("id", Need::always),
        field<&Chassis::diameter>("diameter", Need::always, bore),
        field<&Chassis::fitting_length>("fitting_length", Need::always, size),
        field<&Chassis::bore_min>("bore_min", Need::always, bore),
        field<&Chassis::bore_max>("bore_max", Need::always, bore),
        field<&Chassis::rod_length>("rod_length", Need::always, up_to(100.0 * unit::m, "100 m")),
        field<&Chassis::count>("count", Need::never, count),
        field<&Chassis::price>("price", Need::always),
        field<&Chassis::expected_uses>("expected_uses", Need::always, uses),
    };
    return list;
}

std::span<const Field<Bladder>> Described<Bladder>::fields() {
    static constexpr Field<Bladder> list[] = {
        field<&Bladder::id>("id", Need::always),
        field<&Bladder::material>("material", Need::always),
        field<&Bladder::diameter>("diameter", Need::always, bore),
        field<&Bladder::wall>("wall", Need::always, thin),
        field<&Bladder::roll_length>("roll_length", Need::always, roll),
        field<&Bladder::stretch>("stretch", Need::always, number(1.0, "1", 10.0, "10")),
        field<&Bladder::fill_pressure>("fill_pressure", Need::always, air),
        field<&Bladder::rated_pressure>("rated_pressure", Need::always, rated_air),
        field<&Bladder::price>("price", Need::always),
        field<&Bladder::expected_uses>("expected_uses", Need::always, uses),
        field<&Bladder::doubled>("doubled", Need::never),
    };
    return list;
}

std::span<const Field<FeltPiece>> Described<FeltPiece>::fields() {
    static constexpr Field<FeltPiece> list[] = {
        field<&FeltPiece::length>("length", Need::always, roll),
        field<&FeltPiece::width>("width", Need::always, size),
        field<&FeltPiece::count>("count", Need::never, count),
        field<&FeltPiece::offcut>("offcut", Need::never),
    };
    return list;
}

std::span<const Field<Felt>> Described<Felt>::fields() {
    static constexpr Field<Felt> list[] = {
        field<&Felt::id>("id", Need::always),
        field<&Felt::form>("form", Need::always),
        field<&Felt::fibre>("fibre", Need::always),
        field<&Felt::thickness>("thickness", Need::always, thin),
        field<&Felt::areal_mass>("areal_mass", Need::always),
        field<&Felt::void_fraction>("void_fraction", Need::always, share(0.99, "99 %")),
        field<&Felt::tube_bore_min>("tube_bore_min", Need::never, bore),
        field<&Felt::tube_bore_max>("tube_bore_max", Need::never, bore),
        field<&Felt::flat_width>("flat_width", Need::never, size),
        field<&Felt::take_up>("take_up", Need::never, share(0.5, "50 %")),
        field<&Felt::roll_width>("roll_width", Need::always, size),
        field<&Felt::roll_length>("roll_length", Need::always, roll),
        field<&Felt::price>("price", Need::always),
        field<&Felt::offcut_value>("offcut_value", Need::never, share()),
        field<&Felt::stock>("stock", Need::never),
    };
    return list;
}

std::span<const Field<DataPoint>> Described<DataPoint>::fields() {
    static constexpr Field<DataPoint> list[] = {
        field<&DataPoint::kind>("kind", Need::always),
        field<&DataPoint::temperature>("temperature", Need::always, work_temperature),
        field<&DataPoint::time>("time", Need::always, data_time),
        field<&DataPoint::mass>("mass", Need::never, positive(1.0 * unit::tonne, "1 t")),
        field<&DataPoint::thickness>("thickness", Need::never, thin),
    };
    return list;
}

std::span<const Field<Kit>> Described<Kit>::fields() {
    static constexpr Field<Kit> list[] = {
        // Less cannot be weighed, and would be bought by the million.
        field<&Kit::mass>("mass", Need::always, between(1.0 * unit::g, "1 g", 1.0 * unit::tonne, "1 t")),
        field<&Kit::price>("price", Need::always),
        field<&Kit::splittable>("splittable", Need::never),
        field<&Kit::stock>("stock", Need::never, count),
    };
    return list;
}

std::span<const Field<Resin>> Described<Resin>::fields() {
    static constexpr Field<Resin> list[] = {
        field<&Resin::id>("id", Need::always),
        field<&Resin::kind>("kind", Need::always),
        field<&Resin::parts_a>("parts_a", Need::always, part),
        field<&Resin::parts_b>("parts_b", Need::always, part),
        field<&Resin::density_a>("density_a", Need::always),
        field<&Resin::density_b>("density_b", Need::always),
        field<&Resin::application_min>("application_min", Need::always, work_temperature),
        field<&Resin::application_max>("application_max", Need::always, work_temperature),
        field<&Resin::data>("data", Need::always),
        field<&Resin::heat_of_reaction>("heat_of_reaction", Need::always),
        field<&Resin::specific_heat>("specific_heat", Need::always),
        field<&Resin::conductivity>("conductivity", Need::always),
        field<&Resin::shrinkage>("shrinkage", Need::always, share(0.3, "30 %")),
        field<&Resin::modulus>("modulus", Need::always, strength),
        field<&Resin::long_term_share>("long_term_share", Need::always, share()),
        field<&Resin::flexural_strength>("flexural_strength", Need::always, strength),
        field<&Resin::gel_conversion>("gel_conversion", Need::always, number(0.0, "", 0.99, "0.99", true)),
        field<&Resin::glass_start>("glass_start", Need::always, glass_temperature),
        field<&Resin::glass_end>("glass_end", Need::always, glass_temperature),
        field<&Resin::glass_lambda>("glass_lambda", Need::always, number(0.0, "", 1.0, "1", true)),
        field<&Resin::highest_safe>("highest_safe", Need::always),
        field<&Resin::safe_pot_mass>("safe_pot_mass", Need::always, positive(1.0 * unit::tonne, "1 t")),
        field<&Resin::tolerates_damp>("tolerates_damp", Need::never),
        field<&Resin::kits>("kits", Need::always),
        field<&Resin::source>("source", Need::never, note()),
    };
    return list;
}

std::span<const Field<Heater>> Described<Heater>::fields() {
    static constexpr Field<Heater> list[] = {
        field<&Heater::id>("id", Need::always),
        field<&Heater::medium>("medium", Need::always),
        field<&Heater::temperature>("temperature", Need::always, heated),
        field<&Heater::warm_up>("warm_up", Need::always, up_to(24.0 * unit::h, "24 h")),
        field<&Heater::count>("count", Need::never, count),
        field<&Heater::hire_per_day>("hire_per_day", Need::always),
    };
    return list;
}

std::span<const Field<Conditioning>> Described<Conditioning>::fields() {
    static constexpr Field<Conditioning> list[] = {
        field<&Conditioning::from>("from", Need::always, conditioned),
        field<&Conditioning::to>("to", Need::always, conditioned),
        field<&Conditioning::cost_per_patch>("cost_per_patch", Need::always),
    };
    return list;
}

}  // namespace patchwright::job
