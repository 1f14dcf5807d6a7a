#include "data_check.hpp"

#include <fmt/core.h>

#include <cmath>

#include "patchwright/units/error.hpp"

namespace patchwright::cure::detail {
namespace {

using job::DataPoint;
using job::DataPointKind;

const char* name(DataPointKind kind) {
    switch (kind) {
        case DataPointKind::pot_life:
            return "pot life";
        case DataPointKind::gel:
            return "gel time";
        case DataPointKind::strip:
            return "strip time";
    }
    return "time";
}

std::string describe(const DataPoint& p) {
    std::string text =
        fmt::format("{} {:.0f} min at {:.0f} °C", name(p.kind), p.time.in(unit::minute), p.temperature.in_celsius());
    if (p.kind == DataPointKind::pot_life)
        text += fmt::format(" ({:.0f} g)", p.mass.value_or(100.0 * unit::g).in(unit::g));
    if (p.thickness) text += fmt::format(" ({:.1f} mm)", p.thickness->in(unit::mm));
    return text;
}

[[noreturn]] void refuse(const job::Resin& resin, const std::string& what) {
    throw InputError(fmt::format("resin \"{}\": {}", resin.id, what));
}

void check_properties(const job::Resin& r) {
    const auto positive = [&](double value, const char* what, const char* example) {
        if (!(value > 0.0) || !std::isfinite(value))
            refuse(r, fmt::format("{} must be above zero, such as {}", what, example));
    };
    positive(r.heat_of_reaction.si(), "heat of reaction", "\"350 J/g\"");
    positive(r.specific_heat.si(), "specific heat", "\"1900 J/kgK\"");
    positive(r.conductivity.si(), "conductivity", "\"0.2 W/mK\"");
    positive(r.parts_a, "part A of the mix ratio", "100");
    positive(r.parts_b, "part B of the mix ratio", "30");
    if (!(r.gel_conversion > 0.0 && r.gel_conversion < 0.95))
        refuse(r,
               fmt::format("gel conversion {} must lie between 0 and 0.95: about 0.58 for epoxies, 0.05 for polyesters",
                           r.gel_conversion));
    if (!(r.glass_end > r.glass_start))
        refuse(r, "the glass temperature after full cure must be above that of the unreacted mix");
    if (!(r.glass_lambda > 0.0 && r.glass_lambda <= 1.0))
        refuse(r, "glass lambda must lie between 0 and 1, such as 0.45");
    if (!(r.application_max > r.application_min))
        refuse(r, "the highest application temperature must be above the lowest");
}

void check_point(const job::Resin& r, const DataPoint& p) {
    if (!(p.time.si() > 0.0) || !is_finite(p.time)) refuse(r, fmt::format("{} must be above zero", name(p.kind)));
    const double c = p.temperature.in_celsius();
    if (!(c >= -20.0 && c <= 80.0))
        refuse(r, fmt::format("{}: temperature {:.0f} °C is outside -20 to 80 °C, the range of ambient cure",
                              name(p.kind), c));
    if (p.mass && !(p.mass->si() > 0.0)) refuse(r, "the mass of a pot life must be above zero, such as \"100 g\"");
    if (p.thickness && !(p.thickness->si() > 0.0))
        refuse(r, "the thickness of a layer must be above zero, such as \"2 mm\"");
}

bool same_test(const DataPoint& a, const DataPoint& b) {
    return a.kind == b.kind && a.mass.value_or(100.0 * unit::g) == b.mass.value_or(100.0 * unit::g) &&
           a.thickness == b.thickness;
}

/// Rounding in a data sheet: two figures this close say nothing about their order.
constexpr double rounding = 0.9;

void check_pair(const job::Resin& r, const DataPoint& cold, const DataPoint& warm) {
    const double ratio = cold.time.si() / warm.time.si();
    if (same_test(cold, warm) && warm.temperature > cold.temperature && ratio < rounding)
        refuse(r, fmt::format("{} is longer than {}: no resin is slower when it is warmer", describe(warm),
                              describe(cold)));
    if (cold.thickness || warm.thickness) return;
    if (cold.kind == DataPointKind::strip && warm.kind == DataPointKind::gel && ratio < rounding)
        refuse(r, fmt::format("{} is shorter than {}: a film gels before it can be stripped", describe(cold),
                              describe(warm)));
    if (cold.kind != DataPointKind::pot_life && warm.kind == DataPointKind::pot_life && ratio < rounding)
        refuse(r, fmt::format("{} is shorter than {}: a cup heats itself, so it sets before a film that is no warmer",
                              describe(cold), describe(warm)));
}

}  // namespace

void refuse_impossible(const job::Resin& resin) {
    check_properties(resin);
    if (resin.data.empty())
        refuse(resin,
               "no times from its data sheet: give at least a pot life with its mass and temperature, better also "
               "gel and strip times");
    for (const DataPoint& p : resin.data) check_point(resin, p);
    for (const DataPoint& a : resin.data)
        for (const DataPoint& b : resin.data)
            if (a.temperature <= b.temperature) check_pair(resin, a, b);
}

std::vector<std::string> remarks(const job::Resin& resin, const Fitted& fit) {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < resin.data.size(); ++i) {
        const double ratio = fit.computed[i] / resin.data[i].time.si();
        if (ratio > 1.3 || ratio < 1.0 / 1.3)
            out.push_back(fmt::format("{}: the fit gives {:.0f} min; check this figure of the data sheet",
                                      describe(resin.data[i]), fit.computed[i] / 60.0));
    }
    if (fit.coldest_film == 0.0)
        out.push_back(
            "only pot lives are given: the cold sleeve is known within a factor of 2 only; a gel or strip time "
            "of a film would narrow it");
    if (fit.one_temperature)
        out.push_back(
            "all times are at one temperature: how they change with it rests on the usual activation energy of "
            "such resins");
    if (!fit.strip_known)
        out.push_back(
            "no strip time is given: release when the glass temperature reaches the wall's, as usual for such "
            "resins");
    return out;
}

}  // namespace patchwright::cure::detail
