#include "solver.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace patchwright::cure::detail {

double Profile::at(double time) const {
    if (points.empty()) return 0.0;
    if (time <= points.front().time) return points.front().kelvin;
    for (std::size_t i = 1; i < points.size(); ++i) {
        if (time < points[i].time) {
            const double share = (time - points[i - 1].time) / (points[i].time - points[i - 1].time);
            return points[i - 1].kelvin + share * (points[i].kelvin - points[i - 1].kelvin);
        }
    }
    return points.back().kelvin;
}

double Profile::slope_after(double time) const {
    for (std::size_t i = 1; i < points.size(); ++i) {
        if (time < points[i].time) {
            if (time < points[i - 1].time) return 0.0;
            return (points[i].kelvin - points[i - 1].kelvin) / (points[i].time - points[i - 1].time);
        }
    }
    return 0.0;
}

double Profile::next_after(double time) const {
    for (const Point& p : points)
        if (p.time > time) return p.time;
    return std::numeric_limits<double>::infinity();
}

void Solver::prepare(const Body& body) {
    const std::size_t n = body.cells();
    for (auto* v : {&below_, &above_, &lost_, &ratio_, &back_, &pivot_}) v->assign(n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        if (i > 0) below_[i] = body.link[i - 1] / body.capacity[i];
        if (i + 1 < n) above_[i] = body.link[i] / body.capacity[i];
        lost_[i] = below_[i] + above_[i];
    }
    inner_over_capacity_ = body.inner_link / body.capacity.front();
    outer_over_capacity_ = body.outer_link / body.capacity.back();
    lost_.front() += inner_over_capacity_;
    lost_.back() += outer_over_capacity_;
    source_.resize(body.reacting);
    for (std::size_t i = 0; i < body.reacting; ++i) source_[i] = body.heat[i] / body.capacity[body.first + i];
    inverse_.resize(body.reacting);
    carried_.resize(body.reacting);
    first_rate_.resize(body.reacting);
    for (State* s : {&slope_, &first_slope_, &k1_, &k2_, &k3_, &k4_, &stage_}) {
        s->temperature.resize(n);
        s->conversion.resize(body.reacting);
    }
}

double Solver::face_temperature(const Body& body, const State& y, double outer) const {
    const std::size_t last = body.last_reacting();
    const double beyond = last + 1 < body.cells() ? y.temperature[last + 1] : outer;
    return body.face_weight * y.temperature[last] + (1.0 - body.face_weight) * beyond;
}

void Solver::conduct(const std::vector<double>& temperature, double inner, double outer,
                     std::vector<double>& slope) const {
    const std::size_t n = temperature.size();
    const double* const t = temperature.data();
    double* const __restrict d = slope.data();
    if (n == 1) {
        d[0] = inner_over_capacity_ * inner - lost_[0] * t[0] + outer_over_capacity_ * outer;
        return;
    }
    d[0] = inner_over_capacity_ * inner - lost_[0] * t[0] + above_[0] * t[1];
    for (std::size_t i = 1; i + 1 < n; ++i) d[i] = below_[i] * t[i - 1] - lost_[i] * t[i] + above_[i] * t[i + 1];
    d[n - 1] = below_[n - 1] * t[n - 2] - lost_[n - 1] * t[n - 1] + outer_over_capacity_ * outer;
}

void Solver::stage_slope(const Body& body, const RateLaw& law, double inner, double outer) {
    conduct(stage_.temperature, inner, outer, slope_.temperature);
    double* const __restrict rate = slope_.conversion.data();
    law.each(body.reacting, stage_.conversion.data(), stage_.temperature.data() + body.first,
             [rate](std::size_t i, const Rate& r) { rate[i] = r.value; });
    for (std::size_t i = 0; i < body.reacting; ++i) slope_.temperature[body.first + i] += source_[i] * rate[i];
    slope_.face_conversion = law(stage_.face_conversion, face_temperature(body, stage_, outer)).value;
}

void Solver::linearise(const Body& body, const RateLaw& law, const State& y, double inner, double outer) {
    conduct(y.temperature, inner, outer, first_slope_.temperature);
    Rate* const __restrict rate = first_rate_.data();
    law.each(body.reacting, y.conversion.data(), y.temperature.data() + body.first,
             [rate](std::size_t i, const Rate& r) { rate[i] = r; });
    for (std::size_t i = 0; i < body.reacting; ++i) {
        first_slope_.conversion[i] = first_rate_[i].value;
        first_slope_.temperature[body.first + i] += source_[i] * first_rate_[i].value;
    }
    first_face_rate_ = law(y.face_conversion, face_temperature(body, y, outer));
    first_slope_.face_conversion = first_face_rate_.value;
}

/// Matrix g - J with the conversions eliminated, factorised from both ends towards the middle: the two halves do not
/// wait for each other, which halves the time of the recurrences.
void Solver::factorise(const Body& body, double g) {
    const std::size_t n = body.cells();
    for (std::size_t i = 0; i < n; ++i) pivot_[i] = g + lost_[i];
    for (std::size_t i = 0; i < body.reacting; ++i) {
        inverse_[i] = 1.0 / (g - first_rate_[i].by_conversion);
        carried_[i] = source_[i] * first_rate_[i].by_conversion * inverse_[i];
        pivot_[body.first + i] -= source_[i] * first_rate_[i].by_temperature * g * inverse_[i];
    }
    face_inverse_ = 1.0 / (g - first_face_rate_.by_conversion);
    const std::size_t middle = n / 2;
    const auto left = [&](std::size_t i) {
        pivot_[i] = 1.0 / pivot_[i];
        ratio_[i] = below_[i + 1] * pivot_[i];
        pivot_[i + 1] -= ratio_[i] * above_[i];
        back_[i] = above_[i] * pivot_[i];
    };
    const auto right = [&](std::size_t i) {
        pivot_[i] = 1.0 / pivot_[i];
        ratio_[i] = above_[i - 1] * pivot_[i];
        pivot_[i - 1] -= ratio_[i] * below_[i];
        back_[i] = below_[i] * pivot_[i];
    };
    for (std::size_t i = 0, j = n - 1; i < middle || j > middle; ++i, --j) {
        if (i < middle) left(i);
        if (j > middle) right(j);
    }
    pivot_[middle] = 1.0 / pivot_[middle];
}

/// Solves for one stage in place: right-hand side in, stage vector out.
void Solver::solve(const Body& body, State& k) {
    double* t = k.temperature.data();
    double* const block = t + body.first;
    for (std::size_t i = 0; i < body.reacting; ++i) block[i] += carried_[i] * k.conversion[i];
    const std::size_t last = body.cells() - 1;
    const std::size_t middle = body.cells() / 2;
    const std::size_t right = last - middle;  // as many cells as on the left of the middle, or one fewer
    for (std::size_t i = 0; i < right; ++i) {
        t[i + 1] += ratio_[i] * t[i];
        t[last - i - 1] += ratio_[last - i] * t[last - i];
    }
    if (right < middle) t[middle] += ratio_[middle - 1] * t[middle - 1];
    t[middle] *= pivot_[middle];
    for (std::size_t away = 1; away <= right; ++away) {
        const std::size_t i = middle - away;
        const std::size_t j = middle + away;
        t[i] = t[i] * pivot_[i] + back_[i] * t[i + 1];
        t[j] = t[j] * pivot_[j] + back_[j] * t[j - 1];
    }
    if (right < middle) t[0] = t[0] * pivot_[0] + back_[0] * t[1];
    for (std::size_t i = 0; i < body.reacting; ++i)
        k.conversion[i] = (k.conversion[i] + first_rate_[i].by_temperature * block[i]) * inverse_[i];
    const double face = face_temperature(body, k, 0.0);  // a prescribed surrounding does not change within a stage
    k.face_conversion = (k.face_conversion + first_face_rate_.by_temperature * face) * face_inverse_;
}

}  // namespace patchwright::cure::detail
