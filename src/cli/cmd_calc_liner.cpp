// Calculations on the sleeve.
#include <algorithm>

#include "cmd_calc_table.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/liner/felt.hpp"
#include "patchwright/liner/thickness.hpp"
#include "patchwright/load/load.hpp"
#include "patchwright/resin/resin.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cli {
namespace {

// The ground over the pipe, the same words for thickness and load.
const CalcOption soil_weight{"soil-weight", "unit weight of the soil", "18.9 kN/m3", optional, "120 lb/ft3"};
const CalcOption soil_modulus{"soil-modulus", "modulus of soil reaction E'", "4.8 MPa", optional, "700 psi"};
const CalcOption traffic{"traffic", "what passes over the pipe: none, highway", "highway", optional, "none"};

Sourced<job::Traffic> traffic_of(Arguments& arguments) {
    using job::Traffic;
    return arguments.word_of<Traffic>("traffic", {Traffic::none, Traffic::highway, Traffic::railway, Traffic::aircraft},
                                      job::word);
}

load::SoilLoadInput soil_of(Arguments& arguments, const Sourced<Length>& bore, const Sourced<Length>& head,
                            const Sourced<Length>& cover) {
    load::SoilLoadInput soil;
    soil.outside_diameter = bore;
    soil.cover = cover;
    soil.water_over_crown = {std::max(Length{}, *head - *bore), head.origin};
    soil.soil_unit_weight = arguments.unit_weight("soil-weight");
    soil.soil_modulus = arguments.pressure("soil-modulus", Show::modulus);
    soil.traffic = traffic_of(arguments);
    return soil;
}

Sourced<Length> cover_or_assumed(Arguments& arguments, const Sourced<Length>& bore, const Sourced<Length>& head) {
    if (arguments.has("cover")) return arguments.length("cover", Show::run_distance);
    // Deep enough that the water asked about stays below the ground.
    const Length cover = std::max(1.2 * unit::m, *head - *bore);
    arguments.note("cover", "ground over the crown", Show::run_distance, cover.si());
    return {cover, Origin::assumed};
}

/// A check that does not apply needs nothing: zero for programs, words for people.
void put_check(sheet::CalcResult& result, const liner::ThicknessDesign& design, liner::Check check,
               std::string_view label) {
    const liner::CheckResult& found = design.checks[static_cast<std::size_t>(check)];
    put_result(result, liner::word(check), label, Show::thin, found.needed);
    if (found.applies) return;
    result.results.back().shown = "does not apply";
    const std::string reason = "Does not apply: " + std::string{found.why_not} + ".";
    if (result.remarks.empty() || result.remarks.back() != reason) result.remarks.push_back(reason);
}

void run_thickness(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    liner::ThicknessInput input;
    input.bore = arguments.length("bore", Show::tape);
    input.head_over_invert = arguments.length("head", Show::run_distance);
    input.ovality = arguments.share("ovality");
    input.wall.modulus = arguments.pressure("modulus", Show::modulus);
    using job::Condition;
    input.condition = *arguments.word_of<Condition>(
        "condition", {Condition::partially_deteriorated, Condition::fully_deteriorated}, job::word);
    input.wall.long_term_share = arguments.share("long-term");
    input.wall.flexural_strength = arguments.pressure("strength", Show::modulus);
    input.wall.strength_is_long_term = true;
    input.wall.poisson = arguments.number("poisson");
    input.enhancement = arguments.number("enhancement");
    input.safety = arguments.number("safety");
    input.least = arguments.length("least", Show::thickness);
    if (input.condition == Condition::fully_deteriorated) {
        const Sourced<Length> cover = cover_or_assumed(arguments, input.bore, input.head_over_invert);
        input.soil = soil_of(arguments, input.bore, input.head_over_invert, cover);
    }
    const liner::ThicknessDesign design = liner::design_thickness(input, result.working);
    if (design.outside_method) throw RangeError("calc thickness: " + *design.outside_method);

    put_check(result, design, liner::Check::water_buckling, "water buckling, X1.1");
    put_check(result, design, liner::Check::ovality_bending, "ovality bending, X1.2");
    put_check(result, design, liner::Check::soil_buckling, "soil buckling, X1.3");
    put_check(result, design, liner::Check::stiffness, "stiffness, X1.4");
    put_result(result, "design", "design thickness", Show::thin, design.design);
    put_text(result, "governing", "governing", liner::word(design.governing));
    put_result(result, "glock", "second opinion, Glock", Show::thin, design.glock);
    if (design.glock == Length{}) result.results.back().shown = "does not apply";
    for (const std::string_view note : design.notes) result.remarks.emplace_back(note);
}

void run_load(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    const Sourced<Length> bore = arguments.length("bore", Show::tape);
    const Sourced<Length> cover = arguments.length("cover", Show::run_distance);
    const Sourced<Length> head = arguments.length("head", Show::run_distance);
    const load::SoilLoadInput input = soil_of(arguments, bore, head, cover);
    const load::SoilLoad total = load::soil_load(input, result.working);
    if (total.outside_method) throw RangeError("calc load: " + *total.outside_method);
    put_result(result, "water", "water over the crown", Show::soil_pressure, total.water);
    put_result(result, "soil", "soil, prism over the liner", Show::soil_pressure, total.soil);
    put_result(result, "traffic", "traffic", Show::soil_pressure, total.traffic);
    put_result(result, "total", "total on the liner, qt", Show::soil_pressure, total.total);
    put_result(result, "buoyancy", "water buoyancy factor Rw", Show::ratio, total.buoyancy);
    put_result(result, "elastic-support", "elastic support B'", Show::ratio, total.elastic_support);

    const Sourced<Length> ditch = arguments.length("ditch-width", Show::run_distance);
    const Sourced<double> friction = arguments.number("k-mu");
    const load::LineLoad host = load::marston_ditch_load(*input.soil_unit_weight, *cover, *ditch, *friction);
    put_result(result, "host-ditch", "on a rigid host in a ditch", Show::soil_pressure, host / *bore);
    result.remarks.emplace_back(
        "The last figure is Marston's load on the host pipe, for information: it is never the liner's.");
}

Sourced<std::size_t> felt_of(Arguments& arguments, const job::Yard& yard) {
    if (yard.felts.empty()) throw InputError("calc: the yard file has no felt");
    std::vector<std::string> ids;
    for (const job::Felt& felt : yard.felts) ids.push_back(felt.id);
    return arguments.choice("felt", ids, 0);
}

liner::CutSizes cut_of(Arguments& arguments, const job::Yard& yard, std::size_t place, liner::FeltChoice& choice,
                       Working& working) {
    const Sourced<Length> bore = arguments.length("bore", Show::tape);
    const Sourced<Length> length = arguments.length("length", Show::run_distance);
    choice.felt = static_cast<int>(place);
    choice.layers = *arguments.whole("layers", 1, 20);
    choice.installed = choice.layers * yard.felts[place].thickness;
    return liner::cut_sizes(yard.felts[place], choice, *bore, *length, yard.limits, working);
}

void run_felt(Arguments& arguments, const YardSource& source, sheet::CalcResult& result) {
    const job::Yard& yard = source();
    const Sourced<std::size_t> place = felt_of(arguments, yard);
    liner::FeltChoice choice;
    const liner::CutSizes cut = cut_of(arguments, yard, *place, choice, result.working);
    put_result(result, "installed-thickness", "installed thickness", Show::thickness, choice.installed);
    put_result(result, "cut-length", "cut length", Show::tape, cut.length);
    put_result(result, "cut-width", "cut width", Show::tape, cut.width);
    put_result(result, "seam-overlap", "seam overlap in it", Show::tape, cut.seam_overlap);
    put_result(result, "felt-area", "felt, all layers", Show::area, cut.felt_area);
    result.remarks.emplace_back("The length is that of the sleeve as installed: defect, both overlaps and tolerance.");
}

void run_resin(Arguments& arguments, const YardSource& source, sheet::CalcResult& result) {
    const job::Yard& yard = source();
    if (yard.resins.empty()) throw InputError("calc: the yard file has no resin");
    std::vector<std::string> ids;
    for (const job::Resin& resin : yard.resins) ids.push_back(resin.id);
    const Sourced<std::size_t> resin = arguments.choice("resin", ids, 0);
    const Sourced<std::size_t> place = felt_of(arguments, yard);
    liner::FeltChoice choice;
    const liner::CutSizes cut = cut_of(arguments, yard, *place, choice, result.working);
    const resin::Need need =
        resin::need(yard.resins[*resin], yard.felts[*place], choice.layers, cut.felt_area, yard.limits, result.working);
    put_result(result, "total", "resin to mix", Show::scale_mass, need.total);
    put_result(result, "part-a", "part A", Show::scale_mass, need.part_a);
    put_result(result, "part-b", "part B", Show::scale_mass, need.part_b);
    put_result(result, "volume-a", "part A by volume", Show::millilitres, need.volume_a);
    put_result(result, "volume-b", "part B by volume", Show::millilitres, need.volume_b);
    put_result(result, "roller-gap", "roller gap", Show::thickness, need.roller_gap);
    put_result(result, "container", "mixing pot, at least", Show::litres, need.container);
}

}  // namespace

std::vector<Calculation> liner_calculations() {
    const CalcOption bore{"bore", "bore of the pipe", "100 mm"};
    const CalcOption sleeve{"length", "length of the sleeve as installed", "0.8 m"};
    const CalcOption felt{"felt", "felt of the yard, by its id; else its first", "sheet-3", optional};
    const CalcOption layers{"layers", "layers of felt", "1", optional, "1"};
    return {
        {"thickness",
         "Thickness of the cured sleeve by ASTM F1216 Appendix X1",
         R"(--bore "100 mm" --head "1 m" --ovality "2 %" --modulus "1724 MPa" --condition "partially deteriorated")",
         {bore,
          {"head", "ground water over the invert", "1 m"},
          {"ovality", "ovality q", "2 %"},
          {"modulus", "short-term flexural modulus of the cured sleeve", "1724 MPa"},
          {"condition", "condition of the pipe: partially deteriorated, fully deteriorated", "partially deteriorated"},
          {"long-term", "long-term share of the modulus", "50 %", optional, "50 %"},
          {"strength", "long-term flexural strength sL", "31 MPa", optional, "31 MPa"},
          {"poisson", "Poisson's ratio", "0.3", optional, "0.3"},
          {"enhancement", "enhancement factor K", "7", optional, "7"},
          {"safety", "factor of safety N", "2", optional, "2"},
          {"least", "least thickness allowed", "3 mm", optional, "0 mm"},
          {"cover", "ground over the crown", "1.2 m", optional},
          soil_weight,
          soil_modulus,
          traffic},
         run_thickness},
        {"load",
         "Load on a liner whose pipe no longer carries: water, soil, wheels",
         R"(--bore "150 mm" --cover "1.5 m" --head "1 m" --traffic highway)",
         {bore,
          {"cover", "ground over the crown", "1.5 m"},
          {"head", "ground water over the invert", "1 m", optional, "0 m"},
          soil_weight,
          soil_modulus,
          traffic,
          {"ditch-width", "width of the ditch at the crown", "0.6 m", optional, "0.6 m"},
          {"k-mu", "friction in the ditch, K mu'", "0.130", optional, "0.130"}},
         run_load},
        {"felt",
         "Cut sizes of the felt for a sleeve",
         R"(--bore "100 mm" --length "0.8 m")",
         {felt, bore, sleeve, layers},
         run_felt},
        {"resin",
         "Resin for a sleeve: weights of both parts and roller gap",
         R"(--bore "100 mm" --length "0.8 m" --resin standard)",
         {{"resin", "resin of the yard, by its id; else its first", "standard", optional}, felt, bore, sleeve, layers},
         run_resin},
    };
}

}  // namespace patchwright::cli
