#include "cvode_body.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>

#include <algorithm>
#include <limits>
#include <stdexcept>
#include <vector>

namespace patchwright::test {
namespace {

using namespace cure::detail;

struct Problem {
    const Body& body;
    const RateLaw& law;
    const Condition& release;
    double inner, outer, gel;
    std::vector<std::size_t> kelvin_at, conversion_at;  // places in the vector
    std::size_t face_at = 0;
};

double face_kelvin(const Problem& p, const double* y) {
    const std::size_t last = p.body.last_reacting();
    const double beyond = last + 1 < p.body.cells() ? y[p.kelvin_at[last + 1]] : p.outer;
    return p.body.face_weight * y[p.kelvin_at[last]] + (1.0 - p.body.face_weight) * beyond;
}

int right_hand_side(double, N_Vector yv, N_Vector dv, void* data) {
    const Problem& p = *static_cast<Problem*>(data);
    const double* y = N_VGetArrayPointer(yv);
    double* d = N_VGetArrayPointer(dv);
    const Body& b = p.body;
    const std::size_t n = b.cells();
    for (std::size_t i = 0; i < n; ++i) {
        const double t = y[p.kelvin_at[i]];
        double heat = 0.0;
        if (i > 0) heat += b.link[i - 1] * (y[p.kelvin_at[i - 1]] - t);
        if (i + 1 < n) heat += b.link[i] * (y[p.kelvin_at[i + 1]] - t);
        if (i == 0) heat += b.inner_link * (p.inner - t);
        if (i + 1 == n) heat += b.outer_link * (p.outer - t);
        if (i >= b.first && i < b.first + b.reacting) {
            const std::size_t c = i - b.first;
            const double rate = p.law(y[p.conversion_at[c]], t).value;
            d[p.conversion_at[c]] = rate;
            heat += b.heat[c] * rate;
        }
        d[p.kelvin_at[i]] = heat / b.capacity[i];
    }
    d[p.face_at] = p.law(y[p.face_at], face_kelvin(p, y)).value;
    return 0;
}

double least(const Problem& p, const double* y) {
    double a = y[p.face_at];
    for (const std::size_t place : p.conversion_at) a = std::min(a, y[place]);
    return a;
}

int roots(double, N_Vector yv, double* g, void* data) {
    const Problem& p = *static_cast<Problem*>(data);
    const double* y = N_VGetArrayPointer(yv);
    const double a = least(p, y);
    g[0] = a - p.gel;
    g[1] = std::min(a - p.gel, p.release(a, face_kelvin(p, y)));
    return 0;
}

void check(int flag, const char* what) {
    if (flag < 0) throw std::runtime_error(std::string("CVODE: ") + what);
}

}  // namespace

CvodeResult cvode_run(const Body& body, const RateLaw& law, const State& initial, double start, double end,
                      double inner, double outer, double gel, const Condition& release, double relative,
                      double absolute_conversion, double absolute_kelvin) {
    Problem p{body, law, release, inner, outer, gel, {}, {}, 0};
    std::size_t place = 0;
    for (std::size_t i = 0; i < body.cells(); ++i) {
        const bool reacts = i >= body.first && i < body.first + body.reacting;
        if (reacts) p.conversion_at.push_back(place++);
        p.kelvin_at.push_back(place++);
        if (reacts && i == body.last_reacting()) p.face_at = place++;
    }
    SUNContext context = nullptr;
    check(SUNContext_Create(nullptr, &context), "context");
    const auto size = static_cast<sunindextype>(place);
    N_Vector y = N_VNew_Serial(size, context);
    N_Vector tolerance = N_VNew_Serial(size, context);
    double* yp = N_VGetArrayPointer(y);
    double* tp = N_VGetArrayPointer(tolerance);
    for (std::size_t i = 0; i < body.cells(); ++i) {
        yp[p.kelvin_at[i]] = initial.temperature[i];
        tp[p.kelvin_at[i]] = absolute_kelvin;
    }
    for (std::size_t i = 0; i < body.reacting; ++i) {
        yp[p.conversion_at[i]] = initial.conversion[i];
        tp[p.conversion_at[i]] = absolute_conversion;
    }
    yp[p.face_at] = initial.face_conversion;
    tp[p.face_at] = absolute_conversion;

    void* cvode = CVodeCreate(CV_BDF, context);
    check(CVodeInit(cvode, right_hand_side, start, y), "init");
    check(CVodeSVtolerances(cvode, relative, tolerance), "tolerances");
    check(CVodeSetUserData(cvode, &p), "user data");
    check(CVodeSetMaxNumSteps(cvode, 1000000), "steps");
    SUNMatrix matrix = SUNBandMatrix(size, 2, 2, context);
    SUNLinearSolver linear = SUNLinSol_Band(y, matrix, context);
    check(CVodeSetLinearSolver(cvode, linear, matrix), "linear solver");
    check(CVodeRootInit(cvode, 2, roots), "roots");

    CvodeResult result;
    result.gel = result.release = std::numeric_limits<double>::infinity();
    double t = start;
    while (t < end) {
        const int flag = CVode(cvode, end, y, &t, CV_NORMAL);
        check(flag, "step");
        if (flag != CV_ROOT_RETURN) break;
        int found[2] = {0, 0};
        check(CVodeGetRootInfo(cvode, found), "root info");
        if (found[0] != 0 && t < result.gel) result.gel = t;
        if (found[1] > 0) {
            result.release = t;
            break;
        }
    }
    check(CVodeGetNumSteps(cvode, &result.steps), "step count");
    check(CVodeGetNumRhsEvals(cvode, &result.evaluations), "evaluation count");
    result.state = initial;
    for (std::size_t i = 0; i < body.cells(); ++i) result.state.temperature[i] = yp[p.kelvin_at[i]];
    for (std::size_t i = 0; i < body.reacting; ++i) result.state.conversion[i] = yp[p.conversion_at[i]];
    result.state.face_conversion = yp[p.face_at];
    CVodeFree(&cvode);
    SUNLinSolFree(linear);
    SUNMatDestroy(matrix);
    N_VDestroy(y);
    N_VDestroy(tolerance);
    SUNContext_Free(&context);
    return result;
}

}  // namespace patchwright::test
