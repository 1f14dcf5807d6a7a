// One patch worked by hand: the plan's figures against the arithmetic written out here, from the job and the yard
// alone.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/jobs.hpp"

using namespace patchwright;

namespace {

// A fissure from 5.00 m to 5.40 m in a straight clay drain of 100 mm; ground water 0.80 m over the invert; pipe at 10
// C.
constexpr const char* one_fissure = R"({
  "patchwright_job": 1, "reference": "by hand", "site": {"start": "07:00", "finish": "18:00"},
  "runs": [{"id": "H", "from": "near", "to": "far", "length": "12 m", "bore": "100 mm", "material": "clay",
            "ovality": "2 %", "depth": "1.50 m", "water_table": "0.70 m", "ground_temperature": "10 C", "access": ["near"],
            "resin": "fast",
            "defects": [{"id": "H1", "at": "5.00 m", "to": "5.40 m", "kind": "fissure", "size": "2 mm"}]}]})";

/// The demonstration yard with every figure set that the arithmetic uses, and one packer and one felt to choose from.
job::Yard small_yard() {
    job::Yard yard = io::builtin_yard();
    yard.chassis.clear();
    yard.bladders.clear();
    const auto silicone = std::find_if(yard.packers.begin(), yard.packers.end(), [](const job::Packer& p) {
        return p.material == job::BladderMaterial::silicone && p.shape == job::PackerShape::straight &&
               p.bore_min <= 100.0 * unit::mm && 100.0 * unit::mm <= p.bore_max && p.usable_max >= 1.0 * unit::m;
    });
    REQUIRE(silicone != yard.packers.end());
    job::Packer packer = *silicone;
    packer.usable_min = 0.5 * unit::m;
    packer.usable_max = 1.2 * unit::m;
    packer.fill_pressure = 0.2 * unit::bar;
    packer.rated_pressure = 1.0 * unit::bar;
    yard.packers = {packer};
    job::Felt felt;
    felt.id = "sheet";
    felt.thickness = 3.0 * unit::mm;
    felt.areal_mass = 621.0 * unit::g_m2;
    felt.void_fraction = 0.85;
    felt.roll_width = 1.0 * unit::m;
    felt.roll_length = 20.0 * unit::m;
    felt.price = yard.felts.front().price;
    yard.felts = {felt};
    for (auto& resin : yard.resins) {
        if (resin.id != "fast") continue;
        resin.parts_a = 100.0;
        resin.parts_b = 50.0;
        resin.density_a = 1160.0 * unit::kg_m3;
        resin.density_b = 1010.0 * unit::kg_m3;
        resin.shrinkage = 0.03;
        resin.modulus = 2500.0 * unit::MPa;
        resin.long_term_share = 0.5;
    }
    auto& limits = yard.limits;
    limits.overlap = 200.0 * unit::mm;
    limits.tolerance = 50.0 * unit::mm;
    limits.end_trim = 10.0 * unit::mm;
    limits.seam_overlap_small = 75.0 * unit::mm;
    limits.least_thickness = 3.0 * unit::mm;
    limits.resin_excess = 0.15;
    limits.fixed_loss = 150.0 * unit::g;
    limits.roller_factor = 2.0;
    limits.seating = 0.2 * unit::bar;
    limits.host_most = 1.0 * unit::bar;
    limits.air = job::AirSupply::shut_in;
    limits.compressor_excess = 30.0 * unit::K;
    limits.enhancement = 7.0;
    limits.safety = 2.0;
    limits.poisson = 0.3;
    return yard;
}

/// Share of 400,000 days on which the hands are not through when the sleeve can no longer be shaped or has gelled: each
/// task triangular, joined by a normal copula of one shared cause, as docs/methods/cure.md has it. Tasks go up and the
/// limit down to whole steps of so many seconds.
double late_drawn(const job::Yard& yard, const plan::Patch& p, double step) {
    std::mt19937_64 engine{1};
    std::normal_distribution<double> normal;
    const auto& d = yard.durations;
    const double metres = p.length().in(unit::m);
    const auto triangle = [&](const job::Spread<Duration>& t, double more, double z) {
        const double low = t.low.si() + more * d.wet_out_per_m.low.si() * metres;
        const double likely = t.likely.si() + more * d.wet_out_per_m.likely.si() * metres;
        const double high = t.high.si() + more * d.wet_out_per_m.high.si() * metres;
        const double u = 0.5 * std::erfc(-z / std::sqrt(2.0)), turn = (likely - low) / (high - low);
        const double time = u < turn ? low + std::sqrt(u * (high - low) * (likely - low))
                                     : high - std::sqrt((1.0 - u) * (high - low) * (high - likely));
        return step > 1.0 ? step * std::ceil(time / step) : time;
    };
    int late = 0;
    constexpr int draws = 400000;
    for (int i = 0; i < draws; ++i) {
        const double shared = normal(engine), resin = normal(engine);
        const auto cause = [&] {
            return std::sqrt(yard.limits.hands_shared) * shared +
                   std::sqrt(1.0 - yard.limits.hands_shared) * normal(engine);
        };
        double hands = triangle(d.wet_out, 1.0, cause());
        for (const auto* task : {&d.load, &d.position, &d.inflate, &d.crease}) hands += triangle(*task, 0.0, cause());
        double limit = std::min(p.cure.shaping.likely.si() * std::exp(p.cure.shaping.log_sd * resin),
                                p.cure.gel.likely.si() * std::exp(p.cure.gel.log_sd * resin));
        if (step > 1.0) limit = step * std::floor(limit / step);
        late += hands > limit ? 1 : 0;
    }
    return static_cast<double>(late) / draws;
}

}  // namespace

TEST_CASE("one patch agrees with the arithmetic by hand", "[plan][reference]") {
    // Formulas: geometry; mixing with additive volumes; hydrostatics; gas law at fixed volume; ASTM F1216 eq. X1.1 and
    // X1.2 [from memory]. Every number below is worked from the job and yard above with a pocket calculator.
    const auto job = test::must_read(one_fissure);
    const auto yard = small_yard();
    const auto plan = plan::make_plan(job, yard);
    REQUIRE(plan.patches.size() == 1);
    const auto& p = plan.patches.front();

    SECTION("place: both overlaps and both tolerances, no more") {
        // 5.00 - 0.20 - 0.05 = 4.75 m and 5.40 + 0.25 = 5.65 m; middle (4.75 + 5.65)/2 = 5.20 m from the access.
        CHECK(p.start.in(unit::m) == Approx(4.75).margin(1e-9));
        CHECK(p.end.in(unit::m) == Approx(5.65).margin(1e-9));
        CHECK(p.rigging.mark.in(unit::m) == Approx(5.20).margin(1e-9));
        CHECK(p.rigging.from == "near");
    }
    SECTION("wall: buckling asks for about a millimetre, the yard's least thickness governs") {
        // P = 9.80665 kN/m3 * 0.80 m = 7.845 kPa; EL = 0.5 * 2500 = 1250 MPa; C = (0.98/1.02^2)^3 = 0.8358
        // t = 100 / ((2*7*1250*0.8358 / (0.007845*2*0.91))^(1/3) + 1) = 100 / (100.8 + 1) = 0.982 mm
        const auto& buckling = p.thickness.checks.front();
        CHECK(buckling.applies);
        CHECK(buckling.needed.in(unit::mm) == Approx(0.982).margin(0.001));
        CHECK(p.thickness.design.in(unit::mm) == Approx(3.0));
        CHECK(p.felt.layers == 1);
        CHECK(p.felt.installed.in(unit::mm) == Approx(3.0));
    }
    SECTION("felt: width at the felt's middle and the seam, length with the trim") {
        // pi * (100 - 3) + 75 = 304.73 + 75 = 379.73 mm; 900 + 2 * 10 = 920 mm
        CHECK(p.cut.width.in(unit::mm) == Approx(379.73).margin(0.01));
        CHECK(p.cut.length.in(unit::mm) == Approx(920.0).margin(1e-6));
    }
    SECTION("resin: voids, excess, shrinkage and what stays in the pot") {
        // felt 0.920 * 0.37973 = 0.34936 m2; voids 0.003 * 0.34936 * 0.85 = 0.89086 litre
        // mixed density 150 / (100/1160 + 50/1010) = 150 / 0.135712 = 1105.3 kg/m3; in the voids 0.98465 kg
        // * 1.15 / 0.97 = 1.16737 kg; + 0.150 kg = 1.31737 kg, up to the gram 1318 g
        // A: 1318 * 100/150 = 878.67 -> 879 g; B: 1318 - 879 = 439 g; rollers at one layer: 3 mm
        CHECK(p.need.total.in(unit::g) == Approx(1318.0));
        CHECK(p.need.part_a.in(unit::g) == Approx(879.0));
        CHECK(p.need.part_b.in(unit::g) == Approx(439.0));
        CHECK(p.need.roller_gap.in(unit::mm) == Approx(3.0));
        REQUIRE(plan.batches.size() == 1);
        CHECK(plan.batches.front().batch.total.in(unit::g) == Approx(1318.0));
    }
    SECTION("the wall as it cures: fibre, and what its voids hold") {
        // 0.85 * 1105.3 = 939.5 kg/m3 of resin; fibre 0.621 / 0.003 = 207 kg/m3; 1146.5 kg/m3, of it resin 0.8194.
        // Neither the 15 % of excess nor shrinkage nor what stays in the pot warms the sleeve.
        CHECK(p.sleeve.wet_density.si() == Approx(1146.5).margin(0.1));
        CHECK(p.sleeve.resin_mass_fraction == Approx(0.8194).margin(0.0001));
    }
    SECTION("the chance of being late: drawn from the yard's times, nothing rounded") {
        const double late = late_drawn(yard, p, 1.0);
        CHECK(p.late_probability == Approx(late).margin(0.0015));
        // Times rounded up to whole minutes would have given another figure.
        CHECK(late_drawn(yard, p, 60.0) > late + 0.005);
    }
    SECTION("pressure: water, filling, seating, and what cooling takes") {
        // outside 0.07845 bar; least 0.2 + 0.07845 + 0.2 = 0.47845 bar
        // (0.47845 + 1.01325) * 313.15/283.15 - 1.01325 = 0.63650 bar, on the next mark of 0.05: 0.65 bar
        CHECK(p.pressure.outside.in(unit::bar) == Approx(0.07845).margin(0.00001));
        CHECK(p.pressure.minimum.in(unit::bar) == Approx(0.47845).margin(0.00001));
        CHECK(p.pressure.set.in(unit::bar) == Approx(0.65).margin(1e-9));
        CHECK(p.pressure.maximum.in(unit::bar) == Approx(1.0).margin(1e-9));
        // pull on the end fitting: 65 000 Pa * pi/4 * 0.1^2 = 510.5 N
        CHECK(p.pressure.on_fitting.in(unit::N) == Approx(510.5).margin(0.1));
    }
}
