#pragma once
// A well-mixed reacting body, bare or round an inert one, in steady surroundings: cup, bucket, felt on the table,
// sleeve on its packer. One cell or two for the solver. SI doubles.
#include "body.hpp"
#include "rate_law.hpp"
#include "solver.hpp"

namespace patchwright::cure::detail {

struct Lumped {
    double capacity = 0.0;        ///< of the reacting body, J/K
    double heat = 0.0;            ///< of its full conversion, J
    double outer_link = 0.0;      ///< to the surroundings, W/K
    double inner_capacity = 0.0;  ///< of the inert body within, J/K; 0: none
    double inner_link = 0.0;      ///< between both, W/K
    double face_weight = 1.0;     ///< of the body's temperature at its outer face; the rest is the surroundings'
};

/// Its cells: the reacting one, behind the inert one where there is one.
Body body_of(const Lumped& lumped);

struct LumpState {
    double inner = 0.0, temperature = 0.0;           ///< K
    double conversion = 0.0, face_conversion = 0.0;  ///< the face's carries no heat
};

/// Follows it from `start` to `end` seconds, or until `observe` returns false; `first_step` in seconds comes back as
/// what the next stage may begin with. Returns the time reached.
double run_lumped(const Lumped& lumped, const RateLaw& law, double surroundings, LumpState& state, double start,
                  double end, double& first_step, const Solver::Observer& observe);

inline constexpr double lump_first_step = 10.0;  ///< s

}  // namespace patchwright::cure::detail
