#include <algorithm>
#include <cmath>
#include <limits>

#include "solver.hpp"

namespace patchwright::cure::detail {
namespace {

/// into = base + sum of factor * vector, over temperatures, conversions and the face alike.
template <class F>
void for_each_unknown(State& into, F&& value) {
    for (std::size_t i = 0; i < into.temperature.size(); ++i)
        into.temperature[i] = value([i](const State& s) { return s.temperature[i]; });
    for (std::size_t i = 0; i < into.conversion.size(); ++i)
        into.conversion[i] = value([i](const State& s) { return s.conversion[i]; });
    into.face_conversion = value([](const State& s) { return s.face_conversion; });
}

}  // namespace

/// One step from `state` with the slope and rates of `first_*`; leaves the new state in `stage_`. Returns its error in
/// units of what is allowed.
double Solver::step(const Body& body, const RateLaw& law, State& state, double time, double h, const Profile& inner,
                    const Profile& outer) {
    const double g = 2.0 / h;  // 1 / (gamma h), gamma = 1/2
    factorise(body, g);
    // Surroundings that change with time: the part of the derivative that the matrix does not hold.
    const double inner_drift = inner_over_capacity_ * inner.slope_after(time);
    const double outer_slope = outer.slope_after(time);
    const double outer_drift = outer_over_capacity_ * outer_slope;
    const bool bare_face = body.reacting > 0 && body.last_reacting() + 1 == body.cells();
    const double face_drift =
        bare_face ? first_face_rate_.by_temperature * (1.0 - body.face_weight) * outer_slope : 0.0;
    const auto add_drift = [&](State& k, double factor) {
        k.temperature.front() += factor * inner_drift;
        k.temperature.back() += factor * outer_drift;
        k.face_conversion += factor * face_drift;
    };
    const double per_h = 1.0 / h;

    // The heat let in through both ends is one more unknown, carried by the same stages: the balance then closes.
    const auto let_in = [&](const State& y, double in, double out) {
        return body.inner_link * (in - y.temperature.front()) + body.outer_link * (out - y.temperature.back());
    };
    const double inner_now = inner.at(time);
    const double outer_now = outer.at(time);
    const double flow_now = let_in(state, inner_now, outer_now);
    const double flow_drift = body.inner_link * inner.slope_after(time) + body.outer_link * outer_slope;

    k1_ = first_slope_;
    add_drift(k1_, 0.5 * h);
    solve(body, k1_);
    const double q1 = (flow_now + 0.5 * h * flow_drift + let_in(k1_, 0.0, 0.0)) / g;

    for_each_unknown(k2_, [&](auto of) { return of(first_slope_) + 4.0 * per_h * of(k1_); });
    add_drift(k2_, 1.5 * h);
    solve(body, k2_);
    const double q2 = (flow_now + 4.0 * per_h * q1 + 1.5 * h * flow_drift + let_in(k2_, 0.0, 0.0)) / g;

    const double inner_end = inner.at(time + h);
    const double outer_end = outer.at(time + h);
    for_each_unknown(stage_, [&](auto of) { return of(state) + 2.0 * of(k1_); });
    stage_slope(body, law, inner_end, outer_end);
    for_each_unknown(k3_, [&](auto of) { return of(slope_) + per_h * (of(k1_) - of(k2_)); });
    const double flow_3 = let_in(stage_, inner_end, outer_end);
    solve(body, k3_);
    const double q3 = (flow_3 + per_h * (q1 - q2) + let_in(k3_, 0.0, 0.0)) / g;

    for_each_unknown(stage_, [&](auto of) { return of(state) + 2.0 * of(k1_) + of(k3_); });
    stage_slope(body, law, inner_end, outer_end);
    for_each_unknown(k4_, [&](auto of) { return of(slope_) + per_h * (of(k1_) - of(k2_) - (8.0 / 3.0) * of(k3_)); });
    const double flow_4 = let_in(stage_, inner_end, outer_end);
    solve(body, k4_);
    const double q4 = (flow_4 + per_h * (q1 - q2 - (8.0 / 3.0) * q3) + let_in(k4_, 0.0, 0.0)) / g;
    step_inflow_ = 2.0 * q1 + q3 + q4;

    for_each_unknown(stage_, [&](auto of) { return of(stage_) + of(k4_); });
    return error_size(body, state);
}

/// Largest error of the embedded solution, in units of what is allowed: 10 K or 0.05 + a, times the tolerance.
double Solver::error_size(const Body& body, const State& from) const {
    double worst = 0.0;
    for (std::size_t i = 0; i < body.cells(); ++i) worst = std::max(worst, 0.1 * std::abs(k4_.temperature[i]));
    for (std::size_t i = 0; i < body.reacting; ++i)
        worst = std::max(worst, std::abs(k4_.conversion[i]) / (0.05 + from.conversion[i]));
    worst = std::max(worst, std::abs(k4_.face_conversion) / (0.05 + from.face_conversion));
    return std::isfinite(worst) ? worst / settings_.tolerance : std::numeric_limits<double>::infinity();
}

Sample Solver::sample(const Body& body, const State& state, double time, double outer) const {
    Sample s;
    s.time = time;
    s.least = state.face_conversion;
    s.min_rate = first_face_rate_.value;
    s.most = state.face_conversion;
    s.max_rate = first_face_rate_.value;
    s.face = face_temperature(body, state, outer);
    s.outermost = state.temperature[body.last_reacting()];
    s.hottest = s.face;
    for (std::size_t i = 0; i < body.reacting; ++i) {
        if (state.conversion[i] < s.least) {
            s.least = state.conversion[i];
            s.min_rate = first_rate_[i].value;
        }
        if (state.conversion[i] > s.most) {
            s.most = state.conversion[i];
            s.max_rate = first_rate_[i].value;
        }
        s.hottest = std::max(s.hottest, state.temperature[body.first + i]);
    }
    const std::size_t next = body.last_reacting() + 1;
    const std::size_t count = std::min(settings_.neighbour_cells, body.cells() - next);
    s.neighbour = s.face;
    if (count > 0) {
        double sum = 0.0;
        for (std::size_t i = 0; i < count; ++i) sum += state.temperature[next + i];
        s.neighbour = sum / static_cast<double>(count);
    }
    return s;
}

double Solver::run(const Body& body, const RateLaw& law, State& state, double start, double end, const Profile& inner,
                   const Profile& outer, const Observer& observe, Statistics* statistics) {
    prepare(body);
    double time = start;
    linearise(body, law, state, inner.at(time), outer.at(time));
    double h = settings_.first_step > 0.0 ? settings_.first_step : std::min(2.0, 0.05 * (end - start));
    next_step_ = h;
    if (!observe(sample(body, state, time, outer.at(time)))) return time;

    while (time < end) {
        const double stop = std::min({end, inner.next_after(time), outer.next_after(time)});
        const bool meets_stop = time + h * 1.000001 >= stop;
        const double used = meets_stop ? stop - time : h;
        const double size = step(body, law, state, time, used, inner, outer);
        const double factor = std::clamp(0.8 * inverse_cube_root(std::clamp(size, 1e-6, 1e6)), 0.15, 2.5);
        if (size > 1.0) {
            h = used * factor;
            if (statistics != nullptr) ++statistics->rejected;
            if (h < 1e-9) return time;  // no such problem has been met; never loop for ever
            continue;
        }
        if (statistics != nullptr) {
            ++statistics->steps;
            statistics->inflow += step_inflow_;
        }
        std::swap(state, stage_);
        time = meets_stop ? stop : time + used;
        next_step_ = h = std::min({meets_stop ? std::max(h, used * factor) : used * factor, settings_.longest_step});
        linearise(body, law, state, inner.at(time), outer.at(time));
        if (!observe(sample(body, state, time, outer.at(time)))) break;
    }
    return time;
}

}  // namespace patchwright::cure::detail
