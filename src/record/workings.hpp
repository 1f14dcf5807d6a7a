#pragma once
#include <array>

#include "patchwright/working/working.hpp"

/// The steps behind the figures after the work; method: docs/methods/record.md. Internal to the module.
namespace patchwright::record {

inline constexpr const char* card_rule = "the card's tables by the card's rule, docs/methods/record.md";
inline constexpr const char* held_here = "derived here, docs/methods/record.md";

inline constexpr std::array pipe_row{Symbol{"T", "pipe, as measured or else as planned", Show::temperature},
                                     Symbol{"Tr", "pipe of the row", Show::temperature}};
inline constexpr std::array air_row{Symbol{"T", "resin, as measured or else as planned", Show::temperature},
                                    Symbol{"Ta", "air, as measured or else as planned", Show::temperature},
                                    Symbol{"Tr", "resin of the row", Show::temperature},
                                    Symbol{"Tra", "air of the row", Show::temperature}};
inline constexpr Formula let_down_formula{"record.let_down",
                                          {"t", "deflated at the earliest, from mixing", Show::span},
                                          "t = deflating in the row Tr, the next that is no warmer than T",
                                          pipe_row,
                                          card_rule,
                                          "record"};
inline constexpr Formula pour_by_formula{
    "record.pour_by",
    {"t", "poured at the latest, from mixing", Show::span},
    "t = pouring in the row (Tr, Tra), of those no colder than (T, Ta) the one with most time",
    air_row,
    card_rule,
    "record"};
inline constexpr Formula by_air_formula{
    "record.by_air",
    {"ta", "inflated at the latest by resin and air", Show::span},
    "ta = inflating in the row (Tr, Tra), of those no colder than (T, Ta) the one with most time",
    air_row,
    card_rule,
    "record"};
inline constexpr Formula by_pipe_formula{"record.by_pipe",
                                         {"tp", "inflated at the latest by the pipe", Show::span},
                                         "tp = inflating in the row Tr, the next that is no colder than T",
                                         pipe_row,
                                         card_rule,
                                         "record"};
inline constexpr std::array shorter{Symbol{"ta", "by resin and air", Show::span},
                                    Symbol{"tp", "by the pipe", Show::span}};
inline constexpr Formula inflate_by_formula{
    "record.inflate_by", {"t", "inflated at the latest, from mixing", Show::span},
    "t = min(ta, tp)",   shorter,
    card_rule,           "record"};
inline constexpr std::array crease_inputs{Symbol{"ti", "inflated at the latest", Show::span},
                                          Symbol{"s", "wrinkle check after inflating, in that row", Show::span}};
inline constexpr Formula crease_by_formula{"record.crease_by", {"t", "wrinkle check over, at the latest", Show::span},
                                           "t = ti + s",       crease_inputs,
                                           card_rule,          "record"};

inline constexpr std::array mixed_inputs{Symbol{"n", "sleeves of the mix", Show::count}};
inline constexpr Formula mixed_formula{"record.mixed",
                                       {"m", "mixed at least", Show::scale_mass},
                                       "m = resin in the n sleeves of the mix; pot and film left out",
                                       mixed_inputs,
                                       held_here,
                                       "record"};
inline constexpr Formula in_felt_formula{"record.in_felt",
                                         {"m", "left in the felt, at least", Show::scale_mass},
                                         "m = resin in the voids of the n sleeves of the mix, without the excess",
                                         mixed_inputs,
                                         held_here,
                                         "record"};
inline constexpr std::array ratio_inputs{Symbol{"a", "parts of A by mass", Show::ratio},
                                         Symbol{"b", "parts of B by mass", Show::ratio},
                                         Symbol{"d", "may differ by", Show::percent}};
inline constexpr Formula least_ratio_formula{
    "record.least_ratio", {"q", "B to A, at least", Show::conversion},       "q = b / a (1 - d)",
    ratio_inputs,         "common practice, no source; the data sheet wins", "record"};
inline constexpr Formula most_ratio_formula{
    "record.most_ratio", {"q", "B to A, at most", Show::conversion},        "q = b / a (1 + d)",
    ratio_inputs,        "common practice, no source; the data sheet wins", "record"};
inline constexpr std::array near_inputs{Symbol{"x0", "mark, as planned", Show::run_distance},
                                        Symbol{"d", "tolerance of positioning", Show::run_distance}};
inline constexpr Formula least_mark_formula{
    "record.least_mark", {"x", "mark, at least", Show::run_distance}, "x = x0 - d", near_inputs, held_here, "record"};
inline constexpr Formula most_mark_formula{
    "record.most_mark", {"x", "mark, at most", Show::run_distance}, "x = x0 + d", near_inputs, held_here, "record"};
inline constexpr std::array begin_inputs{Symbol{"a", "first defect begins", Show::run_distance},
                                         Symbol{"o", "overlap", Show::run_distance}};
inline constexpr Formula begins_formula{"record.begins",
                                        {"x", "sleeve begins, at most", Show::run_distance},
                                        "x = max(a - o, 0 m)",
                                        begin_inputs,
                                        held_here,
                                        "record"};
inline constexpr std::array end_inputs{Symbol{"b", "last defect ends", Show::run_distance},
                                       Symbol{"o", "overlap", Show::run_distance},
                                       Symbol{"L", "length of the run", Show::run_distance}};
inline constexpr Formula ends_formula{"record.ends",       {"x", "sleeve ends, at least", Show::run_distance},
                                      "x = min(b + o, L)", end_inputs,
                                      held_here,           "record"};

inline constexpr std::array mean_inputs{Symbol{"n", "temperatures noted in the pipe", Show::count},
                                        Symbol{"t1", "inflated", Show::span}, Symbol{"t2", "deflated", Show::span}};
inline constexpr Formula mean_formula{"record.pipe",
                                      {"T", "pipe that the cure is followed in", Show::temperature},
                                      "T = mean over the time from t1 to t2, straight between the n notes; of none, "
                                      "as measured before mixing, or else as planned",
                                      mean_inputs,
                                      held_here,
                                      "record"};
inline constexpr std::array reached_inputs{Symbol{"t", "deflated, from mixing", Show::span},
                                           Symbol{"T", "pipe, or last at the sleeve", Show::temperature}};
inline constexpr Formula reached_formula{
    "record.conversion",
    {"a", "degree of cure when deflated, likely, of the coldest point", Show::conversion},
    "a = integral(0..t) of da/dt, by the sleeve's own model or along the notes at the sleeve",
    reached_inputs,
    "Kamal & Sourour, Polym. Eng. Sci. 13 (1973) 59, from memory; docs/methods/cure.md",
    "record"};
inline constexpr std::array soft_inputs{Symbol{"t", "deflated, from mixing", Show::span},
                                        Symbol{"th", "hard, likely", Show::span},
                                        Symbol{"s", "standard deviation of ln th", Show::ratio}};
inline constexpr Formula soft_formula{
    "record.soft", {"p", "chance that it was not hard", Show::percent},        "p = 1 - Phi(ln(t / th) / s)",
    soft_inputs,   "lognormal about its likely value; docs/methods/record.md", "record"};
inline constexpr std::array probe_inputs{Symbol{"n", "temperatures noted at the sleeve", Show::count},
                                         Symbol{"t", "deflated, from mixing", Show::span},
                                         Symbol{"th", "hard, likely", Show::span}};
inline constexpr Formula probe_formula{"record.soft_along",
                                       {"p", "chance that it was not hard", Show::percent},
                                       "p = Phi(ln f* / s): along the n notes a resin faster by f* is just hard at t",
                                       probe_inputs,
                                       "derived here, docs/methods/record.md",
                                       "record"};

}  // namespace patchwright::record
