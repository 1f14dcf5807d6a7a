#pragma once
#include <string>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"

/// A small invented yard and run for the packer tests.
namespace patchwright::test {

inline job::Packer soft_packer() {
    job::Packer packer;
    packer.id = std::string{"S100"};
    packer.material = job::BladderMaterial::silicone;
    packer.usable_min = 300.0 * unit::mm;
    packer.usable_max = 1000.0 * unit::mm;
    packer.bore_min = 90.0 * unit::mm;
    packer.bore_max = 130.0 * unit::mm;
    packer.travelling_diameter = 62.0 * unit::mm;
    packer.rigid_length = 80.0 * unit::mm;
    packer.rigid_diameter = 50.0 * unit::mm;
    packer.projection = 100.0 * unit::mm;
    packer.overall_length = 1400.0 * unit::mm;
    packer.fill_pressure = 0.2 * unit::bar;
    packer.rated_pressure = 1.0 * unit::bar;
    packer.hose_length = 20.0 * unit::m;
    packer.hose_bore = 8.0 * unit::mm;
    return packer;
}

inline job::Yard small_yard() {
    job::Yard yard;
    yard.packers = {soft_packer()};
    job::Chassis chassis;
    chassis.id = std::string{"C38"};
    chassis.diameter = 38.0 * unit::mm;
    chassis.fitting_length = 60.0 * unit::mm;
    chassis.bore_min = 50.0 * unit::mm;
    chassis.bore_max = 150.0 * unit::mm;
    chassis.rod_length = 700.0 * unit::mm;
    yard.chassis = {chassis};
    job::Bladder silicone;
    silicone.id = std::string{"SI50"};
    silicone.diameter = 50.0 * unit::mm;
    silicone.wall = 2.0 * unit::mm;
    silicone.roll_length = 10.0 * unit::m;
    silicone.stretch = 2.4;
    silicone.fill_pressure = 0.2 * unit::bar;
    silicone.rated_pressure = 1.0 * unit::bar;
    job::Bladder hose;
    hose.id = std::string{"CH100"};
    hose.material = job::BladderMaterial::pvc_hose;
    hose.diameter = 70.0 * unit::mm;
    hose.wall = 0.5 * unit::mm;
    hose.roll_length = 20.0 * unit::m;
    hose.stretch = 1.5;
    hose.fill_pressure = 0.1 * unit::bar;
    hose.rated_pressure = 0.8 * unit::bar;
    yard.bladders = {silicone, hose};
    yard.limits.overlap = 200.0 * unit::mm;
    yard.limits.chamber_keep_out = 50.0 * unit::mm;
    yard.limits.longest_sleeve = 15.0 * unit::m;
    yard.limits.seating = 0.2 * unit::bar;
    yard.limits.host_most = 0.6 * unit::bar;
    yard.limits.compressor_excess = 30.0 * unit::K;
    yard.limits.relief_warming = 20.0 * unit::K;
    yard.limits.bench_hold = 5.0 * unit::minute;
    yard.limits.bench_drop = 20.0 * unit::mbar;
    yard.limits.strap_rating = 1500.0 * unit::N;
    yard.limits.strap_friction = 0.3;
    yard.limits.strap_drag = 50.0 * unit::N;
    yard.limits.travel_share = 0.8;
    yard.limits.push_reach = 30.0 * unit::m;
    yard.limits.push_bends_most = 2;
    yard.limits.crossing_angle_most = 45.0 * unit::deg;
    yard.limits.crossing_radius_share = 1.5;
    yard.limits.bladder_projection = 100.0 * unit::mm;
    yard.limits.bladder_fold_over = 60.0 * unit::mm;
    yard.limits.air_hose_length = 20.0 * unit::m;
    yard.limits.air_hose_bore = 8.0 * unit::mm;
    yard.limits.strap_length = 60.0 * unit::m;
    yard.limits.reach_slack = 1.0 * unit::m;
    yard.limits.relief_above_set = yard.limits.limit_above_relief = 0.05 * unit::bar;
    return yard;
}

inline job::Run straight_run() {
    job::Run run;
    run.id = std::string{"A"};
    run.from = std::string{"MH1"};
    run.to = std::string{"MH2"};
    run.length = 20.0 * unit::m;
    run.bore = 100.0 * unit::mm;
    run.material = job::Material::clay;
    run.depth = 1.35 * unit::m;
    run.water_table = {0.85 * unit::m, Origin::given};
    run.ground_temperature = {Temperature::celsius(10.0), Origin::given};
    run.access = {"MH1", "MH2"};
    return run;
}

inline job::Fitting bend(double at_m, double angle_deg, double radius_mm) {
    job::Fitting fitting;
    fitting.id = std::string{"bend"};
    fitting.at = at_m * unit::m;
    fitting.kind = job::FittingKind::bend;
    fitting.angle = angle_deg * unit::deg;
    fitting.radius = radius_mm * unit::mm;
    return fitting;
}

inline job::Fitting junction(double at_m) {
    job::Fitting fitting;
    fitting.id = std::string{"junction"};
    fitting.at = at_m * unit::m;
    fitting.kind = job::FittingKind::junction;
    fitting.bore = 100.0 * unit::mm;
    fitting.clock = ClockRange{2, 2, false};
    return fitting;
}

inline job::Defect defect(std::string id, job::DefectKind kind, double at_m, double to_m) {
    job::Defect d;
    d.id = std::move(id);
    d.kind = kind;
    d.at = at_m * unit::m;
    d.to = to_m * unit::m;
    return d;
}

}  // namespace patchwright::test
