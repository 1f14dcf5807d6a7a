#include "patchwright/packer/pressure.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "patchwright/job/yard.hpp"
#include "patchwright/packer/air.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::packer {
namespace {

constexpr Pressure gauge_mark = 0.05 * unit::bar;
constexpr Pressure pressure_hair = 1e-6 * unit::bar;  // marks come from divisions, which miss by the last digit
constexpr Temperature bench_temperature = Temperature::celsius(20.0);

constexpr std::array<Symbol, 2> outside_inputs{
    {{"gw", "unit weight of water", Show::unit_weight}, {"h", "water over the invert", Show::run_distance}}};
constexpr Formula outside_formula{"pressure.outside",
                                  {"po", "outside water", Show::gauge_pressure},
                                  "po = gw h",
                                  outside_inputs,
                                  "hydrostatics; head over the invert as in ASTM F1216 X1.1",
                                  "pressure"};

constexpr std::array<Symbol, 3> minimum_inputs{{{"pf", "pressure to fill the bore", Show::gauge_pressure},
                                                {"po", "outside water", Show::gauge_pressure},
                                                {"ps", "seating of the felt", Show::gauge_pressure}}};
constexpr Formula minimum_formula{"pressure.minimum",           {"pmin", "least pressure", Show::gauge_pressure},
                                  "pmin = pf + po + ps",        minimum_inputs,
                                  "common practice, no source", "pressure"};

constexpr std::array<Symbol, 4> set_inputs{{{"pmin", "least pressure", Show::gauge_pressure},
                                            {"pa", "atmosphere", Show::test_pressure},
                                            {"Tp", "pipe temperature", Show::temperature},
                                            {"dT", "air warmer than the pipe by", Show::temperature_step}}};
constexpr Formula shut_in_formula{"pressure.shut_in",
                                  {"pn", "pressure needed when the valve is shut", Show::gauge_pressure},
                                  "pn = (pmin + pa) (Tp + dT) / Tp - pa, T in kelvin",
                                  set_inputs,
                                  "gas law at fixed volume, absolute pressure",
                                  "pressure"};

constexpr std::array<Symbol, 2> shut_in_mark_inputs{
    {{"pn", "pressure needed when the valve is shut", Show::gauge_pressure},
     {"g", "gauge mark", Show::gauge_pressure}}};
constexpr Formula shut_in_mark_formula{"pressure.shut_in_mark",      {"pin", "shut in at", Show::gauge_pressure},
                                       "pin = ceil(pn / g) g",       shut_in_mark_inputs,
                                       "common practice, no source", "pressure"};

constexpr std::array<Symbol, 2> maximum_inputs{
    {{"pr", "rating marked on the bladder", Show::gauge_pressure}, {"ph", "host limit", Show::gauge_pressure}}};
constexpr Formula maximum_formula{"pressure.maximum",
                                  {"pmax", "never above", Show::gauge_pressure},
                                  "pmax = min(pr, ph), gauge, whatever the water outside",
                                  maximum_inputs,
                                  "common practice, no source",
                                  "pressure"};

constexpr std::array<Symbol, 1> rating_inputs{{{"pr", "rating marked on the bladder", Show::gauge_pressure}}};
constexpr Formula rating_formula{"pressure.maximum_rating",
                                 {"pmax", "never above", Show::gauge_pressure},
                                 "pmax = pr, gauge, whatever the water outside",
                                 rating_inputs,
                                 "common practice, no source",
                                 "pressure"};

constexpr std::array<Symbol, 4> cooling_inputs{{{"pset", "set pressure", Show::gauge_pressure},
                                                {"pa", "atmosphere", Show::test_pressure},
                                                {"Tp", "pipe temperature", Show::temperature},
                                                {"dT", "air warmer than the pipe by", Show::temperature_step}}};
constexpr Formula cooling_formula{"pressure.after_cooling",
                                  {"pc", "left when the air is cold", Show::gauge_pressure},
                                  "pc = (pset + pa) Tp / (Tp + dT) - pa, T in kelvin",
                                  cooling_inputs,
                                  "gas law at fixed volume, absolute pressure",
                                  "pressure"};

constexpr std::array<Symbol, 4> warming_inputs{{{"pset", "set pressure", Show::gauge_pressure},
                                                {"pa", "atmosphere", Show::test_pressure},
                                                {"Tp", "pipe temperature", Show::temperature},
                                                {"dw", "warming of the air", Show::temperature_step}}};
constexpr Formula warming_formula{"pressure.warmed",
                                  {"pw", "when the air warms", Show::gauge_pressure},
                                  "pw = (pset + pa) (Tp + dw) / Tp - pa, T in kelvin",
                                  warming_inputs,
                                  "gas law at fixed volume, absolute pressure",
                                  "pressure"};

constexpr std::array<Symbol, 3> relief_inputs{{{"pmax", "never above", Show::gauge_pressure},
                                               {"mr", "margin to the limit", Show::gauge_pressure},
                                               {"g", "gauge mark", Show::gauge_pressure}}};
constexpr Formula relief_formula{"pressure.relief",
                                 {"pv", "relief valve opens at", Show::gauge_pressure},
                                 "pv = floor((pmax - mr) / g) g",
                                 relief_inputs,
                                 "common practice, no source",
                                 "pressure"};

constexpr std::array<Symbol, 4> regulated_inputs{{{"pmin", "least pressure", Show::gauge_pressure},
                                                  {"g", "gauge mark", Show::gauge_pressure},
                                                  {"pv", "relief valve opens at", Show::gauge_pressure},
                                                  {"ms", "margin to the relief", Show::gauge_pressure}}};
constexpr Formula regulated_formula{"pressure.set",
                                    {"pset", "set pressure, kept by the regulator", Show::gauge_pressure},
                                    "pset = min(ceil(pmin / g) g, pv - ms)",
                                    regulated_inputs,
                                    "common practice, no source",
                                    "pressure"};

constexpr std::array<Symbol, 4> shut_set_inputs{{{"pn", "pressure needed when the valve is shut", Show::gauge_pressure},
                                                 {"g", "gauge mark", Show::gauge_pressure},
                                                 {"pv", "relief valve opens at", Show::gauge_pressure},
                                                 {"ms", "margin to the relief", Show::gauge_pressure}}};
constexpr Formula shut_set_formula{"pressure.set_shut_in",
                                   {"pset", "set pressure, shut in", Show::gauge_pressure},
                                   "pset = min(ceil(pn / g) g, pv - ms)",
                                   shut_set_inputs,
                                   "common practice, no source",
                                   "pressure"};

constexpr std::array<Symbol, 2> bench_pressure_inputs{
    {{"pset", "set pressure", Show::gauge_pressure}, {"pr", "rating marked on the bladder", Show::gauge_pressure}}};
constexpr Formula bench_pressure_formula{"bench.pressure",
                                         {"pb", "bench pressure", Show::gauge_pressure},
                                         "pb = min(pset, pr)",
                                         bench_pressure_inputs,
                                         "common practice, no source",
                                         "pressure"};
constexpr std::array<Symbol, 3> bench_share_inputs{{{"c", "yard's share of the rating", Show::percent},
                                                    {"pset", "set pressure", Show::gauge_pressure},
                                                    {"pr", "rating marked on the bladder", Show::gauge_pressure}}};
constexpr Formula bench_share_formula{"bench.pressure_by_rating",      {"pb", "bench pressure", Show::gauge_pressure},
                                      "pb = min(max(c pr, pset), pr)", bench_share_inputs,
                                      "common practice, no source",    "pressure"};

constexpr std::array<Symbol, 3> bench_inputs{{{"pb", "bench pressure", Show::gauge_pressure},
                                              {"pa", "atmosphere", Show::test_pressure},
                                              {"T", "air temperature", Show::temperature}}};
constexpr Formula per_kelvin_formula{
    "bench.per_kelvin", {"dk", "drop for one kelvin", Show::test_pressure}, "dk = (pb + pa) / T, for 1 K",
    bench_inputs,       "gas law at fixed volume, absolute pressure",       "pressure"};

constexpr std::array<Symbol, 5> warm_inputs{{{"da", "allowed drop at constant temperature", Show::test_pressure},
                                             {"pb", "bench pressure", Show::gauge_pressure},
                                             {"pa", "atmosphere", Show::test_pressure},
                                             {"T", "bench temperature", Show::temperature},
                                             {"dT", "air warmer than the bench by", Show::temperature_step}}};
constexpr Formula warm_formula{"bench.allowed_drop_warm",
                               {"dw", "allowed drop with warm air", Show::test_pressure},
                               "dw = da + (pb + pa) dT / (T + dT)",
                               warm_inputs,
                               "gas law at fixed volume, absolute pressure",
                               "pressure"};

void require_not_negative(Pressure p, const char* message) {
    if (!is_finite(p) || p < Pressure{}) throw RangeError(message);
}

void check(const PressureInput& input) {
    if (!is_finite(*input.bore) || !(*input.bore > Length{})) {
        throw RangeError("pressure: the bore must be more than zero");
    }
    if (!is_finite(*input.head) || *input.head < Length{}) {
        throw RangeError("pressure: the head of water must not be negative; give 0 m when there is none");
    }
    require_not_negative(*input.fill, "pressure: the filling pressure must not be negative");
    require_not_negative(*input.seating, "pressure: the seating pressure must not be negative");
    require_not_negative(*input.rated, "pressure: the rated pressure must not be negative");
    if (input.host_limit) require_not_negative(*input.host_limit, "pressure: the host limit must not be negative");
    if (!std::isfinite(input.pipe->in_kelvin()) || !(input.pipe->in_kelvin() > 0.0)) {
        throw RangeError("pressure: the pipe temperature is below absolute zero");
    }
    if (!is_finite(input.air_excess) || input.air_excess < TemperatureDifference{}) {
        throw RangeError("pressure: the compressor's air is never taken as colder than the pipe");
    }
    require_not_negative(input.relief_above_set, "pressure: the margin under the relief must not be negative");
    require_not_negative(input.limit_above_relief, "pressure: the margin over the relief must not be negative");
    if (!is_finite(input.warming) || input.warming < TemperatureDifference{}) {
        throw RangeError("pressure: the warming of the shut air must not be negative");
    }
}

// A hair of tolerance, so that 0.65 computed as 0.6500000001 does not become 0.70.
Pressure up_to_mark(Pressure p) { return std::ceil(p / gauge_mark - 1e-9) * gauge_mark; }
Pressure down_to_mark(Pressure p) { return std::floor(p / gauge_mark + 1e-9) * gauge_mark; }

/// The pressure would do while the air is warm.
bool fails_when_cold(const PressurePlan& plan, Pressure most) {
    return up_to_mark(plan.minimum) <= most + pressure_hair;
}

/// One sentence without figures: which limit stands in the way, of what, and what would help.
std::string too_much(const PressureInput& input, const PressurePlan& plan, Pressure most) {
    if (!fails_when_cold(plan, most)) {
        return plan.host_limited
                   ? "The least pressure with its margins to relief and limit is above what the cracked pipe may bear."
                   : "The least pressure with its margins to relief and limit is above the bladder's rating: a bladder "
                     "with a higher rating or a lower filling pressure would do.";
    }
    return fmt::format(
        "{} allows the least pressure but not what air must be shut in at to last once it cools: air {} "
        "would do.",
        plan.host_limited ? "The cracked pipe" : "The bladder's rating",
        input.air_excess > TemperatureDifference{}
            ? "kept up by a regulator (\"air\": \"regulated\"), or no warmer than the pipe when it is shut in,"
            : "kept up by a regulator (\"air\": \"regulated\")");
}

void choose_relief_and_set(const PressureInput& input, PressurePlan& plan, Working& working) {
    const Operand mark{gauge_mark, Origin::assumed};
    plan.relief = std::max(Pressure{}, down_to_mark(plan.maximum - input.limit_above_relief));
    working.add(relief_formula, {plan.maximum, Operand{input.limit_above_relief, Origin::yard}, mark}, plan.relief);
    const Pressure most = plan.relief - input.relief_above_set;

    const Pressure atmosphere = constant::standard_atmosphere;
    const Pressure needed =
        (plan.minimum + atmosphere) * ((input.pipe.value + input.air_excess).in_kelvin() / input.pipe->in_kelvin()) -
        atmosphere;
    working.add(
        shut_in_formula,
        {plan.minimum, Operand{atmosphere, Origin::assumed}, input.pipe, Operand{input.air_excess, Origin::yard}},
        needed);
    plan.shut_in = up_to_mark(needed);
    working.add(shut_in_mark_formula, {needed, mark}, plan.shut_in);
    plan.shut_in_holds = plan.shut_in <= most + pressure_hair;

    const bool regulated = input.air == job::AirSupply::regulated;
    const Pressure wanted = regulated ? up_to_mark(plan.minimum) : plan.shut_in;
    plan.holds = wanted <= most + pressure_hair;
    plan.set = std::max(Pressure{}, std::min(wanted, most));
    working.add(regulated ? regulated_formula : shut_set_formula,
                {regulated ? plan.minimum : needed, mark, plan.relief, Operand{input.relief_above_set, Origin::yard}},
                plan.set);
    plan.fails_when_cold = !plan.holds && fails_when_cold(plan, most);
    if (!plan.holds) plan.why_not = too_much(input, plan, most);
}

Length inflated_length(const Option& option, Length sleeve) {
    // A built packer's end fittings count as air: safe side, and its bladder's own length is not in the yard file.
    return option.to_build ? sleeve + 2.0 * option.packer.projection : overall_length(option, sleeve);
}

}  // namespace

bool weakens_the_wall(job::DefectKind kind) {
    switch (kind) {
        case job::DefectKind::fissure:
        case job::DefectKind::fracture_break:
        case job::DefectKind::collapse:
        case job::DefectKind::deformation:
        case job::DefectKind::surface_damage:
        case job::DefectKind::missing_wall:
            return true;
        case job::DefectKind::displaced_joint:
        case job::DefectKind::defective_connection:
        case job::DefectKind::intruding_connection:
        case job::DefectKind::root_intrusion:
        case job::DefectKind::attached_deposit:
        case job::DefectKind::infiltration:
        case job::DefectKind::exfiltration:
            return false;
    }
    return true;
}

bool host_cracked(const job::Run& run, Length from, Length to) {
    if (*run.condition == job::Condition::fully_deteriorated) return true;
    return std::any_of(run.defects.begin(), run.defects.end(), [&](const job::Defect& defect) {
        return weakens_the_wall(defect.kind) && defect.to >= from && defect.at <= to;
    });
}

Sourced<Length> head_over_invert(const job::Run& run) {
    if (!*run.water_table) return {Length{}, run.water_table.origin};
    return {std::max(Length{}, run.depth - **run.water_table), run.water_table.origin};
}

PressurePlan pressure_plan(const PressureInput& input, Working& working) {
    check(input);
    PressurePlan plan;
    plan.outside = constant::water_unit_weight * *input.head;
    working.add(outside_formula, {Operand{constant::water_unit_weight, Origin::looked_up}, input.head}, plan.outside);
    plan.minimum = *input.fill + plan.outside + *input.seating;
    working.add(minimum_formula, {input.fill, plan.outside, input.seating}, plan.minimum);
    plan.host_limited = input.host_limit && *input.host_limit < *input.rated;
    plan.maximum = plan.host_limited ? *input.host_limit : *input.rated;
    if (input.host_limit) {
        working.add(maximum_formula, {input.rated, Operand{*input.host_limit, Origin::yard}}, plan.maximum);
    } else {
        working.add(rating_formula, {input.rated}, plan.maximum);
    }
    choose_relief_and_set(input, plan, working);

    const Pressure atmosphere = constant::standard_atmosphere;
    const Temperature pipe = *input.pipe;
    Working unnamed = Working::off();
    plan.after_cooling = shut_in_reading(plan.set, pipe + input.air_excess, pipe, atmosphere, atmosphere, unnamed);
    plan.warmed = shut_in_reading(plan.set, pipe, pipe + input.warming, atmosphere, atmosphere, unnamed);
    const Operand assumed_atmosphere{atmosphere, Origin::assumed};
    working.add(cooling_formula, {plan.set, assumed_atmosphere, input.pipe, Operand{input.air_excess, Origin::yard}},
                plan.after_cooling);
    working.add(warming_formula, {plan.set, assumed_atmosphere, input.pipe, Operand{input.warming, Origin::yard}},
                plan.warmed);
    plan.relief_opens = plan.warmed > plan.relief;

    plan.air_volume = air_volume(input.bore, input.inflated_length, input.hose_bore, input.hose_length, working);
    const StoredEnergy stored = stored_energy(plan.air_volume, {plan.set, Origin::computed}, working);
    plan.stored = stored.energy;
    plan.distance = stored.distance;
    plan.on_fitting = end_thrust({plan.set, Origin::computed}, input.bore, working);
    plan.on_plug = plug_thrust(input.head, input.bore, working);
    return plan;
}

PressureInput pressure_input(const job::Run& run, const job::Yard& yard, const Option& option, Length sleeve,
                             bool host_cracked) {
    const job::Packer& packer = option.packer;
    PressureInput input;
    input.bore = {run.working_bore(), Origin::given};
    input.inflated_length = {inflated_length(option, sleeve), Origin::computed};
    input.hose_bore = {packer.hose_bore, Origin::yard};
    input.hose_length = {packer.hose_length, Origin::yard};
    input.head = head_over_invert(run);
    input.fill = {packer.fill_pressure, Origin::yard};
    input.seating = {yard.limits.seating, Origin::yard};
    input.rated = {packer.rated_pressure, Origin::yard};
    if (host_cracked && yard.limits.host_most > Pressure{}) input.host_limit = yard.limits.host_most;
    input.pipe = run.ground_temperature;
    input.air = yard.limits.air;
    input.air_excess = yard.limits.compressor_excess;
    input.warming = yard.limits.relief_warming;
    input.relief_above_set = yard.limits.relief_above_set;
    input.limit_above_relief = yard.limits.limit_above_relief;
    return input;
}

PressurePlan pressure_plan(const job::Run& run, const job::Yard& yard, const Option& option, Length sleeve,
                           bool host_cracked, Working& working) {
    return pressure_plan(pressure_input(run, yard, option, sleeve, host_cracked), working);
}

BenchTest bench_test(const job::Yard& yard, const job::Packer& packer, const PressurePlan& pressure, Working& working) {
    const job::Limits& limits = yard.limits;
    const Pressure atmosphere = constant::standard_atmosphere;
    BenchTest test;
    const double share = limits.bench_share_of_rated;
    const Operand rated{packer.rated_pressure, Origin::yard};
    if (share > 0.0) {
        test.pressure = std::min(std::max(share * packer.rated_pressure, pressure.set), packer.rated_pressure);
        working.add(bench_share_formula, {Operand{share, Origin::yard}, pressure.set, rated}, test.pressure);
    } else {
        test.pressure = std::min(pressure.set, packer.rated_pressure);
        working.add(bench_pressure_formula, {pressure.set, rated}, test.pressure);
    }
    test.hold = limits.bench_hold;
    test.allowed_drop = limits.bench_drop;
    test.drop_per_kelvin = (test.pressure + atmosphere) / bench_temperature.in_kelvin();
    working.add(per_kelvin_formula,
                {test.pressure, Operand{atmosphere, Origin::assumed}, Operand{bench_temperature, Origin::assumed}},
                test.drop_per_kelvin);
    const double excess = limits.compressor_excess.in(unit::K);
    test.allowed_drop_warm =
        test.allowed_drop + (test.pressure + atmosphere) * (excess / (bench_temperature.in_kelvin() + excess));
    working.add(warm_formula,
                {Operand{test.allowed_drop, Origin::yard}, test.pressure, Operand{atmosphere, Origin::assumed},
                 Operand{bench_temperature, Origin::assumed}, Operand{limits.compressor_excess, Origin::yard}},
                test.allowed_drop_warm);
    return test;
}

}  // namespace patchwright::packer
