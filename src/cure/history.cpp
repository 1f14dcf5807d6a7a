#include "history.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "calibrate.hpp"
#include "crossing.hpp"

namespace patchwright::cure::detail {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double longest_cure = 60.0 * 86400.0;

// Films, W/(m2 K): still air 8 with radiation, a wooden table about half of that, air round a packer that is carried.
// Common practice, no source; docs/methods/cure.md.
constexpr double table_film = 8.0 + 4.0;
constexpr double packer_film = 10.0;
constexpr double position_film = 8.0;
constexpr double film_contact = 300.0;  // bladder, separating film, felt

// Bladder wall: 2 mm of silicone rubber, EN ISO 10077-2 table (k 0.35, 1200 kg/m3); heat capacity from memory.
constexpr double bladder_wall = 2e-3;
constexpr double bladder_conductivity = 0.35;
constexpr double bladder_heat = 1200.0 * 1300.0;

struct Solid {
    double conductivity, volumetric_heat;
};
/// Clay: CIBSE A and EN ISO 10456 range; concrete: EN ISO 10456; cast iron, PVC-U: CIBSE A and EN ISO 10077-2;
/// asbestos cement and pitch fibre: from memory.
Solid host_solid(job::Material material) {
    switch (material) {
        case job::Material::clay:
            return {1.2, 2100.0 * 840.0};
        case job::Material::concrete:
            return {1.65, 2200.0 * 1000.0};
        case job::Material::cast_iron:
            return {50.0, 7500.0 * 500.0};
        case job::Material::pvc_u:
            return {0.17, 1390.0 * 900.0};
        case job::Material::asbestos_cement:
            return {0.5, 1700.0 * 1000.0};
        case job::Material::pitch_fibre:
            return {0.15, 1150.0 * 1400.0};
        case job::Material::other:
            return {1.2, 2100.0 * 840.0};
    }
    return {1.2, 2100.0 * 840.0};
}
/// Saturated clay to sand, and oven-dry sand: from memory, inside Farouki's ranges (CRREL 82-8, 1982).
Solid soil_solid(bool wet) { return wet ? Solid{1.8, 2.6e6} : Solid{0.5, 1.5e6}; }
constexpr double soil_depth = 1.0;
constexpr double soil_growth = 1.5;  // width of a cell over the last one of 13: the least error between 1.4 and 1.6

/// A kilogram in the pot. For the few minutes until it is spread it keeps all its heat, so that the sleeve's times do
/// not hang on how much is mixed in one pot.
Lumped pot_body(const Site& site) {
    Lumped body;
    body.capacity = site.resin_specific_heat;
    body.heat = site.resin_heat;
    return body;
}

Lumped table_body(const Site& site) {
    const double thickness = site.thickness * site.table_layers;
    Lumped body;
    body.capacity = site.density * site.specific_heat * thickness;
    body.heat = site.reaction_heat * thickness;
    body.outer_link = table_film;
    return body;
}

Lumped packer_body(const Site& site, double film) {
    Lumped body;
    body.capacity = site.density * site.specific_heat * site.thickness;
    body.heat = site.reaction_heat * site.thickness;
    body.outer_link = film;
    body.inner_capacity = bladder_heat * bladder_wall;
    body.inner_link = film_contact;
    return body;
}

/// Runs one lumped stage. `also` returns false to stop early.
template <class Also>
void stage(const Lumped& body, const RateLaw& law, Lump& lump, double duration, double surroundings, Also&& also) {
    if (duration <= 0.0) return;
    LumpState state{lump.bladder, lump.sleeve, lump.conversion, lump.conversion};
    lump.time = run_lumped(body, law, surroundings, state, lump.time, lump.time + duration, lump.next_step,
                           [&](const Sample& s) {
                               lump.hottest = std::max(lump.hottest, s.outermost);
                               return also(s);
                           });
    lump.conversion = state.conversion;
    lump.sleeve = state.temperature;
    lump.bladder = state.inner;
}

void stage(const Lumped& body, const RateLaw& law, Lump& lump, double duration, double surroundings) {
    stage(body, law, lump, duration, surroundings, [](const Sample&) { return true; });
}

Lump poured_and_spread(const Site& site, const RateLaw& law, const Course& course) {
    Lump lump;
    lump.sleeve = lump.hottest = course.resin;
    stage(pot_body(site), law, lump, course.bucket, course.air);
    stage(table_body(site), law, lump, course.table, course.air);
    lump.bladder = course.air;
    return lump;
}

/// Watches the coldest point for gel and release, the hottest for the limits.
class Watch {
public:
    Watch(const RateLaw& law, const Glass& glass, const Release& release, Outcome& outcome, std::vector<Sample>* curve,
          double curve_until)
        : law_{law}, glass_{glass}, release_{release}, out_{outcome}, curve_{curve}, until_{curve_until} {
        out_.gel = out_.release = infinite;
    }

    bool operator()(const Sample& s) {
        out_.hottest = std::max(out_.hottest, s.hottest);
        out_.wall_hottest = std::max(out_.wall_hottest, s.neighbour);
        if (curve_ != nullptr) curve_->push_back(s);
        const Knot a{last_.time, last_.least, last_.min_rate};
        const Knot b{s.time, s.least, s.min_rate};
        if (out_.gel == infinite && s.least >= release_.gel) out_.gel = seen_ ? crossing(a, b, release_.gel) : s.time;
        if (out_.release == infinite && holds(s.least, s.face)) {
            const auto face = [&](double t) {
                return last_.face + (t - a.time) / (b.time - a.time) * (s.face - last_.face);
            };
            out_.release =
                seen_ ? turn(a.time, b.time, [&](double t) { return holds(between(a, b, t), face(t)); }) : s.time;
            out_.face_at_release = seen_ ? face(out_.release) : s.face;
            out_.conversion_at_release = seen_ ? between(a, b, out_.release) : s.least;
        }
        last_ = s;
        seen_ = true;
        return out_.release == infinite || (curve_ != nullptr && s.time < until_);
    }

private:
    bool holds(double conversion, double face) const {
        if (conversion < release_.gel) return false;
        if (law_.glass_temperature(conversion) >= face + release_.margin) return true;
        return conversion >= release_.share * attainable_conversion(glass_, Temperature::kelvin(face));
    }

    const RateLaw& law_;
    Glass glass_;
    Release release_;
    Outcome& out_;
    std::vector<Sample>* curve_;
    double until_;
    Sample last_;
    bool seen_ = false;
};

}  // namespace

Site make_site(const job::Resin& resin, const Sleeve& sleeve, const Surroundings& host) {
    Site s;
    s.thickness = sleeve.thickness.si();
    s.bore = host.bore.si();
    s.wall = host.wall.si();
    s.table_layers = sleeve.table_layers;
    const double w = sleeve.resin_mass_fraction;
    const double fibre = 1380.0;  // polyester, from memory
    s.density =
        sleeve.wet_density.si() > 0.0 ? sleeve.wet_density.si() : 1.0 / (w / mixed_density(resin) + (1.0 - w) / fibre);
    s.specific_heat = w * resin.specific_heat.si() + (1.0 - w) * 1200.0;  // polyester fibre 1000-1300, from memory
    s.conductivity = resin.conductivity.si();
    s.reaction_heat = s.density * w * resin.heat_of_reaction.si();
    const Solid host_wall = host_solid(host.host);
    s.host_conductivity = host_wall.conductivity;
    s.host_volumetric_heat = host_wall.volumetric_heat;
    const Solid soil = soil_solid(host.wet_soil);
    s.soil_conductivity = soil.conductivity;
    s.soil_volumetric_heat = soil.volumetric_heat;
    s.resin_specific_heat = resin.specific_heat.si();
    s.resin_heat = resin.heat_of_reaction.si();
    return s;
}

Kinetics faster(const Kinetics& kinetics, double factor) {
    Kinetics k = kinetics;
    k.rate_1 = factor * k.rate_1;
    k.rate_2 = factor * k.rate_2;
    return k;
}

Grid usual_grid(const Site& site) {
    Grid grid;
    grid.sleeve = static_cast<std::size_t>(std::clamp(std::ceil(site.thickness / 1e-3), 6.0, 16.0));
    return grid;
}

Body inflated_body(const Site& site, const Course& course, const Grid& grid) {
    const double outside = 0.5 * site.bore;
    const double inside = outside - site.thickness;
    std::vector<Layer> layers;
    layers.push_back({bladder_wall, bladder_conductivity, bladder_heat, 1, 1.0, 0.0, film_contact});
    layers.push_back({site.thickness, site.conductivity, site.density * site.specific_heat, grid.sleeve, 1.0,
                      site.reaction_heat, 0.0});
    layers.push_back({site.wall, site.host_conductivity, site.host_volumetric_heat, grid.wall, 1.0, 0.0, 0.0});
    layers.push_back({soil_depth, site.soil_conductivity, site.soil_volumetric_heat, grid.soil,
                      std::pow(soil_growth, 13.0 / static_cast<double>(grid.soil)), 0.0, 0.0});
    return make_body(Shape::cylinder, inside - bladder_wall, layers,
                     course.heating.points.empty() ? 0.0 : course.heating_film, 0.0);
}

State inflated_state(const Body& body, const Lump& lump, const Grid& grid, double pipe) {
    State state = uniform_state(body, pipe, lump.conversion);
    state.temperature[0] = lump.bladder;
    for (std::size_t i = 0; i < grid.sleeve; ++i) state.temperature[1 + i] = lump.sleeve;
    return state;
}

Lump before_inflation(const Site& site, const RateLaw& law, const Course& course) {
    Lump lump = poured_and_spread(site, law, course);
    stage(packer_body(site, packer_film), law, lump, course.packer, course.air);
    stage(packer_body(site, position_film), law, lump, course.position, course.pipe);
    return lump;
}

double working_seconds(const Site& site, const RateLaw& law, const Course& course, double surroundings,
                       double conversion) {
    Lump lump;
    lump.sleeve = lump.hottest = course.resin;
    double found = infinite;
    Sample last;
    bool seen = false;
    const auto watch = [&](const Sample& s) {
        if (s.most >= conversion && found == infinite)
            found = seen ? crossing({last.time, last.most, last.max_rate}, {s.time, s.most, s.max_rate}, conversion)
                         : s.time;
        last = s;
        seen = true;
        return found == infinite;
    };
    stage(pot_body(site), law, lump, course.bucket, course.air, watch);
    if (found == infinite) stage(table_body(site), law, lump, course.table, course.air, watch);
    lump.bladder = course.air;
    if (found == infinite) stage(packer_body(site, packer_film), law, lump, longest_cure, surroundings, watch);
    return found;
}

Outcome follow(const Site& site, const RateLaw& law, const Course& course, const Release& release, const Grid& grid,
               const Settings& settings, std::vector<Sample>* curve, double curve_until) {
    return follow(site, law, course, before_inflation(site, law, course), release, grid, settings, curve, curve_until);
}

Outcome follow(const Site& site, const RateLaw& law, const Course& course, const Lump& lump, const Release& release,
               const Grid& grid, const Settings& settings, std::vector<Sample>* curve, double curve_until) {
    Outcome out;
    out.inflated_at = lump.time;
    out.conversion_at_inflation = lump.conversion;
    out.hottest = lump.hottest;

    const Body body = inflated_body(site, course, grid);
    State state = inflated_state(body, lump, grid, course.pipe);
    Settings used = settings;
    used.neighbour_cells = site.wall > 0.0 ? grid.wall : 0;
    Profile inner = course.heating;
    for (auto& p : inner.points) p.time += lump.time;
    Solver solver{used};
    Watch watch{law, law.glass(), release, out, curve, curve_until};
    solver.run(
        body, law, state, lump.time, std::max(lump.time, std::min(lump.time + longest_cure, release.until)), inner,
        Profile::constant(course.pipe), [&](const Sample& s) { return watch(s); }, &out.statistics);
    return out;
}

double release_conversion(const Release& release, const Glass& glass, double kelvin) {
    const double by_margin = conversion_at_glass(glass, Temperature::kelvin(kelvin + release.margin));
    const double by_share = release.share * attainable_conversion(glass, Temperature::kelvin(kelvin));
    return std::max(release.gel, std::min(by_margin, by_share));
}

double release_without_heat(const Lump& lump, const RateLaw& law, const Kinetics& kinetics, const Release& release,
                            double kelvin) {
    const double target = release_conversion(release, kinetics.glass, kelvin);
    if (target > 0.999) return infinite;
    return lump.time + isothermal_seconds(law, lump.conversion, target, kelvin, 3);
}

}  // namespace patchwright::cure::detail
