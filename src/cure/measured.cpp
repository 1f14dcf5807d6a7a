// What is left, from the temperatures that were really noted.
#include <fmt/core.h>

#include <array>
#include <cmath>
#include <limits>

#include "crossing.hpp"
#include "knowledge.hpp"
#include "normal.hpp"
#include "patchwright/cure/followed.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cure {
namespace {

using namespace detail;

constexpr std::array left_inputs{Symbol{"a", "conversion reached, slow side", Show::conversion},
                                 Symbol{"te", "elapsed since mixing", Show::span},
                                 Symbol{"T", "last temperature noted", Show::temperature},
                                 Symbol{"tr", "coldest point ready, slow side, from mixing", Show::span},
                                 Symbol{"m", "the firm's own addition", Show::percent}};
constexpr Formula left_formula{"cure.time_left",
                               {"t", "time left to deflating", Show::span},
                               "t = tr (1 + m) - te, tr (1 + m) in whole minutes up",
                               left_inputs,
                               "derived here: da/dt along the noted temperatures, docs/methods/cure.md",
                               "cure"};

void check(std::span<const Note> notes, Duration elapsed) {
    if (notes.empty()) throw InputError("cure: note at least one temperature, with the time since mixing");
    if (!(elapsed.si() >= 0.0) || !is_finite(elapsed))
        throw InputError("cure: the time since mixing must not be negative");
    double before = -1.0;
    for (const Note& n : notes) {
        if (!(n.after_mixing.si() >= 0.0 && n.after_mixing.si() > before))
            throw InputError("cure: the noted temperatures must be in order of time, none before mixing");
        if (n.after_mixing > elapsed)
            throw InputError(
                fmt::format("cure: a temperature is noted at {:.0f} min, later than the {:.0f} min elapsed",
                            n.after_mixing.in(unit::minute), elapsed.in(unit::minute)));
        const double t = n.temperature.in_celsius();
        if (!(t >= -30.0 && t <= 120.0))
            throw InputError(fmt::format("cure: {:.0f} °C is no temperature of a sleeve", t));
        before = n.after_mixing.si();
    }
}

struct Passed {
    double working = std::numeric_limits<double>::infinity();
    double gel = working, release = working;
    double at_elapsed = 0.0;
};

/// Conversion of a point that follows the noted temperatures; the last one is kept.
Passed along(const Knowledge& known, const Profile& noted, double factor, double elapsed, double stiff,
             const Release& release) {
    const RateLaw law{faster(known.fit.kinetics, factor)};
    // A cell so thin that it takes the noted temperature, without heat of its own.
    Body body;
    body.capacity = {1.0};
    body.outer_link = 1.0;
    body.reacting = 1;
    body.heat = {0.0};
    body.face_weight = 0.0;
    State state = uniform_state(body, noted.at(0.0), 0.0);
    Passed p;
    Sample last;
    const auto holds = [&](double a, double kelvin) { return a >= release_conversion(release, law.glass(), kelvin); };
    Solver solver{Settings{.tolerance = 2e-3}};
    const auto follow_to = [&](double from, double to) {
        return solver.run(body, law, state, from, to, noted, noted, [&](const Sample& s) {
            const Knot a{last.time, last.least, last.min_rate};
            const Knot b{s.time, s.least, s.min_rate};
            if (std::isinf(p.working) && s.least >= stiff) p.working = crossing(a, b, stiff);
            if (std::isinf(p.gel) && s.least >= release.gel) p.gel = crossing(a, b, release.gel);
            if (std::isinf(p.release) && holds(s.least, s.face))
                p.release = turn(a.time, b.time, [&](double t) { return holds(between(a, b, t), noted.at(t)); });
            last = s;
            return from < elapsed || std::isinf(p.release);
        });
    };
    if (elapsed > 0.0) follow_to(0.0, elapsed);
    p.at_elapsed = state.face_conversion;
    if (std::isinf(p.release)) follow_to(elapsed, elapsed + 60.0 * 86400.0);
    return p;
}

/// The notes as a profile.
Profile profile_of(std::span<const Note> notes) {
    Profile noted;
    for (const Note& n : notes) noted.points.push_back({n.after_mixing.si(), n.temperature.in_kelvin()});
    return noted;
}

/// What was noted is wrong by the instrument's doubt, whose effect is that of a rate: d ln k / dT = E / (R T^2).
double warmth_sd(const Knowledge& known, double kelvin, const job::Limits& limits) {
    return known.fit.at[activation] / (gas_constant * kelvin * kelvin) * deviation(limits.measured_doubt);
}

}  // namespace

Remaining Model::time_left(std::span<const Note> notes, Duration elapsed, const job::Limits& limits,
                           Working& working) const {
    check(notes, elapsed);
    const Knowledge& known = *impl_;
    const Profile noted = profile_of(notes);
    const double last = notes.back().temperature.in_kelvin();
    const Release release = release_of(known, limits);
    const double now = elapsed.si();
    const double warmth = warmth_sd(known, last, limits);
    const double stiff = shaping_conversion(known, limits);
    const double behind = normal_quantile(1.0 - limits.soft_at_most) * std::hypot(rate_sd(known, last, true), warmth);
    const double ahead = normal_quantile(1.0 - limits.late_at_most) * std::hypot(rate_sd(known, last, false), warmth);
    const Passed slow = along(known, noted, std::exp(-behind), now, stiff, release);
    const Passed fast = along(known, noted, std::exp(ahead), now, stiff, release);
    if (!std::isfinite(slow.release))
        throw RangeError(fmt::format("cure: \"{}\" does not get hard enough at {} within 60 days: warm the pipe",
                                     known.resin.id, both(notes.back().temperature)));
    Remaining r;
    r.conversion = slow.at_elapsed;
    r.working_left = Duration::from_si(fast.working - now);
    r.gel_left = Duration::from_si(slow.gel - now);
    r.let_down = wait_minutes(Duration::from_si((1.0 + limits.let_down_margin) * slow.release));
    r.let_down_left = r.let_down - elapsed;
    working.add(left_formula,
                {r.conversion,
                 {elapsed, Origin::given},
                 {notes.back().temperature, Origin::given},
                 slow.release,
                 {limits.let_down_margin, Origin::yard}},
                r.let_down_left);
    return r;
}

Followed follow_notes(const job::Resin& resin, std::span<const Note> notes, Duration let_down,
                      const job::Limits& limits) {
    check(notes, let_down);
    if (let_down <= Duration{}) throw InputError("cure: it was deflated before it was mixed");
    const Knowledge known{resin, calibrate(resin)};
    const Profile noted = profile_of(notes);
    const double last = notes.back().temperature.in_kelvin();
    const Release release = release_of(known, limits);
    const double stiff = shaping_conversion(known, limits);
    const auto at = [&](double log_factor) {
        return along(known, noted, std::exp(log_factor), let_down.si(), stiff, release);
    };
    const Passed likely = at(0.0);
    // Resin faster by f* is just hard at let-down; beyond a factor of 20 either way nothing is left to tell.
    double slow = -3.0, fast = 3.0;
    for (int i = 0; i < 24; ++i) {
        const double middle = 0.5 * (slow + fast);
        (at(middle).release > let_down.si() ? slow : fast) = middle;
    }
    const double sd = std::hypot(rate_sd(known, last, true), warmth_sd(known, last, limits));
    return {likely.at_elapsed, Duration::from_si(likely.release), normal_cumulative(0.5 * (slow + fast) / sd)};
}

}  // namespace patchwright::cure
