// The site's tables and the cure curve.
#include <algorithm>
#include <cmath>

#include "knowledge.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cure {
namespace {

using namespace detail;

Duration seconds(double s) { return Duration::from_si(s); }

struct EarlyTimes {
    double inflate = 0.0, crease = 0.0;  ///< s from mixing; inflate at or below zero: never in time
    Course course;
    Waiting waiting;
};

/// The times that must not be passed, for those conditions: warm and fast side.
EarlyTimes early_times(const Knowledge& known, const Site& site, const Conditions& c, const job::Limits& limits,
                       Waits& waits) {
    EarlyTimes t;
    t.course = course_of(known, c, limits, Side::early);
    t.waiting = waits.of(t.course, warmest_wait(c, limits, Side::early), Side::early);
    const RateLaw law{faster(known.fit.kinetics, t.course.rate_factor)};
    Release at_gel = release_of(known, limits);
    at_gel.share = 0.0;  // nothing after the gel is asked for, nor a gel so late that the wait alone decides
    at_gel.until = t.waiting.working / std::min(limits.crease_share_of_gel, 0.98);
    const double gel = follow(site, law, t.course, at_gel, usual_grid(site)).gel;
    const double working = std::min(t.waiting.working, 0.98 * gel);
    t.crease = std::min(working, limits.crease_share_of_gel * gel);
    t.inflate = t.crease - limits.crease_step.si() - c.inflate.si();
    return t;
}

/// A table row differs from the sheet's let-down in its pipe temperature only.
LetDownRow row(const Knowledge& known, const Site& site, Conditions c, const job::Limits& limits, Temperature pipe,
               Waits& waits) {
    c.pipe.value = pipe;
    const Course course = course_of(known, c, limits, Side::late);
    const Kinetics kinetics = faster(known.fit.kinetics, course.rate_factor);
    const RateLaw law{kinetics};
    const Release release = release_of(known, limits);
    const double factor = 1.0 + limits.let_down_margin;
    const Lump before = before_inflation(site, law, course);
    const double with = follow(site, law, course, before, release, usual_grid(site)).release;
    const double without = release_without_heat(before, law, kinetics, release, course.pipe);
    const Course likely = course_of(known, c, limits, Side::likely);
    const double coupon =
        coupon_seconds(known, likely, before_inflation(site, RateLaw{known.fit.kinetics}, likely), limits);
    return {pipe, seconds(std::max(factor * with, coupon)), seconds(std::max(factor * std::max(with, without), coupon)),
            seconds(std::max(0.0, early_times(known, site, c, limits, waits).inflate))};
}

}  // namespace

std::vector<LetDownRow> Model::let_down_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                              const job::Limits& limits, std::span<const Temperature> pipes) const {
    check_input(sleeve, host, given);
    const Knowledge& known = *impl_;
    const Site site = make_site(known.resin, sleeve, host);
    Waits waits{known, site, limits};
    const Conditions c = planned(known, given, limits, waits);
    std::vector<LetDownRow> rows;
    for (const Temperature pipe : pipes) {
        if (pipe < known.resin.application_min || pipe > known.resin.application_max) continue;
        const LetDownRow r = row(known, site, c, limits, pipe, waits);
        if (is_finite(r.let_down) && is_finite(r.without_exotherm)) rows.push_back(r);
    }
    return rows;
}

std::vector<InflateRow> Model::inflate_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                             const job::Limits& limits, std::span<const Temperature> airs) const {
    check_input(sleeve, host, given);
    const Knowledge& known = *impl_;
    const Site site = make_site(known.resin, sleeve, host);
    Waits waits{known, site, limits};
    std::vector<InflateRow> rows;
    Working off = Working::off();
    for (const Temperature air : airs) {
        Conditions c = given;
        c.air.value = c.van.value = air;
        c = planned(known, c, limits, waits);
        const EarlyTimes t = early_times(known, site, c, limits, waits);
        if (t.inflate <= 0.0) continue;  // too warm to inflate in time: no row, the sheet prints "do not"
        const Pour pour = pour_of(t.course, t.waiting, seconds(t.inflate), c);
        rows.push_back({c.resin.value, air, pour_by(pour, sleeve.resin_mass, limits, off), seconds(t.inflate),
                        seconds(t.crease), pour});
    }
    return rows;
}

std::vector<LateRow> Model::late_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                       const job::Limits& limits, std::span<const Duration> lateness) const {
    Working off = Working::off();
    const Answer expected = answer(sleeve, host, given, limits, off);
    std::vector<LateRow> rows;
    if (expected.refused) return rows;
    const Knowledge& known = *impl_;
    const Site site = make_site(known.resin, sleeve, host);
    Waits waits{known, site, limits};
    const Conditions c = planned(known, given, limits, waits);
    for (const Duration late : lateness) {
        if (!(late.si() >= 0.0) || !is_finite(late)) throw RangeError("cure: lateness must not be negative");
        Conditions held = c;
        held.load += late;  // it waits on its packer in the air
        const Course course = course_of(known, held, limits, Side::late);
        const RateLaw law{faster(known.fit.kinetics, course.rate_factor)};
        LateRow r;
        r.late = late;
        r.spare = expected.sheet.inflate_by - expected.hands_on - late;
        r.in_time = r.spare.si() >= 0.0;
        r.let_down = (1.0 + limits.let_down_margin) *
                     seconds(follow(site, law, course, release_of(known, limits), usual_grid(site)).release);
        rows.push_back(r);
    }
    return rows;
}

std::vector<CurvePoint> Model::curve(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                     const job::Limits& limits, Side side) const {
    check_input(sleeve, host, given);
    const Knowledge& known = *impl_;
    const Site site = make_site(known.resin, sleeve, host);
    Waits waits{known, site, limits};
    const Conditions c = planned(known, given, limits, waits);
    const Course course = course_of(known, c, limits, side);
    const RateLaw law{faster(known.fit.kinetics, course.rate_factor)};
    const Release release = release_of(known, limits);
    const double let_down = follow(site, law, course, release, usual_grid(site)).release;
    const double until = std::isfinite(let_down) ? 1.25 * (1.0 + limits.let_down_margin) * let_down : 86400.0;

    std::vector<CurvePoint> points;
    const auto add = [&](double time, double conversion, double hottest) {
        const double a = std::clamp(conversion, 0.0, 1.0);
        points.push_back(
            {seconds(time), a, Temperature::kelvin(hottest), glass_temperature(known.fit.kinetics.glass, a)});
    };
    const Lump before = before_inflation(site, law, course);
    add(0.0, 0.0, course.resin);
    std::vector<Sample> samples;
    follow(site, law, course, release, usual_grid(site), Settings{.longest_step = until / 60.0}, &samples, until);
    if (before.time > 0.0) add(before.time, before.conversion, before.sleeve);
    for (const Sample& s : samples)
        if (s.time > before.time) add(s.time, s.least, s.hottest);
    return points;
}

}  // namespace patchwright::cure
