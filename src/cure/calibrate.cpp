#include "calibrate.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "crossing.hpp"
#include "data_check.hpp"
#include "history.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cure::detail {
namespace {

constexpr double longest_test = 90.0 * 86400.0;  // a test that has not ended by then counts as this

struct Prior {
    double mean = 0.0, deviation = 1.0;
};

/// What is known of a resin before its data sheet is read: shared by its kind.
struct Priors {
    Prior activation, log_ratio, strip_margin;
};
Priors priors_of(job::ResinKind kind) {
    // Activation energies: 57 +/- 6 kJ/mol epoxy-amine, 50 +/- 8 redox peroxide. The ratio k1/k2 of ambient epoxies is
    // 0.01 to 0.1; a radical cure starts only when its inhibitor is used up, so its ratio is far smaller.
    const Prior margin{0.0, 6.0};
    if (kind == job::ResinKind::epoxy) return {{57e3, 6e3}, {std::log(0.03), 0.7}, margin};
    if (kind == job::ResinKind::silicate_isocyanate) return {{50e3, 8e3}, {std::log(0.03), 1.0}, margin};
    return {{50e3, 8e3}, {std::log(0.002), 1.5}, margin};
}

/// Standard deviation of ln(time) of one data-sheet figure: common practice, no source.
double deviation_of(job::DataPointKind kind) { return kind == job::DataPointKind::strip ? 0.15 : 0.12; }

class Sheet {
public:
    explicit Sheet(const job::Resin& resin) : resin_{resin}, priors_{priors_of(resin.kind)} {}

    /// Deviations in units of their standard deviation: one a data point, then one a prior.
    std::vector<double> residuals(const Vector& at, const std::vector<double>* base, std::size_t moved) {
        const Kinetics kinetics = kinetics_of(resin_, at);
        const RateLaw law{kinetics};
        std::vector<double> r;
        std::vector<Reached> reached;
        for (const job::DataPoint& point : resin_.data) {
            const bool strip = point.kind == job::DataPointKind::strip;
            if (point.kind == job::DataPointKind::working) {  // says when shaping ends, not how fast the resin is
                reached.emplace_back();
                r.push_back(0.0);
                continue;
            }
            if (base != nullptr && moved == strip_margin && !strip) {
                reached.emplace_back();
                r.push_back((*base)[r.size()]);
                continue;
            }
            reached.push_back(simulate(reached.size(), at, kinetics, law, reached));
            const double seconds = std::min(strip ? reached.back().strip : reached.back().gel, longest_test);
            r.push_back(std::log(seconds / point.time.si()) / deviation_of(point.kind));
        }
        r.push_back((at[activation] - priors_.activation.mean) / priors_.activation.deviation);
        r.push_back((at[log_ratio] - priors_.log_ratio.mean) / priors_.log_ratio.deviation);
        r.push_back((at[strip_margin] - priors_.strip_margin.mean) / priors_.strip_margin.deviation);
        return r;
    }

    Vector start() const {
        // A film gels in about 4.4 / k with the usual ratio; a cup of the same resin about four times sooner.
        Vector at{std::log(6e-4), priors_.activation.mean, priors_.log_ratio.mean, priors_.strip_margin.mean};
        const job::DataPoint& p = *std::find_if(resin_.data.begin(), resin_.data.end(), [](const job::DataPoint& d) {
            return d.kind != job::DataPointKind::working;
        });
        const double warm = at[activation] / gas_constant * (1.0 / reference_kelvin - 1.0 / p.temperature.in_kelvin());
        const double factor =
            p.kind == job::DataPointKind::pot_life ? 1.2 : (p.kind == job::DataPointKind::gel ? 4.5 : 6.0);
        at[log_rate] = std::log(factor / p.time.si()) - warm;
        return at;
    }

    /// State of a test at the sheet's own time: what it has reached by then.
    struct AtTime {
        double conversion = 0.0;  ///< at the end
        double margin = 0.0;      ///< greatest glass temperature over the layer's own, K, once gelled
        double share = 0.0;       ///< greatest share of the attainable conversion
    };
    AtTime at_time(const job::DataPoint& point, const Kinetics& kinetics, const RateLaw& law) const {
        const double kelvin = point.temperature.in_kelvin();
        AtTime seen;
        const auto look = [&](double a, double t) {
            seen.conversion = a;
            if (a < resin_.gel_conversion) return;
            seen.margin = std::max(seen.margin, law.glass_temperature(a) - t);
            seen.share = std::max(seen.share, a / attainable_conversion(kinetics.glass, Temperature::kelvin(t)));
        };
        seen.margin = -std::numeric_limits<double>::infinity();
        if (!point.thickness) {
            look(film_conversion(law, point.time.si(), 0.999, kelvin), kelvin);
            return seen;
        }
        LumpState state{kelvin, kelvin, 0.0, 0.0};
        double step = lump_first_step;
        run_lumped(layer_body(point.thickness->si()), law, kelvin, state, 0.0, point.time.si(), step,
                   [&](const Sample& s) {
                       look(s.most, s.outermost);
                       return true;
                   });
        return seen;
    }

private:
    /// Ends of one test; a laminate's gel and strip come from one run.
    struct Reached {
        double gel = 0.0, strip = 0.0;
    };

    Reached simulate(std::size_t index, const Vector& at, const Kinetics& kinetics, const RateLaw& law,
                     const std::vector<Reached>& before) {
        const job::DataPoint& point = resin_.data[index];
        const double kelvin = point.temperature.in_kelvin();
        if (point.kind == job::DataPointKind::pot_life)
            return lumped(cup_body(resin_, point.mass.value_or(100.0 * unit::g).si()), law, kelvin, false, 0.0);
        if (!point.thickness)
            return {isothermal_seconds(law, 0.0, resin_.gel_conversion, kelvin, film_panels),
                    film_strip_seconds(law, kinetics, resin_.gel_conversion, kelvin, at[strip_margin])};
        for (std::size_t i = 0; i < index; ++i)
            if (before[i].strip > 0.0 && same_laminate(resin_.data[i], point)) return before[i];
        return lumped(layer_body(point.thickness->si()), law, kelvin, has_strip(point), at[strip_margin]);
    }
    static bool same_laminate(const job::DataPoint& a, const job::DataPoint& b) {
        return a.kind != job::DataPointKind::pot_life && b.kind != job::DataPointKind::pot_life &&
               a.kind != job::DataPointKind::working && b.kind != job::DataPointKind::working &&
               a.thickness == b.thickness && a.temperature == b.temperature;
    }
    bool has_strip(const job::DataPoint& point) const {
        return std::any_of(resin_.data.begin(), resin_.data.end(), [&](const job::DataPoint& p) {
            return p.kind == job::DataPointKind::strip && same_laminate(p, point);
        });
    }

    /// A wet laminate pressed on a pipe's wall or a massive slab: 8 W/(m2 K) into the air, 22 into the mineral, which
    /// is what concrete takes up over the first hours (its effusivity over the root of pi t). The resin's share of
    /// the laminate as of felt with 85 % voids.
    Lumped layer_body(double thickness) const {
        const double share = 0.82;
        const double density = 1.0 / (share / mixed_density(resin_) + (1.0 - share) / 1380.0);
        const double specific_heat = share * resin_.specific_heat.si() + (1.0 - share) * 1200.0;
        const double film = 1.0 / 30.0;
        const double half = 0.5 * thickness / resin_.conductivity.si();  // from the middle to the face
        Lumped body;
        body.capacity = density * specific_heat * thickness;
        body.heat = density * share * resin_.heat_of_reaction.si() * thickness;
        body.outer_link = 1.0 / (half + film);
        body.face_weight = film / (half + film);
        return body;
    }
    /// Runs one lumped test to gel, or on to the strip rule.
    Reached lumped(const Lumped& body, const RateLaw& law, double kelvin, bool to_strip, double margin) {
        LumpState state{kelvin, kelvin, 0.0, 0.0};
        Reached reached{longest_test, to_strip ? longest_test : 0.0};
        Sample last;
        const auto stripped = [&](double a, double t) {
            return a >= resin_.gel_conversion && law.glass_temperature(a) >= t + margin;
        };
        double step = lump_first_step;
        run_lumped(body, law, kelvin, state, 0.0, longest_test, step, [&](const Sample& s) {
            const Knot a{last.time, last.most, last.max_rate};
            const Knot b{s.time, s.most, s.max_rate};
            if (reached.gel == longest_test && s.most >= resin_.gel_conversion)
                reached.gel = crossing(a, b, resin_.gel_conversion);
            if (to_strip && stripped(s.most, s.outermost)) {
                reached.strip = turn(a.time, b.time, [&](double t) {
                    const double share = (t - a.time) / (b.time - a.time);
                    return stripped(between(a, b, t), last.outermost + share * (s.outermost - last.outermost));
                });
                return false;
            }
            last = s;
            return to_strip || reached.gel == longest_test;
        });
        return reached;
    }

    const job::Resin& resin_;
    Priors priors_;
};

void note_range(const job::Resin& resin, Fitted& fit) {
    fit.coldest_any = std::numeric_limits<double>::infinity();
    for (const job::DataPoint& p : resin.data) {
        const double t = p.temperature.in_kelvin();
        fit.coldest_any = std::min(fit.coldest_any, t);
        fit.warmest_any = std::max(fit.warmest_any, t);
        if (p.kind == job::DataPointKind::strip) fit.strip_known = true;
        if (p.kind == job::DataPointKind::pot_life || p.kind == job::DataPointKind::working) continue;
        fit.coldest_film = fit.coldest_film == 0.0 ? t : std::min(fit.coldest_film, t);
        fit.warmest_film = std::max(fit.warmest_film, t);
    }
    fit.one_temperature = fit.warmest_any - fit.coldest_any < 2.0;
}

/// Margin and share of the release rule so that none of the sheet's own strip tests is released before its time, and
/// the conversion that its working times leave: each by following the test to the sheet's time.
void hold_to_sheet(const job::Resin& resin, Fitted& fit) {
    Sheet sheet{resin};
    const RateLaw law{fit.kinetics};
    double margin = -std::numeric_limits<double>::infinity();
    fit.reached.assign(resin.data.size(), 0.0);
    for (std::size_t i = 0; i < resin.data.size(); ++i) {
        const job::DataPoint& p = resin.data[i];
        if (p.kind == job::DataPointKind::working) {
            fit.reached[i] = sheet.at_time(p, fit.kinetics, law).conversion;
            fit.working = std::min(fit.working.value_or(0.98 * resin.gel_conversion), fit.reached[i]);
        } else if (p.kind == job::DataPointKind::strip) {
            const auto at = sheet.at_time(p, fit.kinetics, law);
            if (at.margin > margin) fit.strictest = i;
            margin = std::max(margin, at.margin);
            fit.strip_share = std::max(fit.strip_share, at.share);
        }
    }
    // A sheet whose strip tests have not even gelled by the fit is held by what was fitted, and refused if far off.
    if (std::isfinite(margin)) fit.at[strip_margin] = margin;
}

}  // namespace

double mixed_density(const job::Resin& resin) {
    if (resin.density_a.si() <= 0.0 || resin.density_b.si() <= 0.0) return 1120.0;
    const double parts = resin.parts_a + resin.parts_b;
    return parts / (resin.parts_a / resin.density_a.si() + resin.parts_b / resin.density_b.si());
}

double film_conversion(const RateLaw& law, double seconds, double most, double kelvin) {
    // Newton's rule between two bounds: where the cure all but stops, its steps alone would run away.
    double low = 0.0, high = most;
    double a = 0.5 * most;
    for (int i = 0; i < 40 && high - low > 1e-9; ++i) {
        const double missing = seconds - isothermal_seconds(law, 0.0, a, kelvin, film_panels);
        (missing < 0.0 ? high : low) = a;
        const double next = a + missing * law(a, kelvin).value;
        const double step = std::abs(next - a);
        a = next > low && next < high ? next : 0.5 * (low + high);
        if (step < 1e-10) break;
    }
    return a;
}

Kinetics kinetics_of(const job::Resin& resin, const Vector& at) {
    Kinetics k;
    k.rate_2 = Frequency::from_si(std::exp(at[log_rate] + at[activation] / (gas_constant * reference_kelvin)));
    k.rate_1 = std::exp(at[log_ratio]) * k.rate_2;
    k.energy_1 = k.energy_2 = MolarEnergy::from_si(at[activation]);
    k.limit = DiffusionLimit::glass;
    k.glass = {resin.glass_start, resin.glass_end, resin.glass_lambda};
    return k;
}

double film_strip_seconds(const RateLaw& law, const Kinetics& kinetics, double gel, double kelvin, double margin) {
    const double a = std::max(gel, conversion_at_glass(kinetics.glass, Temperature::kelvin(kelvin + margin)));
    if (a > 0.999) return std::numeric_limits<double>::infinity();
    return isothermal_seconds(law, 0.0, a, kelvin, film_panels);
}

double log_time_deviation(const job::Resin& resin, const Fitted& fit, double kelvin, bool strip) {
    const auto time = [&](const Vector& at) {
        const Kinetics kinetics = kinetics_of(resin, at);
        const RateLaw law{kinetics};
        const double t = strip ? film_strip_seconds(law, kinetics, resin.gel_conversion, kelvin, at[strip_margin])
                               : isothermal_seconds(law, 0.0, resin.gel_conversion, kelvin, film_panels);
        return std::log(std::min(t, longest_test));
    };
    const double here = time(fit.at);
    Vector gradient{};
    if (here < std::log(longest_test)) {
        // At one temperature every time is in inverse proportion to the rate, whose logarithm is linear in both.
        gradient[log_rate] = -1.0;
        gradient[activation] = (1.0 / kelvin - 1.0 / reference_kelvin) / gas_constant;
    }
    for (const std::size_t j : {std::size_t{log_ratio}, std::size_t{strip_margin}}) {
        if (j == strip_margin && !strip) continue;
        Vector moved = fit.at;
        moved[j] += finite_step[j];
        gradient[j] = (time(moved) - here) / finite_step[j];
    }
    double variance = 0.0;
    for (std::size_t i = 0; i < unknowns; ++i)
        for (std::size_t j = 0; j < unknowns; ++j) variance += gradient[i] * fit.covariance[i][j] * gradient[j];
    return std::sqrt(std::max(variance, 0.0));
}

Lumped cup_body(const job::Resin& resin, double kilograms, double film, bool base_loses) {
    const double volume = kilograms / mixed_density(resin);
    const double diameter = std::cbrt(4.0 * volume / std::numbers::pi);
    const double faces = base_loses ? 1.5 : 1.25;  // side, top (and base), in pi d^2
    Lumped body;
    body.capacity = kilograms * resin.specific_heat.si();
    body.outer_link = film * faces * std::numbers::pi * diameter * diameter;
    body.heat = kilograms * resin.heat_of_reaction.si();
    return body;
}

Minimum fitted_minimum(const job::Resin& resin) {
    Sheet sheet{resin};
    return minimise(sheet.start(), [&](const Vector& at, const std::vector<double>* base, std::size_t moved) {
        return sheet.residuals(at, base, moved);
    });
}

std::vector<job::ResinFault> faults_of(const job::Resin& resin) {
    std::vector<job::ResinFault> faults = impossible(resin);
    return faults.empty() ? unmet(resin, fitted(resin)) : faults;
}

Fitted calibrate(const job::Resin& resin) {
    const auto refuse = [&](const std::vector<job::ResinFault>& faults) {
        if (faults.empty()) return;
        std::string all;
        for (const auto& fault : faults) all += (all.empty() ? "" : "; ") + fault.message;
        throw InputError(fmt::format("resin \"{}\": {}", resin.id, all));
    };
    refuse(impossible(resin));
    Fitted fit = fitted(resin);
    refuse(unmet(resin, fit));
    // After what the sheet is held to: the sheet's own tests went at the sheet's own rate.
    fit.kinetics = faster(fit.kinetics, resin.rate);
    return fit;
}

Fitted fitted(const job::Resin& resin) {
    const Minimum minimum = fitted_minimum(resin);

    Fitted fit;
    fit.at = minimum.at;
    fit.kinetics = kinetics_of(resin, fit.at);
    double misfit = 0.0;
    double squares = 0.0;
    double count = 0.0;
    for (std::size_t i = 0; i < resin.data.size(); ++i) {
        if (resin.data[i].kind == job::DataPointKind::working) {
            fit.computed.push_back(resin.data[i].time.si());
            continue;
        }
        const double off = minimum.residuals[i] * deviation_of(resin.data[i].kind);
        fit.computed.push_back(resin.data[i].time.si() * std::exp(off));
        misfit += off * off;
        squares += minimum.residuals[i] * minimum.residuals[i];
        count += 1.0;
    }
    fit.misfit = std::sqrt(misfit / count);
    const double inflation = std::max(1.0, squares / count);  // a poor fit widens the band
    for (std::size_t i = 0; i < unknowns; ++i)
        for (std::size_t j = 0; j < unknowns; ++j)
            fit.covariance[i][j] = minimum.inverse_normal[i][j] * unit_of[i] * unit_of[j] * inflation;
    note_range(resin, fit);
    hold_to_sheet(resin, fit);
    fit.remarks = remarks(resin, fit);
    return fit;
}

}  // namespace patchwright::cure::detail
