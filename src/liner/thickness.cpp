#include "patchwright/liner/thickness.hpp"

#include <array>
#include <cmath>

#include <fmt/core.h>

#include "checked.hpp"
#include "patchwright/liner/f1216.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::liner {
namespace {

constexpr std::array<std::string_view, 5> check_words{"water buckling", "ovality bending", "soil buckling", "stiffness",
                                                      "least thickness"};

constexpr std::string_view no_water = "no water stands over the invert outside";
constexpr std::string_view round_pipe = "the pipe is round: X1.2 is void at zero ovality";
constexpr std::string_view host_carries = "the host still carries soil and traffic: partially deteriorated";
constexpr std::string_view no_load = "nothing lies on the sleeve";
constexpr std::string_view no_least = "no least thickness is set";

constexpr std::string_view note_small_bore =
    "bore below DN100 (4 in): below the published scope of ASTM F1216 and F2599; the formulas are used all the same";
constexpr std::string_view note_missing_wall =
    "wall is missing: designed as fully deteriorated (X1.3, X1.4); fill the void behind it first";
constexpr std::string_view note_nothing =
    "no check asks for a thickness: state a least thickness (3 mm is common practice)";

constexpr std::array missing_symbols{Symbol{"D", "bore of the host", Show::thickness}};
constexpr Formula missing_formula{
    "liner.missing_wall",
    {"D", "bore over which the wall counts as gone", Show::thickness},
    "wall missing: fully deteriorated, X1.3 and X1.4 with the void filled; X1.5 to X1.7 hold inside pressure only",
    missing_symbols,
    "ASTM F1216-09, Appendix X1, eq. X1.3 to X1.7",
    "liner",
};
constexpr std::array design_symbols{Symbol{"t1", "water buckling", Show::thin},
                                    Symbol{"t2", "ovality bending", Show::thin},
                                    Symbol{"t3", "soil buckling", Show::thin}, Symbol{"t4", "stiffness", Show::thin},
                                    Symbol{"t0", "least thickness", Show::thin}};
constexpr Formula design_formula{
    "liner.design",
    {"t", "design thickness", Show::thin},
    "t = greatest of t1, t2, t3, t4, t0 (zero: check does not apply)",
    design_symbols,
    "ASTM F1216-09, Appendix X1",
    "liner",
};

bool positive(double v) { return std::isfinite(v) && v > 0.0; }
bool not_negative(double v) { return std::isfinite(v) && v >= 0.0; }

void require(bool good, const char* what, const char* right, double got) {
    if (!good) throw RangeError(fmt::format("thickness: {} must be {}, got {}", what, right, got));
}

void require_valid(const ThicknessInput& in) {
    require(positive(in.bore->si()), "the bore", "above zero", in.bore->in(unit::mm));
    require(*in.ovality >= 0.0 && *in.ovality < 1.0, "the ovality", "a share from 0 to below 1", *in.ovality);
    require(not_negative(in.head_over_invert->si()), "the water over the invert", "zero or more",
            in.head_over_invert->in(unit::m));
    require(positive(in.wall.modulus->si()), "the modulus", "above zero", in.wall.modulus->in(unit::MPa));
    require(positive(in.wall.flexural_strength->si()), "the flexural strength", "above zero",
            in.wall.flexural_strength->in(unit::MPa));
    require(positive(*in.wall.long_term_share) && *in.wall.long_term_share <= 1.0, "the long-term share",
            "above 0 and at most 1", *in.wall.long_term_share);
    require(not_negative(*in.wall.poisson) && *in.wall.poisson <= 0.5, "Poisson's ratio", "from 0 to 0.5",
            *in.wall.poisson);
    require(positive(*in.enhancement), "the enhancement K", "above zero", *in.enhancement);
    require(positive(*in.safety), "the safety factor N", "above zero", *in.safety);
    require(not_negative(in.least->si()), "the least thickness", "zero or more", in.least->in(unit::mm));
    if (in.depth_to_invert)
        require(not_negative(in.depth_to_invert->si()), "the depth", "zero or more", in.depth_to_invert->in(unit::m));
    if (!in.fully_deteriorated()) return;
    if (!in.soil)
        throw InputError(
            "thickness: a fully deteriorated pipe needs the ground on it: cover, water over the crown, the soil's "
            "weight and modulus, traffic");
    require(not_negative(in.soil->soil_modulus->si()), "the soil modulus E's", "zero or more",
            in.soil->soil_modulus->in(unit::MPa));
}

std::optional<std::string> outside_method(const ThicknessInput& in, const Prepared& prepared, Length design) {
    if (*in.ovality > limit::max_ovality)
        return fmt::format(
            "ovality of {:.1f} %: the method holds to 10 %; dig and replace, or have an engineer design it",
            100.0 * *in.ovality);
    if (prepared.soil && prepared.soil->outside_method) return prepared.soil->outside_method;
    if (prepared.soil && prepared.soil->total.si() > 0.0 && in.soil->soil_modulus->si() == 0.0)
        return std::string(
            "soil without a modulus (soft or plastic ground gives a sleeve no support): dig and replace, or have an "
            "engineer design it");
    if (design.si() <= 0.0) return std::nullopt;
    const double ratio = *in.bore / design;
    if (ratio < limit::min_dimension_ratio)
        return fmt::format(
            "the wall asked for, {:.1f} mm, is more than a tenth of the bore (D/t {:.1f}): too thick for the thin-ring "
            "formulas and for the flow; use a stiffer resin or glass mat, lower the water, or dig and replace",
            design.in(unit::mm), ratio);
    if (ratio > limit::max_dimension_ratio)
        return fmt::format(
            "the wall asked for, {:.2f} mm, is thinner than 1/200 of the bore: so thin a wall is ruled by how it is "
            "laid, not by the formulas; state a least thickness (3 mm is common practice)",
            design.in(unit::mm));
    return std::nullopt;
}

Length needed(Check check, const ThicknessInput& in, const Prepared& p, Working& working) {
    switch (check) {
        case Check::water_buckling:
            return f1216::water_buckling(p.ring, p.water, working);
        case Check::ovality_bending:
            return f1216::ovality_bending(p.ring, p.water, working);
        case Check::soil_buckling:
            return f1216::soil_buckling(p.ring, p.ground, working);
        case Check::stiffness:
            return f1216::stiffness(p.ring, working);
        case Check::least_thickness:
            return *in.least;
    }
    return Length{};
}

}  // namespace

std::string_view word(Check c) { return check_words.at(place(c)); }

Prepared prepare(const ThicknessInput& input, Working& working) {
    require_valid(input);
    Prepared p;
    if (input.wall_missing) working.add(missing_formula, {input.bore}, *input.bore);
    p.ring = f1216::ring(input, working);
    p.water = f1216::water_at_invert(input.head_over_invert, working);
    if (!input.fully_deteriorated()) return p;
    p.soil = load::soil_load(*input.soil, working);
    p.ground = {p.soil->total, p.soil->buoyancy, p.soil->elastic_support, *input.soil->soil_modulus,
                input.soil->soil_modulus.origin};
    return p;
}

std::array<std::string_view, 5> why_not(const ThicknessInput& input, const Prepared& p) {
    std::array<std::string_view, 5> reasons{};
    const bool wet = p.water.si() > 0.0;
    if (!wet) reasons[place(Check::water_buckling)] = reasons[place(Check::ovality_bending)] = no_water;
    if (wet && *input.ovality == 0.0) reasons[place(Check::ovality_bending)] = round_pipe;
    if (!p.soil) {
        reasons[place(Check::soil_buckling)] = reasons[place(Check::stiffness)] = host_carries;
    } else if (p.soil->total.si() <= 0.0) {
        reasons[place(Check::soil_buckling)] = no_load;
    } else if (p.ground.soil_modulus.si() <= 0.0) {
        reasons[place(Check::soil_buckling)] = "the soil has no modulus: outside the method";
    }
    if (input.least->si() <= 0.0) reasons[place(Check::least_thickness)] = no_least;
    return reasons;
}

ThicknessDesign design_thickness(const ThicknessInput& input, Working& working) {
    const Prepared prepared = prepare(input, working);
    const auto reasons = why_not(input, prepared);
    ThicknessDesign design;
    for (std::size_t i = 0; i < design.checks.size(); ++i) {
        CheckResult& result = design.checks[i];
        result.check = static_cast<Check>(i);
        result.why_not = reasons[i];
        result.applies = reasons[i].empty();
        if (!result.applies) continue;
        result.needed = needed(result.check, input, prepared, working);
        if (result.needed > design.design) {
            design.design = result.needed;
            design.governing = result.check;
        }
    }
    const auto& c = design.checks;
    working.add(design_formula, {c[0].needed, c[1].needed, c[2].needed, c[3].needed, {c[4].needed, input.least.origin}},
                design.design);
    if (prepared.water.si() > 0.0) design.glock = f1216::glock_thickness(prepared.ring, prepared.water, working);
    design.outside_method = outside_method(input, prepared, design.design);
    if (input.wall_missing) design.notes.push_back(note_missing_wall);
    if (*input.bore < limit::published_bore) design.notes.push_back(note_small_bore);
    if (design.design.si() <= 0.0) design.notes.push_back(note_nothing);
    design.soil = prepared.soil;
    return design;
}

bool is_adequate(const ThicknessDesign& design, Length installed) {
    constexpr double rounding = 1e-12;  // 3.0 mm asked for and 2 x 1.5 mm laid are the same
    return !design.outside_method && design.design <= (1.0 + rounding) * installed;
}

}  // namespace patchwright::liner
