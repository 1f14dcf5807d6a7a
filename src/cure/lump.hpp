#pragma once
// A well-mixed reacting body, bare or round an inert one, in steady surroundings: cup, bucket, felt on the table,
// sleeve on its packer. SI doubles. The method is that of `Solver`, written out for so few unknowns that none needs an
// array on the heap: a plan follows thousands of such bodies.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "body.hpp"
#include "rate_law.hpp"

namespace patchwright::cure::detail {

struct Lumped {
    double capacity = 0.0;        ///< of the reacting body, J/K
    double heat = 0.0;            ///< of its full conversion, J
    double outer_link = 0.0;      ///< to the surroundings, W/K
    double inner_capacity = 0.0;  ///< of the inert body within, J/K; 0: none
    double inner_link = 0.0;      ///< between both, W/K
    double face_weight = 1.0;     ///< of the body's temperature at its outer face; the rest is the surroundings'
};

/// Tolerance of the minutes before inflation, as `Settings::tolerance` of the general solver.
inline constexpr double lump_tolerance = 1e-3;

/// The same body for the general solver.
Body body_of(const Lumped& lumped);

struct LumpState {
    double inner = 0.0, temperature = 0.0;           ///< K
    double conversion = 0.0, face_conversion = 0.0;  ///< the face's carries no heat
};

/// What is seen of it after each step.
struct LumpSample {
    double time = 0.0;
    double most = 0.0, most_rate = 0.0;  ///< the greater of both conversions, and its rate in 1/s
    double temperature = 0.0;            ///< K
};

class LumpSolver {
public:
    LumpSolver(const Lumped& body, const RateLaw& law, double surroundings, double tolerance);

    /// Advances `state` from `start` to `end` seconds, or until `observe` returns false. Returns the time reached.
    template <class Observe>
    double run(LumpState& state, double start, double end, Observe&& observe);

    double next_step = 10.0;  ///< s; what the last run left off with serves the next stage as well

private:
    static constexpr double longest_step = 6.0 * 3600.0;
    using Unknowns = std::array<double, 4>;  ///< inner, temperature, conversion, conversion of the face

    void refresh();
    Unknowns slope(const Unknowns& y) const;
    void factorise(double g);
    void solve(Unknowns& k) const;
    /// One step of `h` seconds: the next state into `next_`. Returns its error in units of what is allowed.
    double step(double h);
    LumpSample sample(double time) const;

    const RateLaw& law_;
    double surroundings_, per_tolerance_;
    bool bare_, face_apart_;
    double lost_, taken_, inner_taken_, gained_, source_, face_weight_;  ///< links and heat over capacity
    Unknowns now_{}, next_{}, first_slope_{};
    Rate first_rate_, first_face_rate_;
    double conversion_inverse_ = 0.0, face_inverse_ = 0.0, carried_ = 0.0, pivot_ = 0.0, inner_pivot_ = 0.0;
};

template <class Observe>
double LumpSolver::run(LumpState& state, double start, double end, Observe&& observe) {
    now_ = {state.inner, state.temperature, state.conversion, state.face_conversion};
    double time = start;
    refresh();
    bool more = observe(sample(time));
    while (more && time < end) {
        const bool last = time + next_step * 1.000001 >= end;
        const double used = last ? end - time : next_step;
        const double error = step(used);
        const double fitting = used * std::clamp(0.8 * inverse_cube_root(std::clamp(error, 1e-6, 1e6)), 0.15, 2.5);
        if (error > 1.0) {
            next_step = fitting;
            if (fitting < 1e-9) break;  // no such problem has been met; never loop for ever
            continue;
        }
        next_step = std::min(last ? std::max(next_step, fitting) : fitting, longest_step);
        now_ = next_;
        time = last ? end : time + used;
        refresh();
        more = observe(sample(time));
    }
    state = {now_[0], now_[1], now_[2], now_[3]};
    return time;
}

}  // namespace patchwright::cure::detail
