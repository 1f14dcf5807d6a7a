#include "knowledge.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "crossing.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cure::detail {

bool extrapolates(const Knowledge& known, Temperature pipe) {
    const bool films = known.fit.coldest_film > 0.0;
    const double low = films ? known.fit.coldest_film : known.fit.coldest_any;
    const double high = films ? known.fit.warmest_film : known.fit.warmest_any;
    return pipe.in_kelvin() < low - 5.0 || pipe.in_kelvin() > high + 8.0;
}

namespace {
double band(double deviation, bool beyond) {
    const double widened = beyond ? 1.5 * deviation : deviation;
    return std::exp(band_width * std::sqrt(widened * widened + form_doubt * form_doubt));
}
}  // namespace

double fast_factor(const Knowledge& known, double kelvin) {
    return band(log_time_deviation(known.resin, known.fit, kelvin, false),
                extrapolates(known, Temperature::kelvin(kelvin)));
}

double slow_factor(const Knowledge& known, double kelvin) {
    const double deviation = std::max(log_time_deviation(known.resin, known.fit, kelvin, false),
                                      log_time_deviation(known.resin, known.fit, kelvin, true));
    return band(deviation, extrapolates(known, Temperature::kelvin(kelvin)));
}

Conditions completed(const Conditions& conditions) {
    Conditions c = conditions;
    if (c.van.origin == Origin::assumed && c.van.value == Temperature{}) c.van = c.air;  // nobody said
    if (c.wet_out.si() + c.load.si() + c.position.si() <= 0.0) {
        c.wet_out = 10.0 * unit::minute;
        c.load = 4.0 * unit::minute;
        c.position = 5.0 * unit::minute;
    }
    return c;
}

Waiting Waits::of(const Course& course, double surroundings, Side side) {
    const Key key{surroundings, course.resin, course.air, course.bucket, course.table, side};
    if (const auto place = seen_.find(key); place != seen_.end()) return place->second;
    Waiting w;
    // In the waiting time the doubt of the fit is that of the wait's own temperature.
    w.factor = side == Side::early  ? fast_factor(known_, surroundings)
               : side == Side::late ? 1.0 / slow_factor(known_, surroundings)
                                    : 1.0;
    const RateLaw law{faster(known_.fit.kinetics, w.factor)};
    w.working = working_seconds(site_, law, course, surroundings, limits_.working_conversion);
    seen_.emplace(key, w);
    return w;
}

Conditions planned(const Knowledge& known, const Conditions& given, const job::Limits& limits, Waits& waits) {
    Conditions c = completed(given);
    const Course course = course_of(known, c, limits, Side::early);
    const double working = waits.of(course, warmest_wait(c, limits, Side::early), Side::early).working;
    const double room = working - limits.crease_step.si() - c.inflate.si();
    if (room >= course.inflation()) return c;
    const double share = std::max(room / course.inflation(), 0.1);
    c.wet_out = share * c.wet_out;
    c.load = share * c.load;
    c.position = share * c.position;
    return c;
}

double warmest_wait(const Conditions& c, const job::Limits& limits, Side side) {
    const double doubt = limits.temperature_doubt.si();
    const double air = std::max(c.air.value.in_kelvin(), c.van.value.in_kelvin());
    const double warmest = std::max(air, c.pipe.value.in_kelvin());
    switch (side) {
        case Side::early:
            return warmest + doubt;
        case Side::likely:
            return warmest;
        case Side::late:
            return warmest - doubt;
    }
    return warmest;
}

Course course_of(const Knowledge& known, const Conditions& c, const job::Limits& limits, Side side) {
    const double doubt = limits.temperature_doubt.si() * (side == Side::early ? 1.0 : side == Side::late ? -1.0 : 0.0);
    const double air = c.air.value.in_kelvin();
    const double van = c.van.value.in_kelvin();
    Course course;
    course.air = (side == Side::late ? std::min(air, van) : side == Side::early ? std::max(air, van) : air) + doubt;
    course.resin = c.resin.value.in_kelvin() + doubt;
    course.pot_warms = side != Side::late;
    course.pipe = c.pipe.value.in_kelvin() + doubt;
    if (side == Side::early) course.rate_factor = fast_factor(known, course.pipe);
    if (side == Side::late) course.rate_factor = 1.0 / slow_factor(known, course.pipe);
    // Mixed and poured within five minutes, or in half of a shorter wet-out.
    course.bucket = std::min(300.0, 0.5 * c.wet_out.si());
    course.table = c.wet_out.si() - course.bucket;
    course.packer = c.load.si();
    course.position = c.position.si();
    if (c.heating.medium != Heating::Medium::none) {
        // Forced air 15-40, water 100 and more, from memory; the low end, so that the cure is not overrated.
        course.heating_film = c.heating.medium == Heating::Medium::air ? 15.0 : 100.0;
        for (const Heating::Point& p : c.heating.points)
            course.heating.points.push_back({p.after_inflation.si(), p.temperature.in_kelvin()});
    }
    return course;
}

Release release_of(const Knowledge& known, const job::Limits& limits) {
    Release r;
    r.gel = known.resin.gel_conversion;
    r.margin = known.fit.at[strip_margin] + limits.release_glass_margin.si();
    r.share = std::min(1.0, std::max(limits.release_share, known.fit.strip_share));
    return r;
}

double coupon_seconds(const Knowledge& known, const Course& course, const Lump& lump, const job::Limits& limits) {
    return release_without_heat(lump, RateLaw{known.fit.kinetics}, known.fit.kinetics, release_of(known, limits),
                                course.pipe);
}

double pot_seconds(const Knowledge& known, double kilograms, double resin, double air, double rate_factor,
                   double* alarm, double* hottest) {
    const RateLaw law{faster(known.fit.kinetics, rate_factor)};
    LumpState state{resin, resin, 0.0, 0.0};
    constexpr double longest = 90.0 * 86400.0;
    double gel = longest;
    if (alarm != nullptr) *alarm = longest;
    double peak = resin;
    LumpSample last;
    LumpSolver solver{cup_body(known.resin, kilograms), law, air, lump_tolerance};
    solver.run(state, 0.0, longest, [&](const LumpSample& s) {
        if (gel == longest && s.most >= known.resin.gel_conversion)
            gel = crossing({last.time, last.most, last.most_rate}, {s.time, s.most, s.most_rate},
                           known.resin.gel_conversion);
        if (alarm != nullptr && *alarm == longest && s.temperature >= resin + 10.0) {
            const double share = (resin + 10.0 - last.temperature) / (s.temperature - last.temperature);
            *alarm = last.time + share * (s.time - last.time);
        }
        const bool falling = s.temperature < peak;
        peak = std::max(peak, s.temperature);
        last = s;
        return gel == longest || (hottest != nullptr && !falling);
    });
    if (hottest != nullptr) *hottest = peak;
    return gel;
}

double greatest_rate(const RateLaw& law, double kelvin) {
    const RateLaw::Factors factors = law.factors(kelvin);
    double most = 0.0;
    for (int i = 0; i <= 90; ++i) most = std::max(most, law.value(0.01 * i, factors));
    return most;
}

void check_input(const Sleeve& sleeve, const Surroundings& host, const Conditions& c) {
    if (!(sleeve.thickness.si() > 0.0) || !is_finite(sleeve.thickness))
        throw RangeError("cure: the sleeve's thickness must be above zero, such as \"3 mm\"");
    if (!(host.bore.si() > 0.0) || !is_finite(host.bore))
        throw RangeError("cure: the pipe's bore must be above zero, such as \"100 mm\"");
    if (!(host.wall.si() >= 0.0) || !is_finite(host.wall))
        throw RangeError("cure: the pipe's wall must not be negative");
    if (sleeve.thickness.si() + 3e-3 >= 0.5 * host.bore.si())
        throw RangeError(fmt::format("cure: a sleeve of {:.1f} mm leaves no room for a packer in a bore of {:.0f} mm",
                                     sleeve.thickness.in(unit::mm), host.bore.in(unit::mm)));
    if (!(sleeve.resin_mass_fraction > 0.0 && sleeve.resin_mass_fraction <= 1.0))
        throw RangeError("cure: the resin's share of the wet felt must lie between 0 and 1, such as 0.82");
    if (!(sleeve.table_layers >= 1.0)) throw RangeError("cure: the sleeve lies at least once on the table");
    for (const double v : {sleeve.wet_density.si(), sleeve.resin_mass.si(), c.wet_out.si(), c.load.si(),
                           c.position.si(), c.inflate.si()})
        if (!(v >= 0.0) || !std::isfinite(v))
            throw RangeError("cure: masses, densities and times must not be negative");
    for (const Temperature t : {c.pipe.value, c.air.value, c.resin.value, c.van.value})
        if (!(t.in_celsius() >= -30.0 && t.in_celsius() <= 80.0))
            throw RangeError(fmt::format("cure: a temperature of {:.0f} °C is outside -30 to 80 °C", t.in_celsius()));
    double before = -1.0;
    for (const Heating::Point& p : c.heating.points) {
        if (!(p.after_inflation.si() >= 0.0 && p.after_inflation.si() > before))
            throw RangeError("cure: the heating profile's times must rise from zero");
        if (!(p.temperature.in_celsius() >= -30.0 && p.temperature.in_celsius() <= 100.0))
            throw RangeError("cure: heating must lie between -30 and 100 °C");
        before = p.after_inflation.si();
    }
    if (c.heating.medium != Heating::Medium::none && c.heating.points.empty())
        throw RangeError("cure: heating needs at least one temperature");
}

std::string both(Temperature t) { return fmt::format("{:.0f} °C ({:.0f} °F)", t.in_celsius(), t.in_fahrenheit()); }

Pour pour_of(const Course& course, const Waiting& waiting, Duration inflate_by, const Conditions& c) {
    return {Temperature::kelvin(course.resin), Temperature::kelvin(course.air), waiting.factor, inflate_by,
            c.load + c.position + c.inflate};
}

}  // namespace patchwright::cure::detail
