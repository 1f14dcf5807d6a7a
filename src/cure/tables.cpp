// The site's tables and the cure curve.
#include <algorithm>
#include <cmath>

#include "knowledge.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cure {
namespace {

using namespace detail;

Duration seconds(double s) { return Duration::from_si(s); }

/// Inflate-by of a case as an answer prints it; zero where the answer is a refusal.
Duration inflate_by_of(const Knowledge& known, const Sleeve& sleeve, const Surroundings& host, const Conditions& c,
                       const job::Limits& limits) {
    Working off = Working::off();
    Cured cure;
    return answer_of(known, sleeve, host, c, limits, off, cure).sheet.inflate_by;
}

/// The warmest that may meet in a pipe of that warmth with air no warmer than it.
Conditions warmest_in(Temperature pipe, Temperature resin, Conditions c) {
    c.pipe.value = c.air.value = c.van.value = pipe;
    c.resin.value = resin;
    c.pipe_measured = c.others_measured = true;
    return c;
}

}  // namespace

std::vector<LetDownRow> Model::let_down_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                              const job::Limits& limits, std::span<const Temperature> pipes) const {
    const Knowledge& known = *impl_;
    const RateLaw law{known.fit.kinetics};
    Conditions c = completed(given, limits);
    c.pipe_measured = true;
    Working off = Working::off();
    std::vector<LetDownRow> rows;
    for (const Temperature pipe : pipes) {
        if (pipe < known.resin.application_min) continue;
        c.pipe.value = pipe;
        Cured cure;
        const Answer a = answer_of(known, sleeve, host, c, limits, off, cure);
        if (a.refused) continue;
        UncertainTime without = a.hard;
        without.likely =
            std::max(without.likely, seconds(release_without_heat(cure.before, law, known.fit.kinetics,
                                                                  release_of(known, limits), cure.course.pipe)));
        LetDownRow row{pipe, a.sheet.let_down, wait_minutes(let_down_of(without, a.coupon, limits)), a.sheet.inflate_by,
                       a.sheet.gel};
        if (!is_finite(row.without_exotherm)) continue;
        // The other table's rows hold in a pipe up to their air's warmth; in a warmer one only this row knows it.
        if (pipe > std::max(given.pipe.value, given.air.value))
            row.inflate_by =
                std::min(row.inflate_by,
                         inflate_by_of(known, sleeve, host, warmest_in(pipe, known.resin.application_max, c), limits));
        rows.push_back(row);
    }
    return rows;
}

std::vector<InflateRow> Model::inflate_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                             const job::Limits& limits, std::span<const Temperature> airs) const {
    Conditions c = completed(given, limits);
    c.others_measured = true;
    std::vector<InflateRow> rows;
    Working off = Working::off();
    for (const Temperature air : airs) {
        c.air.value = c.van.value = air;
        Cured cure;
        const Answer a = answer_of(*impl_, sleeve, host, c, limits, off, cure);
        if (a.refused) continue;  // no row, the sheet prints "do not"
        rows.push_back({c.resin.value, air, pour_by(a.pour, sleeve.resin_mass, limits, off), a.sheet.inflate_by,
                        a.sheet.crease_by, a.pour});
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
    const double let_down = std::max(follow(site, law, course, release, usual_grid(site)).release,
                                     let_down_of(cure.hard, coupon_of(known, cure, limits), limits).si());
    const double until = std::isfinite(let_down) ? 1.25 * let_down : 86400.0;

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
