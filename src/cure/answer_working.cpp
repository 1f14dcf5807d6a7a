#include "answer_working.hpp"

#include <array>
#include <cmath>

namespace patchwright::cure::detail {
namespace {

constexpr const char* derived = "derived here, docs/methods/cure.md";

constexpr std::array rate_inputs{Symbol{"t20", "time constant at 20 °C", Show::minutes},
                                 Symbol{"E", "activation energy", Show::molar_energy},
                                 Symbol{"T", "pipe temperature", Show::temperature}};
constexpr Formula rate_formula{"cure.rate",
                               {"tk", "time constant 1/k2 in the pipe", Show::minutes},
                               "tk = t20 exp(E/R (1/T - 1/293.15 K))",
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
                                 Symbol{"tp", "pot life of the mixed mass, warm and fast side", Show::minutes},
                                 Symbol{"ti", "inflated by", Show::minutes},
                                 Symbol{"h", "load, position and inflate, likely", Show::minutes}};
constexpr Formula pour_formula{"cure.pour_by",
                               {"t", "bucket poured by", Show::minutes},
                               "t = min(s tp, max(ti - h, ti / 2))",
                               pour_inputs,
                               "common practice, no source",
                               "cure"};

constexpr std::array working_inputs{Symbol{"aw", "conversion at the end of shaping", Show::conversion},
                                    Symbol{"Tr", "resin, warm side", Show::temperature},
                                    Symbol{"Ta", "air, warm side", Show::temperature},
                                    Symbol{"f", "rate over the likely one, fast side", Show::ratio}};
constexpr Formula working_formula{"cure.working_time",
                                  {"tw", "end of the spread sleeve's working time", Show::minutes},
                                  "tw: a(tw) = aw along bucket, table and packer in air",
                                  working_inputs,
                                  derived,
                                  "cure"};

constexpr std::array crease_inputs{Symbol{"tw", "end of working time", Show::minutes},
                                   Symbol{"c", "share of the gel time", Show::ratio},
                                   Symbol{"tg", "gel time of the sleeve, warm and fast side", Show::minutes}};
constexpr Formula crease_formula{"cure.crease_by", {"t", "creases out by", Show::minutes}, "t = min(tw, c tg)",
                                 crease_inputs,    "common practice, no source",           "cure"};

constexpr std::array inflate_inputs{Symbol{"tc", "creases out by", Show::minutes},
                                    Symbol{"ts", "crease step", Show::minutes},
                                    Symbol{"tf", "to fill the bladder", Show::minutes}};
constexpr Formula inflate_formula{"cure.inflate_by", {"t", "inflate by", Show::minutes}, "t = tc - ts - tf",
                                  inflate_inputs,    "common practice, no source",       "cure"};

constexpr std::array gel_inputs{Symbol{"ag", "conversion at gel", Show::conversion},
                                Symbol{"T", "pipe, cold side", Show::temperature},
                                Symbol{"f", "rate over the likely one, slow side", Show::ratio}};
constexpr Formula gel_formula{"cure.gel",
                              {"tg", "coldest point of the sleeve gels", Show::minutes},
                              "tg: least a(tg) = ag in the sleeve against wall and ground",
                              gel_inputs,
                              derived,
                              "cure"};

constexpr std::array ready_inputs{Symbol{"ar", "conversion for release", Show::conversion},
                                  Symbol{"T", "pipe, cold side", Show::temperature},
                                  Symbol{"f", "rate over the likely one, slow side", Show::ratio}};
constexpr Formula ready_formula{"cure.ready",
                                {"tr", "coldest point of the sleeve ready", Show::minutes},
                                "tr: least a(tr) = ar in the sleeve against wall and ground",
                                ready_inputs,
                                derived,
                                "cure"};

constexpr std::array let_down_inputs{Symbol{"tr", "coldest point of the sleeve ready", Show::minutes},
                                     Symbol{"m", "margin", Show::percent},
                                     Symbol{"tc", "witness coupon hard, likely", Show::minutes}};
constexpr Formula let_down_formula{"cure.let_down", {"t", "let down from", Show::span}, "t = max(tr (1 + m), tc)",
                                   let_down_inputs, "common practice, no source",       "cure"};

constexpr std::array runaway_inputs{
    Symbol{"E", "activation energy", Show::molar_energy}, Symbol{"q", "greatest heat of the sleeve, W/m3", Show::count},
    Symbol{"L", "thickness", Show::thickness}, Symbol{"T", "pipe, warm side", Show::temperature},
    Symbol{"k", "conductivity, W/(m K)", Show::ratio}};
constexpr Formula runaway_formula{
    "cure.frank_kamenetskii",
    {"delta", "Frank-Kamenetskii number", Show::ratio},
    "delta = E q L^2 / (R T^2 k); a slab with one cold face runs away at 0.88",
    runaway_inputs,
    "Frank-Kamenetskii (1939), critical value of the slab 0.878458; computed without depletion",
    "cure"};

}  // namespace

double sleeve_runaway(const Knowledge& known, const Site& site, const Course& course, Working& working) {
    const RateLaw law{faster(known.fit.kinetics, course.rate_factor)};
    const double heat = site.reaction_heat * greatest_rate(law, course.pipe);
    const double energy = known.fit.at[activation];
    const double delta = energy * heat * site.thickness * site.thickness /
                         (gas_constant * course.pipe * course.pipe * site.conductivity);
    working.add(runaway_formula, {energy, heat, site.thickness, course.pipe, site.conductivity}, delta);
    return delta;
}

void record(const Knowledge& known, const Conditions& c, const job::Limits& limits, const Release& release,
            const Answer& a, const SideRun& early, const SideRun& late, Working& working) {
    if (!working.on()) return;
    const job::Resin& resin = known.resin;
    const RateLaw law{known.fit.kinetics};
    const double pipe = c.pipe.value.in_kelvin();
    const double ratio = std::exp(known.fit.at[log_ratio]);
    const double constant = std::exp(-known.fit.at[log_rate]);
    const double energy = known.fit.at[activation];
    const double here = constant * std::exp(energy / gas_constant * (1.0 / pipe - 1.0 / reference_kelvin));
    working.add(rate_formula, {constant, energy, c.pipe}, here);
    working.add(film_formula, {here, ratio, {resin.gel_conversion, Origin::yard}},
                isothermal_seconds(law, 0.0, resin.gel_conversion, pipe, 6));
    working.add(attainable_formula,
                {c.pipe,
                 {resin.glass_start, Origin::yard},
                 {resin.glass_end, Origin::yard},
                 {resin.glass_lambda, Origin::yard}},
                a.attainable);
    if (!std::isfinite(late.outcome.release)) return;
    working.add(working_formula,
                {{limits.working_conversion, Origin::yard}, early.course.resin, early.course.air, early.waiting.factor},
                a.early.working_time);
    working.add(crease_formula, {a.early.working_time, {limits.crease_share_of_gel, Origin::yard}, a.early.gel},
                a.early.crease_by);
    working.add(inflate_formula, {a.early.crease_by, {limits.crease_step, Origin::yard}, {c.inflate, Origin::yard}},
                a.early.inflate_by);
    working.add(gel_formula, {{release.gel, Origin::yard}, late.course.pipe, late.course.rate_factor}, a.late.gel);
    working.add(release_formula,
                {{release.gel, Origin::yard}, release.margin, release.share, late.outcome.face_at_release},
                late.outcome.conversion_at_release);
    working.add(ready_formula, {late.outcome.conversion_at_release, late.course.pipe, late.course.rate_factor},
                a.late.let_down);
    working.add(let_down_formula, {a.late.let_down, {limits.let_down_margin, Origin::yard}, a.coupon},
                a.sheet.let_down);
}

void record_pour(double pot, const Pour& of, const job::Limits& limits, Duration pour_by, Working& working) {
    working.add(pour_formula, {{limits.pot_share, Origin::yard}, pot, of.inflate_by, {of.handling, Origin::yard}},
                pour_by);
}

}  // namespace patchwright::cure::detail
