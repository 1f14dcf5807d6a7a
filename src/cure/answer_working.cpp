#include "answer_working.hpp"

#include <array>
#include <cmath>

namespace patchwright::cure::detail {
namespace {

constexpr const char* derived = "derived here, docs/methods/cure.md";

constexpr std::array rate_inputs{Symbol{"t20", "time constant at 20 °C", Show::minutes},
                                 Symbol{"E", "activation energy", Show::molar_energy},
                                 Symbol{"T", "pipe temperature", Show::temperature},
                                 Symbol{"f", "rate of the resin over its data sheet's", Show::ratio}};
constexpr Formula rate_formula{"cure.rate",
                               {"tk", "time constant 1/k2 in the pipe", Show::minutes},
                               "tk = t20 exp(E/R (1/T - 1/293.15 K)) / f",
                               rate_inputs,
                               "Arrhenius; constants fitted to the data sheet, docs/methods/cure.md",
                               "cure"};

constexpr std::array film_inputs{Symbol{"tk", "time constant 1/k2 in the pipe", Show::minutes},
                                 Symbol{"r", "ratio k1/k2", Show::ratio},
                                 Symbol{"ag", "conversion at gel", Show::conversion}};
constexpr Formula film_formula{"cure.film_gel",
                               {"tf", "gel time of a film at pipe temperature", Show::minutes},
                               "tf = tk integral(0..ag) da / ((r + a)(1 - a)^2 fd)",
                               film_inputs,
                               "Kamal & Sourour, Polym. Eng. Sci. 13 (1973) 59, from memory, with m = 1, n = 2",
                               "cure"};

constexpr std::array attainable_inputs{Symbol{"T", "pipe temperature", Show::temperature},
                                       Symbol{"Tg0", "glass temperature of the unreacted mix", Show::temperature},
                                       Symbol{"Tg1", "glass temperature after full cure", Show::temperature},
                                       Symbol{"l", "lambda", Show::ratio}};
constexpr Formula attainable_formula{"cure.attainable",
                                     {"ae", "conversion attainable in the pipe", Show::conversion},
                                     "ae = x / (l + (1 - l) x), x = (T + 10 K - Tg0) / (Tg1 - Tg0)",
                                     attainable_inputs,
                                     "DiBenedetto's equation, inverted; 10 K: usual for ambient cure, from memory",
                                     "cure"};

constexpr std::array release_inputs{Symbol{"ag", "conversion at gel", Show::conversion},
                                    Symbol{"M", "glass temperature above the wall's", Show::temperature_step},
                                    Symbol{"s", "share of the attainable conversion", Show::percent},
                                    Symbol{"T", "temperature of the wall at release", Show::temperature}};
constexpr Formula release_formula{"cure.release",
                                  {"ar", "conversion for release", Show::conversion},
                                  "ar = max(ag, min(a where Tg(a) = T + M, s ae(T)))",
                                  release_inputs,
                                  "derived here: M and s fitted to the data sheet's strip times, docs/methods/cure.md",
                                  "cure"};

constexpr std::array pour_inputs{Symbol{"s", "share of the pot life", Show::percent},
                                 Symbol{"tp", "likely pot life of the mixed mass", Show::minutes},
                                 Symbol{"ti", "inflated by", Show::minutes},
                                 Symbol{"h", "load, position and inflate, likely", Show::minutes}};
constexpr Formula pour_formula{"cure.pour_by",
                               {"t", "bucket poured by", Show::minutes},
                               "t = min(s tp, max(ti - h, ti / 2)), whole minutes down",
                               pour_inputs,
                               "common practice, no source",
                               "cure"};

constexpr std::array working_inputs{Symbol{"aw", "conversion at the end of shaping", Show::conversion},
                                    Symbol{"Tr", "resin", Show::temperature},
                                    Symbol{"Ta", "warmest of air, van and pipe", Show::temperature}};
constexpr Formula working_formula{"cure.shaping",
                                  {"tw", "end of shaping of the spread sleeve, likely", Show::minutes},
                                  "tw: a(tw) = aw along bucket, table and packer in the warmest",
                                  working_inputs,
                                  derived,
                                  "cure"};

constexpr std::array crease_inputs{
    Symbol{"tw", "end of shaping, likely", Show::minutes}, Symbol{"s", "standard deviation of ln tw", Show::ratio},
    Symbol{"p", "chance of being too late", Show::percent}, Symbol{"tg", "may have gelled from", Show::minutes}};
constexpr Formula crease_formula{"cure.crease_by",
                                 {"t", "wrinkles out by", Show::minutes},
                                 "t = min(tw exp(z(p) s), tg - 1 min), whole minutes down; z: the normal "
                                 "distribution's quantile",
                                 crease_inputs,
                                 derived,
                                 "cure"};

constexpr std::array inflate_inputs{Symbol{"tc", "wrinkles out by", Show::minutes},
                                    Symbol{"ts", "crease step", Show::minutes}};
constexpr Formula inflate_formula{"cure.inflate_by",
                                  {"t", "inflate by", Show::minutes},
                                  "t = tc - max(ts, 1 min), whole minutes down",
                                  inflate_inputs,
                                  derived,
                                  "cure"};

constexpr std::array gel_inputs{Symbol{"ag", "conversion at gel", Show::conversion},
                                Symbol{"T", "pipe", Show::temperature}};
constexpr Formula gel_formula{"cure.sleeve_gel",
                              {"tg", "coldest point of the sleeve gels, likely", Show::minutes},
                              "tg: least a(tg) = ag in the sleeve against wall and ground",
                              gel_inputs,
                              derived,
                              "cure"};

constexpr std::array hold_inputs{Symbol{"tg", "coldest point of the sleeve gels, likely", Show::minutes},
                                 Symbol{"s", "standard deviation of ln tg", Show::ratio},
                                 Symbol{"p", "chance that it gels before", Show::percent}};
constexpr Formula hold_formula{"cure.gel",
                               {"t", "may have gelled from", Show::minutes},
                               "t = tg exp(z(p) s), whole minutes down",
                               hold_inputs,
                               derived,
                               "cure"};

constexpr std::array ready_inputs{Symbol{"ar", "conversion for release", Show::conversion},
                                  Symbol{"T", "pipe", Show::temperature}};
constexpr Formula ready_formula{"cure.ready",
                                {"tr", "coldest point of the sleeve ready, likely", Show::minutes},
                                "tr: least a(tr) = ar in the sleeve against wall and ground",
                                ready_inputs,
                                derived,
                                "cure"};

constexpr std::array doubt_inputs{Symbol{"sr", "from the resin's rate, by its fit", Show::ratio},
                                  Symbol{"sT", "from the temperatures", Show::ratio}};
constexpr Formula doubt_formula{
    "cure.doubt", {"s", "standard deviation of ln tr", Show::ratio}, "s = sqrt(sr^2 + sT^2)", doubt_inputs, derived,
    "cure"};

constexpr std::array let_down_inputs{
    Symbol{"tr", "coldest point of the sleeve ready, likely", Show::minutes},
    Symbol{"s", "standard deviation of ln tr", Show::ratio}, Symbol{"p", "chance of being soft", Show::percent},
    Symbol{"m", "the firm's own addition", Show::percent}, Symbol{"tc", "witness coupon hard, likely", Show::minutes}};
constexpr Formula let_down_formula{"cure.let_down",
                                   {"t", "deflate from", Show::span},
                                   "t = max(tr exp(z(1 - p) s) (1 + m), tc), whole minutes up",
                                   let_down_inputs,
                                   derived,
                                   "cure"};

constexpr std::array runaway_inputs{
    Symbol{"E", "activation energy", Show::molar_energy}, Symbol{"q", "greatest heat of the sleeve, W/m3", Show::count},
    Symbol{"L", "thickness", Show::thickness}, Symbol{"T", "pipe, fast side", Show::temperature},
    Symbol{"k", "conductivity, W/(m K)", Show::ratio}};
constexpr Formula runaway_formula{
    "cure.frank_kamenetskii",
    {"delta", "Frank-Kamenetskii number", Show::ratio},
    "delta = E q L^2 / (R T^2 k); a slab with one cold face runs away at 0.88",
    runaway_inputs,
    "Frank-Kamenetskii (1939), critical value of the slab 0.878458; computed without depletion",
    "cure"};

}  // namespace

double sleeve_runaway(const Knowledge& known, const Site& site, const RateLaw& law, double pipe, Working& working) {
    const double heat = site.reaction_heat * greatest_rate(law, pipe);
    const double energy = known.fit.at[activation];
    const double delta =
        energy * heat * site.thickness * site.thickness / (gas_constant * pipe * pipe * site.conductivity);
    working.add(runaway_formula, {energy, heat, site.thickness, pipe, site.conductivity}, delta);
    return delta;
}

void record(const Knowledge& known, const Conditions& c, const job::Limits& limits, const Release& release,
            const Answer& a, const Cured& cure, Working& working) {
    if (!working.on()) return;
    const job::Resin& resin = known.resin;
    const RateLaw law{known.fit.kinetics};
    const double pipe = c.pipe.value.in_kelvin();
    const double ratio = std::exp(known.fit.at[log_ratio]);
    const double constant = std::exp(-known.fit.at[log_rate]);
    const double energy = known.fit.at[activation];
    const double here = constant * std::exp(energy / gas_constant * (1.0 / pipe - 1.0 / reference_kelvin)) / resin.rate;
    const Operand late{limits.late_at_most, Origin::yard};
    working.add(rate_formula, {constant, energy, c.pipe, {resin.rate, Origin::yard}}, here);
    working.add(film_formula, {here, ratio, {resin.gel_conversion, Origin::yard}},
                isothermal_seconds(law, 0.0, resin.gel_conversion, pipe, 6));
    working.add(attainable_formula,
                {c.pipe,
                 {resin.glass_start, Origin::yard},
                 {resin.glass_end, Origin::yard},
                 {resin.glass_lambda, Origin::yard}},
                a.attainable);
    if (!std::isfinite(cure.likely.release) || !std::isfinite(a.hard.log_sd)) return;
    working.add(working_formula, {a.shaping_conversion, c.resin, std::max({c.air.value, c.van.value, c.pipe.value})},
                a.shaping.likely);
    working.add(gel_formula, {{release.gel, Origin::yard}, c.pipe}, a.gel.likely);
    working.add(hold_formula, {a.gel.likely, a.gel.log_sd, late}, a.sheet.gel);
    working.add(crease_formula, {a.shaping.likely, a.shaping.log_sd, late, a.sheet.gel}, a.sheet.crease_by);
    working.add(inflate_formula, {a.sheet.crease_by, {c.crease, Origin::yard}}, a.sheet.inflate_by);
    working.add(release_formula,
                {{release.gel, Origin::yard}, release.margin, release.share, cure.likely.face_at_release},
                cure.likely.conversion_at_release);
    working.add(ready_formula, {cure.likely.conversion_at_release, c.pipe}, a.hard.likely);
    working.add(doubt_formula, {cure.rate_sd, cure.warmth_sd}, a.hard.log_sd);
    working.add(let_down_formula,
                {a.hard.likely,
                 a.hard.log_sd,
                 {limits.soft_at_most, Origin::yard},
                 {limits.let_down_margin, Origin::yard},
                 a.coupon},
                a.sheet.let_down);
}

void record_pour(double pot, const Pour& of, const job::Limits& limits, Duration pour_by, Working& working) {
    working.add(pour_formula, {{limits.pot_share, Origin::yard}, pot, of.inflate_by, {of.handling, Origin::yard}},
                pour_by);
}

}  // namespace patchwright::cure::detail
