#include "lump.hpp"

namespace patchwright::cure::detail {
namespace {

/// Of the minutes before inflation; see Settings::tolerance.
constexpr double lump_tolerance = 1e-3;

}  // namespace

Body body_of(const Lumped& lumped) {
    Body body;
    if (lumped.inner_capacity > 0.0) {
        body.capacity.push_back(lumped.inner_capacity);
        body.link.push_back(lumped.inner_link);
        body.first = 1;
    }
    body.capacity.push_back(lumped.capacity);
    body.outer_link = lumped.outer_link;
    body.reacting = 1;
    body.heat = {lumped.heat};
    body.face_weight = lumped.face_weight;
    return body;
}

double run_lumped(const Lumped& lumped, const RateLaw& law, double surroundings, LumpState& state, double start,
                  double end, double& first_step, const Solver::Observer& observe) {
    const Body body = body_of(lumped);
    State cells = uniform_state(body, state.temperature, state.conversion);
    if (body.first > 0) cells.temperature.front() = state.inner;
    cells.face_conversion = state.face_conversion;
    Solver solver{Settings{.tolerance = lump_tolerance, .first_step = first_step}};
    const Profile outside = Profile::constant(surroundings);
    const double reached = solver.run(body, law, cells, start, end, outside, outside, observe);
    if (body.first > 0) state.inner = cells.temperature.front();
    state.temperature = cells.temperature.back();
    state.conversion = cells.conversion.front();
    state.face_conversion = cells.face_conversion;
    first_step = solver.next_step();
    return reached;
}

}  // namespace patchwright::cure::detail
