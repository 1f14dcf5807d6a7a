// One sleeve: its likely times, how sure they are, and what the sheet prints of them.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answer_working.hpp"
#include "knowledge.hpp"

namespace patchwright::cure {
namespace {

using namespace detail;

Duration seconds(double s) { return Duration::from_si(s); }

/// Limits down and waits up to the whole minute. The hands are through a minute before a sleeve that gels soon after it
/// is inflated, heated or in a very warm pipe.
Times printed(const Conditions& c, const Answer& a, const job::Limits& limits) {
    constexpr Duration minute = 1.0 * unit::minute;
    Times t;
    t.gel = limit_minutes(a.gel.quantile(limits.late_at_most));
    t.crease_by = t.working_time = std::min(limit_minutes(a.shaping.quantile(limits.late_at_most)), t.gel - minute);
    t.inflate_by = limit_minutes(t.crease_by - std::max(c.crease, minute));
    t.let_down = wait_minutes(let_down_of(a.hard, a.coupon, limits));
    return t;
}

Times likely_times(const Conditions& c, const Answer& a) {
    Times t;
    t.gel = a.gel.likely;
    t.crease_by = t.working_time = std::min(a.shaping.likely, 0.98 * t.gel);
    t.inflate_by = t.crease_by - c.crease;
    t.let_down = std::max(a.hard.likely, a.coupon);
    return t;
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

std::optional<std::string> unsafe(const Knowledge& known, const Surroundings& host, const Answer& a,
                                  const Sleeve& sleeve) {
    const Temperature limit = known.resin.highest_safe;
    if (limit > Temperature::celsius(0.0) && a.hottest > limit)
        return fmt::format(
            "a sleeve of {:.1f} mm of \"{}\" may heat itself to {}, above its limit of {} "
            "(Frank-Kamenetskii number {:.2f}, critical 0.88): use a thinner felt, a slower resin, or work "
            "when the pipe is colder",
            sleeve.thickness.in(unit::mm), known.resin.id, both(a.hottest), both(limit), a.frank_kamenetskii);
    const auto soft = host_limit(host.host);
    if (soft && a.host_hottest > *soft)
        return fmt::format(
            "the sleeve may heat the {} pipe's wall to {}, where it softens (limit {}): use a thinner felt "
            "or a slower resin",
            job::word(host.host), both(a.host_hottest), both(*soft));
    return std::nullopt;
}

/// Why the sleeve is lost before the hands are through with it.
std::optional<std::string> too_soon(const Knowledge& known, const Outcome& fast, const Answer& a) {
    const bool stiff = a.sheet.inflate_by.si() <= 0.0;
    if (!stiff && fast.gel > fast.inflated_at) return std::nullopt;
    constexpr const char* instead = "cool the resin, take a slower one, or work faster";
    if (stiff)
        return fmt::format(
            "\"{}\" can no longer be shaped after {:.0f} min in this warmth, too soon to inflate it and "
            "take its wrinkles out: {}",
            known.resin.id, std::max(a.sheet.crease_by.in(unit::minute), 0.0), instead);
    return fmt::format("\"{}\" may set after {:.0f} min in this warmth, before the sleeve is inflated: {}",
                       known.resin.id, a.sheet.gel.in(unit::minute), instead);
}

void add_warnings(const Knowledge& known, const Conditions& c, const Cured& cure, Answer& a) {
    auto& w = a.warnings;
    if (c.pipe.value < known.resin.application_min)
        w.push_back(
            fmt::format("the pipe is colder than the {} that \"{}\" may be used from: the times hold only while the "
                        "bladder is heated as given",
                        both(known.resin.application_min), known.resin.id));
    if (c.heating.medium != Heating::Medium::none)
        w.emplace_back(
            "the witness coupon is not heated and proves the mix only: note the temperature of the bladder's air or "
            "water all through the cure, and deflate by the clock only if it was kept");
    if (a.extrapolated && c.heating.medium != Heating::Medium::none)
        w.push_back(
            fmt::format("the data sheet of \"{}\" has no gel or strip time at the heater's warmth: the times are "
                        "extrapolated and their band is widened",
                        known.resin.id));
    else if (a.extrapolated)
        w.push_back(fmt::format(
            "no gel or strip time of \"{}\" near {} (data from {} to {}): the times are extrapolated "
            "and their band is widened",
            known.resin.id,
            both(extrapolates(known, cure.course.pipe) ? c.pipe.value : Temperature::kelvin(cure.warmest)),
            both(Temperature::kelvin(known.fit.coldest_film > 0.0 ? known.fit.coldest_film : known.fit.coldest_any)),
            both(Temperature::kelvin(known.fit.coldest_film > 0.0 ? known.fit.warmest_film : known.fit.warmest_any))));
    const double wide = std::log(1.35) / one_in_ten;  // one in ten beyond that factor
    if (a.rate_sd > wide)
        w.push_back(
            fmt::format("the data sheet of \"{}\" fixes the cold cure only within a factor of {:.2f}: trust the "
                        "witness coupon, not the clock",
                        known.resin.id, std::exp(one_in_ten * a.rate_sd)));
    if (a.frank_kamenetskii > 0.3)
        w.push_back(
            fmt::format("this sleeve heats itself (Frank-Kamenetskii number {:.2f}; above 0.3 it is felt, 0.88 runs "
                        "away): up to {} is possible",
                        a.frank_kamenetskii, both(a.hottest)));
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
    const double pot = pot_seconds(*impl_, kilograms, of.resin.in_kelvin(), of.air.in_kelvin());
    const Duration early_enough = std::max(of.inflate_by - of.handling, 0.5 * of.inflate_by);
    const Duration by = limit_minutes(std::min(limits.pot_share * seconds(pot), early_enough));
    record_pour(pot, of, limits, by, working);
    return by;
}

Answer Model::answer(const Sleeve& sleeve, const Surroundings& host, const Conditions& given, const job::Limits& limits,
                     Working& working) const {
    Answer a = answer_without_pot(sleeve, host, given, limits, working);
    if (a.refused) return a;
    if (sleeve.resin_mass.si() <= 0.0)
        a.warnings.emplace_back("mixed mass not given: pour-by holds for 1 kg in one bucket");
    a.sheet.pour_by = a.likely.pour_by = pour_by(a.pour, sleeve.resin_mass, limits, working);
    return a;
}

Answer Model::answer_without_pot(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                                 const job::Limits& limits, Working& working) const {
    Cured cure;
    return answer_of(*impl_, sleeve, host, given, limits, working, cure);
}

Answer detail::answer_of(const Knowledge& known, const Sleeve& sleeve, const Surroundings& host,
                         const Conditions& given, const job::Limits& limits, Working& working, Cured& cure) {
    check_input(sleeve, host, given);
    Answer a;
    const Conditions full = completed(given, limits);
    a.hands_on = full.wet_out + full.load + full.position + full.inflate;
    a.attainable = attainable_conversion(known.fit.kinetics.glass, given.pipe.value);
    a.stops_short = a.attainable < 0.999;
    a.extrapolated = extrapolates(known, given.pipe.value.in_kelvin());
    const Release release = release_of(known, limits);
    a.release = {release.gel, TemperatureDifference::from_si(release.margin), release.share};
    a.refused = outside_range(known.resin, given);
    if (a.refused) return a;

    const Site site = make_site(known.resin, sleeve, host);
    a.shaping_conversion = shaping_conversion(known, limits);
    a.shaping = shaping_end(known, site, full, limits);
    const Conditions c = planned(full, a.shaping, limits);
    cure = cured(known, site, c, limits);
    a.gel = cure.gel;
    a.hard = cure.hard;
    a.rate_sd = cure.rate_sd;
    a.gel_rate_sd = cure.gel_rate_sd;
    a.temperature_sd = cure.warmth_sd;
    a.extrapolated = a.extrapolated || extrapolates(known, cure.warmest);
    if (!std::isfinite(a.hard.likely.si()) || !std::isfinite(a.hard.log_sd)) {
        a.refused = fmt::format(
            "\"{}\" does not get hard enough at {} within 60 days: warm the pipe from inside, or take "
            "another resin",
            known.resin.id, both(c.pipe.value));
        record(known, c, limits, release, a, cure, working);
        return a;
    }
    const Shift fast = cure.shift(Side::early, c, limits);
    const RateLaw fast_law{kinetics_at(known, fast)};
    const Outcome hot = follow(site, fast_law, course_of(c, fast), release, usual_grid(site));
    a.hottest = Temperature::kelvin(hot.hottest);
    a.host_hottest = Temperature::kelvin(hot.wall_hottest);
    a.frank_kamenetskii = sleeve_runaway(known, site, fast_law, cure.course.pipe + fast.kelvin.pipe, working);
    a.coupon = coupon_of(known, cure, limits);
    a.sheet = printed(c, a, limits);
    a.likely = likely_times(c, a);
    a.pour = pour_of(c, a.sheet.inflate_by);
    a.soft_probability = 1.0 - a.hard.chance_before(a.sheet.let_down);

    a.refused = unsafe(known, host, a, sleeve);
    if (!a.refused) a.refused = too_soon(known, hot, a);
    record(known, c, limits, release, a, cure, working);
    if (a.refused) {
        a.sheet = a.likely = Times{};
        return a;
    }
    add_warnings(known, c, cure, a);
    return a;
}

Bounds Model::bounds(const Sleeve& sleeve, const Surroundings& host, const Conditions& given,
                     const job::Limits& limits) const {
    check_input(sleeve, host, given);
    const Site site = make_site(impl_->resin, sleeve, host);
    const Conditions full = completed(given, limits);
    const UncertainTime shaping = shaping_end(*impl_, site, full, limits);
    Cured likely;
    likely.course = course_of(planned(full, shaping, limits));
    likely.before = before_inflation(site, RateLaw{impl_->fit.kinetics}, likely.course);
    return {shaping, coupon_of(*impl_, likely, limits)};
}

double late_probability(const Hands& hands, const Answer& answer) {
    return hands.chance_beyond(answer.shaping, answer.gel);
}

}  // namespace patchwright::cure
