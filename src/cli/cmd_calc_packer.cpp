// Calculations on the packer and its air.
#include <fmt/format.h>

#include "cmd_calc_table.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/packer/air.hpp"
#include "patchwright/packer/passage.hpp"
#include "patchwright/packer/pressure.hpp"

namespace patchwright::cli {
namespace {

void run_pressure(Arguments& arguments, const YardSource& source, sheet::CalcResult& result) {
    const job::Limits& limits = source().limits;
    packer::PressureInput input;
    input.bore = arguments.length("bore", Show::tape);
    input.head = arguments.length("head", Show::run_distance);
    input.inflated_length = arguments.length("length", Show::run_distance);
    input.fill = arguments.pressure("fill", Show::gauge_pressure);
    input.seating = arguments.pressure("seating", Show::gauge_pressure, limits.seating);
    input.rated = arguments.pressure("rated", Show::gauge_pressure);
    if (arguments.has("host-limit")) input.host_limit = *arguments.pressure("host-limit", Show::gauge_pressure);
    input.pipe = arguments.temperature("pipe-temperature");
    // Warm air matters to its pressure only when it is shut in.
    input.air = arguments.has("air-excess") ? job::AirSupply::shut_in : limits.air;
    input.relief_above_set = limits.relief_above_set;
    input.limit_above_relief = limits.limit_above_relief;
    input.air_excess = *arguments.temperature_step("air-excess", limits.compressor_excess);
    input.warming = *arguments.temperature_step("warming", limits.relief_warming);
    input.hose_bore = arguments.length("hose-bore", Show::tape, limits.air_hose_bore);
    input.hose_length = arguments.length("hose-length", Show::run_distance, limits.air_hose_length);

    const packer::PressurePlan plan = packer::pressure_plan(input, result.working);
    put_result(result, "outside", "outside water at the invert", Show::gauge_pressure, plan.outside);
    put_result(result, "minimum", "least pressure", Show::gauge_pressure, plan.minimum);
    const bool regulated = input.air == job::AirSupply::regulated;
    put_result(result, "set", regulated ? "set the regulator at" : "shut the valve at", Show::gauge_pressure, plan.set);
    put_result(result, "shut-in", "supply failing: shut in at", Show::gauge_pressure, plan.shut_in);
    put_result(result, "after-cooling", "left of the set pressure when shut in and cold", Show::gauge_pressure,
               plan.after_cooling);
    put_result(result, "maximum", "never above", Show::gauge_pressure, plan.maximum);
    put_result(result, "relief", "relief valve at", Show::gauge_pressure, plan.relief);
    put_result(result, "warmed", "when the air warms", Show::gauge_pressure, plan.warmed);
    put_result(result, "stored", "stored energy, hose included", Show::energy, plan.stored);
    put_result(result, "on-fitting", "pull on an end fitting", Show::force, plan.on_fitting);
    put_result(result, "on-plug", "push of the water on a plug", Show::force, plan.on_plug);
    put_text(result, "verdict", "window", plan.holds ? "holds" : "does not hold");
    if (!plan.holds) result.remarks.push_back(plan.why_not);
    if (plan.relief_opens) {
        result.remarks.emplace_back("When the air warms the relief valve opens: read the gauge again afterwards.");
    }
}

void run_bend(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    const Sourced<Length> bore = arguments.length("bore", Show::tape);
    const Sourced<Length> radius = arguments.length("radius", Show::tape);
    const Sourced<Length> diameter = arguments.length("diameter", Show::tape);
    const Sourced<Length> felt = arguments.length("felt", Show::thickness);
    std::optional<Sourced<Angle>> angle;
    if (arguments.has("angle")) angle = arguments.angle("angle");
    const bool bare = *felt == Length{};
    const Sourced<Length> across{*diameter + 2.0 * *felt, bare ? diameter.origin : Origin::computed};
    put_result(result, "longest", "longest stiff length", Show::thin,
               packer::longest_through_bend(bore, radius, across, angle, result.working));
    put_result(result, "arc", "bend that it needs in full", Show::angle, packer::arc_needed(*bore, *radius, *across));
    if (!angle) {
        result.remarks.emplace_back(
            "Taken as a bend of at least that angle; a shorter one lets a longer part through, see --angle.");
    }
}

void run_leak(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    const Sourced<Pressure> shut = arguments.pressure("pressure", Show::test_pressure);
    const Sourced<Temperature> before = arguments.temperature("before");
    const Sourced<Temperature> after = arguments.temperature("after");
    const Sourced<Pressure> barometer = arguments.pressure("barometer", Show::test_pressure);
    Sourced<Pressure> later = barometer;
    if (arguments.has("barometer-after")) later = arguments.pressure("barometer-after", Show::test_pressure);

    const Pressure expected = packer::shut_in_reading({shut, before, after, barometer, later}, result.working);
    put_result(result, "expected", "expected reading", Show::test_pressure, expected);
    put_result(result, "expected", "the same on a gauge", Show::gauge_pressure, expected);
    if (!arguments.has("observed")) return;
    const Sourced<Pressure> observed = arguments.pressure("observed", Show::test_pressure);
    const Sourced<Pressure> allowed = arguments.pressure("allowed", Show::test_pressure);
    const packer::LeakVerdict verdict = packer::leak_verdict(expected, observed, allowed, result.working);
    put_result(result, "lost", "lost by leaking", Show::test_pressure, verdict.lost);
    put_text(result, "verdict", "verdict", verdict.tight ? "tight" : "leaks");
    if (verdict.lost < -*allowed) {
        result.remarks.emplace_back(
            "It reads well above what was expected: the air is warmer than said. Wait and read again.");
    }
}

void run_energy(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    const Sourced<Length> bore = arguments.length("bore", Show::tape);
    const Sourced<Length> length = arguments.length("length", Show::run_distance);
    const Sourced<Pressure> pressure = arguments.pressure("pressure", Show::gauge_pressure);
    const Sourced<Length> hose_bore = arguments.length("hose-bore", Show::tape);
    const Sourced<Length> hose_length = arguments.length("hose-length", Show::run_distance);
    arguments.note("atmosphere", "atmosphere", Show::test_pressure, constant::standard_atmosphere.si());
    const Volume volume = packer::air_volume(bore, length, hose_bore, hose_length, result.working);
    const packer::StoredEnergy stored = packer::stored_energy(volume, pressure, result.working);
    put_result(result, "volume", "air", Show::litres, volume);
    put_result(result, "stored", "stored energy", Show::energy, stored.energy);
    put_result(result, "tnt", "TNT equivalent", Show::big_mass, stored.tnt);
    result.results.back().shown = fmt::format("{:.3g} g", stored.tnt.in(unit::g));  // kilograms round to nothing here
    put_result(result, "distance", "distance R", Show::run_distance, stored.distance);
    put_result(result, "table-distance", "rule for test vessels", Show::run_distance, stored.table_distance);
    result.remarks.emplace_back(
        "The rule for test vessels never asks less than 30 m. No distance helps in line with the pipe: stand clear of "
        "its mouth.");
}

void run_thrust(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    if (!arguments.has("pressure") && !arguments.has("head")) {
        throw WrongUse{{R"(calc thrust: give --pressure, for example --pressure "1 bar", or --head, for example )"
                        R"(--head "3 m", or both)"}};
    }
    const Sourced<Length> bore = arguments.length("bore", Show::tape);
    if (arguments.has("pressure")) {
        const Sourced<Pressure> pressure = arguments.pressure("pressure", Show::gauge_pressure);
        put_result(result, "on-fitting", "pull on an end fitting", Show::force,
                   packer::end_thrust(pressure, bore, result.working));
    }
    if (arguments.has("head")) {
        const Sourced<Length> head = arguments.length("head", Show::run_distance);
        put_result(result, "on-plug", "push of the water on a plug", Show::force,
                   packer::plug_thrust(head, bore, result.working));
    }
}

}  // namespace

std::vector<Calculation> packer_calculations() {
    const CalcOption bore{"bore", "bore of the pipe", "100 mm"};
    const CalcOption hose_bore{"hose-bore", "bore of the air line", "8 mm", optional, "0 mm"};
    const CalcOption hose_length{"hose-length", "length of the air line", "20 m", optional, "0 m"};
    return {
        {"pressure",
         "Pressure window of a packer",
         R"(--bore "100 mm" --head "0.5 m" --rated "1 bar" --pipe-temperature "9 C")",
         {bore,
          {"head", "ground water over the invert", "0.5 m"},
          {"length", "inflated length", "1.3 m", optional, "1.3 m"},
          {"fill", "pressure that fills the bore in open air", "0.2 bar", optional, "0.2 bar"},
          {"seating", "pressure that presses the felt on", "0.2 bar", optional},
          {"rated", "rating marked on the bladder", "1 bar", optional, "1 bar"},
          {"host-limit", "limit for a cracked pipe", "0.6 bar", optional},
          {"pipe-temperature", "temperature of the pipe", "9 C", optional, "10 C"},
          {"air-excess", "air is shut in, warmer than the pipe by", "30 K", optional},
          {"warming", "warming that the air may see", "20 K", optional},
          {"hose-bore", "bore of the air line", "8 mm", optional},
          {"hose-length", "length of the air line", "20 m", optional}},
         run_pressure},
        {"bend",
         "Longest stiff length that turns through a bend",
         R"(--bore "100 mm" --radius "150 mm" --diameter "70 mm")",
         {bore,
          {"radius", "centre-line radius of the bend", "150 mm"},
          {"diameter", "diameter of the stiff part", "70 mm"},
          {"angle", "angle of the bend", "45 deg", optional},
          {"felt", "wet felt over the stiff part, added on both sides", "3 mm", optional, "0 mm"}},
         run_bend},
        {"leak",
         "Reading of a shut packer after a temperature change; does it leak?",
         R"(--pressure "0.65 bar" --before "15 C" --after "10 C" --observed "0.62 bar")",
         {{"pressure", "gauge reading when shut", "0.65 bar"},
          {"before", "air temperature when shut", "15 C"},
          {"after", "air temperature now", "10 C"},
          {"observed", "gauge reading now", "0.62 bar", optional},
          {"allowed", "drop that still counts as tight", "20 mbar", optional, "20 mbar"},
          {"barometer", "atmosphere when shut", "1013.25 mbar", optional, "1013.25 mbar"},
          {"barometer-after", "atmosphere now, when it changed", "1005 mbar", optional}},
         run_leak},
        {"energy",
         "Energy of the air in a packer and its line",
         R"(--bore "100 mm" --length "1.3 m" --pressure "0.8 bar")",
         {bore,
          {"length", "inflated length", "1.3 m"},
          {"pressure", "gauge pressure", "0.8 bar"},
          hose_bore,
          hose_length},
         run_energy},
        {"thrust",
         "Pull on an end fitting, push of water on a plug",
         R"(--bore "100 mm" --pressure "1 bar" --head "3 m")",
         {bore,
          {"pressure", "gauge pressure in the packer", "1 bar", optional},
          {"head", "water standing against a plug", "3 m", optional}},
         run_thrust},
    };
}

}  // namespace patchwright::cli
