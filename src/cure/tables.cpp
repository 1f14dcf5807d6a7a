// The site's tables and the cure curve.
#include <algorithm>
#include <cmath>

#include "knowledge.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cure {
namespace {

using namespace detail;

Duration seconds(double s) { return Duration::from_si(s); }

/// The row of one measured pipe temperature: what an answer for it would print.
LetDownRow row(const Knowledge& known, const Site& site, const Conditions& measured, const job::Limits& limits) {
    const UncertainTime shaping = shaping_end(known, site, measured, limits);
    const Duration over = shaping.quantile(limits.late_at_most);
    const Conditions c = planned(measured, shaping, limits);
    const Cured cure = cured(known, site, c, limits);
    const RateLaw law{known.fit.kinetics};
    const bool heated = c.heating.medium != Heating::Medium::none;
    const Duration coupon = heated ? Duration{} : seconds(coupon_seconds(known, cure, limits));
    UncertainTime without = cure.hard;
    without.likely =
        std::max(without.likely, seconds(release_without_heat(cure.before, law, known.fit.kinetics,
                                                              release_of(known, limits), cure.course.pipe)));
    return {c.pipe.value, wait_minutes(let_down_of(cure.hard, coupon, limits)),
            wait_minutes(let_down_of(without, coupon, limits)),
            std::max(Duration{}, limit_minutes(hand_limits(c, over).inflate_by))};
}

}  // namespace

std::vector<LetDownRow> Model::let_down_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                              const job::Limits& limits, std::span<const Temperature> pipes) const {
    check_input(sleeve, host, given);
    const Knowledge& known = *impl_;
    const Site site = make_site(known.resin, sleeve, host);
    Conditions c = completed(given, limits);
    c.measured = true;
    std::vector<LetDownRow> rows;
    for (const Temperature pipe : pipes) {
        if (pipe < known.resin.application_min || pipe > known.resin.application_max) continue;
        c.pipe.value = pipe;
        const LetDownRow r = row(known, site, c, limits);
        if (is_finite(r.let_down) && is_finite(r.without_exotherm)) rows.push_back(r);
    }
    return rows;
}

std::vector<InflateRow> Model::inflate_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                             const job::Limits& limits, std::span<const Temperature> airs) const {
    check_input(sleeve, host, given);
    const Knowledge& known = *impl_;
    const Site site = make_site(known.resin, sleeve, host);
    Conditions c = completed(given, limits);
    c.measured = true;
    std::vector<InflateRow> rows;
    Working off = Working::off();
    for (const Temperature air : airs) {
        c.air.value = c.van.value = air;
        const Duration over = shaping_end(known, site, c, limits).quantile(limits.late_at_most);
        const Duration inflate_by = limit_minutes(hand_limits(c, over).inflate_by);
        if (inflate_by.si() <= 0.0) continue;  // too warm to inflate in time: no row, the sheet prints "do not"
        const Pour pour = pour_of(c, inflate_by);
        rows.push_back(
            {c.resin.value, air, pour_by(pour, sleeve.resin_mass, limits, off), inflate_by, limit_minutes(over), pour});
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
    const Conditions c = planned(completed(given, limits), expected.shaping, limits);
    const RateLaw law{known.fit.kinetics};
    for (const Duration late : lateness) {
        if (!(late.si() >= 0.0) || !is_finite(late)) throw RangeError("cure: lateness must not be negative");
        Conditions held = c;
        held.load += late;  // it waits on its packer in the air
        const Outcome then = follow(site, law, course_of(held), release_of(known, limits), usual_grid(site));
        LateRow r;
        r.late = late;
        r.spare = expected.sheet.inflate_by - expected.hands_on - late;
        r.in_time = r.spare.si() >= 0.0;
        r.let_down = wait_minutes(let_down_of({seconds(then.release), expected.hard.log_sd}, expected.coupon, limits));
        rows.push_back(r);
    }
    return rows;
}

std::vector<CurvePoint> Model::curve(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                     const job::Limits& limits, Side side) const {
    check_input(sleeve, host, given);
    const Knowledge& known = *impl_;
    const Site site = make_site(known.resin, sleeve, host);
    const Conditions full = completed(given, limits);
    const Conditions c = planned(full, shaping_end(known, site, full, limits), limits);
    const Cured cure = cured(known, site, c, limits);
    const Shift shift = cure.shift(side, c, limits);
    const Course course = course_of(c, shift);
    const RateLaw law{kinetics_at(known, shift)};
    const Release release = release_of(known, limits);
    const double let_down =
        std::max(follow(site, law, course, release, usual_grid(site)).release, let_down_of(cure.hard, {}, limits).si());
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
