#pragma once
// One sleeve from the moment A meets B to the moment it may be let down: bucket, table, packer in air, packer in the
// pipe, inflated. Conversion and temperature carry over from stage to stage. SI doubles.
#include <limits>
#include <vector>

#include "lump.hpp"
#include "patchwright/cure/cure.hpp"
#include "rate_law.hpp"
#include "solver.hpp"

namespace patchwright::cure::detail {

struct Release {
    double gel = 0.0;                                        ///< conversion
    double margin = 0.0;                                     ///< glass temperature above the wall's, K
    double share = 1.0;                                      ///< of the attainable conversion
    double until = std::numeric_limits<double>::infinity();  ///< seconds from mixing; nothing later is asked for
};

/// Geometry and material of sleeve, bladder, host and ground.
struct Site {
    double thickness = 0.0, bore = 0.0, wall = 0.0;
    double table_layers = 1.0;
    double density = 0.0, specific_heat = 0.0, conductivity = 0.0;  ///< of the wet felt
    double reaction_heat = 0.0;                                     ///< of the wet felt, J/m3
    double host_conductivity = 0.0, host_volumetric_heat = 0.0;
    double soil_conductivity = 0.0, soil_volumetric_heat = 0.0;
    double resin_specific_heat = 0.0, resin_heat = 0.0;  ///< of the mix in the pot, J/(kg K) and J/kg
};

/// One case: temperatures and durations.
struct Course {
    double resin = 0.0, air = 0.0, pipe = 0.0;
    double bucket = 0.0, table = 0.0, packer = 0.0, position = 0.0;  ///< s
    Profile heating;                                                 ///< inside the bladder; empty: none
    double heating_film = 0.0;                                       ///< W/(m2 K)
    double inflation() const { return bucket + table + packer + position; }
};

struct Outcome {
    double inflated_at = 0.0;
    double conversion_at_inflation = 0.0;
    double gel = 0.0, release = 0.0;  ///< s from mixing; infinite when not reached in 60 days
    double hottest = 0.0;             ///< in the sleeve, at any stage, K
    double wall_hottest = 0.0;        ///< mean of the host's wall, K
    double face_at_release = 0.0;
    double conversion_at_release = 0.0;
    Statistics statistics;
};

/// Cells of each layer; measured against a grid four times finer: gel and let-down within 0.25 %.
struct Grid {
    std::size_t sleeve = 6, wall = 4, soil = 13;
};
/// One cell a millimetre of sleeve, at least 6, at most 16.
Grid usual_grid(const Site& site);

/// State of the sleeve between the stages before inflation.
struct Lump {
    double time = 0.0, conversion = 0.0, sleeve = 0.0, bladder = 0.0, hottest = 0.0;
    double next_step = lump_first_step;  ///< of the solver, s
};

Site make_site(const job::Resin& resin, const Sleeve& sleeve, const Surroundings& host);
Kinetics faster(const Kinetics& kinetics, double factor);

/// The inflated packer in its pipe: bladder, sleeve, host wall, ground to one metre.
Body inflated_body(const Site& site, const Course& course, const Grid& grid);
State inflated_state(const Body& body, const Lump& lump, const Grid& grid, double pipe);

/// Bucket, table, packer and position.
Lump before_inflation(const Site& site, const RateLaw& law, const Course& course);

/// Time at which a sleeve that stays on its packer in air reaches `conversion`.
double working_seconds(const Site& site, const RateLaw& law, const Course& course, double surroundings,
                       double conversion);

/// From mixing to release; from inflation on when the sleeve's state before it is known already.
Outcome follow(const Site& site, const RateLaw& law, const Course& course, const Release& release,
               const Grid& grid = {}, const Settings& settings = {}, std::vector<Sample>* curve = nullptr,
               double curve_until = 0.0);
Outcome follow(const Site& site, const RateLaw& law, const Course& course, const Lump& lump, const Release& release,
               const Grid& grid, const Settings& settings = {}, std::vector<Sample>* curve = nullptr,
               double curve_until = 0.0);

/// The same without the sleeve's own heat once it is inflated: at the pipe's temperature throughout.
double release_without_heat(const Lump& lump, const RateLaw& law, const Kinetics& kinetics, const Release& release,
                            double kelvin);

/// Conversion at which `release` holds at a wall of `kelvin`.
double release_conversion(const Release& release, const Glass& glass, double kelvin);

}  // namespace patchwright::cure::detail
