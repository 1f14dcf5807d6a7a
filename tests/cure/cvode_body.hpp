#pragma once
// The same semi-discrete body, integrated by SUNDIALS CVODE: BDF, Newton, banded Jacobian, root finding.
// An independent time integrator; the right-hand side is written out again here, not shared with the solver.
#include <functional>

#include "body.hpp"
#include "rate_law.hpp"

namespace patchwright::test {

struct CvodeResult {
    double gel = 0.0, release = 0.0;  ///< s; infinite when not reached
    long steps = 0, evaluations = 0;
    cure::detail::State state;
};

using Condition = std::function<double(double least_conversion, double face_kelvin)>;

/// Integrates from `start` until the release condition turns positive or `end`.
CvodeResult cvode_run(const cure::detail::Body& body, const cure::detail::RateLaw& law,
                      const cure::detail::State& initial, double start, double end, double inner, double outer,
                      double gel, const Condition& release, double relative, double absolute_conversion,
                      double absolute_kelvin);

}  // namespace patchwright::test
