// The mixed bucket: how long, how hot, and how much of it could stand without running away.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "knowledge.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cure {
namespace {

using namespace detail;

constexpr std::array pot_inputs{Symbol{"m", "mixed mass", Show::scale_mass}, Symbol{"Tr", "resin", Show::temperature},
                                Symbol{"Ta", "air", Show::temperature}};
constexpr Formula pot_formula{"cure.pot_life",
                              {"tp", "bucket gels", Show::minutes},
                              "m cp dT/dt = m H da/dt - h S (T - Ta), a(tp) = ag; cylinder, h = 8 W/(m2 K)",
                              pot_inputs,
                              "derived here, docs/methods/cure.md",
                              "cure"};

constexpr Formula alarm_formula{"cure.pot_alarm",
                                {"t", "10 K warmer than it was mixed", Show::minutes},
                                "t: T(t) = Tr + 10 K along the same course",
                                pot_inputs,
                                "derived here, docs/methods/cure.md",
                                "cure"};

constexpr std::array pour_inputs{Symbol{"s", "share of the pot life", Show::percent},
                                 Symbol{"tp", "pot life, likely", Show::minutes}};
constexpr Formula pour_formula{"cure.bucket_pour_by",          {"t", "bucket poured by", Show::minutes},
                               "t = s tp, whole minutes down", pour_inputs,
                               "common practice, no source",   "cure"};

constexpr std::array bound_inputs{Symbol{"B", "E q / (R T^2), K/K per m3 of heat", Show::count},
                                  Symbol{"r", "radius of the sphere of that volume", Show::tape},
                                  Symbol{"k", "conductivity, W/(m K)", Show::ratio},
                                  Symbol{"h", "film, W/(m2 K)", Show::ratio}};
constexpr Formula fk_formula{"cure.bucket_frank_kamenetskii",
                             {"delta", "Frank-Kamenetskii number", Show::ratio},
                             "delta = B r^2 / k; a sphere with a cold face runs away at 3.32",
                             bound_inputs,
                             "Frank-Kamenetskii (1939), critical value of the sphere 3.321992",
                             "cure"};
constexpr Formula semenov_formula{
    "cure.bucket_semenov", {"psi", "Semenov number", Show::ratio}, "psi = B r / (3 h); a stirred body runs away at 1/e",
    bound_inputs,          "Semenov (1928), from memory",          "cure"};
constexpr Formula never_formula{"cure.bucket_never",
                                {"m", "mass that never runs away", Show::scale_mass},
                                "m: delta/3.322 + e psi = 1, both resistances in a row",
                                bound_inputs,
                                "derived here, docs/methods/cure.md",
                                "cure"};

constexpr double film = 8.0;
constexpr double sphere_critical = 3.321992;

void check_bucket(Mass mixed, Temperature resin, Temperature air) {
    if (!(mixed.si() > 0.0) || !is_finite(mixed))
        throw RangeError("cure: the mixed mass must be above zero, such as \"1.2 kg\"");
    for (const Temperature t : {resin, air})
        if (!(t.in_celsius() >= -30.0 && t.in_celsius() <= 80.0))
            throw RangeError("cure: resin and air must lie between -30 and 80 °C");
}

/// Radius at which conduction inside and film outside, taken one after the other, no longer carry the heat away.
double critical_radius(double b, double conductivity) {
    const double square = b / (sphere_critical * conductivity);
    const double linear = std::numbers::e * b / (3.0 * film);
    return (-linear + std::sqrt(linear * linear + 4.0 * square)) / (2.0 * square);
}

}  // namespace

Duration Model::pour_by(Mass mixed, Temperature resin, Temperature air, const job::Limits& limits) const {
    check_bucket(mixed, resin, air);
    return limit_minutes(limits.pot_share *
                         Duration::from_si(pot_seconds(*impl_, mixed.si(), resin.in_kelvin(), air.in_kelvin())));
}

BucketAnswer Model::bucket(Mass mixed, Temperature resin, Temperature air, const job::Limits& limits,
                           Working& working) const {
    check_bucket(mixed, resin, air);
    const Knowledge& known = *impl_;
    BucketAnswer a;
    double alarm = 0.0;
    double hottest = 0.0;
    const double pot = pot_seconds(known, mixed.si(), resin.in_kelvin(), air.in_kelvin(), &alarm, &hottest);
    a.pot_life = Duration::from_si(pot);
    a.alarm = Duration::from_si(alarm);
    a.hottest = Temperature::kelvin(hottest);
    a.pour_by = pour_by(mixed, resin, air, limits);
    a.most = known.resin.safe_pot_mass;
    a.too_much = a.most.si() > 0.0 && mixed > a.most;

    const double warm = std::max(resin.in_kelvin(), air.in_kelvin());
    const double density = mixed_density(known.resin);
    const double heat = density * known.resin.heat_of_reaction.si() * greatest_rate(RateLaw{known.fit.kinetics}, warm);
    const double b = known.fit.at[activation] * heat / (gas_constant * warm * warm);
    const double conductivity = known.resin.conductivity.si();
    const double radius = std::cbrt(3.0 * mixed.si() / (4.0 * std::numbers::pi * density));
    a.frank_kamenetskii = b * radius * radius / conductivity;
    a.semenov = b * radius / (3.0 * film);
    const double critical = critical_radius(b, conductivity);
    a.never_runs_away = Mass::from_si(density * 4.0 / 3.0 * std::numbers::pi * critical * critical * critical);

    working.add(alarm_formula, {mixed, resin, air}, a.alarm);
    working.add(pot_formula, {mixed, resin, air}, a.pot_life);
    working.add(pour_formula, {{limits.pot_share, Origin::yard}, a.pot_life}, a.pour_by);
    working.add(fk_formula, {b, radius, conductivity, film}, a.frank_kamenetskii);
    working.add(semenov_formula, {b, radius, conductivity, film}, a.semenov);
    working.add(never_formula, {b, critical, conductivity, film}, a.never_runs_away);
    return a;
}

}  // namespace patchwright::cure
