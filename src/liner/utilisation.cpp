#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "checked.hpp"
#include "patchwright/liner/f1216.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::liner {
namespace {

constexpr std::array carried_symbols{Symbol{"p", "load", Show::soil_pressure},
                                     Symbol{"pR", "what the installed wall carries", Show::soil_pressure},
                                     Symbol{"ti", "installed thickness", Show::thin}};
constexpr Formula share_formula(std::string_view id, Symbol result) {
    return {id,     result, "u = p / pR(ti), the check's equation solved for its load", carried_symbols, "derived here",
            "liner"};
}
constexpr std::array<Formula, 4> share_formulas{
    share_formula("liner.use.water_buckling", {"u1", "use of the wall, water buckling", Show::percent}),
    share_formula("liner.use.ovality_bending", {"u2", "use of the wall, ovality bending", Show::percent}),
    share_formula("liner.use.soil_buckling", {"u3", "use of the wall, soil buckling", Show::percent}),
    share_formula("liner.use.stiffness", {"u4", "use of the wall, stiffness", Show::percent}),
};
constexpr std::array min_symbols{Symbol{"t0", "least thickness", Show::thin},
                                 Symbol{"ti", "installed thickness", Show::thin}};
constexpr Formula min_formula{
    "liner.use.least_thickness",
    {"u0", "use of the wall, least thickness", Show::percent},
    "u0 = t0 / ti",
    min_symbols,
    "derived here",
    "liner",
};

struct Share {
    Pressure load{}, carried{};
    double value() const { return load / carried; }
};

Share share(Check check, const Prepared& p, Length t) {
    switch (check) {
        case Check::water_buckling:
            return {p.water, f1216::water_carried(p.ring, t)};
        case Check::ovality_bending:
            return {p.water, f1216::bending_carried(p.ring, t)};
        case Check::soil_buckling:
            return {p.ground.load, f1216::soil_carried(p.ring, p.ground, t)};
        case Check::stiffness:
            return {f1216::min_stiffness, f1216::stiffness_of(p.ring, t)};
        case Check::least_thickness:
            break;
    }
    return {};
}

LayerCheck layer_check(const ThicknessInput& input, const ThicknessDesign& design, Length layer, int layers) {
    LayerCheck check;
    check.layers = layers;
    check.installed = static_cast<double>(layers) * layer;
    check.utilisation = utilisation(input, check.installed);
    check.greatest = *std::max_element(check.utilisation.begin(), check.utilisation.end());
    check.adequate = is_adequate(design, check.installed);
    return check;
}

}  // namespace

std::array<double, 5> utilisation(const ThicknessInput& input, Length installed, Working& working) {
    Working quiet = Working::off();
    const Prepared prepared = prepare(input, quiet);
    if (!(installed.si() > 0.0) || !(2.0 * installed < *input.bore))
        throw RangeError(fmt::format("utilisation: a wall must be above zero and leave a bore, got {} mm in {} mm",
                                     installed.in(unit::mm), input.bore->in(unit::mm)));
    const auto reasons = why_not(input, prepared);
    std::array<double, 5> shares{};
    for (std::size_t i = 0; i < share_formulas.size(); ++i) {
        if (!reasons[i].empty()) continue;
        const Share s = share(static_cast<Check>(i), prepared, installed);
        shares[i] = s.value();
        // A ring too thick for bending to count carries without limit: nothing to write down.
        if (is_finite(s.carried)) working.add(share_formulas[i], {s.load, s.carried, installed}, shares[i]);
    }
    const std::size_t last = place(Check::least_thickness);
    if (reasons[last].empty()) {
        shares[last] = *input.least / installed;
        working.add(min_formula, {input.least, installed}, shares[last]);
    }
    return shares;
}

std::array<double, 5> utilisation(const ThicknessInput& input, Length installed) {
    Working quiet = Working::off();
    return utilisation(input, installed, quiet);
}

LayerChange layer_change(const ThicknessInput& input, Length layer, int layers, int most_layers) {
    Working quiet = Working::off();
    const ThicknessDesign design = design_thickness(input, quiet);
    LayerChange change;
    if (layers > 1) change.less = layer_check(input, design, layer, layers - 1);
    const Length thicker = static_cast<double>(layers + 1) * layer;
    if (layers < most_layers && 2.0 * thicker < *input.bore)
        change.more = layer_check(input, design, layer, layers + 1);
    return change;
}

}  // namespace patchwright::liner
