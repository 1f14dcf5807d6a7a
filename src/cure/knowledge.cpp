#include "knowledge.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "crossing.hpp"
#include "normal.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cure::detail {

namespace {

/// So far below and above its data a fit is as good as among them.
constexpr double reach_below = 5.0, reach_above = 8.0;

/// Coldest and warmest that the data reach to.
double cold_edge(const Knowledge& known) {
    return (known.fit.coldest_film > 0.0 ? known.fit.coldest_film : known.fit.coldest_any) - reach_below;
}
double warm_edge(const Knowledge& known) {
    return (known.fit.coldest_film > 0.0 ? known.fit.warmest_film : known.fit.warmest_any) + reach_above;
}

/// The fit's doubt beyond its data: half as much again from 5 K farther down, and so far up that it grows more slowly
/// with the warmth than any resin grows quicker. In one step, or faster, a sleeve that is a little warmer would be hard
/// later than a colder one.
double widened(const Knowledge& known, double kelvin, double deviation) {
    constexpr double per_kelvin = 0.01;  // resins: ln t falls by 0.05 a K and more, and the promises are 2 to 3 sd away
    const double below = std::clamp((cold_edge(known) - kelvin) / reach_below, 0.0, 1.0);
    const double above = std::max(0.0, kelvin - warm_edge(known));
    return deviation + std::max(0.5 * below * deviation, std::min(0.5 * deviation, per_kelvin * above));
}

}  // namespace

bool extrapolates(const Knowledge& known, double kelvin) {
    return kelvin < cold_edge(known) || kelvin > warm_edge(known);
}

double rate_sd(const Knowledge& known, double kelvin, bool release) {
    const double gel = log_time_deviation(known.resin, known.fit, kelvin, false);
    const double whole = release ? std::max(gel, log_time_deviation(known.resin, known.fit, kelvin, true)) : gel;
    if (!known.resin.rate_spread) return std::hypot(widened(known, kelvin, whole), form_doubt);
    // What the firm has seen of gelling has the model's form in it. Of release the sheet's strip times alone tell: the
    // way there from gelling stays as doubtful as the model's form, however well gelling is known.
    const double seen = std::log1p(*known.resin.rate_spread) / one_in_ten;
    const double counted = release ? std::max(seen, form_doubt) : seen;
    return widened(known, kelvin, std::sqrt(counted * counted + whole * whole - gel * gel));
}

double deviation(TemperatureDifference doubt) { return doubt.si() / one_in_ten; }

Kelvins temperature_sd(const Conditions& c, const job::Limits& limits) {
    const double calculated = deviation(limits.temperature_doubt);
    const double measured = deviation(limits.measured_doubt);
    return {c.pipe_measured ? measured : calculated, c.others_measured ? measured : calculated};
}

Conditions completed(const Conditions& conditions, const job::Limits& limits) {
    Conditions c = conditions;
    if (c.van.origin == Origin::assumed && c.van.value == Temperature{}) c.van = c.air;  // nobody said
    if (c.wet_out.si() + c.load.si() + c.position.si() <= 0.0) {
        c.wet_out = 10.0 * unit::minute;
        c.load = 4.0 * unit::minute;
        c.position = 5.0 * unit::minute;
    }
    c.crease = std::max(c.crease, limits.crease_step);
    return c;
}

double shaping_conversion(const Knowledge& known, const job::Limits& limits) {
    if (known.fit.working) return *known.fit.working;
    const RateLaw law{known.fit.kinetics};
    const double gel = known.resin.gel_conversion;
    if (limits.crease_share_of_gel >= 1.0) return std::min(limits.working_conversion, 0.98 * gel);
    const double target = limits.crease_share_of_gel * isothermal_seconds(law, 0.0, gel, reference_kelvin, film_panels);
    const double film = film_conversion(law, target, gel, reference_kelvin);
    return std::min(limits.working_conversion, film);
}

UncertainTime shaping_end(const Knowledge& known, const Site& site, const Conditions& c, const job::Limits& limits) {
    const double conversion = shaping_conversion(known, limits);
    const RateLaw law{known.fit.kinetics};
    Conditions warm = c;
    warm.air.value = std::max(c.air.value, c.van.value);
    const auto wait = [](const Course& course) { return std::max(course.air, course.pipe); };
    const auto ends = [&](const Kelvins& warmer) {
        const Course course = course_of(warm, {warmer});
        return working_seconds(site, law, course, wait(course), conversion);
    };
    const double likely = ends({});
    const double warmth = std::log(likely / ends(temperature_sd(c, limits)));
    return {Duration::from_si(likely), std::hypot(rate_sd(known, wait(course_of(warm)), false), warmth)};
}

Conditions planned(const Conditions& given, const UncertainTime& shaping, const job::Limits& limits) {
    Conditions c = given;
    const double needed = (c.wet_out + c.load + c.position).si();
    const double room = (shaping.quantile(limits.late_at_most) - c.crease - c.inflate).si();
    if (room >= needed) return c;
    const double share = std::max(room / needed, 0.1);
    c.wet_out = share * c.wet_out;
    c.load = share * c.load;
    c.position = share * c.position;
    return c;
}

Course course_of(const Conditions& c, const Shift& shift) {
    Course course;
    course.air = c.air.value.in_kelvin() + shift.kelvin.others;
    course.resin = c.resin.value.in_kelvin() + shift.kelvin.others;
    course.pipe = c.pipe.value.in_kelvin() + shift.kelvin.pipe;
    // Mixed and poured within five minutes, or in half of a shorter wet-out.
    course.bucket = std::min(300.0, 0.5 * c.wet_out.si());
    course.table = c.wet_out.si() - course.bucket;
    course.packer = c.load.si();
    course.position = c.position.si();
    if (c.heating.medium != Heating::Medium::none) {
        // Forced air 15-40, water 100 and more, from memory; the low end, so that the cure is not overrated.
        course.heating_film = c.heating.medium == Heating::Medium::air ? 15.0 : 100.0;
        for (const Heating::Point& p : c.heating.points)
            course.heating.points.push_back(
                {p.after_inflation.si(), p.as_pipe ? course.pipe : p.temperature.in_kelvin() + shift.kelvin.others});
    }
    return course;
}

Kinetics kinetics_at(const Knowledge& known, const Shift& shift) { return faster(known.fit.kinetics, shift.rate); }

Shift Cured::shift(Side side, const Conditions& conditions, const job::Limits& limits) const {
    const double log_sd = std::hypot(rate_sd, warmth_sd);
    if (side == Side::likely || log_sd <= 0.0) return {};
    const double z =
        side == Side::early ? normal_quantile(1.0 - limits.late_at_most) : -normal_quantile(1.0 - limits.soft_at_most);
    return {(z * warmth_sd / log_sd) * temperature_sd(conditions, limits), std::exp(z * rate_sd * rate_sd / log_sd)};
}

namespace {

/// No resin is slower when it is warmer. Beyond the data its rate is more doubtful, yet it is hard no later than in a
/// pipe at their edge: else a warmer pipe would be let down later than a colder one.
void hold_to_edge(const Knowledge& known, const Site& site, Conditions c, const job::Limits& limits, Cured& cure) {
    const double z = normal_quantile(1.0 - limits.soft_at_most), edge = warm_edge(known);
    if (z <= 0.0 || cure.course.pipe <= edge || c.heating.medium != Heating::Medium::none) return;
    c.pipe.value = Temperature::kelvin(edge);
    const Duration there = cured(known, site, c, limits).hard.quantile(1.0 - limits.soft_at_most);
    const double most = std::log(there / cure.hard.likely) / z;
    if (most > 0.0) cure.hard.log_sd = std::min(cure.hard.log_sd, most);
}

}  // namespace

Cured cured(const Knowledge& known, const Site& site, const Conditions& c, const job::Limits& limits) {
    Cured cure;
    const RateLaw law{known.fit.kinetics};
    const Release release = release_of(known, limits);
    const Grid grid = usual_grid(site);
    cure.course = course_of(c);
    cure.before = before_inflation(site, law, cure.course);
    cure.likely = follow(site, law, cure.course, cure.before, release, grid);
    const bool heated = c.heating.medium != Heating::Medium::none;
    cure.warmest = heated ? std::max(cure.course.pipe, cure.likely.hottest) : cure.course.pipe;
    const auto fit_sd = [&](bool to_release) {
        return std::max(rate_sd(known, cure.course.pipe, to_release), rate_sd(known, cure.warmest, to_release));
    };
    cure.rate_sd = fit_sd(true);
    cure.gel_rate_sd = fit_sd(false);
    const Outcome cold = follow(site, law, course_of(c, {-1.0 * temperature_sd(c, limits)}), release, grid);
    const double gel_warmth = std::log(cold.gel / cure.likely.gel);
    cure.warmth_sd = std::log(cold.release / cure.likely.release);
    cure.gel = {Duration::from_si(cure.likely.gel), std::hypot(cure.gel_rate_sd, gel_warmth)};
    cure.hard = {Duration::from_si(cure.likely.release), std::hypot(cure.rate_sd, cure.warmth_sd)};
    hold_to_edge(known, site, c, limits, cure);
    return cure;
}

Release release_of(const Knowledge& known, const job::Limits& limits) {
    Release r;
    r.gel = known.resin.gel_conversion;
    r.margin = known.fit.at[strip_margin] + limits.release_glass_margin.si();
    r.share = std::max(limits.release_share, known.fit.strip_share);
    return r;
}

Duration coupon_of(const Knowledge& known, const Cured& cure, const job::Limits& limits) {
    if (!cure.course.heating.points.empty()) return {};
    return Duration::from_si(release_without_heat(cure.before, RateLaw{known.fit.kinetics}, known.fit.kinetics,
                                                  release_of(known, limits), cure.course.pipe));
}

Duration let_down_of(const UncertainTime& hard, Duration coupon, const job::Limits& limits) {
    return std::max((1.0 + limits.let_down_margin) * hard.quantile(1.0 - limits.soft_at_most), coupon);
}

Duration limit_minutes(Duration time) { return std::floor(time.in(unit::minute) + 1e-9) * unit::minute; }
Duration wait_minutes(Duration time) { return std::ceil(time.in(unit::minute)-1e-9) * unit::minute; }

double pot_seconds(const Knowledge& known, double kilograms, double resin, double air, double* alarm, double* hottest) {
    const RateLaw law{known.fit.kinetics};
    LumpState state{resin, resin, 0.0, 0.0};
    constexpr double longest = 90.0 * 86400.0;
    double gel = longest;
    if (alarm != nullptr) *alarm = longest;
    double peak = resin;
    Sample last;
    double step = lump_first_step;
    run_lumped(cup_body(known.resin, kilograms), law, air, state, 0.0, longest, step, [&](const Sample& s) {
        if (gel == longest && s.most >= known.resin.gel_conversion)
            gel = crossing({last.time, last.most, last.max_rate}, {s.time, s.most, s.max_rate},
                           known.resin.gel_conversion);
        if (alarm != nullptr && *alarm == longest && s.outermost >= resin + 10.0) {
            const double share = (resin + 10.0 - last.outermost) / (s.outermost - last.outermost);
            *alarm = last.time + share * (s.time - last.time);
        }
        const bool falling = s.outermost < peak;
        peak = std::max(peak, s.outermost);
        last = s;
        return gel == longest || (hottest != nullptr && !falling);
    });
    if (hottest != nullptr) *hottest = peak;
    return gel;
}

double greatest_rate(const RateLaw& law, double kelvin) {
    const RateLaw::Factors factors = law.factors(kelvin);
    double most = 0.0;
    for (int i = 0; i <= 90; ++i) most = std::max(most, law(0.01 * i, factors).value);
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
                           c.position.si(), c.inflate.si(), c.crease.si()})
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

std::optional<Temperature> host_limit(job::Material host) {
    if (host == job::Material::pvc_u) return Temperature::celsius(70.0);
    if (host == job::Material::pitch_fibre) return Temperature::celsius(50.0);
    return std::nullopt;
}

std::string both(Temperature t) { return fmt::format("{:.0f} °C ({:.0f} °F)", t.in_celsius(), t.in_fahrenheit()); }

Pour pour_of(const Conditions& c, Duration inflate_by) {
    return {c.resin.value, std::max(c.air.value, c.van.value), inflate_by, c.load + c.position + c.inflate};
}

}  // namespace patchwright::cure::detail
