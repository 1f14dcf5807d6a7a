// One sleeve, three sides of the doubt, and what the sheet prints of them.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answer_working.hpp"
#include "knowledge.hpp"

namespace patchwright::cure {
namespace {

using namespace detail;

Duration seconds(double s) { return Duration::from_si(s); }

SideRun run_side(const Knowledge& known, const Site& site, const Conditions& c, const job::Limits& limits, Side side,
                 Waits& waits) {
    SideRun r;
    r.course = course_of(known, c, limits, side);
    const RateLaw law{faster(known.fit.kinetics, r.course.rate_factor)};
    r.before = before_inflation(site, law, r.course);
    r.outcome = follow(site, law, r.course, r.before, release_of(known, limits), usual_grid(site));
    r.waiting = waits.of(r.course, warmest_wait(c, limits, side), side);
    return r;
}

Times times_of(const SideRun& r, const Conditions& c, const job::Limits& limits) {
    Times t;
    // A sleeve in a pipe much warmer than the air may gel before it would have stiffened in the air.
    const double working = std::min(r.waiting.working, 0.98 * r.outcome.gel);
    t.working_time = seconds(working);
    t.crease_by = seconds(std::min(working, limits.crease_share_of_gel * r.outcome.gel));
    t.inflate_by = t.crease_by - limits.crease_step - c.inflate;
    t.pour = pour_of(r.course, r.waiting, t.inflate_by, c);
    t.gel = seconds(r.outcome.gel);
    t.let_down = seconds(r.outcome.release);
    t.hottest = Temperature::kelvin(r.outcome.hottest);
    return t;
}

Duration coupon_of(const Knowledge& known, const Site& site, const Conditions& c, const job::Limits& limits) {
    const Course likely = course_of(known, c, limits, Side::likely);
    return seconds(coupon_seconds(known, likely, before_inflation(site, RateLaw{known.fit.kinetics}, likely), limits));
}

/// A heated bladder keeps the sleeve above a limit that the pipe alone does not reach.
bool warmed_above(Temperature limit, const Heating& heating) {
    return heating.medium != Heating::Medium::none &&
           std::all_of(heating.points.begin(), heating.points.end(),
                       [&](const Heating::Point& p) { return p.temperature >= limit + 10.0 * unit::K; });
}

/// What the resin's own limits forbid, before anything is computed.
std::optional<std::string> outside_range(const job::Resin& resin, const Conditions& c) {
    const Temperature low = resin.application_min;
    const Temperature high = resin.application_max;
    if (c.pipe.value < low && !warmed_above(low, c.heating))
        return fmt::format(
            "the pipe is at {}, resin \"{}\" may not be used below {}: blow warm air through the pipe, or "
            "take a resin with a lower limit, or wait for warmer weather",
            both(c.pipe.value), resin.id, both(low));
    if (c.resin.value < low)
        return fmt::format("the resin is at {}, \"{}\" may not be mixed below {}: warm both parts first",
                           both(c.resin.value), resin.id, both(low));
    if (c.resin.value > high)
        return fmt::format("the resin is at {}, \"{}\" may not be mixed above {}: let both parts cool first",
                           both(c.resin.value), resin.id, both(high));
    if (c.pipe.value > high)
        return fmt::format(
            "the pipe is at {}, resin \"{}\" may not be used above {}: take a slower resin, or flush the "
            "pipe with cold water first",
            both(c.pipe.value), resin.id, both(high));
    return std::nullopt;
}

/// Above this the wall gives way under the packer: softening of PVC-U from 75 to 80 °C, of bitumen from 50 °C on;
/// from memory.
std::optional<Temperature> host_limit(job::Material host) {
    if (host == job::Material::pvc_u) return Temperature::celsius(70.0);
    if (host == job::Material::pitch_fibre) return Temperature::celsius(50.0);
    return std::nullopt;
}

std::optional<std::string> unsafe(const Knowledge& known, const Surroundings& host, const Answer& a, const Times& early,
                                  const Sleeve& sleeve) {
    const Temperature limit = known.resin.highest_safe;
    if (limit > Temperature::celsius(0.0) && early.hottest > limit)
        return fmt::format(
            "a sleeve of {:.1f} mm of \"{}\" may heat itself to {}, above its limit of {} "
            "(Frank-Kamenetskii number {:.2f}, critical 0.88): use a thinner felt, a slower resin, or work "
            "when the pipe is colder",
            sleeve.thickness.in(unit::mm), known.resin.id, both(early.hottest), both(limit), a.frank_kamenetskii);
    const auto soft = host_limit(host.host);
    if (soft && a.host_hottest > *soft)
        return fmt::format(
            "the sleeve may heat the {} pipe's wall to {}, where it softens (limit {}): use a thinner felt "
            "or a slower resin",
            job::word(host.host), both(a.host_hottest), both(*soft));
    return std::nullopt;
}

void add_warnings(const Knowledge& known, const Conditions& c, Answer& a) {
    auto& w = a.warnings;
    if (c.pipe.value < known.resin.application_min)
        w.push_back(
            fmt::format("the pipe is colder than the {} that \"{}\" may be used from: the times hold only while the "
                        "bladder is heated as given",
                        both(known.resin.application_min), known.resin.id));
    if (a.extrapolated)
        w.push_back(fmt::format(
            "no gel or strip time of \"{}\" near {} (data from {} to {}): the times are extrapolated "
            "and their band is widened",
            known.resin.id, both(c.pipe.value),
            both(Temperature::kelvin(known.fit.coldest_film > 0.0 ? known.fit.coldest_film : known.fit.coldest_any)),
            both(Temperature::kelvin(known.fit.coldest_film > 0.0 ? known.fit.warmest_film : known.fit.warmest_any))));
    if (a.band_slow > 1.35)
        w.push_back(
            fmt::format("the data sheet of \"{}\" fixes the cold cure only within a factor of {:.2f}: trust the "
                        "witness coupon, not the clock",
                        known.resin.id, a.band_slow));
    if (a.frank_kamenetskii > 0.3)
        w.push_back(
            fmt::format("this sleeve heats itself (Frank-Kamenetskii number {:.2f}; above 0.3 it is felt, 0.88 runs "
                        "away): up to {} is possible",
                        a.frank_kamenetskii, both(a.early.hottest)));
    if (a.sheet.inflate_by < a.hands_on)
        w.push_back(
            fmt::format("the hands-on work takes about {:.0f} min, the sleeve must be inflated {:.0f} min after "
                        "mixing: cooler resin, a slower resin, or a shorter sleeve",
                        a.hands_on.in(unit::minute), a.sheet.inflate_by.in(unit::minute)));
    for (const std::string& remark : known.fit.remarks) w.push_back(remark);
}

}  // namespace

Duration Model::pour_by(const Pour& of, Mass mixed, const job::Limits& limits, Working& working) const {
    const double kilograms = mixed.si() > 0.0 ? mixed.si() : 1.0;
    const double pot = pot_seconds(*impl_, kilograms, of.resin.in_kelvin(), of.air.in_kelvin(), of.rate_factor);
    const Duration early_enough = std::max(of.inflate_by - of.handling, 0.5 * of.inflate_by);
    const Duration by = std::min(limits.pot_share * seconds(pot), early_enough);
    record_pour(pot, of, limits, by, working);
    return by;
}

Answer Model::answer(const Sleeve& sleeve, const Surroundings& host, const Conditions& given, const job::Limits& limits,
                     Working& working) const {
    Answer a = answer_without_pot(sleeve, host, given, limits, working);
    if (a.refused) return a;
    if (sleeve.resin_mass.si() <= 0.0)
        a.warnings.emplace_back("mixed mass not given: pour-by holds for 1 kg in one bucket");
    Working off = Working::off();
    a.sheet.pour_by = a.early.pour_by = pour_by(a.early.pour, sleeve.resin_mass, limits, working);
    a.late.pour_by = pour_by(a.late.pour, sleeve.resin_mass, limits, off);
    return a;
}

Answer Model::answer_without_pot(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                 const job::Limits& limits, Working& working) const {
    const Knowledge& known = *impl_;
    check_input(sleeve, host, given);
    Answer a;
    const Conditions full = completed(given);
    a.hands_on = full.wet_out + full.load + full.position;
    a.attainable = attainable_conversion(known.fit.kinetics.glass, given.pipe.value);
    a.stops_short = a.attainable < 0.999;
    a.extrapolated = extrapolates(known, given.pipe.value);
    const Release release = release_of(known, limits);
    a.release = {release.gel, TemperatureDifference::from_si(release.margin), release.share, known.fit.strip_known};
    a.refused = outside_range(known.resin, given);
    if (a.refused) return a;

    const Site site = make_site(known.resin, sleeve, host);
    Waits waits{known, site, limits};
    const Conditions c = planned(known, given, limits, waits);
    const SideRun early = run_side(known, site, c, limits, Side::early, waits);
    const SideRun late = run_side(known, site, c, limits, Side::late, waits);
    a.early = times_of(early, c, limits);
    a.late = times_of(late, c, limits);
    a.band_fast = 1.0 / early.course.rate_factor;
    a.band_slow = 1.0 / late.course.rate_factor;
    a.host_hottest = Temperature::kelvin(early.outcome.wall_hottest);
    a.frank_kamenetskii = sleeve_runaway(known, site, early.course, working);

    a.sheet = a.early;
    a.sheet.gel = a.late.gel;
    a.coupon = coupon_of(known, site, c, limits);
    a.sheet.let_down = std::max((1.0 + limits.let_down_margin) * a.late.let_down, a.coupon);

    if (!std::isfinite(late.outcome.release)) {
        a.refused = fmt::format(
            "\"{}\" does not get hard enough at {} within 60 days: warm the pipe from inside, or take "
            "another resin",
            known.resin.id, both(c.pipe.value));
    } else {
        a.refused = unsafe(known, host, a, a.early, sleeve);
        const bool too_soon = a.sheet.inflate_by.si() <= 0.0 || early.outcome.gel <= early.outcome.inflated_at;
        if (!a.refused && too_soon)
            a.refused = fmt::format(
                "\"{}\" may set after {:.0f} min in this warmth, before the sleeve is inflated and its "
                "creases are out: cool the resin, take a slower one, or work faster",
                known.resin.id, a.early.gel.in(unit::minute));
    }
    record(known, c, limits, release, a, early, late, working);
    if (a.refused) {
        a.sheet = a.early = a.late = Times{};
        return a;
    }
    add_warnings(known, c, a);
    return a;
}

Bounds Model::bounds(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                     const job::Limits& limits) const {
    check_input(sleeve, host, given);
    const Site site = make_site(impl_->resin, sleeve, host);
    Waits waits{*impl_, site, limits};
    const Conditions c = planned(*impl_, given, limits, waits);
    const Course early = course_of(*impl_, c, limits, Side::early);
    const double working = waits.of(early, warmest_wait(c, limits, Side::early), Side::early).working;
    return {seconds(working) - limits.crease_step - c.inflate, coupon_of(*impl_, site, c, limits)};
}

Times Model::times(const Sleeve& sleeve, const Surroundings& host, const Conditions& given, const job::Limits& limits,
                   Side side) const {
    check_input(sleeve, host, given);
    const Site site = make_site(impl_->resin, sleeve, host);
    Waits waits{*impl_, site, limits};
    const Conditions c = planned(*impl_, given, limits, waits);
    Times t = times_of(run_side(*impl_, site, c, limits, side, waits), c, limits);
    Working off = Working::off();
    t.pour_by = pour_by(t.pour, sleeve.resin_mass, limits, off);
    return t;
}

}  // namespace patchwright::cure
