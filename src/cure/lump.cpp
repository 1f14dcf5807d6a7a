#include "lump.hpp"

#include <limits>

namespace patchwright::cure::detail {
namespace {

constexpr std::size_t inner = 0, outer = 1, whole = 2, face = 3;

template <class F>
std::array<double, 4> each(F&& value) {
    return {value(std::size_t{0}), value(std::size_t{1}), value(std::size_t{2}), value(std::size_t{3})};
}

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

LumpSolver::LumpSolver(const Lumped& body, const RateLaw& law, double surroundings, double tolerance)
    : law_{law},
      surroundings_{surroundings},
      per_tolerance_{1.0 / tolerance},
      bare_{body.inner_capacity <= 0.0},
      face_apart_{body.face_weight != 1.0},
      lost_{(body.outer_link + (bare_ ? 0.0 : body.inner_link)) / body.capacity},
      taken_{body.outer_link / body.capacity},
      inner_taken_{bare_ ? 0.0 : body.inner_link / body.inner_capacity},
      gained_{bare_ ? 0.0 : body.inner_link / body.capacity},
      source_{body.heat / body.capacity},
      face_weight_{body.face_weight} {}

/// Slope and rates of the state from which the next step goes.
void LumpSolver::refresh() {
    first_rate_ = law_(now_[whole], now_[outer]);
    if (face_apart_)
        first_face_rate_ = law_(now_[face], face_weight_ * now_[outer] + (1.0 - face_weight_) * surroundings_);
    else
        first_face_rate_ = first_rate_;
    first_slope_ = {inner_taken_ * (now_[outer] - now_[inner]),
                    gained_ * now_[inner] - lost_ * now_[outer] + taken_ * surroundings_ + source_ * first_rate_.value,
                    first_rate_.value, first_face_rate_.value};
}

LumpSolver::Unknowns LumpSolver::slope(const Unknowns& y) const {
    const double rate = law_.value(y[whole], y[outer]);
    const double at_face =
        face_apart_ ? law_.value(y[face], face_weight_ * y[outer] + (1.0 - face_weight_) * surroundings_) : rate;
    return {inner_taken_ * (y[outer] - y[inner]),
            gained_ * y[inner] - lost_ * y[outer] + taken_ * surroundings_ + source_ * rate, rate, at_face};
}

/// Matrix g - J, the conversions and the inert body eliminated.
void LumpSolver::factorise(double g) {
    conversion_inverse_ = 1.0 / (g - first_rate_.by_conversion);
    face_inverse_ = face_apart_ ? 1.0 / (g - first_face_rate_.by_conversion) : conversion_inverse_;
    carried_ = source_ * first_rate_.by_conversion * conversion_inverse_;
    inner_pivot_ = 1.0 / (g + inner_taken_);
    pivot_ = 1.0 / (g + lost_ - source_ * first_rate_.by_temperature * g * conversion_inverse_ -
                    gained_ * inner_taken_ * inner_pivot_);
}

/// Solves for one stage in place: right-hand side in, stage vector out.
void LumpSolver::solve(Unknowns& k) const {
    k[outer] = (k[outer] + carried_ * k[whole] + gained_ * inner_pivot_ * k[inner]) * pivot_;
    k[inner] = (k[inner] + inner_taken_ * k[outer]) * inner_pivot_;
    k[whole] = (k[whole] + first_rate_.by_temperature * k[outer]) * conversion_inverse_;
    k[face] =
        face_apart_ ? (k[face] + first_face_rate_.by_temperature * face_weight_ * k[outer]) * face_inverse_ : k[whole];
}

double LumpSolver::step(double h) {
    factorise(2.0 / h);
    const double per_h = 1.0 / h;
    Unknowns k1 = first_slope_;
    solve(k1);
    Unknowns k2 = each([&](std::size_t i) { return first_slope_[i] + 4.0 * per_h * k1[i]; });
    solve(k2);
    const Unknowns twice = each([&](std::size_t i) { return now_[i] + 2.0 * k1[i]; });
    Unknowns k3 = slope(twice);
    k3 = each([&](std::size_t i) { return k3[i] + per_h * (k1[i] - k2[i]); });
    solve(k3);
    next_ = each([&](std::size_t i) { return twice[i] + k3[i]; });
    Unknowns k4 = slope(next_);
    k4 = each([&](std::size_t i) { return k4[i] + per_h * (k1[i] - k2[i] - (8.0 / 3.0) * k3[i]); });
    solve(k4);
    next_ = each([&](std::size_t i) { return next_[i] + k4[i]; });

    // The last stage is the error of the embedded solution; the same scales as in `Solver::error_size`.
    const double worst =
        std::max({0.1 * std::abs(k4[inner]), 0.1 * std::abs(k4[outer]), std::abs(k4[whole]) / (0.05 + now_[whole]),
                  std::abs(k4[face]) / (0.05 + now_[face])});
    return std::isfinite(worst) ? worst * per_tolerance_ : std::numeric_limits<double>::infinity();
}

LumpSample LumpSolver::sample(double time) const {
    if (now_[face] >= now_[whole]) return {time, now_[face], first_face_rate_.value, now_[outer]};
    return {time, now_[whole], first_rate_.value, now_[outer]};
}

}  // namespace patchwright::cure::detail
