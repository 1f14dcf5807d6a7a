#pragma once
// Time integration of conduction with reaction: a stiff, linearly implicit method that factorises one tridiagonal
// matrix a step.
#include <functional>
#include <span>
#include <vector>

#include "body.hpp"
#include "rate_law.hpp"

namespace patchwright::cure::detail {

/// A temperature against time, straight between its points, constant before the first and after the last.
struct Profile {
    struct Point {
        double time = 0.0, kelvin = 0.0;
    };
    std::vector<Point> points;

    static Profile constant(double kelvin) { return Profile{{{0.0, kelvin}}}; }
    double at(double time) const;
    double slope_after(double time) const;
    /// The first point later than `time`; infinity when there is none.
    double next_after(double time) const;
};

/// What an observer sees after each step.
struct Sample {
    double time = 0.0;
    double least = 0.0, min_rate = 0.0;  ///< least conversion in the block and its rate, 1/s
    double most = 0.0, max_rate = 0.0;   ///< greatest conversion and its rate
    double face = 0.0;                   ///< temperature of the outer face, K
    double hottest = 0.0;                ///< in the reacting block, K
    double outermost = 0.0;              ///< of the block's last cell, K: of a well-mixed one its own
    double neighbour = 0.0;              ///< mean temperature of `neighbour_cells` cells outside the block, K
};

struct Settings {
    double tolerance = 6e-3;  ///< see `error_size` in the source: about the relative error of one step
    double first_step = 0.0;  ///< s, of the first run; 0: chosen
    double longest_step = 6.0 * 3600.0;
    std::size_t neighbour_cells = 0;
};

struct Statistics {
    int steps = 0, rejected = 0;
    double inflow = 0.0;  ///< heat that came in through both ends, J
};

/// Workspace and method. One solver serves many bodies; it holds no results.
///
/// RODAS3: Sandu, Verwer, Blom, Spee, Carmichael & Potra, Atmos. Environ. 31 (1997) 3459: four stages, order 3,
/// stiffly accurate, embedded order 2; coefficients in the transformed form of Hairer & Wanner II, IV.7.
/// The conversion of a cell depends on that cell's temperature only, so its unknown is eliminated before the
/// factorisation: what is left is one tridiagonal system for the temperatures.
class Solver {
public:
    using Observer = std::function<bool(const Sample&)>;  ///< false: stop here

    explicit Solver(Settings settings = {}) : settings_{settings} {}

    /// Advances `state` from `start` to `end` seconds. Returns the time reached.
    double run(const Body& body, const RateLaw& law, State& state, double start, double end, const Profile& inner,
               const Profile& outer, const Observer& observe, Statistics* statistics = nullptr);
    /// s; what the last run left off with, to begin the next stage of the same body with.
    double next_step() const { return next_step_; }

private:
    void prepare(const Body& body);
    /// Heat that flows between the cells and through both ends, as slopes of the temperatures.
    void conduct(const std::vector<double>& temperature, double inner, double outer, std::vector<double>& slope) const;
    /// Slopes at a stage, into `slope_`; at a step's start with their derivatives, into `first_slope_`.
    void stage_slope(const Body& body, const RateLaw& law, double inner, double outer);
    void linearise(const Body& body, const RateLaw& law, const State& y, double inner, double outer);
    void factorise(const Body& body, double g);
    void solve(const Body& body, State& k);
    double step(const Body& body, const RateLaw& law, State& state, double time, double h, const Profile& inner,
                const Profile& outer);
    double error_size(const Body& body, const State& from) const;
    Sample sample(const Body& body, const State& state, double time, double outer) const;
    double face_temperature(const Body& body, const State& y, double outer) const;

    Settings settings_;
    std::vector<double> below_, above_, lost_;  ///< links over capacity; their sum
    std::vector<double> source_;                ///< heat over capacity of each reacting cell, K
    std::vector<double> ratio_, back_, pivot_;  ///< of the factorised matrix
    std::vector<double> inverse_, carried_;     ///< of the eliminated conversions
    double face_inverse_ = 0.0;
    std::vector<Rate> first_rate_;
    Rate first_face_rate_;
    State slope_, first_slope_, k1_, k2_, k3_, k4_, stage_;
    double inner_over_capacity_ = 0.0, outer_over_capacity_ = 0.0;
    double step_inflow_ = 0.0, next_step_ = 0.0;
};

}  // namespace patchwright::cure::detail
